//go:build !wasm

package words

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
)

// LotJSON is the verdict on a lot as data, with full float64 precision.
type LotJSON struct {
	Finding                    lot.Finding      `json:"finding"`
	Sentence                   string           `json:"sentence"`
	Why                        []RemarkJSON     `json:"why"`
	LabelledCubicFeet          float64          `json:"labelled_cubic_feet"`
	Plan                       lot.Plan         `json:"plan"`
	Factor                     *float64         `json:"factor"` // for the packages measured
	Seed                       *uint64          `json:"seed"`
	Drawn                      []uint64         `json:"drawn"` // every seed drawn for this lot, in order
	Picks                      []int            `json:"picks"`
	Packages                   []LotPackageJSON `json:"packages"` // in rising order of their numbers
	IndividualLimitCubicFeet   *float64         `json:"individual_limit_cubic_feet"`
	AverageErrorCubicFeet      float64          `json:"average_error_cubic_feet"`
	StandardDeviationCubicFeet *float64         `json:"standard_deviation_cubic_feet"`
	SampleErrorLimitCubicFeet  *float64         `json:"sample_error_limit_cubic_feet"`
	Grounds                    []GroundJSON     `json:"grounds"`
	Notes                      []RemarkJSON     `json:"notes"`
}

// LotPackageJSON is a package held against its label: error = measured − labelled.
type LotPackageJSON struct {
	Number              int     `json:"number"`
	CubicFeet           float64 `json:"cubic_feet"`
	ErrorCubicFeet      float64 `json:"error_cubic_feet"`
	Drawn               bool    `json:"drawn"` // by the seed; else it was typed
	OverIndividualLimit bool    `json:"over_individual_limit"`
	OverTwiceTheLimit   bool    `json:"over_twice_the_limit"`
}

// RemarkJSON is something said, with its code.
type RemarkJSON struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// GroundJSON is a rule a verdict rests on, and how it is known.
type GroundJSON struct {
	RemarkJSON
	rules.Known
}

// Lot gives a verdict as data.
func (p *Printer) Lot(l lot.Lot, v lot.Verdict) LotJSON {
	out := LotJSON{
		Finding: v.Finding, Sentence: p.LotFinding(v), Why: p.remarks(v.Why),
		LabelledCubicFeet: l.Labelled.In(measure.CubicFoot), Plan: v.Plan, Seed: l.Seed, Drawn: l.Drawn, Picks: v.Picks,
		IndividualLimitCubicFeet: feet(v.Individual), AverageErrorCubicFeet: v.Mean.In(measure.CubicFoot),
		StandardDeviationCubicFeet: feet(v.Spread), SampleErrorLimitCubicFeet: feet(v.Limit),
		Notes: append(p.remarks(v.Notes), RemarkJSON{"not-official", p.Volunteer()}),
	}
	for _, e := range v.Packages {
		out.Packages = append(out.Packages, LotPackageJSON{e.Number, e.Volume.In(measure.CubicFoot), e.Error.In(measure.CubicFoot), e.Drawn, e.Over, e.Twice})
	}
	if v.Factor != nil {
		out.Factor = &v.Factor.Value
	}
	for _, g := range v.Grounds {
		out.Grounds = append(out.Grounds, GroundJSON{RemarkJSON{g.Code, p.Say(g.Text)}, g.Known})
	}
	return out
}

func feet(v *measure.Volume) *float64 {
	if v == nil {
		return nil
	}
	x := v.In(measure.CubicFoot)
	return &x
}

func (p *Printer) remarks(remarks []lot.Remark) []RemarkJSON {
	said := make([]RemarkJSON, len(remarks))
	for i, r := range remarks {
		said[i] = RemarkJSON{r.Code, p.Say(r.Text)}
	}
	return said
}

// LotFinding is the verdict in a sentence.
func (p *Printer) LotFinding(v lot.Verdict) string {
	n := len(v.Packages)
	switch {
	case v.Finding == lot.NotJudged && v.Why[0].Code == "no-number":
		return p.say("Can’t be judged: the plan doesn’t go that far.")
	case v.Finding == lot.NotJudged:
		return p.say("Can’t be judged on the average.")
	case v.Finding == lot.Pass && v.Mean >= 0:
		return p.say("Pass: on the average of %d packages this lot holds what its label says.", n)
	case v.Finding == lot.Pass:
		return p.say("Pass: on the average of %d packages this lot is not short by more than the sample error limit.", n)
	case v.Why[0].Code == "over-individual-limit":
		return p.say("Fail: too many packages are short by more than the individual limit.")
	case v.Why[0].Code == "over-twice":
		return p.say("Fail: too many packages are short by more than twice the individual limit.")
	}
	return p.say("Fail: on the average of %d packages this lot is short by more than the sample error limit.", n)
}

// Volunteer says what a verdict is not.
func (p *Printer) Volunteer() string {
	return p.say("Volunteer measurement, not an official result.")
}

// Package words the volume of a package with decimals always, to stand in a
// column: "0.7400 ft³", "20.954 L".
func (p *Printer) Package(v measure.Volume) string { return p.signed("", v) }

// PackageError words an error with its sign: "+0.0125 ft³", "−0.0100 ft³".
func (p *Printer) PackageError(v measure.Volume) string {
	if v < 0 {
		return p.signed("−", -v)
	}
	return p.signed("+", v)
}

// signed is v, not negative, behind a sign that nothing is left without.
func (p *Printer) signed(sign string, v measure.Volume) string {
	unit, digits, key := measure.CubicFoot, 4, "%s%.4f ft³"
	if p.metric() {
		unit, digits, key = measure.Litre, 3, "%s%.3f L"
		if slices.ContainsFunc(p.set.Units, func(u rules.Unit) bool { return u.Unit == rules.CubicDecimetre }) {
			key = "%s%.3f dm³"
		}
	}
	if math.Round(v.In(unit)*math.Pow10(digits)) == 0 {
		sign, v = "", 0
	}
	return p.say(key, sign, v.In(unit))
}

// PlanName says whose plan a lot is judged by.
func (p *Printer) PlanName(plan lot.Plan) string {
	if plan.For != "" {
		return p.say("Plan: %s. These rules state none of their own: %s.", plan.Name, plan.For)
	}
	return p.say("Plan: %s.", plan.Name)
}

// IndividualLimit says how much one package may be short, and who says so; empty where
// nobody does.
func (p *Printer) IndividualLimit(l lot.Lot, v lot.Verdict) string {
	switch {
	case v.Individual == nil:
		return ""
	case l.Limit != nil:
		return p.say("Individual limit, as given: %s", p.Package(*v.Individual))
	}
	return p.say("Individual limit, by the plan: %s", p.Package(*v.Individual))
}

// ErrorOf words the error of a package, with a star where it is over the
// individual limit and two where it is over twice that.
func (p *Printer) ErrorOf(e lot.Error) string {
	if e.Twice {
		return "** " + p.PackageError(e.Error)
	}
	if e.Over {
		return "* " + p.PackageError(e.Error)
	}
	return p.PackageError(e.Error)
}

// HowPicked says whether a package was drawn by the seed, or only typed.
func (p *Printer) HowPicked(e lot.Error) string {
	if e.Drawn {
		return p.say("drawn")
	}
	return p.say("typed")
}

// Star says what the stars at errors mean; empty where none has one.
func (p *Printer) Star(v lot.Verdict) string {
	if slices.ContainsFunc(v.Packages, func(e lot.Error) bool { return e.Twice }) {
		return p.say("* short by more than the individual limit, ** by more than twice that")
	}
	if !slices.ContainsFunc(v.Packages, func(e lot.Error) bool { return e.Over }) {
		return ""
	}
	return p.say("* short by more than the individual limit")
}

// PackageOr words a volume, or none where it can't be had.
func (p *Printer) PackageOr(v *measure.Volume) string {
	if v == nil {
		return p.say("none")
	}
	return p.Package(*v)
}

// End words the area of the end of a package: "80.25 in²", "500 cm²".
func (p *Printer) End(a lot.Area) string {
	if p.metric() {
		return p.say("%s cm²", p.decimal(a.In(lot.SquareCentimetre), 1))
	}
	return p.say("%s in²", p.decimal(a.In(lot.SquareInch), 2))
}

// Mark says how something is known: "from memory: NIST Handbook 133, …".
func (p *Printer) Mark(k rules.Known) string {
	return p.say("%s: %s", p.say(string(k.Status)), k.Source)
}

// Ground words a rule behind how it is known.
func (p *Printer) Ground(g lot.Ground) string { return p.say("%s (%s)", g.Text, p.Mark(g.Known)) }

// Factor words a sample correction factor, or that there is none.
func (p *Printer) Factor(factor *lot.Figure[float64]) string {
	if factor == nil {
		return p.say("none")
	}
	return p.say("%.3f", factor.Value)
}

// Numbers lists package numbers: "3, 7, 12".
func (p *Printer) Numbers(numbers []int) string {
	list := make([]string, len(numbers))
	for i, n := range numbers {
		list[i] = strconv.Itoa(n)
	}
	return strings.Join(list, ", ")
}

// Drawn says which packages a seed draws.
func (p *Printer) Drawn(seed uint64, picks []int) string {
	return p.say("Seed %s draws packages %s.", strconv.FormatUint(seed, 10), p.Numbers(picks))
}

// Repeat says how a draw is done again by anyone.
func (p *Printer) Repeat() string {
	return p.say("To draw again: PCG-DXSM with 128 bits of state, the seed in the high 64 and zero in the low (Go’s math/rand/v2 NewPCG(seed, 0)); in turn from 1, each package is given its next 64-bit number; those with the smallest are measured.")
}
