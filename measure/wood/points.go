package wood

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// Points are percentage points of moisture on the basis of the reading they are of, in
// thousandths: 20.5 % less 20 % is 500.
type Points int32

// The most that a meter is said to be out, and that is added to its readings.
const (
	MaxAccuracy   Points = 10_000
	MaxCorrection Points = 10_000
)

// UsualAccuracy is how far pin meters are commonly said to be out below 30 %: common
// practice, no source.
const UsualAccuracy Points = 2_000

// In gives p in percentage points, a statistic.
func (p Points) In() float64 { return float64(p) / 1000 }

var pointsText = regexp.MustCompile(`^([-−+±]?) ?(\d{1,2}(?:\.\d{1,3})?) ?(?:%|points?|percent)?$`)

// ParseAccuracy reads how far a meter is out either way: "1.5", "± 2 %". The error is a
// *measure.InputError.
func ParseAccuracy(s string) (Points, error) {
	p, sign, ok := parsePoints(s)
	if !ok || sign == "-" || p <= 0 || p > MaxAccuracy {
		return 0, notPoints(s, measure.Say("points either way, such as 1.5, from 0.1 to %d", int(MaxAccuracy/1000)))
	}
	return p, nil
}

// ParseCorrection reads what is added to each reading for the species: "+1.5", "-0.5",
// "0". The error is a *measure.InputError.
func ParseCorrection(s string) (Points, error) {
	p, sign, ok := parsePoints(s)
	if !ok || sign == "±" || p > MaxCorrection {
		return 0, notPoints(s, measure.Say("points to add, such as +1.5 or -0.5, or 0 where the meter was set to the species"))
	}
	if sign == "-" {
		return -p, nil
	}
	return p, nil
}

// parsePoints gives an amount and its sign: "-", "±" or none.
func parsePoints(s string) (p Points, sign string, ok bool) {
	parts := pointsText.FindStringSubmatch(strings.TrimSpace(s))
	if parts == nil {
		return 0, "", false
	}
	amount, err := strconv.ParseFloat(parts[2], 64)
	return Points(math.RoundToEven(amount * 1000)), strings.Trim(strings.ReplaceAll(parts[1], "−", "-"), "+"), err == nil
}

func notPoints(s string, accepts measure.Text) error {
	return &measure.InputError{Code: "not-points", Got: shown(s), Reason: measure.Say("these are no points of moisture that are taken"), Accepts: accepts}
}

// shifted is the reading so many points wetter, in percent on the dry basis, never below
// nothing nor above what wood holds.
func (r Reading) shifted(p Points) float64 {
	most := int32(MaxDryPercent)
	if r.Moisture.basis == Wet {
		most = MaxWetPercent
	}
	return Moisture{max(0, min(r.Moisture.thousandths+int32(p), most*1000)), r.Moisture.basis}.dryPercent()
}

// corrected is the reading with its correction for the species, in percent on the dry
// basis.
func (r Reading) corrected() float64 {
	if r.Correction == nil {
		return r.Moisture.dryPercent()
	}
	return r.shifted(*r.Correction)
}

// accuracy is how far the reading's meter may be out, in points on the dry basis; 0 for
// wood that was weighed, unless its own is given.
func (r Reading) accuracy() float64 {
	own := UsualAccuracy
	switch {
	case r.Accuracy != nil:
		own = *r.Accuracy
	case r.Method == OvenDrying:
		return 0
	}
	return r.shifted(own) - r.Moisture.dryPercent()
}
