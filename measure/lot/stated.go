package lot

import (
	"math"
	"math/big"
	"slices"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
)

// statedPlan is the plan that a rule set states.
func statedPlan(lots *rules.Lots, lotSize int) Plan {
	n := lots.SampleRow(lotSize).Size(lotSize)
	plan := Plan{Name: lots.Name, LotSize: lotSize, Sample: Figure[int]{n, lots.Samples.Known},
		Allowed: Figure[int]{max(0, lots.FailsAt(n)-1), lots.Short.Known}}
	if f := statedFactor(lots, lotSize, n); f != nil {
		plan.Factor = &f.Figure
	}
	return plan
}

// statedFactor is t/√n for n packages measured of a lot; nil where the plan has no t for
// so many, and for a lot of one.
func statedFactor(lots *rules.Lots, lotSize, n int) *factor {
	known := lots.Factors.Known
	switch {
	case lotSize == 1:
		return nil
	case n == lotSize:
		return &factor{Figure[float64]{0, known}, new(big.Rat)}
	}
	t, _, _ := lots.T(n)
	if t == 0 {
		return nil
	}
	thousandths := int64(math.Round(1000 * t))
	return &factor{Figure[float64]{t / math.Sqrt(float64(n)), known}, big.NewRat(thousandths*thousandths, 1_000_000*int64(n))}
}

// allowedShort is how much one package may be short: the set's tolerance for a package as
// labelled. No set that was read has a plan without one.
func allowedShort(under rules.Set, labelled measure.Volume) *measure.Volume {
	limit := procedure.Allowed(under.Tolerance.StepsFor(rules.CubicDecimetre), labelled)
	return &limit
}

// A statedJudge is a lot to be held to the plan that a rule set states.
type statedJudge struct {
	under rules.Set
	lot   Lot
	sums
}

// byStated judges a lot by the plan that its rule set states: on the average, on how many
// packages are short by more than the individual limit, and on how many by more than
// twice that. Any of the three fails it; all are said, those that fail it first.
func (v *Verdict) byStated(j statedJudge) {
	lots, n := j.under.Lots, len(v.Packages)
	var f *factor
	if n >= v.Plan.Sample.Value {
		f = statedFactor(lots, v.Plan.LotSize, n)
	}
	v.spread(j.sums, f)
	v.Grounds = v.statedGrounds(j)
	checks := []statedCheck{v.individually(lots), v.twice(lots), v.statedAverage(j.sums, f)}
	worst := []Finding{Fail, NotJudged, Pass}
	slices.SortStableFunc(checks, func(a, b statedCheck) int {
		return slices.Index(worst, a.finding) - slices.Index(worst, b.finding)
	})
	v.Finding = checks[0].finding
	for _, c := range checks {
		v.says(c.code, c.why)
	}
}

// A statedCheck is what one of the three ways to fail gives.
type statedCheck struct {
	finding Finding
	code    string
	why     measure.Text
}

func (v *Verdict) individually(lots *rules.Lots) statedCheck {
	n := max(len(v.Packages), v.Plan.Sample.Value)
	over, at := v.count(func(e Error) bool { return e.Over }), lots.FailsAt(n)
	switch {
	case at == 0:
		return statedCheck{NotJudged, "no-number", measure.Say("The plan doesn’t say how many of %d packages may be short by more than the individual limit.", n)}
	case over >= at:
		return statedCheck{Fail, "over-individual-limit", measure.Say("Packages short by more than the individual limit: %d. The plan allows %d.", over, at-1)}
	}
	return statedCheck{Pass, "within-individual-limit", measure.Say("Packages short by more than the individual limit: %d, no more than the plan allows.", over)}
}

func (v *Verdict) twice(lots *rules.Lots) statedCheck {
	twice, at := v.count(func(e Error) bool { return e.Twice }), lots.Twice.FailsAt
	if twice >= at {
		return statedCheck{Fail, "over-twice", measure.Say("Packages short by more than twice the individual limit: %d. The plan allows %d.", twice, at-1)}
	}
	return statedCheck{Pass, "within-twice", measure.Say("Packages short by more than twice the individual limit: %d, no more than the plan allows.", twice)}
}

func (v *Verdict) statedAverage(s sums, f *factor) statedCheck {
	n := len(v.Packages)
	switch {
	case v.Plan.LotSize == 1:
		return statedCheck{NotJudged, "one-package", measure.Say("A lot of one package has no sample error limit: it can’t be judged on the average.")}
	case n < v.Plan.Sample.Value:
		return statedCheck{NotJudged, "too-few", measure.Say("Packages measured: %d. A lot of %d needs %d.", n, v.Plan.LotSize, v.Plan.Sample.Value)}
	case f == nil:
		return statedCheck{NotJudged, "no-factor", measure.Say("The plan has no factor for %d packages.", n)}
	case s.sum >= 0:
		return statedCheck{Pass, "average-not-below", measure.Say("The average error is not below zero.")}
	case s.against(f.square) > 0:
		return statedCheck{Fail, "beyond-limit", measure.Say("The average error is below zero by more than the sample error limit.")}
	}
	return statedCheck{Pass, "within-limit", measure.Say("The average error is below zero, by no more than the sample error limit.")}
}

// statedGrounds are what a verdict by a stated plan rests on.
func (v *Verdict) statedGrounds(j statedJudge) []Ground {
	lots := j.under.Lots
	return []Ground{
		v.sampled(),
		{"error", meaningOfError(), lots.Known},
		{"spread", meaningOfSpread(), lots.Known},
		{"average", measure.Say("The lot fails where its average error, raised by the sample error limit t × s ÷ √n, is below zero."), lots.Known},
		{"factor", v.statedT(lots), lots.Factors.Known},
		{"individual-limit", measure.Say("The individual limit of a package is the tolerance for a quantity as labelled."), j.under.Tolerance.Known},
		{"over", v.statedShort(lots), lots.Short.Known},
		{"twice", measure.Say("The lot fails where %d or more are short by more than twice that limit.", lots.Twice.FailsAt), lots.Twice.Known},
	}
}

// statedShort says how many packages over the limit fail the lot.
func (v *Verdict) statedShort(lots *rules.Lots) measure.Text {
	n := max(len(v.Packages), v.Plan.Sample.Value)
	if at := lots.FailsAt(n); at > 0 {
		return measure.Say("The lot fails where %d or more of %d packages are short by more than that limit.", at, n)
	}
	return measure.Say("How many of %d packages may be short by more than that limit isn’t stated.", n)
}

// statedT says what t is for the packages measured, and how it is had.
func (v *Verdict) statedT(lots *rules.Lots) measure.Text {
	n := len(v.Packages)
	if n == v.Plan.LotSize {
		return measure.Say("All packages of the lot were measured, so t is 0.")
	}
	t, below, above := lots.T(n)
	value := strconv.FormatFloat(t, 'f', 3, 64)
	switch {
	case t == 0:
		return measure.Say("t for %d packages isn’t stated.", n)
	case below > 0:
		return measure.Say("t for %d packages is %s, worked out between those for %d and %d along 120 ÷ n.", n, value, below, above)
	}
	return measure.Say("t for %d packages is %s.", n, value)
}
