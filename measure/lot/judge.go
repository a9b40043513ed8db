package lot

import (
	"math"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// A Finding is what a verdict comes to.
type Finding string

// The findings.
const (
	Pass      Finding = "pass"
	Fail      Finding = "fail"
	NotJudged Finding = "not judged" // can’t be judged
)

// A Remark is something said of a verdict, with a code for programs.
type Remark struct {
	Code string       `json:"code"`
	Text measure.Text `json:"text"`
}

// A Verdict is a lot judged.
type Verdict struct {
	Finding Finding  `json:"finding"`
	Why     []Remark `json:"why"`
	Plan    Plan     `json:"plan"`
	// Factor is the one for the number of packages measured, a ratio; nil where there is
	// no limit.
	Factor   *Figure[float64] `json:"factor,omitempty"`
	Picks    []int            `json:"picks,omitempty"` // what the seed draws, where it was given
	Packages []Error          `json:"packages"`        // in rising order of their numbers
	// Mean of the errors, which may be negative; rounded once, halves to even.
	Mean measure.Volume `json:"mean_nanolitres"`
	// Spread is the sample standard deviation of the errors, √(Σ(e − mean)²/(n − 1));
	// nil for one package.
	Spread *measure.Volume `json:"spread_nanolitres,omitempty"`
	// Limit is the sample error limit, factor × Spread; nil where there is none
	// because one package was measured, fewer than the plan asks for, or the lot is
	// one package.
	Limit *measure.Volume `json:"limit_nanolitres,omitempty"`
	// Individual is how much less than labelled one package may hold, as it was given or
	// as the rules in force say; nil where there is none.
	Individual *measure.Volume `json:"individual_nanolitres,omitempty"`
	Grounds    []Ground        `json:"grounds"`
	Notes      []Remark        `json:"notes,omitempty"`
}

// An Error is a package held against its label.
type Error struct {
	Number int            `json:"number"`
	Volume measure.Volume `json:"volume_nanolitres"`
	Error  measure.Volume `json:"error_nanolitres"` // measured − labelled
	// Drawn tells that the seed drew it; false as well where no seed was given.
	Drawn bool `json:"drawn,omitempty"`
	// Over tells that it is short by more than the individual limit, where there is
	// one.
	Over bool `json:"over,omitempty"`
	// Twice tells that it is short by more than twice that, where the plan counts those.
	Twice bool `json:"twice,omitempty"`
}

// Judge holds a lot to its plan, the rule set's own where it states one. By Category A,
// first the individual limit, where there is one: more packages over it than the plan
// allows fail the lot. Then the average: it
// passes where the mean error is ≥ 0 or |mean| ≤ factor · s, decided in whole
// numbers, without rounding. A lot with fewer packages measured than the plan's
// sample, and a lot of one, can't be judged on the average. The error is
// measure.InputErrors, and comes only for a lot that no parser would have made.
func Judge(under rules.Set, l Lot) (Verdict, error) {
	errs := faults(l.check(inDocument))
	if under.Lots != nil && l.Limit != nil {
		errs.add("limit", "limit-stated", l.Limit.String(), measure.Say("the rules in force say how much one package may be short"), measure.Say("nothing: leave it out"))
	}
	if len(errs) > 0 {
		return Verdict{}, errs.listed(nil)
	}
	plan, err := PlanFor(under, l.LotSize)
	if err != nil {
		return Verdict{}, err
	}
	v := Verdict{Plan: plan, Individual: l.Limit}
	if under.Lots != nil {
		v.Individual = allowedShort(under, l.Labelled)
	}
	v.Packages = l.errors(v.Individual, under.Lots != nil)
	if l.Seed != nil {
		v.Picks = Pick(l.LotSize, plan.Sample.Value, *l.Seed)
		for i := range v.Packages {
			v.Packages[i].Drawn = slices.Contains(v.Picks, v.Packages[i].Number)
		}
	}
	s := sumsOf(v.Packages)
	v.Mean = s.mean()
	if under.Lots != nil {
		v.byStated(statedJudge{under, l, s})
	} else {
		v.byHandbook(l, s)
	}
	v.Notes = append(v.Notes, v.notes(l)...)
	return v, nil
}

// byHandbook judges a lot by the Category A plan.
func (v *Verdict) byHandbook(l Lot, s sums) {
	var f *factor
	if v.Plan.Factor != nil && len(v.Packages) >= v.Plan.Sample.Value {
		f = handbookFactor(len(v.Packages))
	}
	v.spread(s, f)
	v.Grounds = v.grounds(l)
	v.judge(l, s, f)
}

// errors holds each package against the label, and against the individual limit and
// where that counts twice of it.
func (l *Lot) errors(limit *measure.Volume, twice bool) []Error {
	all := make([]Error, len(l.Packages))
	for i, p := range l.Packages {
		e := p.Volume - l.Labelled
		all[i] = Error{Number: p.Number, Volume: p.Volume, Error: e, Over: limit != nil && -e > *limit}
		all[i].Twice = twice && limit != nil && -e > 2**limit
	}
	slices.SortFunc(all, func(a, b Error) int { return a.Number - b.Number })
	return all
}

// sums are what the statistics are made of, exact.
type sums struct {
	n     int64
	sum   int64    // Σe, nanolitres
	about *big.Int // n·Σe² − (Σe)², which is n(n − 1)·s²
}

func sumsOf(errors []Error) sums {
	s := sums{n: int64(len(errors))}
	squares := new(big.Int)
	for _, e := range errors {
		s.sum += int64(e.Error)
		x := big.NewInt(int64(e.Error))
		squares.Add(squares, x.Mul(x, x))
	}
	square := big.NewInt(s.sum)
	square.Mul(square, square)
	s.about = squares.Mul(squares, big.NewInt(s.n))
	s.about.Sub(s.about, square)
	return s
}

func (s sums) mean() measure.Volume {
	return measure.Volume(math.RoundToEven(float64(s.sum) / float64(s.n)))
}

// deviation is the sample standard deviation in nanolitres; s.n is at least 2.
func (s sums) deviation() float64 {
	about, _ := new(big.Float).SetInt(s.about).Float64()
	return math.Sqrt(about / float64(s.n*(s.n-1)))
}

// against compares |mean| with a factor · deviation, without rounding: Σ²/n² with the
// factor's square · about/(n(n − 1)).
func (s sums) against(square *big.Rat) int {
	left := big.NewInt(s.sum)
	left.Mul(left, left).Mul(left, big.NewInt(s.n-1)).Mul(left, square.Denom())
	right := big.NewInt(s.n)
	right.Mul(right, square.Num()).Mul(right, s.about)
	return left.Cmp(right)
}

// spread gives the factor, the standard deviation and the limit where they can be had.
func (v *Verdict) spread(s sums, f *factor) {
	if f != nil {
		v.Factor = &f.Figure
	}
	if s.n < 2 {
		return
	}
	deviation := s.deviation()
	v.Spread = rounding(deviation)
	if f != nil {
		v.Limit = rounding(f.Value * deviation)
	}
}

func rounding(nanolitres float64) *measure.Volume {
	v := measure.Volume(math.RoundToEven(nanolitres))
	return &v
}

func (v *Verdict) judge(l Lot, s sums, f *factor) {
	over := v.count(func(e Error) bool { return e.Over })
	switch {
	case over > v.Plan.Allowed.Value:
		v.finds(Fail, "over-individual-limit", measure.Say("Packages short by more than the individual limit: %d. The plan allows %d.", over, v.Plan.Allowed.Value))
		return
	case l.Limit != nil:
		v.says("within-individual-limit", measure.Say("Packages short by more than the individual limit: %d, no more than the plan allows.", over))
	}
	switch {
	case v.Plan.Factor == nil:
		v.finds(NotJudged, "one-package", measure.Say("A lot of one package has no sample error limit: it can’t be judged on the average."))
	case len(v.Packages) < v.Plan.Sample.Value:
		v.finds(NotJudged, "too-few", measure.Say("Packages measured: %d. A lot of %d needs %d.", len(v.Packages), v.Plan.LotSize, v.Plan.Sample.Value))
	default:
		v.onAverage(s, f)
	}
}

func (v *Verdict) count(which func(Error) bool) (n int) {
	for _, e := range v.Packages {
		if which(e) {
			n++
		}
	}
	return n
}

func (v *Verdict) onAverage(s sums, f *factor) {
	if s.sum >= 0 {
		v.finds(Pass, "average-not-below", measure.Say("The average error is not below zero."))
		return
	}
	switch s.against(f.square) {
	case -1:
		v.finds(Pass, "within-limit", measure.Say("The average error is below zero, by less than the sample error limit."))
	case 0:
		v.finds(Pass, "at-limit", measure.Say("The average error is below zero by exactly the sample error limit; that this passes is from memory."))
	default:
		v.finds(Fail, "beyond-limit", measure.Say("The average error is below zero by more than the sample error limit."))
	}
}

func (v *Verdict) finds(f Finding, code string, why measure.Text) {
	v.Finding = f
	v.says(code, why)
}

func (v *Verdict) says(code string, why measure.Text) { v.Why = append(v.Why, Remark{code, why}) }

// notes are what the verdict can't vouch for.
func (v *Verdict) notes(l Lot) []Remark {
	var notes []Remark
	say := func(code, key string, args ...any) { notes = append(notes, Remark{code, measure.Say(key, args...)}) }
	if extra := len(v.Packages) - v.Plan.Sample.Value; extra > 0 {
		say("more-than-sample", "More packages were measured than the plan’s sample, by %d: all of them count, with the factor for %d.", extra, len(v.Packages))
	}
	if l.Seed == nil {
		say("no-seed", "The seed of the draw was not given: all packages were typed, and nothing shows that the sample is random.")
		return notes
	}
	if len(l.Drawn) > 0 && !slices.Contains(l.Drawn, *l.Seed) {
		say("seed-not-among", "The seed is not among those drawn for this lot.")
	}
	measured := make([]int, len(v.Packages))
	for i, p := range v.Packages {
		measured[i] = p.Number
	}
	if strays := missing(measured, v.Picks); len(strays) > 0 {
		say("not-drawn", "Measured, but not drawn by the seed: %s.", listed(strays))
	}
	if skipped := missing(v.Picks, measured); len(skipped) > 0 {
		say("not-measured", "Drawn by the seed, but not measured: %s.", listed(skipped))
	}
	return notes
}

// Draws says every seed that was drawn for the lot; nothing where that is not known.
func (l *Lot) Draws() measure.Text {
	if len(l.Drawn) == 0 {
		return measure.Text{}
	}
	seeds := make([]string, len(l.Drawn))
	for i, seed := range l.Drawn {
		seeds[i] = strconv.FormatUint(seed, 10)
	}
	if len(seeds) == 1 {
		return measure.Say("Drawn once for this lot: seed %s.", seeds[0])
	}
	return measure.Say("Drawn %d times for this lot, in this order: seeds %s.", len(seeds), strings.Join(seeds, ", "))
}

// missing gives those of numbers that are not among others.
func missing(numbers, others []int) []string {
	var found []string
	for _, n := range numbers {
		if !slices.Contains(others, n) {
			found = append(found, strconv.Itoa(n))
		}
	}
	return found
}

// listed names the first few of many numbers.
func listed(numbers []string) measure.Text {
	const most = 12
	first := strings.Join(numbers[:min(most, len(numbers))], ", ")
	if more := len(numbers) - most; more > 0 {
		return measure.Say("%s and %d more", first, more)
	}
	return measure.Say("%s", first)
}
