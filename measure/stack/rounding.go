package stack

import (
	"math"

	"wellstowed/measure"
)

// Rounding is the way readings are rounded.
type Rounding string

// The ways of rounding; Nearest takes halves up.
const (
	RoundUp      Rounding = "up"
	RoundDown    Rounding = "down"
	RoundNearest Rounding = "nearest"
)

// Other is the way that what is taken off is rounded.
func (w Rounding) Other() Rounding {
	switch w {
	case RoundUp:
		return RoundDown
	case RoundDown:
		return RoundUp
	}
	return w
}

// Round takes l ≥ 0 to a whole number of steps.
func (w Rounding) Round(l, step measure.Length) measure.Length {
	switch w {
	case RoundUp:
		l += step - 1
	case RoundNearest:
		l += step / 2
	}
	return l / step * step
}

// OfInches rounds inches to a Length, halves to even.
func OfInches(inches float64) measure.Length {
	return measure.Length(math.RoundToEven(inches * float64(measure.Inch)))
}
