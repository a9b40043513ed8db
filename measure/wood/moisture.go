package wood

import (
	"encoding/json"
	"math"
	"strconv"

	"wellstowed/measure"
)

// A Basis says what the water in wood is measured against. Moistures on two bases
// never compare without Dry or Wet.
type Basis string

// The bases. The zero Basis is invalid.
const (
	Dry Basis = "dry" // water over ovendry wood: wood science and pin meters
	Wet Basis = "wet" // water over the whole: the fuel trade
)

// A Moisture is the water in wood and the basis it is taken on, in thousandths of
// a percent. The zero Moisture is invalid.
type Moisture struct {
	thousandths int32
	basis       Basis
}

// The most that is taken: wood of basic specific gravity 0.22 holds no more than
// 390 % of its dry mass (Wood Handbook 2021, eq. 4-3), and 80 % of the whole.
const (
	MaxDryPercent = 400
	MaxWetPercent = 80
)

// DryBasis is a moisture of so many percent of the ovendry wood's mass, from 0 to
// MaxDryPercent, kept to a thousandth of a percent. The error is a
// *measure.InputError.
func DryBasis(percent float64) (Moisture, error) { return newMoisture(percent, Dry) }

// OnBasis is a moisture of so many percent on a basis, kept to a thousandth of a
// percent. The error is a *measure.InputError.
func OnBasis(percent float64, basis Basis) (Moisture, error) { return newMoisture(percent, basis) }

func newMoisture(percent float64, basis Basis) (Moisture, error) {
	most := MaxDryPercent
	switch basis {
	case Dry:
	case Wet:
		most = MaxWetPercent
	default:
		return Moisture{}, noBasis(string(basis))
	}
	if !(percent >= 0 && percent <= float64(most)) {
		return Moisture{}, &measure.InputError{
			Code: "out-of-range", Got: strconv.FormatFloat(percent, 'g', -1, 64),
			Reason: measure.Say("wood does not hold that much water, or less than none"), Accepts: inRange(basis),
		}
	}
	return Moisture{thousandths: int32(math.RoundToEven(percent * 1000)), basis: basis}, nil
}

// inRange words what a percentage on a basis may be.
func inRange(basis Basis) measure.Text {
	if basis == Wet {
		return measure.Say("0 to %d %% on the wet basis", MaxWetPercent)
	}
	return measure.Say("0 to %d %% on the dry basis", MaxDryPercent)
}

func noBasis(got string) error {
	return &measure.InputError{
		Code: "no-basis", Got: got,
		Reason:  measure.Say("it is not said what the water is measured against"),
		Accepts: measure.Say("“dry” (water over dry wood, as pin meters read) or “wet” (water over the whole)"),
	}
}

// Basis is what the water is measured against.
func (m Moisture) Basis() Basis { return m.basis }

// Percent is the moisture as a percentage on its own basis.
func (m Moisture) Percent() float64 { return float64(m.thousandths) / 1000 }

// Dry gives the same water on the dry basis: dry = wet/(1 − wet).
func (m Moisture) Dry() Moisture {
	if m.basis != Wet {
		return m
	}
	return fromDry(100 * m.dryRatio())
}

// Wet gives the same water on the wet basis: wet = dry/(1 + dry).
func (m Moisture) Wet() Moisture {
	if m.basis == Wet {
		return m
	}
	r := m.dryRatio()
	return Moisture{thousandths: int32(math.RoundToEven(1e5 * r / (1 + r))), basis: Wet}
}

// On gives the same water on a basis.
func (m Moisture) On(basis Basis) Moisture {
	if basis == Wet {
		return m.Wet()
	}
	return m.Dry()
}

// dryRatio is water over ovendry wood.
func (m Moisture) dryRatio() float64 {
	ratio := m.Percent() / 100
	if m.basis == Wet {
		return ratio / (1 - ratio)
	}
	return ratio
}

// dryPercent is dryRatio in percent.
func (m Moisture) dryPercent() float64 { return 100 * m.dryRatio() }

// fromDry makes a moisture of a percentage that was worked out, kept in range.
func fromDry(percent float64) Moisture {
	percent = math.Max(0, math.Min(percent, MaxDryPercent))
	return Moisture{thousandths: int32(math.RoundToEven(percent * 1000)), basis: Dry}
}

// String gives the percentage with its basis, as ParseMoisture reads it.
func (m Moisture) String() string {
	return strconv.FormatFloat(m.Percent(), 'f', -1, 64) + " % " + string(m.basis) + " basis"
}

type storedMoisture struct {
	Percent float64 `json:"percent"`
	Basis   Basis   `json:"basis"`
}

// MarshalJSON writes {"percent":18.5,"basis":"dry"}.
func (m Moisture) MarshalJSON() ([]byte, error) {
	return json.Marshal(storedMoisture{m.Percent(), m.basis})
}

// UnmarshalJSON reads what MarshalJSON writes.
func (m *Moisture) UnmarshalJSON(b []byte) error {
	var s storedMoisture
	if err := json.Unmarshal(b, &s); err != nil {
		return err
	}
	read, err := newMoisture(s.Percent, s.Basis)
	if err != nil {
		return err
	}
	*m = read
	return nil
}
