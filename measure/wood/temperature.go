package wood

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// A Temperature is in thousandths of a degree Celsius.
type Temperature int32

// The temperatures that are taken.
const (
	MinTemperature Temperature = -60_000
	MaxTemperature Temperature = 120_000
)

// InCelsius gives t in degrees Celsius.
func (t Temperature) InCelsius() float64 { return float64(t) / 1000 }

// InFahrenheit gives t in degrees Fahrenheit.
func (t Temperature) InFahrenheit() float64 { return 32 + 1.8*t.InCelsius() }

// String gives t in degrees Celsius to a tenth, for logs and tests.
func (t Temperature) String() string { return figure(t.InCelsius(), 1) + " °C" }

// Celsius is a temperature of so many degrees Celsius, from −60 to 120. The error
// is a *measure.InputError.
func Celsius(degrees float64) (Temperature, error) {
	if !(degrees >= MinTemperature.InCelsius() && degrees <= MaxTemperature.InCelsius()) {
		return 0, &measure.InputError{
			Code: "out-of-range", Got: figure(degrees, 3) + " °C",
			Reason: measure.Say("no wood or weather is that cold or that hot"), Accepts: acceptedTemperatures(),
		}
	}
	return Temperature(math.RoundToEven(degrees * 1000)), nil
}

// Fahrenheit is a temperature of so many degrees Fahrenheit, from −76 to 248. The
// error is a *measure.InputError.
func Fahrenheit(degrees float64) (Temperature, error) { return Celsius((degrees - 32) / 1.8) }

func acceptedTemperatures() measure.Text {
	return measure.Say("a temperature with its unit, such as 50 F or 10 C, from −60 to 120 °C")
}

var temperatureText = regexp.MustCompile(`^([-−]?\d{1,4}(?:\.\d{1,4})?) ?°? ?([cf])$`)

// ParseTemperature reads "50 F", "10 °C" or "-5C". The error is a
// *measure.InputError.
func ParseTemperature(s string) (Temperature, error) {
	parts := temperatureText.FindStringSubmatch(strings.ToLower(strings.TrimSpace(s)))
	if parts == nil {
		return 0, &measure.InputError{
			Code: "not-a-temperature", Got: shown(s),
			Reason: measure.Say("this isn’t a temperature, or it has no unit"), Accepts: acceptedTemperatures(),
		}
	}
	degrees, _ := strconv.ParseFloat(strings.Replace(parts[1], "−", "-", 1), 64) // digits by the pattern
	t, err := Celsius(degrees)
	if parts[2] == "f" {
		t, err = Fahrenheit(degrees)
	}
	if fault, ok := err.(*measure.InputError); ok {
		fault.Got = shown(s)
	}
	return t, err
}
