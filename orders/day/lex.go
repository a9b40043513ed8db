package day

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
)

// longest is how many characters a day may take.
const longest = 100

// A sort is what a token is.
type sort int

const (
	word    sort = iota
	figure       // "7"
	ordinal      // "7th"
	iso          // "2026-12-05"
	slashed      // "12/5", "12/5/2026"
	dotted       // "5.12.", "5.12.2026"
	clock        // "9:30", "9am", "15h"
	dash
)

// A token is a word or a figure of what was typed.
type token struct {
	sort sort
	text string // in small letters; of an ordinal its figures alone
}

var tokens = []struct {
	sort    sort
	pattern *regexp.Regexp
}{
	{iso, regexp.MustCompile(`^\d{4}-\d{1,2}-\d{1,2}\b`)},
	{slashed, regexp.MustCompile(`^\d{1,2}/\d{1,2}(/(\d{4}|\d{2}))?\b`)},
	{dotted, regexp.MustCompile(`^\d{1,2}\.\d{1,2}\.(\d{4}\b)?`)},
	{clock, regexp.MustCompile(`^\d{1,2}([:.]\d{2})? ?([ap]\.m\.|[ap]m\b|o'clock\b)`)},
	{clock, regexp.MustCompile(`^\d{1,2}(:\d{2}\b|h\b)`)},
	{ordinal, regexp.MustCompile(`^\d{1,2}(st|nd|rd|th)\b`)},
	{figure, regexp.MustCompile(`^\d{1,4}\b`)},
	{word, regexp.MustCompile(`^(a\.m\.|p\.m\.|[\p{L}][\p{L}']*\.?)`)},
	{dash, regexp.MustCompile(`^-`)},
}

// straight writes the marks that phones put in as the plain ones.
var straight = strings.NewReplacer("’", "'", "‘", "'", "–", "-", "—", "-", "\u00a0", " ", ",", " ", ";", " ")

// lex splits what was typed. What isn't a token at all is refused by name.
func lex(text string) ([]token, error) {
	if utf8.RuneCountInString(text) > longest {
		return nil, fault("too-long", text, measure.Say("it is longer than %d characters", longest))
	}
	var found []token
	rest := strings.TrimSpace(straight.Replace(strings.ToLower(text)))
	for rest != "" {
		t, n := next(rest)
		if n == 0 {
			_, size := utf8.DecodeRuneInString(rest)
			return nil, fault("unknown-word", text, measure.Say("“%s” isn’t understood in it", rest[:size]))
		}
		found = append(found, t)
		rest = strings.TrimSpace(rest[n:])
	}
	return found, nil
}

func next(rest string) (token, int) {
	for _, t := range tokens {
		text := t.pattern.FindString(rest)
		if text == "" {
			continue
		}
		n := len(text)
		switch t.sort {
		case ordinal:
			text = text[:n-2]
		case word:
			text = strings.TrimSuffix(strings.ReplaceAll(text, ".m.", "m"), ".")
		}
		return token{t.sort, text}, n
	}
	return token{}, 0
}
