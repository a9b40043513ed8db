package storage

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
)

// An amount is a number that was typed, in thousandths.
type amount int64

// of is the amount of a unit of the given size.
func (a amount) of(unit float64) float64 { return float64(a) / 1000 * unit }

// splitNumber reads a plain number ≥ 0 with up to three decimals, and the word
// after it in lower case. Separators between thousands, exponents and signs are
// refused.
func splitNumber(s string) (amount, string, *measure.InputError) {
	text := strings.TrimSpace(s)
	wrong := func(code string, why measure.Text) (amount, string, *measure.InputError) {
		return 0, "", &measure.InputError{Code: code, Got: s, Reason: why}
	}
	switch {
	case text == "":
		return wrong("empty", measure.Say("nothing was written"))
	case utf8.RuneCountInString(text) > measure.MaxText:
		return wrong("too-long", measure.Say("this is longer than %d characters", measure.MaxText))
	case strings.HasPrefix(text, "-"), strings.HasPrefix(text, "−"):
		return wrong("negative", measure.Say("this is less than nothing"))
	}
	n := 0
	for n < len(text) && strings.ContainsRune("0123456789.,", rune(text[n])) {
		n++
	}
	digits, unit := text[:n], strings.ToLower(strings.TrimSpace(text[n:]))
	whole, part, _ := strings.Cut(digits, ".")
	switch {
	case whole == "" && part == "":
		return wrong("not-a-number", measure.Say("this is not a number"))
	case strings.Contains(digits, ","):
		return wrong("ambiguous", measure.Say("the comma may be a decimal mark or part thousands: write the number without it"))
	case strings.Contains(part, "."):
		return wrong("not-a-number", measure.Say("there is more than one point"))
	case len(whole) > 9 || len(part) > 3:
		return wrong("too-large", measure.Say("there are too many digits"))
	case exponent(unit):
		return wrong("exponent", measure.Say("a number with an exponent is not read"))
	}
	n64, err := strconv.ParseInt(whole+(part + "000")[:3], 10, 64)
	if err != nil {
		return wrong("not-a-number", measure.Say("this is not a number"))
	}
	return amount(n64), unit, nil
}

// exponent tells whether what follows the digits is "e3" or "e+3".
func exponent(rest string) bool {
	after, found := strings.CutPrefix(rest, "e")
	after = strings.TrimLeft(after, "+-")
	return found && after != "" && '0' <= after[0] && after[0] <= '9'
}
