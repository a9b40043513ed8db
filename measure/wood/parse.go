package wood

import (
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
)

// percentText is a plain number with an optional sign for percent and basis.
var percentText = regexp.MustCompile(`^(\d{1,4}(?:\.\d{1,6})?) ?(?:%|percent|per cent)?(?: ?,? ?(dry|wet|db|wb|mc)(?: basis)?)?$`)

// ParseBasis reads "dry" or "wet". The error is a *measure.InputError.
func ParseBasis(s string) (Basis, error) {
	switch strings.TrimSuffix(strings.ToLower(strings.TrimSpace(s)), " basis") {
	case "dry", "db":
		return Dry, nil
	case "wet", "wb":
		return Wet, nil
	}
	return "", noBasis(shown(s))
}

// ParseMoisture reads "20 %", "20", "20.5 % dry", "16.7 % wet basis" as a moisture
// on the basis it names, else on basis; the empty basis is none. Basis and words
// that differ are refused. The error is a *measure.InputError.
func ParseMoisture(s string, basis Basis) (Moisture, error) {
	if basis == "" && s == "" {
		return Moisture{}, notMoisture(s)
	}
	parts := percentText.FindStringSubmatch(strings.ToLower(strings.Join(strings.Fields(s), " ")))
	if parts == nil || len(s) > measure.MaxText {
		return Moisture{}, notMoisture(s)
	}
	if said := parts[2]; said != "" && said != "mc" {
		named, err := ParseBasis(said)
		if err != nil {
			return Moisture{}, err
		}
		if basis != "" && basis != named {
			return Moisture{}, &measure.InputError{
				Code: "other-basis", Got: shown(s),
				Reason:  measure.Say("it says %s basis, and %s basis was chosen", measure.Say(string(named)), measure.Say(string(basis))),
				Accepts: measure.Say("one basis"),
			}
		}
		basis = named
	}
	percent, err := strconv.ParseFloat(parts[1], 64)
	if err != nil {
		return Moisture{}, notMoisture(s)
	}
	m, err := newMoisture(percent, basis)
	if fault, ok := err.(*measure.InputError); ok {
		fault.Got = shown(s)
	}
	return m, err
}

func notMoisture(got string) error {
	return &measure.InputError{
		Code: "not-a-moisture", Got: shown(got),
		Reason:  measure.Say("this isn’t a moisture"),
		Accepts: measure.Say("a percentage such as 20 % or 18.5, and its basis: dry or wet"),
	}
}

// shown is a text as an error repeats it: valid, and not long.
func shown(s string) string {
	s = strings.ToValidUTF8(s, "\uFFFD")
	if utf8.RuneCountInString(s) > 80 {
		s = string([]rune(s)[:80]) + "…"
	}
	return s
}
