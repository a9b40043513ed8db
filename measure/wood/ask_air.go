package wood

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// An AskAir is a question about air as typed: what does wood left in it come to?
// Errors name its fields by these JSON names.
type AskAir struct {
	Air      string `json:"air"`      // "70 F", "21 C"
	Humidity string `json:"humidity"` // relative, "65 %" or "65"
}

// A Scale is that of a bare number of degrees; the zero one asks for a unit.
type Scale string

// The scales.
const (
	FahrenheitScale Scale = "F"
	CelsiusScale    Scale = "C"
)

// Equilibrium answers the question. The error is a measure.InputErrors with all
// faults.
func (a AskAir) Equilibrium(bare Scale) (Moisture, error) {
	var faults measure.InputErrors
	note := func(field string, err error) {
		var fault *measure.InputError
		if errors.As(err, &fault) {
			placed := *fault
			placed.Field = field
			faults = append(faults, &placed)
		}
	}
	text := strings.TrimSpace(a.Air)
	if _, err := strconv.ParseFloat(strings.Replace(text, "−", "-", 1), 64); err == nil {
		text += string(bare)
	}
	air, err := ParseTemperature(text)
	note("air", err)
	humidity, err := parseHumidity(a.Humidity)
	note("humidity", err)
	if len(faults) > 0 {
		return Moisture{}, faults
	}
	m, err := Equilibrium(air, humidity)
	if fault := (*measure.InputError)(nil); errors.As(err, &fault) {
		field := fault.Field
		if field == "temperature" {
			field = "air"
		}
		note(field, fault)
		return Moisture{}, faults
	}
	return m, err
}

var humidityText = regexp.MustCompile(`^(\d{1,3}(?:\.\d{1,3})?) ?(?:%|percent|per cent)?$`)

// parseHumidity reads a relative humidity in percent as a ratio.
func parseHumidity(s string) (float64, error) {
	parts := humidityText.FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if parts == nil {
		return math.NaN(), &measure.InputError{Code: "not-a-humidity", Got: shown(s),
			Reason: measure.Say("this isn’t a humidity"), Accepts: measure.Say("the air’s relative humidity in percent, such as 65")}
	}
	percent, err := strconv.ParseFloat(parts[1], 64)
	return percent / 100, err
}
