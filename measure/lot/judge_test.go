package lot

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/student"
)

// label is what the invented lots of these tests are labelled: 0.75 cu ft.
const label = 1296 * measure.CubicInch

// lotOf is a lot whose packages are off the label by these amounts.
func lotOf(size int, unit measure.Volume, errors ...measure.Volume) Lot {
	l := Lot{Labelled: label, LotSize: size}
	for i, e := range errors {
		l.Packages = append(l.Packages, Package{Number: i + 1, Volume: label + e*unit})
	}
	return l
}

func judged(t require.TestingT, l Lot) Verdict {
	v, err := Judge(rules.Set{}, l)
	require.NoError(t, err)
	return v
}

func codes(remarks []Remark) []string {
	var all []string
	for _, r := range remarks {
		all = append(all, r.Code)
	}
	return all
}

// Errors in cubic inches, worked by hand: the mean is −2 in the first three; of
// five errors −2 ± a, −2 ± 2a, −2, s = a·√2.5, and the limit 1.242·s, which is
// 1.9638·a.
func TestJudgeOnTheAverage(t *testing.T) {
	for _, row := range []struct {
		name   string
		lot    Lot
		want   Finding
		code   string
		spread float64 // cubic inches
	}{
		{"spread enough", lotOf(5, measure.CubicInch, -6, -4, -2, 0, 2), Pass, "within-limit", 3.1622777},
		{"too little spread", lotOf(5, measure.CubicInch, -4, -3, -2, -1, 0), Fail, "beyond-limit", 1.5811388},
		{"all alike and short", lotOf(5, measure.CubicInch, -2, -2, -2, -2, -2), Fail, "beyond-limit", 0},
		{"all as labelled", lotOf(5, measure.CubicInch, 0, 0, 0, 0, 0), Pass, "average-not-below", 0},
		{"one nanolitre below, no spread", lotOf(5, 1, -1, -1, -1, -1, -1), Fail, "beyond-limit", 0},
		{"one nanolitre below in the sum", lotOf(5, measure.CubicInch, -1, 1, 0, 0, 0), Pass, "average-not-below", 0.7071068},
	} {
		v := judged(t, row.lot)
		assert.Equal(t, row.want, v.Finding, row.name)
		assert.Equal(t, []string{row.code}, codes(v.Why), row.name)
		assert.InDelta(t, row.spread, v.Spread.In(measure.CubicInch), 1e-6, row.name)
		assert.InDelta(t, 1.242*row.spread, v.Limit.In(measure.CubicInch), 1e-6, row.name)
	}
}

// Of n errors, −m − 2000 twice, −m + 2000 twice and −m have s = 2000, so a mean of
// −2484 is at the limit of a plan for five, 1.242 · s, to the nanolitre.
func TestAtTheLimitToTheLastNanolitre(t *testing.T) {
	v := judged(t, lotOf(5, 1, -4484, -4484, -484, -484, -2484))
	assert.Equal(t, Pass, v.Finding)
	assert.Equal(t, []string{"at-limit"}, codes(v.Why))
	assert.Equal(t, measure.Volume(2000), *v.Spread)
	assert.Equal(t, measure.Volume(2484), *v.Limit)
	v = judged(t, lotOf(5, 1, -4484, -4484, -484, -484, -2485))
	assert.Equal(t, Fail, v.Finding, "one nanolitre less in one package")
}

func TestCantBeJudged(t *testing.T) {
	one := judged(t, lotOf(1, measure.CubicInch, -5))
	assert.Equal(t, NotJudged, one.Finding)
	assert.Equal(t, []string{"one-package"}, codes(one.Why))
	assert.Nil(t, one.Spread)
	assert.Nil(t, one.Limit)
	assert.Equal(t, -5*measure.CubicInch, one.Mean)

	few := judged(t, lotOf(30, measure.CubicInch, 1, 2, 3))
	assert.Equal(t, NotJudged, few.Finding, "fewer than 12, however full")
	assert.Equal(t, []string{"too-few"}, codes(few.Why))
	assert.Nil(t, few.Limit)
	assert.NotNil(t, few.Spread)
}

func TestIndividualLimitOnlyWhereGiven(t *testing.T) {
	short := lotOf(5, measure.CubicInch, -40, 20, 20, 20, 20)
	assert.Equal(t, Pass, judged(t, short).Finding, "the average is 8 above")
	limit := 40 * measure.CubicInch
	short.Limit = &limit
	assert.Equal(t, Pass, judged(t, short).Finding, "short by the limit is not over it")
	limit--
	v := judged(t, short)
	assert.Equal(t, Fail, v.Finding)
	assert.Equal(t, []string{"over-individual-limit"}, codes(v.Why))
	assert.True(t, v.Packages[0].Over)
	assert.False(t, v.Packages[1].Over)
	one := lotOf(1, measure.CubicInch, -41)
	one.Limit = &limit
	assert.Equal(t, Fail, judged(t, one).Finding, "one package too is held to it")
}

func TestOneOfFortyEightMayBeOverTheLimit(t *testing.T) {
	errors := make([]measure.Volume, 48)
	errors[0] = -50
	l := lotOf(5000, measure.CubicInch, errors...)
	for i := range l.Packages[1:] {
		l.Packages[i+1].Volume += 2 * measure.CubicInch
	}
	limit := 40 * measure.CubicInch
	l.Limit = &limit
	assert.Equal(t, Pass, judged(t, l).Finding)
	l.Packages[1].Volume = label - 50*measure.CubicInch
	assert.Equal(t, Fail, judged(t, l).Finding)
}

func TestNotes(t *testing.T) {
	l := lotOf(30, measure.CubicInch, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1)
	assert.Equal(t, []string{"more-than-sample", "no-seed"}, codes(judged(t, l).Notes))
	seed := uint64(12345)
	l.Seed = &seed
	v := judged(t, l)
	assert.Equal(t, []string{"more-than-sample", "not-drawn", "not-measured"}, codes(v.Notes))
	assert.Equal(t, Pick(30, 12, seed), v.Picks)
	for i, number := range v.Picks {
		l.Packages[i].Number = number
	}
	wide := lotOf(200, measure.CubicInch, make([]measure.Volume, 40)...)
	wide.Seed = &seed
	assert.Regexp(t, `by the seed: 1, .* and \d+ more\.$`, judged(t, wide).Notes[1].Text.String())
	l.Packages = l.Packages[:12]
	assert.Empty(t, judged(t, l).Notes)
}

func TestEveryGroundSaysHowItIsKnown(t *testing.T) {
	v := judged(t, lotOf(5, measure.CubicInch, 0, 0, 0, 0, 0))
	status := map[string]rules.Status{}
	for _, g := range v.Grounds {
		assert.NotEmpty(t, g.Source, g.Code)
		assert.NotEmpty(t, g.Text.String(), g.Code)
		status[g.Code] = g.Status
	}
	for _, code := range []string{"sample", "error", "spread", "factor", "equal", "no-individual-limit", "rounding"} {
		assert.Equal(t, rules.FromMemory, status[code], code)
	}
	for _, code := range []string{"average", "limit"} {
		assert.Equal(t, rules.Read, status[code], code)
	}
	stored, err := json.Marshal(v)
	require.NoError(t, err)
	var back Verdict
	require.NoError(t, json.Unmarshal(stored, &back))
	assert.Equal(t, v, back, "the marks are stored with the verdict")
}

func TestJudgeRefusesWhatNoParserMakes(t *testing.T) {
	for name, l := range map[string]Lot{
		"nothing":         {},
		"no package":      {Labelled: label, LotSize: 5},
		"a number twice":  {Labelled: label, LotSize: 5, Packages: []Package{{Number: 1, Volume: 1}, {Number: 1, Volume: 1}}},
		"an empty one":    {Labelled: label, LotSize: 5, Packages: []Package{{Number: 1}}},
		"one too many":    {Labelled: label, LotSize: 5, Packages: []Package{{Number: 6, Volume: 1}}},
		"a label of none": {LotSize: 5, Packages: []Package{{Number: 1, Volume: 1}}},
		"a huge label":    {Labelled: MaxPackage + 1, LotSize: 5, Packages: []Package{{Number: 1, Volume: 1}}},
	} {
		_, err := Judge(rules.Set{}, l)
		var faults measure.InputErrors
		assert.ErrorAs(t, err, &faults, name)
	}
}

// someLot draws a lot that can be judged on the average.
func someLot(t *rapid.T) Lot {
	n := rapid.IntRange(2, 12).Draw(t, "n")
	size := n
	if n == 12 {
		size = rapid.IntRange(12, 250).Draw(t, "size")
	}
	l := Lot{Labelled: label, LotSize: size}
	for i := range n {
		e := rapid.Int64Range(-int64(label)/2, int64(label)/2).Draw(t, "error")
		l.Packages = append(l.Packages, Package{Number: i + 1, Volume: label + measure.Volume(e)})
	}
	return l
}

func TestOrderOfPackagesDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLot(t)
		v := judged(t, l)
		shuffled := l
		shuffled.Packages = slices.Clone(l.Packages)
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		random.Shuffle(len(shuffled.Packages), func(i, j int) {
			shuffled.Packages[i], shuffled.Packages[j] = shuffled.Packages[j], shuffled.Packages[i]
		})
		require.Equal(t, v, judged(t, shuffled))
	})
}

// As much more in every package moves the mean by that much, leaves the spread
// and never turns a pass into a fail.
func TestMoreInEveryPackage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := someLot(t)
		before := judged(t, l)
		more := measure.Volume(rapid.Int64Range(0, int64(label)/2).Draw(t, "more"))
		shifted := l
		shifted.Packages = slices.Clone(l.Packages)
		for i := range shifted.Packages {
			shifted.Packages[i].Volume += more
		}
		after := judged(t, shifted)
		require.InDelta(t, int64(before.Mean+more), int64(after.Mean), 1)
		require.Equal(t, before.Spread, after.Spread)
		require.Equal(t, before.Limit, after.Limit)
		if before.Finding == Pass {
			require.Equal(t, Pass, after.Finding)
		}
	})
}

// The decision, made in whole numbers, agrees with the plain reading of the rule
// wherever the figures are not within rounding of each other.
func TestFindingFollowsThePrintedFigures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := judged(t, someLot(t))
		switch {
		case v.Mean > 0, -v.Mean < *v.Limit-2:
			require.Equal(t, Pass, v.Finding)
		case -v.Mean > *v.Limit+2:
			require.Equal(t, Fail, v.Finding)
		}
	})
}

// statistics.stdev of Python is exact on whole numbers up to its last rounding.
func TestSpreadAgreesWithPython(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for range 5 {
		l := Lot{Labelled: label, LotSize: 100}
		var errors []int64
		for i := range 12 {
			e := random.Int64N(int64(label)) - int64(label)/2
			errors = append(errors, e)
			l.Packages = append(l.Packages, Package{Number: i + 1, Volume: label + measure.Volume(e)})
		}
		asked, err := json.Marshal(errors)
		require.NoError(t, err)
		out := python(t, "import sys, json, statistics as s\ne = json.loads(sys.argv[1])\nprint(json.dumps([s.mean(e), s.stdev(e)]))", string(asked))
		var want [2]float64
		require.NoError(t, json.Unmarshal(out, &want))
		v := judged(t, l)
		assert.InDelta(t, want[0], float64(v.Mean), 0.5+1e-6)
		assert.InDelta(t, want[1], float64(*v.Spread), 0.5+0.001)
	}
}

// 30 packages measured where 24 are the plan's sample: the factor is that of 30,
// t(0.975, 29)/√30 = 2.04523/5.47723 = 0.373 (t from table G.2 of JCGM 100), and each
// package says whether the seed drew it.
func TestTheFactorGoesByTheNumberMeasured(t *testing.T) {
	errors := make([]measure.Volume, 30)
	for i := range errors {
		errors[i] = measure.Volume(i%3 - 1)
	}
	l := lotOf(300, measure.CubicInch, errors...)
	seed := uint64(12345)
	l.Seed, l.Drawn = &seed, []uint64{111, 12345}
	v := judged(t, l)
	require.NotNil(t, v.Factor)
	assert.InDelta(t, 0.373, v.Factor.Value, 1e-9)
	assert.InDelta(t, 0.422, v.Plan.Factor.Value, 1e-9, "the plan's own stays what it is")
	assert.InDelta(t, 0.373*v.Spread.In(measure.CubicInch), v.Limit.In(measure.CubicInch), 1e-6)
	drawn := 0
	for _, e := range v.Packages {
		assert.Equal(t, slices.Contains(v.Picks, e.Number), e.Drawn, e.Number)
		if e.Drawn {
			drawn++
		}
	}
	assert.Less(t, drawn, 24)
	assert.Contains(t, v.Grounds[0].Text.String(), "Packages to draw at random: 24, of a lot of 300. Measured: 30, of them drawn by the seed:")
	assert.Contains(t, codes(v.Notes), "not-drawn")
	assert.Equal(t, "Drawn 2 times for this lot, in this order: seeds 111, 12345.", l.Draws().String())
	l.Drawn = []uint64{111}
	assert.Contains(t, codes(judged(t, l).Notes), "seed-not-among")
}

// A factor beyond the table is the rule that its own factors follow.
func TestFactorsBeyondTheTable(t *testing.T) {
	for _, row := range categoryA() {
		if row.thousandths > 0 && row.sample != 48 {
			factor := student.Quantile(0.975, float64(row.sample-1)) / math.Sqrt(float64(row.sample))
			assert.InDelta(t, float64(row.thousandths)/1000, factor, 0.0005001, row.sample)
		}
	}
	assert.Equal(t, rules.FromMemory, handbookFigure(24).Status)
	assert.Contains(t, handbookFigure(24).Source, "Table 2-1, Category A")
	assert.NotContains(t, handbookFigure(25).Source, "Category A")
}
