package measure

import (
	"math/big"
	"strings"
)

// The most digits a typed number may have before and after its decimal sign.
const (
	maxWholeDigits   = 18
	maxDecimalDigits = 30
)

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

// amount reads how many: digits, a fraction, a mixed number, words or a share. It
// is ≥ 0.
func (r *reader) amount() (*big.Rat, *InputError) {
	value, fault := r.plainAmount()
	if fault != nil {
		return nil, fault
	}
	if r.percent() {
		return value.Quo(value, big.NewRat(100, 1)), nil
	}
	if value.Cmp(big.NewRat(1, 1)) < 0 { // "half a", "2/3 of a"
		r.skip("of")
		r.skip("a", "an", "one")
	}
	return value, nil
}

// percent reads "% of a" after a number, and nothing of it where it is not all there.
func (r *reader) percent() bool {
	start := r.at
	if r.peek(0).text == "%" || wordIndex(r.peek(0), "percent") != 0 {
		r.at++
	} else if r.skip("per") && !r.skip("cent") {
		r.at = start
	}
	if r.at > start && r.skip("of") && r.skip("a", "an", "one") {
		return true
	}
	r.at = start
	return false
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

// startsAmount tells whether t can be the first word of an amount.
func startsAmount(t token) bool {
	return t.kind == numberToken || t.kind == vulgarToken || startsCardinal(t) || fractionWord(t) != 0
}

// digits reads what starts with a digit: "8", "8.5", "1/2", "3 1/2", "3-1/2",
// "3½", "2 thirds", "2 and a half".
func (r *reader) digits() (*big.Rat, *InputError) {
	if r.peek(1).kind == slashToken {
		return r.loneFraction()
	}
	t := r.take()
	if t.glued && !digit(rune(t.text[0])) {
		return nil, notRead("ambiguous", "“%s” may be a new number or the decimals of the one before", t.text).
			accepting("a space before “0%s” if it is a new number", t.text)
	}
	value, fault := r.decimal(t.text)
	if fault != nil {
		return nil, fault
	}
	return r.withFraction(value, whole(t.text), "")
}

// loneFraction reads a fraction that stands by itself.
func (r *reader) loneFraction() (*big.Rat, *InputError) {
	value, fault := r.fraction()
	if fault != nil {
		return nil, fault
	}
	return value, r.afterFraction()
}

// afterFraction refuses a number straight after a fraction.
func (r *reader) afterFraction() *InputError {
	if next := r.peek(0).kind; next == numberToken || next == vulgarToken || next == slashToken {
		return notRead("bad-fraction", "there is a number after a fraction").accepting("the whole number first, then one fraction, such as 3 1/2")
	}
	return nil
}

// withFraction adds the fraction that follows a whole number, if there is one; words
// are the number's where it was not in figures.
func (r *reader) withFraction(value *big.Rat, isWhole bool, words string) (*big.Rat, *InputError) {
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
		return nil, notRead("ambiguous", "the sign between the number and the fraction may join them or take away").
			accepting("the two with a space between them, such as 3 1/2")
	}
	if !isWhole {
		return nil, notRead("bad-fraction", "there is a fraction after a number with decimals").accepting("decimals or a fraction, such as 3.5 or 3 1/2")
	}
	from := r.at
	part, fault := r.anyFraction()
	if fault == nil {
		fault = r.afterFraction()
	}
	switch {
	case fault != nil:
		return nil, fault
	case words == "" || said:
		return part.Add(part, value), nil
	case from == start && (words == "a" || words == "an"): // "a 1/2"
		return part, nil
	}
	return nil, twoReadings(words+" "+r.typed(from, r.at), value, part)
}

// twoReadings asks what a number in words before a fraction in figures is: "two 1/2"
// may be two and a half, or two halves.
func twoReadings(text string, value, part *big.Rat) *InputError {
	both := new(big.Rat).Add(value, part)
	product := new(big.Rat).Mul(value, part)
	return notRead("ambiguous", "“%s” may be %s or %s times %s", text, figures(both), figures(value), figures(part)).
		accepting("%s or %s, in figures", figures(both), figures(product))
}

// figures writes a value ≥ 0 as a mixed number in lowest terms.
func figures(value *big.Rat) string {
	if !value.Num().IsUint64() || !value.Denom().IsUint64() {
		return value.RatString()
	}
	return mixed(value.Num().Uint64(), value.Denom().Uint64())
}

// backTo takes up again at start, after a number without a fraction, and refuses
// what makes that number unclear.
func (r *reader) backTo(start int) *InputError {
	r.at = start
	first, second := r.peek(0).kind, r.peek(1).kind
	switch {
	case first == slashToken:
		return notRead("bad-fraction", "a fraction is one whole number over another").accepting("a fraction such as 1/2 or 3/8")
	case first == numberToken:
		return notRead("ambiguous", "two numbers are side by side").accepting("one number, with a unit between feet and inches: 7 ft 11 in")
	case (first == dashToken || first == minusToken) && second == numberToken:
		return notRead("ambiguous", "this may be a range or a difference").accepting("one number")
	}
	return nil
}

// atFraction tells whether a fraction comes next; said allows one in words.
func (r *reader) atFraction(said bool) bool {
	return r.fractionAhead(0, said)
}

func (r *reader) fractionAhead(n int, said bool) bool {
	t := r.peek(n)
	switch {
	case t.kind == vulgarToken:
		return true
	case t.kind == numberToken && r.peek(n+1).kind == slashToken:
		return true
	case !said || t.kind != wordToken:
		return false
	}
	return fractionWord(t) != 0 || startsCardinal(t) && fractionWord(r.peek(n+1)) != 0
}

// anyFraction reads a fraction in figures or in words.
func (r *reader) anyFraction() (*big.Rat, *InputError) {
	t := r.peek(0)
	if t.kind != wordToken {
		return r.fraction()
	}
	count := int64(1)
	if fractionWord(t) == 0 {
		var fault *InputError
		if count, fault = r.cardinal(); fault != nil {
			return nil, fault
		}
	}
	return r.parts(big.NewRat(count, 1), fractionWord(r.peek(0)))
}

// fraction reads a fraction character or one whole number over another, less
// than one: "½", "1/2", "2/3rds".
func (r *reader) fraction() (*big.Rat, *InputError) {
	top := r.take()
	if top.kind == vulgarToken {
		return vulgar([]rune(top.text)[0]), nil
	}
	r.at++ // the line
	bottom := r.take()
	if !whole(top.text) || bottom.kind != numberToken || !whole(bottom.text) {
		return nil, notRead("bad-fraction", "a fraction is one whole number over another").accepting("a fraction such as 1/2 or 3/8")
	}
	over, fault := r.decimal(top.text)
	if fault != nil {
		return nil, fault
	}
	under, fault := r.decimal(bottom.text)
	if fault != nil {
		return nil, fault
	}
	if under.Sign() == 0 {
		return nil, notRead("bad-fraction", "a fraction can’t be over nothing").accepting("a fraction such as 1/2 or 3/8")
	}
	if over.Cmp(under) >= 0 {
		return nil, notRead("bad-fraction", "a fraction is less than one: %s/%s may lack a space", top.text, bottom.text).
			accepting("the whole number, a space and the fraction, such as 3 1/2")
	}
	if r.peek(0).glued {
		r.skip("rd", "rds", "th", "ths")
	}
	return over.Quo(over, under), nil
}

// parts reads the word of a fraction whose count has been read: "two thirds".
func (r *reader) parts(count *big.Rat, parts int64) (*big.Rat, *InputError) {
	r.at++
	if !count.IsInt() || count.Cmp(big.NewRat(parts, 1)) >= 0 {
		return nil, notRead("bad-fraction", "a fraction in words is a whole number of parts, less than one").
			accepting("the same in figures, such as 1 1/4")
	}
	return count.Quo(count, big.NewRat(parts, 1)), nil
}

// whole tells whether a number token has digits alone.
func whole(text string) bool { return !strings.ContainsAny(text, ".,") }

// decimal gives the value of a number token: digits with at most one point, or
// one comma that cannot be meant to part thousands. Where points may part them too, a
// point is asked about as a comma is.
func (r *reader) decimal(text string) (*big.Rat, *InputError) {
	if strings.Count(text, ".")+strings.Count(text, ",") > 1 {
		if strings.Contains(text, ",") {
			return nil, notRead("ambiguous", "%s has more than one point or comma", text).accepting("the number without anything between its thousands, such as 1234.5")
		}
		return nil, notRead("not-a-number", "%s has more than one point", text).accepting("a number with one point, such as 1.25")
	}
	before, after, comma := strings.Cut(text, ",")
	if !comma {
		before, after, _ = strings.Cut(text, ".")
	}
	if (comma || r.points) && len(after) == 3 && groups(before) {
		return nil, notRead("ambiguous", "%s may be %s%s or %s.%s", text, before, after, before, after).
			accepting("%s%s, or %s.%s0", before, after, before, after)
	}
	before = strings.TrimLeft(before, "0")
	if len(before) > maxWholeDigits {
		return nil, notRead("too-large", "this number is absurdly large")
	}
	if len(after) > maxDecimalDigits {
		return nil, notRead("too-long", "this number has %d decimals", len(after)).accepting("at most %d decimals", maxDecimalDigits)
	}
	value, _ := new(big.Rat).SetString("0" + before + "." + after + "0")
	return value, nil
}

// groups tells whether digits could stand before a sign that parts thousands.
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
