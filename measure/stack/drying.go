package stack

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/student"
)

// Condition is what wood was sold as.
type Condition string

// The conditions of a sale that the drying allowance knows; empty is not said.
const (
	Green    Condition = "green"
	Seasoned Condition = "seasoned"
	Dry      Condition = "dry"
)

// Moisture is a moisture content as measured.
type Moisture struct {
	Percent float64 // of the weight that Basis names, a ratio in percent
	Highest float64 // the top of its interval, the same; 0: not known
	Basis   MoistureBasis
	Pieces  int
	Method  string // "meter", "oven", …
}

// What a moisture must be measured with and on to allow for drying, and how far it may
// be off where nobody says: practice, no source.
const (
	dryingPieces = 5
	moistureHalf = 2.0 // percent
)

// measured tells whether the moisture was measured by a meter or by oven, on pieces
// enough.
func (m *Moisture) measured() bool {
	method := strings.ToLower(m.Method)
	return m.Pieces >= dryingPieces && (strings.Contains(method, "meter") || strings.Contains(method, "oven"))
}

// top is the moisture content at the top of its interval on the dry basis in percent.
func (m *Moisture) top() float64 {
	high := *m
	high.Percent += moistureHalf
	if m.Highest > 0 {
		high.Percent = m.Highest
	}
	return high.OfDry()
}

// MoistureBasis is the weight that a moisture content is a part of.
type MoistureBasis string

// The bases of moisture.
const (
	DryBasis MoistureBasis = "dry" // of the oven-dry weight
	WetBasis MoistureBasis = "wet" // of the weight as it is
)

// OfDry gives the moisture content on the dry basis in percent, a ratio:
// 100·w/(100 − w) of w percent on the wet basis.
func (m Moisture) OfDry() float64 {
	if m.Basis == WetBasis {
		return 100 * m.Percent / (100 - m.Percent)
	}
	return m.Percent
}

// Shrinkage is how much wood shrinks from green to oven-dry: in percent of its
// green volume as tabulated, or from its basic specific gravity. One of the two is
// above 0; both are ratios.
type Shrinkage struct {
	Percent      float64
	BasicGravity float64
}

// Wood Handbook (USDA Forest Products Laboratory, FPL-GTR-190, 2010), chapter 4:
// shrinkage is a straight line from nothing at 30 percent moisture to S₀ at none,
// equation 4-9; S₀ from basic specific gravity as in the measuring model.
const (
	fibreSaturation   = 30.0 // percent moisture, dry basis
	shrinkageOfWeight = 26.5 // S₀ in percent for each unit of basic specific gravity
	mostShrinkage     = 19.2 // S₀ in percent of the species of its tables that shrinks most
)

// whole is S₀ in percent, never above the table's for the species, where that is known,
// or for any.
func (s Shrinkage) whole(most float64) float64 {
	if most <= 0 {
		most = mostShrinkage
	}
	if s.Percent > 0 {
		return min(s.Percent, most)
	}
	return min(shrinkageOfWeight*s.BasicGravity, most)
}

// allow works out the drying allowance; nil where there is none: it is only for
// wood sold green, tallied dry, whose moisture was measured on pieces enough, sold and
// measured on one basis.
func (f *Finding) allow(t *Tally, e *estimate, v verdict) {
	if t.SoldCondition != Green || t.Moisture == nil || t.Shrinkage == nil {
		return
	}
	moisture := t.Moisture.top()
	if !t.Moisture.measured() || moisture >= fibreSaturation || t.Condition == string(Green) {
		return
	}
	whole := t.Shrinkage.whole(t.MostShrinkage)
	s := whole * (1 - moisture/fibreSaturation) / 100
	dry := volume(float64(f.Due) / float64(measure.CubicInch) * (1 - s))
	p := student.CDF((e.value-float64(dry)/float64(measure.CubicInch))/v.short.u, v.short.degrees)
	f.Drying = &Drying{Shrinkage: s, DueDry: dry, Probability: p, Working: []measure.Text{
		measure.Say("The wood was sold green and measured at %.3g percent moisture of its dry weight at most (%d pieces, %s); %s of it green may be %s now.",
			moisture, t.Moisture.Pieces, t.Moisture.Method, f.Due, dry),
		measure.Say("Shrinkage: %.4g percent × (1 − %.3g/30) = %.3g percent of the green volume (Wood Handbook, equation 4-9).", whole, moisture, 100*s),
		measure.Say("Short is decided against %s (%s), full against %s.", dry, probability(p), f.Due),
	}}
}

// ShortOf is what short is decided against: what is due, less what drying may
// account for.
func (f *Finding) ShortOf() measure.Volume {
	if f.Drying != nil {
		return f.Drying.DueDry
	}
	return f.Due
}

// readDrying reads what the drying allowance needs.
func (d *Document) readDrying(t *Tally, errs *measure.InputErrors) {
	if oneOf(string(d.SoldCondition), "sold_condition", errs, "", string(Green), string(Seasoned), string(Dry)) {
		t.SoldCondition = Condition(d.SoldCondition)
	}
	if d.Moisture != nil {
		t.Moisture = d.Moisture.read(errs)
	}
	if d.Shrinkage != nil {
		t.Shrinkage = d.Shrinkage.read(errs)
	}
}

// The most that moisture and shrinkage may be, percent.
const (
	maxMoisture  = 300
	maxWet       = 75
	maxShrinkage = 30
	minGravity   = 0.1
	maxGravity   = 1.2
)

func (d *MoistureDocument) read(errs *measure.InputErrors) *Moisture {
	m := &Moisture{Basis: MoistureBasis(d.Basis), Pieces: d.Pieces, Method: string(d.Method)}
	high := float64(maxMoisture)
	if oneOf(string(d.Basis), "moisture.basis", errs, string(DryBasis), string(WetBasis)) && m.Basis == WetBasis {
		high = maxWet
	}
	m.Percent = number("moisture.percent", d.Percent, 0, high, errs)
	if d.Highest != nil {
		m.Highest = number("moisture.highest", d.Highest, m.Percent, high, errs)
	}
	if d.Pieces < 1 || d.Pieces > MaxPieces {
		errs.Add("moisture.pieces", "out-of-range", strconv.Itoa(d.Pieces), measure.Say("moisture is measured on pieces"), measure.Say("a whole number from 1 to %d", MaxPieces))
	}
	if d.Method == "" {
		errs.Add("moisture.method", "missing", "", measure.Say("it is not said how the moisture was measured"), measure.Say("a word or two, such as meter or oven"))
	} else if fault := measure.CheckText(string(d.Method), measure.Say("a word or two, such as meter or oven")); fault != nil {
		errs.AddAt("moisture.method", fault)
	}
	return m
}

func (d *ShrinkageDocument) read(errs *measure.InputErrors) *Shrinkage {
	s := &Shrinkage{}
	switch {
	case (d.Percent == nil) == (d.BasicGravity == nil):
		errs.Add("shrinkage", "one-of", "", measure.Say("shrinkage is given in two ways, or in none"), measure.Say("one of “percent” and “basic_gravity”"))
	case d.Percent != nil:
		s.Percent = number("shrinkage.percent", d.Percent, 0, maxShrinkage, errs)
	default:
		s.BasicGravity = number("shrinkage.basic_gravity", d.BasicGravity, minGravity, maxGravity, errs)
	}
	return s
}

// number notes a fault where n is missing or not within low and high; it is 0 then.
func number(path string, n *float64, low, high float64, errs *measure.InputErrors) float64 {
	accepts := measure.Say("a number from %.3g to %.3g", low, high)
	if n == nil {
		errs.Add(path, "missing", "", measure.Say("this number is missing"), accepts)
		return 0
	}
	if !(*n >= low && *n <= high) {
		errs.Add(path, "out-of-range", strconv.FormatFloat(*n, 'g', -1, 64), measure.Say("this is out of range"), accepts)
		return 0
	}
	return *n
}

// readLooseCord reads what the rule set of the sale takes a loose cord for.
func (d *Document) readLooseCord(t *Tally, errs *measure.InputErrors) {
	if d.LooseCord == "" {
		return
	}
	r := &rowsReader{errs: errs}
	t.LooseCord = r.readVolume("loose_cord", d.LooseCord, 2*measure.Cord)
}
