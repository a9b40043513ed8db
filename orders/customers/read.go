package customers

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// read puts what was typed into a record. It is Invalid with all faults.
func read(r Record, q Request) (Record, error) {
	var in act.Fields
	r.Name, r.Address, r.Phone = in.Line("name", q.Name), in.Lines("address", q.Address), in.Line("phone", q.Phone)
	if r.Name == "" && len(in.Faults) == 0 {
		in.Missing("name", measure.Say("the customer's name"))
	}
	r.Access, r.Stacking = in.Lines("access", q.Access), in.Lines("stacking", q.Stacking)
	place, err := ParsePlace(q.Place)
	in.Parsed("place", err)
	r.Place = place
	return r, in.Err()
}

// ParsePlace reads where a place is, as latitude and longitude in degrees (WGS 84):
// "44.0512, -72.2034". South and west are below 0. It gives it with six decimals, about
// four inches, and "" for an empty text.
func ParsePlace(text string) (string, error) {
	if strings.TrimSpace(text) == "" {
		return "", nil
	}
	wrong := &measure.InputError{Code: "not-a-place", Got: text, Reason: measure.Say("it isn’t a place in degrees"),
		Accepts: measure.Say("latitude and longitude, such as %s", "44.0512, -72.2034")}
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	if len(parts) != 2 {
		return "", wrong
	}
	latitude, err := strconv.ParseFloat(parts[0], 64)
	if err != nil || !(math.Abs(latitude) <= 90) {
		return "", wrong
	}
	longitude, err := strconv.ParseFloat(parts[1], 64)
	if err != nil || !(math.Abs(longitude) <= 180) {
		return "", wrong
	}
	return fmt.Sprintf("%.6f,%.6f", latitude, longitude), nil
}
