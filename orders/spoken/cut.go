package spoken

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A token is a word or a figure of the line.
type token struct {
	from, to int
	text     string // in small letters, with plain marks
	// apart tells that a comma, a full stop or the like parts it from the one before.
	apart bool
	kind  Kind // empty while nothing is known of it
}

// A group is a run of tokens that were taken for one thing.
type group struct {
	kind     Kind
	from, to int    // tokens
	value    string // what it was taken for
	weak     bool   // a word that is often something else
}

// A reader takes one line apart.
type reader struct {
	line   string
	about  About
	tokens []token
	groups []group
	out    Line
}

// plain writes marks that phones put in as the plain ones.
var plain = strings.NewReplacer("’", "'", "‘", "'", "“", `"`, "”", `"`, "–", "-", "—", "-", "−", "-")

// cut finds the tokens.
func (r *reader) cut() {
	start, apart := -1, false
	for at, c := range r.line + "\n" {
		joins := at < len(r.line) && !unicode.IsSpace(c) && r.inToken(at, c)
		switch {
		case joins && start < 0:
			start = at
		case !joins && start >= 0:
			r.tokens = append(r.tokens, token{from: start, to: at, text: strings.ToLower(plain.Replace(r.line[start:at])), apart: apart && len(r.tokens) > 0})
			start, apart = -1, false
		}
		if !joins && (!unicode.IsSpace(c) || c == '\n') && at < len(r.line) {
			apart = true
		}
	}
}

// inToken tells whether a character other than a space belongs to a token, and doesn't part
// two of them.
func (r *reader) inToken(at int, c rune) bool {
	before, _ := utf8.DecodeLastRuneInString(r.line[:at])
	after, _ := utf8.DecodeRuneInString(r.line[at+utf8.RuneLen(c):])
	digits := unicode.IsDigit(before) && unicode.IsDigit(after)
	switch c {
	case ',', ':':
		return digits
	case ';', '!', '?', '(', ')', '[', ']', '{', '}', '·', '…':
		return false
	case '.':
		return digits || unicode.IsDigit(after) || unicode.IsLetter(after) || r.abbreviated(at)
	case '-', '–', '—':
		return !isSpace(before) && !isSpace(after) || r.between(at, c) || isSpace(before) && unicode.IsDigit(after) && c == '-'
	case '"', '“', '”':
		return unicode.IsDigit(r.lastMark(at)) || unicode.IsNumber(r.lastMark(at))
	case '\'', '‘', '’':
		return unicode.IsLetter(before) || unicode.IsNumber(r.lastMark(at)) || before == '\'' || before == '’'
	}
	return true
}

func isSpace(c rune) bool { return c == utf8.RuneError || unicode.IsSpace(c) }

// lastMark is the last character before a place, spaces aside.
func (r *reader) lastMark(at int) rune {
	c, _ := utf8.DecodeLastRuneInString(strings.TrimRightFunc(r.line[:at], unicode.IsSpace))
	return c
}

// between tells whether a dash with spaces around it joins two figures: "9 - 11 am".
func (r *reader) between(at int, c rune) bool {
	after, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(r.line[at+utf8.RuneLen(c):], unicode.IsSpace))
	return unicode.IsNumber(r.lastMark(at)) && unicode.IsNumber(after)
}

// abbreviated tells whether a point ends an abbreviation and not a sentence.
func (r *reader) abbreviated(at int) bool {
	start := strings.LastIndexFunc(r.line[:at], func(c rune) bool { return unicode.IsSpace(c) || c == ',' }) + 1
	text := strings.ToLower(r.line[start:at])
	if strings.Contains(text, ".") { // 5.12., p.m.
		return true
	}
	text = strings.TrimLeft(text, "0123456789")
	return slices.Contains([]string{"in", "ft", "cu", "mr", "mrs", "ms", "st", "rd", "ave", "no", "approx", "dec", "nov", "jan", "feb", "mar", "apr", "jun", "jul", "aug",
		"sep", "sept", "oct", "mon", "tue", "tues", "wed", "weds", "thu", "thur", "thurs", "fri", "sat", "sun", "m", "cm"}, text)
}

// text is a run of tokens as typed.
func (r *reader) text(from, to int) string { return r.line[r.tokens[from].from:r.tokens[to-1].to] }

// said is a run of tokens in small letters, one space between them.
func (r *reader) said(from, to int) string {
	words := make([]string, 0, to-from)
	for _, t := range r.tokens[from:to] {
		words = append(words, t.text)
	}
	return strings.Join(words, " ")
}

// spelled is a run of tokens as typed, one space between them.
func (r *reader) spelled(from, to int) string {
	words := make([]string, 0, to-from)
	for _, t := range r.tokens[from:to] {
		words = append(words, r.line[t.from:t.to])
	}
	return strings.Join(words, " ")
}

// free tells whether none of a run of tokens is taken yet, and nothing parts them.
func (r *reader) free(from, to int) bool {
	for i := from; i < to; i++ {
		if r.tokens[i].kind != "" || i > from && r.tokens[i].apart {
			return false
		}
	}
	return true
}

// take takes a run of tokens for something.
func (r *reader) take(kind Kind, from, to int, value string) {
	r.groups = append(r.groups, group{kind: kind, from: from, to: to, value: value})
	r.mark(kind, from, to)
}

func (r *reader) mark(kind Kind, from, to int) {
	for i := from; i < to; i++ {
		r.tokens[i].kind = kind
	}
}

// of are the groups of a kind, in the order of the line.
func (r *reader) of(kind Kind) (found []group) {
	for _, g := range r.groups {
		if g.kind == kind {
			found = append(found, g)
		}
	}
	slices.SortFunc(found, func(a, b group) int { return a.from - b.from })
	return found
}

// at tells whether a token is one of some words.
func (r *reader) at(i int, words ...string) bool {
	return i >= 0 && i < len(r.tokens) && slices.Contains(words, strings.TrimSuffix(r.tokens[i].text, "."))
}

// swapped is the line with other words in place of a run of tokens.
func (r *reader) swapped(from, to int, words string) string {
	return r.line[:r.tokens[from].from] + words + r.line[r.tokens[to-1].to:]
}
