package orders

import (
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// Units of road, exact.
const (
	Kilometre = 1000 * measure.Metre
	Mile      = 5280 * measure.Foot
)

// maxDistance is the longest road accepted, in whole units.
const maxDistance = 5000

var distanceForm = regexp.MustCompile(`^([0-9]{1,6})(?:[.,]([0-9]{1,2}))?\s*([a-z]*)$`)

// readDistance reads the length of a road, with up to two decimals: "12.5", "12.5 mi",
// "20 km". A bare number is in the shop's own unit.
func (in *orderReader) readDistance(field, text string) measure.Length {
	d, err := ParseDistance(text, in.shop.Units)
	in.Parsed(field, err)
	return d
}

// ParseDistance reads the length of a road, 0 to 5000 miles or kilometres with up to
// two decimals; a bare number is in miles, or in kilometres where units are metric.
// Its error is a *measure.InputError.
func ParseDistance(text string, units act.Units) (measure.Length, error) {
	refuse := func(code string, reason measure.Text) (measure.Length, error) {
		return 0, &measure.InputError{Code: code, Got: text, Reason: reason, Accepts: measure.Say("miles or kilometres with up to two decimals, such as 12.5 mi or 20 km")}
	}
	if len(text) > measure.MaxText {
		text = ""
		return refuse("too-long", measure.Say("it is too long for a distance"))
	}
	parts := distanceForm.FindStringSubmatch(strings.ToLower(strings.TrimSpace(text)))
	if parts == nil {
		return refuse("not-a-distance", measure.Say("it is not one plain distance"))
	}
	unit := longDistance(units)
	switch parts[3] {
	case "":
	case "mi", "mile", "miles":
		unit = Mile
	case "km", "kilometre", "kilometres", "kilometer", "kilometers":
		unit = Kilometre
	default:
		return refuse("unknown-unit", measure.Say("%s isn’t a unit of road here", parts[3]))
	}
	n, err := strconv.ParseInt(parts[1]+parts[2]+strings.Repeat("0", 2-len(parts[2])), 10, 64)
	if err != nil || n > maxDistance*100 {
		return refuse("too-large", measure.Say("it is more than %d", maxDistance))
	}
	return unit / 100 * measure.Length(n), nil
}

// FormatDistance writes the length of a road as ParseDistance reads it: exactly, where
// it was typed in either unit.
func FormatDistance(d measure.Length, units act.Units) string {
	unit, name := Mile, "mi"
	if units == act.Metric && d%(Kilometre/100) == 0 || d%(Mile/100) != 0 {
		unit, name = Kilometre, "km"
	}
	n := int64(d / (unit / 100))
	text := strconv.FormatInt(n/100, 10)
	if rest := n % 100; rest != 0 {
		text += "." + strings.TrimRight(strconv.FormatInt(100+rest, 10)[1:], "0")
	}
	return text + " " + name
}
