package lot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/student"
)

// Figures of these tests: Weights and Measures Regulations (Canada), C.R.C. c. 1605,
// Department of Justice's consolidation current to 24 July 2025, section 52 and
// Schedule III, parts I to IV.

func canada(t require.TestingT) rules.Set {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("canada")
	require.NoError(t, err)
	return set
}

// cc is a cubic centimetre, a thousandth of a cubic decimetre.
const cc = measure.Litre / 1000

// bundles are packages labelled 25 dm³ that are off by so many cubic centimetres.
func bundles(size int, errors ...measure.Volume) Lot {
	l := Lot{Labelled: 25 * measure.Litre, LotSize: size}
	for i, e := range errors {
		l.Packages = append(l.Packages, Package{Number: i + 1, Volume: l.Labelled + e*cc})
	}
	return l
}

// Schedule III, part I.
func TestCanadasSampleForEveryLineOfPartI(t *testing.T) {
	set := canada(t)
	for lotSize, want := range map[int]int{2: 2, 7: 7, 10: 10, 11: 10, 40: 10, 41: 11, 44: 11, 45: 12, 100: 25, 128: 32,
		129: 32, 4000: 32, 4001: 64, 8000: 64, 8001: 96, 12000: 96, 12001: 125, MaxLotSize: 125} {
		plan, err := PlanFor(set, lotSize)
		require.NoError(t, err)
		assert.Equal(t, want, plan.Sample.Value, "a lot of %d", lotSize)
		assert.Equal(t, rules.Read, plan.Sample.Status)
		assert.Contains(t, plan.Sample.Source, "part I")
		assert.Equal(t, "Canada: examination of a lot by sample", plan.Name)
	}
	handbook, err := PlanFor(rules.Set{}, 40)
	require.NoError(t, err)
	assert.Equal(t, 12, handbook.Sample.Value, "the handbook's plan stays as it was")
}

// Schedule III, part III: column III gives t ÷ √n beside t, to two decimals up to n = 10
// and three above.
func TestCanadasFactorsAgreeWithTheirOtherColumn(t *testing.T) {
	other := map[int]float64{2: 45.01, 3: 5.73, 4: 2.92, 5: 2.06, 6: 1.65, 7: 1.40, 8: 1.24, 9: 1.12, 10: 1.03, 11: 0.955, 12: 0.897,
		13: 0.847, 14: 0.805, 15: 0.769, 16: 0.737, 17: 0.708, 18: 0.683, 19: 0.660, 20: 0.640, 21: 0.621, 22: 0.604, 23: 0.588, 24: 0.573,
		25: 0.559, 26: 0.547, 27: 0.535, 28: 0.524, 29: 0.513, 30: 0.503, 31: 0.494, 32: 0.485, 64: 0.332, 96: 0.269, 125: 0.234}
	rows := canada(t).Lots.Factors.Rows
	require.Len(t, rows, len(other))
	for _, row := range rows {
		n := float64(row.Packages)
		digits := 0.0005001
		if row.Packages <= 10 {
			digits = 0.005001
		}
		assert.InDelta(t, other[row.Packages], row.T/math.Sqrt(n), digits, row.Packages)
		if row.Packages < 32 { // above, the regulation's own figures are a little off
			assert.InDelta(t, student.Quantile(0.995, n-1), row.T, 0.0006, "two-sided 99 %%, n = %d", row.Packages)
		}
	}
}

// Part III, linear interpolation: t = a − (c − e)/(c − d)·(a − b), with a = 2.746, b =
// 2.657, c = 120/32, d = 120/64 and e = 120/48: 2.746 − 1.25/1.875 · 0.089 = 2.6867.
func TestCanadasFactorBetweenTwoRows(t *testing.T) {
	lots := canada(t).Lots
	got, below, above := lots.T(48)
	assert.Equal(t, 2.687, got)
	assert.Equal(t, []int{32, 64}, []int{below, above})
	for _, n := range []int{1, 126} {
		got, _, _ = lots.T(n)
		assert.Zero(t, got, n)
	}
}

// Schedule III, part IV.
func TestCanadasCountsOfPartIV(t *testing.T) {
	lots := canada(t).Lots
	for n, want := range map[int]int{2: 1, 8: 1, 9: 2, 20: 2, 21: 3, 32: 3, 33: 4, 50: 4, 51: 5, 65: 5, 66: 6, 80: 6, 81: 7, 102: 7, 103: 8, 125: 8, 126: 0} {
		assert.Equal(t, want, lots.FailsAt(n), n)
	}
}

// Errors in cubic centimetres off 25 dm³, of which 3 % is 750 (Schedule II, part VIII).
// Python's statistics gives the first ten a mean of −228 and s = 339.699, so that t·s/√n =
// 3.250·339.699/√10 = 349.12; the second −230, 343.09 and 352.61, with two short by over
// 750; the fourth −310, 73.79 and 75.83.
func TestJudgeByCanadasPlan(t *testing.T) {
	for name, row := range map[string]struct {
		lot  Lot
		want Finding
		code string
	}{
		"one over the limit":       {bundles(40, -200, 150, -420, -800, 60, -310, -150, 90, -740, 40), Pass, "within-individual-limit"},
		"two over the limit":       {bundles(40, -200, 150, -420, -800, 60, -310, -150, 90, -760, 40), Fail, "over-individual-limit"},
		"one at the limit":         {bundles(40, -200, 150, -420, -800, 60, -310, -150, 90, -750, 40), Pass, "within-individual-limit"},
		"average too low":          {bundles(40, -200, -250, -420, -300, -260, -310, -350, -290, -440, -280), Fail, "beyond-limit"},
		"two over twice":           {bundles(400, append(zeros(30), -1501, -1501)...), Fail, "over-twice"},
		"one over twice":           {bundles(400, append(zeros(31), -1501)...), Pass, "within-individual-limit"},
		"whole lot a hair short":   {bundles(8, 0, 0, 0, 0, 0, 0, 1, -2), Fail, "beyond-limit"},
		"whole lot as labelled":    {bundles(8, -100, 100, -100, 100, -100, 100, -100, 100), Pass, "within-individual-limit"},
		"whole lot, one over":      {bundles(8, -751, 1000, 0, 0, 0, 0, 0, 0), Fail, "over-individual-limit"},
		"too few":                  {bundles(40, 0, 0, 0), NotJudged, "too-few"},
		"too few, and two over":    {bundles(40, -751, -751, 0), Fail, "over-individual-limit"},
		"a lot of one":             {bundles(1, 0), NotJudged, "one-package"},
		"more than the plan knows": {bundles(20000, zeros(126)...), NotJudged, "no-number"},
	} {
		v, err := Judge(canada(t), row.lot)
		require.NoError(t, err, name)
		assert.Equal(t, row.want, v.Finding, name)
		assert.Equal(t, row.code, v.Why[0].Code, name)
		require.NotNil(t, v.Individual, name)
		assert.Equal(t, 750*cc, *v.Individual, name)
		for _, g := range v.Grounds {
			assert.Equal(t, rules.Read, g.Status, g.Code)
			assert.Contains(t, g.Source, "C.R.C. c. 1605", g.Code)
		}
	}
	v, err := Judge(canada(t), bundles(40, -200, 150, -420, -800, 60, -310, -150, 90, -740, 40))
	require.NoError(t, err)
	assert.Equal(t, -228*cc, v.Mean)
	assert.InDelta(t, 339.69921, v.Spread.In(cc), 1e-4)
	assert.InDelta(t, 349.12255, v.Limit.In(cc), 1e-4)
}

func zeros(n int) []measure.Volume { return make([]measure.Volume, n) }

// Of ten errors, five −m − a and five −m + a, s² is 10a²/9, so that with t = 3.250 the
// average is at the limit where m = 3.25·a/3: 1300 nanolitres for a = 1200.
func TestAtCanadasLimitToTheLastNanolitre(t *testing.T) {
	l := Lot{Labelled: 25 * measure.Litre, LotSize: 40}
	for i := range 10 {
		l.Packages = append(l.Packages, Package{Number: i + 1, Volume: l.Labelled - 1300 + measure.Volume(i%2*2-1)*1200})
	}
	v, err := Judge(canada(t), l)
	require.NoError(t, err)
	assert.Equal(t, Pass, v.Finding, "the adjusted average is not less than what is stated")
	l.Packages[0].Volume++
	l.Packages[1].Volume -= 2
	v, err = Judge(canada(t), l)
	require.NoError(t, err)
	assert.Equal(t, Fail, v.Finding)
}

func TestALimitIsNotTypedWhereThePlanHasOne(t *testing.T) {
	l, limit := bundles(40, zeros(10)...), measure.Litre
	l.Limit = &limit
	_, err := Judge(canada(t), l)
	assert.ErrorContains(t, err, "the rules in force say how much one package may be short")
}

// Fuller packages never make a lot fail that did not: by any plan every check looks at
// shortages, once all errors rise by the same amount.
func TestFullerPackagesNeverFail(t *testing.T) {
	set := canada(t)
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.IntRange(2, 200).Draw(t, "lot")
		plan, err := PlanFor(set, size)
		require.NoError(t, err)
		l := Lot{Labelled: 25 * measure.Litre, LotSize: size}
		for i := range plan.Sample.Value {
			l.Packages = append(l.Packages, Package{Number: i + 1, Volume: 25*measure.Litre + cc*measure.Volume(rapid.IntRange(-2000, 500).Draw(t, "error"))})
		}
		before, err := Judge(set, l)
		require.NoError(t, err)
		more := cc * measure.Volume(rapid.IntRange(0, 2000).Draw(t, "more"))
		for i := range l.Packages {
			l.Packages[i].Volume += more
		}
		after, err := Judge(set, l)
		require.NoError(t, err)
		if before.Finding == Pass {
			require.Equal(t, Pass, after.Finding)
		}
	})
}
