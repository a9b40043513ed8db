package money

import (
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// A Rate is a share in millionths, 0 to 1 000 000: 55 000 is 5.5 %.
type Rate int64

// wholeRate is 100 %.
const wholeRate = 1_000_000

// rateDigits are the decimals of a percentage that a Rate holds exactly.
const rateDigits = 4

var rateForm = regexp.MustCompile(`^([0-9]{1,3})(?:[.,]([0-9]+))?\s*%?$`)

// ParseRate reads a percentage, exactly: "5.5 %", "8.875%", "5,5", "0". It refuses
// more than 100 %, more than four decimals, signs and anything else. Its error is a
// *measure.InputError.
func ParseRate(text string) (Rate, error) {
	refuse := func(code string, reason measure.Text) (Rate, error) {
		return 0, &measure.InputError{Code: code, Got: text, Reason: reason, Accepts: measure.Say("a percentage from 0 to 100, such as 5.5 %")}
	}
	if len(text) > measure.MaxText {
		text = ""
		return refuse("too-long", measure.Say("it is too long for a percentage"))
	}
	parts := rateForm.FindStringSubmatch(strings.TrimSpace(text))
	if parts == nil {
		return refuse("not-a-rate", measure.Say("it is not one plain percentage"))
	}
	if len(parts[2]) > rateDigits {
		return refuse("too-many-decimals", measure.Say("a percentage has at most %d decimals here", rateDigits))
	}
	n, err := strconv.ParseInt(parts[1]+parts[2]+strings.Repeat("0", rateDigits-len(parts[2])), 10, 64)
	if err != nil || n > wholeRate {
		return refuse("too-large", measure.Say("it is more than 100 %"))
	}
	return Rate(n), nil
}

// Of is the share r of m, rounded once, half away from zero.
func (r Rate) Of(m Money) Money { return m.Times(int64(r), wholeRate) }

// String writes the percentage exactly: "5.5 %". ParseRate reads it back.
func (r Rate) String() string {
	digits := strconv.FormatInt(int64(r), 10)
	for len(digits) <= rateDigits {
		digits = "0" + digits
	}
	whole, parts := digits[:len(digits)-rateDigits], strings.TrimRight(digits[len(digits)-rateDigits:], "0")
	if parts != "" {
		whole += "." + parts
	}
	return whole + " %"
}
