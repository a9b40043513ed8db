package measure

import (
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The most digits a typed number may have before and after its decimal sign.
const (
	maxWholeDigits   = 18
	maxDecimalDigits = 30
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
	kind  tokenKind
	text  string
	glued bool
}

// A reader goes through the tokens of one typed value.
type reader struct {
	tokens []token
	at     int
}

// notRead makes a fault; what was read and what is accepted are filled in by the
// value's own parser.
func notRead(code, reason string, args ...any) *InputError {
	return &InputError{Code: code, Reason: Say(reason, args...)}
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
	tokens, fault := lex(s)
	if fault != nil {
		return nil, fault
	}
	r := &reader{tokens: tokens}
	return r, r.checkStart()
}

// checkText refuses text that is too long, is not valid UTF-8 or holds
// characters that cannot be seen.
func checkText(s string) *InputError {
	if !utf8.ValidString(s) {
		return &InputError{Code: "bad-text", Got: seen(s), Reason: Say("this is not valid UTF-8 text")}
	}
	if n := utf8.RuneCountInString(s); n > MaxText {
		return &InputError{Code: "too-long", Got: shortened(s), Reason: Say("text of %d characters is over the limit of %d", n, MaxText)}
	}
	for _, c := range s {
		if !visible(c) {
			return &InputError{Code: "bad-text", Got: seen(s), Reason: Say("there is a character in it that cannot be seen")}
		}
	}
	return nil
}

func visible(c rune) bool { return c == '\t' || unicode.IsPrint(c) || unicode.Is(unicode.Zs, c) }

// seen puts a mark in place of whatever cannot be shown.
func seen(s string) string {
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
func lex(s string) ([]token, *InputError) {
	runes := []rune(s)
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
		t.glued = last.kind != endToken
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
		return notRead("hex", "a hexadecimal number is not read")
	case c == 'e' && (digit(rest[1]) || len(rest) > 2 && (rest[1] == '+' || rest[1] == '-') && digit(rest[2])):
		return notRead("exponent", "a number with an exponent is not read")
	}
	return nil
}

// vulgar gives the value of a fraction character, nil for any other.
func vulgar(c rune) *big.Rat {
	const characters = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒"
	parts := [...][2]int64{{1, 2}, {1, 3}, {2, 3}, {1, 4}, {3, 4}, {1, 5}, {2, 5}, {3, 5}, {4, 5}, {1, 6}, {5, 6}, {1, 7}, {1, 8}, {3, 8}, {5, 8}, {7, 8}, {1, 9}, {1, 10}}
	at := 0
	for _, one := range characters {
		if one == c {
			return big.NewRat(parts[at][0], parts[at][1])
		}
		at++
	}
	return nil
}

// checkStart refuses what is empty, below zero or not finite.
func (r *reader) checkStart() *InputError {
	if len(r.tokens) == 0 {
		return notRead("empty", "nothing was written")
	}
	first := r.peek(0)
	signed := first.kind == dashToken || first.kind == minusToken
	if signed {
		first = r.peek(1)
	}
	switch {
	case first.text == "∞" || first.text == "nan" || first.text == "inf" || first.text == "infinity":
		return notRead("not-finite", "this is not a finite number")
	case signed && (first.kind == numberToken || first.kind == vulgarToken):
		return notRead("negative", "this is less than nothing")
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
	t := r.peek(0)
	for _, w := range words {
		if t.kind == wordToken && t.text == w {
			r.at++
			return true
		}
	}
	return false
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

// amount reads how many: digits, a fraction, a mixed number or words. It is ≥ 0.
func (r *reader) amount() (*big.Rat, *InputError) {
	value, fault := r.plainAmount()
	if fault != nil {
		return nil, fault
	}
	if value.Cmp(big.NewRat(1, 1)) < 0 { // "half a", "2/3 of a"
		r.skip("of")
		r.skip("a", "an", "one")
	}
	return value, nil
}

func (r *reader) plainAmount() (*big.Rat, *InputError) {
	switch t := r.peek(0); t.kind {
	case numberToken:
		return r.digits()
	case vulgarToken:
		return r.loneFraction()
	case wordToken:
		return r.spoken()
	case endToken:
		return nil, notRead("not-a-number", "a number is missing at the end")
	default:
		return nil, notRead("not-a-number", "“%s” is not a number", t.text)
	}
}

// digits reads what starts with a digit: "8", "8.5", "1/2", "3 1/2", "3-1/2",
// "3½", "2 thirds", "2 and a half".
func (r *reader) digits() (*big.Rat, *InputError) {
	if r.peek(1).kind == slashToken {
		return r.loneFraction()
	}
	t := r.take()
	if t.glued && !digit(rune(t.text[0])) {
		return nil, notRead("ambiguous", "“%s” may be a new number or the decimals of the one before", t.text)
	}
	value, fault := decimal(t.text)
	if fault != nil {
		return nil, fault
	}
	return r.withFraction(value, whole(t.text))
}

// loneFraction reads a fraction that stands by itself.
func (r *reader) loneFraction() (*big.Rat, *InputError) {
	value, fault := r.fraction()
	if fault != nil {
		return nil, fault
	}
	if next := r.peek(0).kind; next == numberToken || next == vulgarToken || next == slashToken {
		return nil, notRead("bad-fraction", "there is a number after a fraction")
	}
	return value, nil
}

// withFraction adds the fraction that follows a number, if there is one.
func (r *reader) withFraction(value *big.Rat, isWhole bool) (*big.Rat, *InputError) {
	if parts := fractionWord(r.peek(0)); parts != 0 {
		return r.parts(value, parts)
	}
	start := r.at
	dashed, said := r.peek(0), r.skip("and")
	if dashed.kind == dashToken || dashed.kind == minusToken {
		r.at++
	}
	if !r.atFraction(said) {
		return value, r.backTo(start)
	}
	if dashed.kind == minusToken || dashed.kind == dashToken && !(dashed.glued && r.peek(0).glued) {
		return nil, notRead("ambiguous", "the sign between the number and the fraction may join them or take away")
	}
	if !isWhole {
		return nil, notRead("bad-fraction", "there is a fraction after a number with decimals")
	}
	part, fault := r.anyFraction()
	if fault != nil {
		return nil, fault
	}
	if next := r.peek(0).kind; next == numberToken || next == vulgarToken || next == slashToken {
		return nil, notRead("bad-fraction", "there is a number after a fraction")
	}
	return part.Add(part, value), nil
}

// backTo takes up again at start, after a number without a fraction, and refuses
// what makes that number unclear.
func (r *reader) backTo(start int) *InputError {
	r.at = start
	first, second := r.peek(0).kind, r.peek(1).kind
	switch {
	case first == slashToken:
		return notRead("bad-fraction", "a fraction is one whole number over another")
	case first == numberToken:
		return notRead("ambiguous", "two numbers stand side by side")
	case (first == dashToken || first == minusToken) && second == numberToken:
		return notRead("ambiguous", "this may be a range or a difference")
	}
	return nil
}

// atFraction tells whether a fraction comes next; said allows one in words.
func (r *reader) atFraction(said bool) bool {
	t := r.peek(0)
	switch {
	case t.kind == vulgarToken:
		return true
	case t.kind == numberToken && r.peek(1).kind == slashToken:
		return true
	case !said || t.kind != wordToken:
		return false
	}
	return fractionWord(t) != 0 || cardinal(t) != 0 && fractionWord(r.peek(1)) != 0
}

// anyFraction reads a fraction in figures or in words.
func (r *reader) anyFraction() (*big.Rat, *InputError) {
	t := r.peek(0)
	if t.kind != wordToken {
		return r.fraction()
	}
	count := cardinal(t)
	if count == 0 {
		count = 1
	} else {
		r.at++
	}
	return r.parts(big.NewRat(count, 1), fractionWord(r.peek(0)))
}

// fraction reads a fraction character or one whole number over another, less
// than one.
func (r *reader) fraction() (*big.Rat, *InputError) {
	top := r.take()
	if top.kind == vulgarToken {
		return vulgar([]rune(top.text)[0]), nil
	}
	r.at++ // the line
	bottom := r.take()
	if !whole(top.text) || bottom.kind != numberToken || !whole(bottom.text) {
		return nil, notRead("bad-fraction", "a fraction is one whole number over another")
	}
	over, fault := decimal(top.text)
	if fault != nil {
		return nil, fault
	}
	under, fault := decimal(bottom.text)
	if fault != nil {
		return nil, fault
	}
	if under.Sign() == 0 {
		return nil, notRead("bad-fraction", "a fraction cannot be over nothing")
	}
	if over.Cmp(under) >= 0 {
		return nil, notRead("bad-fraction", "a fraction is less than one: %s/%s may lack a space", top.text, bottom.text)
	}
	return over.Quo(over, under), nil
}

// parts reads the word of a fraction whose count has been read: "two thirds".
func (r *reader) parts(count *big.Rat, parts int64) (*big.Rat, *InputError) {
	r.at++
	if !count.IsInt() || count.Cmp(big.NewRat(parts, 1)) >= 0 {
		return nil, notRead("bad-fraction", "a fraction in words is a whole number of parts, less than one")
	}
	return count.Quo(count, big.NewRat(parts, 1)), nil
}

// spoken reads a number in words: "a", "two", "half", "two thirds", "two and a
// half".
func (r *reader) spoken() (*big.Rat, *InputError) {
	t := r.peek(0)
	if parts := fractionWord(t); parts != 0 {
		return r.parts(big.NewRat(1, 1), parts)
	}
	count := cardinal(t)
	if count == 0 {
		return nil, notRead("not-a-number", "“%s” is not a number", t.text)
	}
	r.at++
	return r.withFraction(big.NewRat(count, 1), true)
}

// cardinal gives the number a word stands for, 0 for none.
func cardinal(t token) int64 {
	if t.text == "a" || t.text == "an" {
		return 1
	}
	return wordIndex(t, "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
		"thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty")
}

// fractionWord gives how many of the named part make one, 0 for no such word.
func fractionWord(t token) int64 {
	switch strings.TrimSuffix(t.text, "s") {
	case "half", "halve":
		return 2
	case "quarter":
		return 4
	case "twelfth":
		return 12
	case "sixteenth":
		return 16
	}
	if n := wordIndex(token{text: strings.TrimSuffix(t.text, "s")}, "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"); n != 0 {
		return n + 2
	}
	return 0
}

// wordIndex gives the place of t among words, from 1, 0 when it is not there.
func wordIndex(t token, words ...string) int64 {
	for i, w := range words {
		if t.text == w {
			return int64(i) + 1
		}
	}
	return 0
}

// whole tells whether a number token has digits alone.
func whole(text string) bool { return !strings.ContainsAny(text, ".,") }

// decimal gives the value of a number token: digits with at most one point, or
// one comma that cannot be meant to group thousands.
func decimal(text string) (*big.Rat, *InputError) {
	if strings.Count(text, ".")+strings.Count(text, ",") > 1 {
		if strings.Contains(text, ",") {
			return nil, notRead("ambiguous", "%s has more than one point or comma: write the number without separators", text)
		}
		return nil, notRead("not-a-number", "%s has more than one point", text)
	}
	before, after, comma := strings.Cut(text, ",")
	if comma && len(after) == 3 && groups(before) {
		return nil, notRead("ambiguous", "%s may be %s%s or %s.%s", text, before, after, before, after)
	}
	if !comma {
		before, after, _ = strings.Cut(text, ".")
	}
	before = strings.TrimLeft(before, "0")
	if len(before) > maxWholeDigits {
		return nil, notRead("too-large", "this number is absurdly large")
	}
	if len(after) > maxDecimalDigits {
		return nil, notRead("too-long", "there are more than %d decimals", maxDecimalDigits)
	}
	value, _ := new(big.Rat).SetString("0" + before + "." + after + "0")
	return value, nil
}

// groups tells whether digits could stand before a comma that groups thousands.
func groups(before string) bool { return 1 <= len(before) && len(before) <= 3 && before[0] != '0' }

// times gives value × unit, exact.
func times(value *big.Rat, unit int64) *big.Rat {
	return new(big.Rat).Mul(value, new(big.Rat).SetInt64(unit))
}

// nearest rounds to a whole number, halves to even; false where it does not fit.
func nearest(value *big.Rat) (int64, bool) {
	quotient, rest := new(big.Int).QuoRem(value.Num(), value.Denom(), new(big.Int))
	half := rest.Lsh(rest, 1).Cmp(value.Denom())
	if half > 0 || half == 0 && quotient.Bit(0) == 1 {
		quotient.Add(quotient, big.NewInt(1))
	}
	return quotient.Int64(), quotient.IsInt64()
}
