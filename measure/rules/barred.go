package rules

import (
	"slices"
	"strings"
	"unicode"
)

// BarredIn finds the barred terms in any text, each once, in the set's order:
// whole words in any case, one or many, written together, apart or with a hyphen.
func (s Set) BarredIn(text string) []string {
	words := wordsOf(text)
	var found []string
	for _, term := range s.Barred {
		if mentions(words, strings.Join(flat(wordsOf(term.Name)), "")) && !slices.Contains(found, term.Name) {
			found = append(found, term.Name)
		}
	}
	return found
}

// A word is a run of letters and digits in small letters. It is joined where only
// spaces and hyphens lie between it and the word before.
type word struct {
	text   string
	joined bool
}

func flat(words []word) []string {
	texts := make([]string, len(words))
	for i, w := range words {
		texts[i] = w.text
	}
	return texts
}

func wordsOf(text string) []word {
	var words []word
	var b strings.Builder
	joined := false
	flush := func() {
		if b.Len() > 0 {
			words = append(words, word{b.String(), joined && len(words) > 0})
			b.Reset()
			joined = true
		}
	}
	for _, r := range text {
		switch {
		case unicode.IsLetter(r), unicode.IsDigit(r):
			b.WriteRune(unicode.ToLower(r))
		case unicode.Is(unicode.Cf, r), unicode.Is(unicode.Mn, r): // unseen, or an accent
		default:
			flush()
			if !unicode.IsSpace(r) && !unicode.Is(unicode.Pd, r) && r != '_' {
				joined = false
			}
		}
	}
	flush()
	return words
}

// mentions tells whether neighbouring words make up a term, or its plural.
func mentions(words []word, term string) bool {
	for i := range words {
		run := ""
		for j := i; j < len(words) && len(run) <= len(term); j++ {
			if j > i && !words[j].joined {
				break
			}
			run += words[j].text
			if run == term || run == term+"s" {
				return true
			}
		}
	}
	return false
}
