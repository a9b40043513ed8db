package measure

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// A tokenKind tells the pieces of typed text apart.
type tokenKind int

const (
	endToken    tokenKind = iota
	numberToken           // digits, with the points and commas among them
	vulgarToken           // one fraction character
	wordToken             // letters in lower case, or a foot or inch mark
	dashToken             // a hyphen or dash
	minusToken            // a true minus sign
	slashToken
	commaToken
	cubeToken // a raised 3
	otherToken
)

// A token is one piece of typed text; glued when no space stands before it.
type token struct {
	kind     tokenKind
	text     string
	glued    bool
	from, to int // its characters in the text
}

// A reader goes through the tokens of one typed value.
type reader struct {
	text   []rune
	tokens []token
	at     int
	points bool // a point may part thousands, as a comma may
}

// notRead makes a fault; what was read, and what is accepted where the fault does not
// say it, are filled in by the value's own parser.
func notRead(code, reason string, args ...any) *InputError {
	return &InputError{Code: code, Reason: Say(reason, args...)}
}

// accepting says what would be accepted in place of what this fault refuses.
func (e *InputError) accepting(key string, args ...any) *InputError {
	e.Accepts = Say(key, args...)
	return e
}

// finish fills in what every fault of a value says alike.
func finish(fault *InputError, got string, accepts Text) *InputError {
	if fault.Got == "" {
		fault.Got = got
	}
	if fault.Accepts.Key == "" {
		fault.Accepts = accepts
	}
	return fault
}

// openText checks a typed value, takes it apart and refuses what no value can
// start with.
func openText(s string) (*reader, *InputError) {
	if fault := checkText(s); fault != nil {
		return nil, fault
	}
	r := &reader{text: []rune(s)}
	var fault *InputError
	if r.tokens, fault = lex(r.text); fault != nil {
		return nil, fault
	}
	return r, r.checkStart()
}

// checkText refuses text that is too long, is not valid UTF-8 or holds
// characters that cannot be seen.
func checkText(s string) *InputError {
	if !utf8.ValidString(s) {
		return (&InputError{Code: "bad-text", Got: Seen(s), Reason: Say("part of this is not text")}).accepting("text in UTF-8")
	}
	if n := utf8.RuneCountInString(s); n > MaxText {
		return (&InputError{Code: "too-long", Got: shortened(s), Reason: Say("this has %d characters", n)}).accepting("at most %d characters", MaxText)
	}
	for _, c := range s {
		if !visible(c) {
			return (&InputError{Code: "bad-text", Got: Seen(s), Reason: Say("there is a character in it that can’t be seen")}).accepting("the same, typed by hand")
		}
	}
	return nil
}

func visible(c rune) bool { return c == '\t' || unicode.IsPrint(c) || unicode.Is(unicode.Zs, c) }

// CheckText refuses text that is over MaxText characters, is not valid UTF-8 or holds
// characters that cannot be seen; nil where it is none of these.
func CheckText(s string, accepts Text) *InputError {
	if fault := checkText(s); fault != nil {
		return finish(fault, s, accepts)
	}
	return nil
}

// Seen puts a mark in place of whatever cannot be shown.
func Seen(s string) string {
	show := func(c rune) rune {
		if visible(c) {
			return c
		}
		return unicode.ReplacementChar
	}
	return shortened(strings.Map(show, strings.ToValidUTF8(s, string(unicode.ReplacementChar))))
}

// shortened keeps the first 40 characters of a text that is over the limit.
func shortened(s string) string {
	if utf8.RuneCountInString(s) <= MaxText {
		return s
	}
	return string([]rune(s)[:40]) + "…"
}

// lex takes typed text apart. Points that end an abbreviation and hyphens that
// join words say nothing and are left out.
func lex(text []rune) ([]token, *InputError) {
	runes := make([]rune, len(text))
	for i, c := range text {
		runes[i] = narrow(c)
	}
	var tokens []token
	last := token{}
	for i := 0; i < len(runes); {
		if unicode.IsSpace(runes[i]) {
			i, last = i+1, token{}
			continue
		}
		if joins(last, runes[i:]) {
			i++
			continue
		}
		t, n := cut(runes[i:])
		t.glued, t.from, t.to = last.kind != endToken, i, i+n
		if t.kind == numberToken {
			if fault := checkNotation(t.text, runes[i+n:]); fault != nil {
				return nil, fault
			}
		}
		tokens = append(tokens, t)
		i, last = i+n, t
	}
	return tokens, nil
}

// narrow gives the ASCII character that a full-width one stands for. Its marks for
// feet and inches and its minus sign have names of their own here.
func narrow(c rune) rune {
	const first, last, shift = '！', '～', '！' - '!'
	if c < first || c > last || c == '＇' || c == '＂' || c == '－' {
		return c
	}
	return c - shift
}

// joins tells whether rest starts with the point of an abbreviation ("ft.") or a
// hyphen before a word ("two-thirds", "16-inch").
func joins(last token, rest []rune) bool {
	switch last.kind {
	case wordToken, numberToken, vulgarToken:
	default:
		return false
	}
	if rest[0] == '.' {
		return last.kind == wordToken && (len(rest) == 1 || !digit(rest[1]))
	}
	return dash(rest[0]) && len(rest) > 1 && unicode.IsLetter(rest[1])
}

// cut gives the first token of rest and how many characters it took.
func cut(rest []rune) (token, int) {
	c := rest[0]
	switch {
	case startsNumber(rest):
		n := numberRun(rest)
		return token{kind: numberToken, text: string(rest[:n])}, n
	case vulgar(c) != nil:
		return token{kind: vulgarToken, text: string(c)}, 1
	case unicode.IsLetter(c):
		n := 1
		for n < len(rest) && unicode.IsLetter(rest[n]) {
			n++
		}
		return token{kind: wordToken, text: strings.ToLower(string(rest[:n]))}, n
	case c == '&':
		return token{kind: wordToken, text: "and"}, 1
	case footMark(c) && len(rest) > 1 && footMark(rest[1]):
		return token{kind: wordToken, text: `"`}, 2
	case footMark(c):
		return token{kind: wordToken, text: `'`}, 1
	case inchMark(c):
		return token{kind: wordToken, text: `"`}, 1
	case c == '^' && len(rest) > 1 && rest[1] == '3':
		return token{kind: cubeToken, text: "^3"}, 2
	}
	return token{kind: signKind(c), text: string(c)}, 1
}

func signKind(c rune) tokenKind {
	switch {
	case dash(c):
		return dashToken
	case c == '−' || c == '﹣' || c == '－':
		return minusToken
	case c == '/' || c == '⁄' || c == '∕':
		return slashToken
	case c == ',':
		return commaToken
	case c == '³':
		return cubeToken
	}
	return otherToken
}

func digit(c rune) bool    { return '0' <= c && c <= '9' }
func dash(c rune) bool     { return c == '-' || '\u2010' <= c && c <= '\u2014' }
func footMark(c rune) bool { return strings.ContainsRune("'‘’′´ʹ＇", c) }
func inchMark(c rune) bool { return strings.ContainsRune("\"“”″ʺ＂", c) }

func startsNumber(rest []rune) bool {
	return digit(rest[0]) || (rest[0] == '.' || rest[0] == ',') && len(rest) > 1 && digit(rest[1])
}

// numberRun counts the digits at the start of rest with the points and commas
// among them; one at the end belongs to the sentence.
func numberRun(rest []rune) int {
	n := 0
	for n < len(rest) && (digit(rest[n]) || (rest[n] == '.' || rest[n] == ',') && n+1 < len(rest) && digit(rest[n+1])) {
		n++
	}
	return n
}

// checkNotation refuses exponents and hexadecimals by name; rest follows the
// number.
func checkNotation(number string, rest []rune) *InputError {
	if len(rest) < 2 {
		return nil
	}
	switch c := unicode.ToLower(rest[0]); {
	case c == 'x' && number == "0" && strings.ContainsRune("0123456789abcdefABCDEF", rest[1]):
		return notRead("hex", "this is a hexadecimal number").accepting("the number in everyday figures")
	case c == 'e' && (digit(rest[1]) || len(rest) > 2 && (rest[1] == '+' || rest[1] == '-') && digit(rest[2])):
		return notRead("exponent", "this number has an exponent").accepting("the number written out, such as 1000 for 1e3")
	}
	return nil
}

// checkStart refuses what is empty, below zero or not finite.
func (r *reader) checkStart() *InputError {
	if len(r.tokens) == 0 {
		return notRead("empty", "nothing was typed")
	}
	first := r.peek(0)
	signed := first.kind == dashToken || first.kind == minusToken
	if signed {
		first = r.peek(1)
	}
	switch {
	case first.text == "∞" || first.text == "nan" || first.text == "inf" || first.text == "infinity":
		return notRead("not-finite", "this isn’t a number that can be measured")
	case signed && (first.kind == numberToken || first.kind == vulgarToken):
		return notRead("negative", "this is less than nothing").accepting("the same without the sign, if it isn’t meant")
	}
	return nil
}

// peek gives the token n places ahead, the zero token past the end.
func (r *reader) peek(n int) token {
	if r.at+n >= len(r.tokens) {
		return token{}
	}
	return r.tokens[r.at+n]
}

func (r *reader) take() token {
	t := r.peek(0)
	r.at++
	return t
}

// skip goes past the next token if it is one of words.
func (r *reader) skip(words ...string) bool {
	if wordIndex(r.peek(0), words...) == 0 {
		return false
	}
	r.at++
	return true
}

// wordIndex gives the place of t among words, from 1, 0 when it is not there.
func wordIndex(t token, words ...string) int64 {
	for i, w := range words {
		if t.kind == wordToken && t.text == w {
			return int64(i) + 1
		}
	}
	return 0
}

// typed gives the tokens from one place to before another as they were typed.
func (r *reader) typed(from, to int) string {
	if to = min(to, len(r.tokens)); from >= to {
		return ""
	}
	return string(r.text[r.tokens[from].from:r.tokens[to-1].to])
}

// end refuses whatever has not been read.
func (r *reader) end() *InputError {
	t := r.peek(0)
	switch t.kind {
	case endToken:
		return nil
	case slashToken:
		return notRead("bad-fraction", "there is a fraction line with nothing it can belong to")
	}
	return notRead("trailing", "“%s” is not understood after the rest", t.text)
}
