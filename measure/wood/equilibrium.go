package wood

import (
	"wellstowed/measure"
)

// The air that the equation was fitted to, a little wider than 30 to 130 °F.
const (
	coldestAir Temperature = -2_000
	hottestAir Temperature = 60_000
	dampestAir             = 0.98
)

// Equilibrium is the moisture, dry basis, that wood comes to in air of a temperature
// from −2 to 60 °C and a relative humidity from 0 to 0.98, a ratio (Wood Handbook
// 2021, eq. 4-5: Hailwood and Horrobin's equation with Simpson's coefficients of
// 1973). The error is a *measure.InputError.
func Equilibrium(air Temperature, humidity float64) (Moisture, error) {
	if air < coldestAir || air > hottestAir {
		return Moisture{}, &measure.InputError{Field: "temperature", Code: "out-of-range", Got: air.String(),
			Reason: measure.Say("the equation does not reach there"), Accepts: measure.Say("air from 28 to 140 °F, −2 to 60 °C")}
	}
	if !(humidity >= 0 && humidity <= dampestAir) {
		return Moisture{}, &measure.InputError{Field: "humidity", Code: "out-of-range", Got: figure(100*humidity, 1) + " %",
			Reason: measure.Say("the equation does not reach there"), Accepts: measure.Say("a relative humidity from 0 to 98 %")}
	}
	t, h := air.InCelsius(), humidity
	w := 349 + 1.29*t + 0.0135*t*t
	kh := h * (0.805 + 0.000736*t - 0.00000273*t*t)
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	bound := (k1*kh + 2*k1*k2*kh*kh) / (1 + k1*kh + k1*k2*kh*kh)
	return fromDry(1800 / w * (kh/(1-kh) + bound)), nil
}
