package rules

import "math"

// A Lots is an office's own plan for judging packaged lots on a sample: how many packages
// are measured, what their average is held to, and how many of them may be short each.
// How much a package may be short is the set's tolerance for a quantity as labelled.
type Lots struct {
	Name string `json:"name"`
	Statement
	Samples LotSamples `json:"samples"`
	Factors LotFactors `json:"factors"`
	Short   LotShort   `json:"short"`
	Twice   LotTwice   `json:"twice"`
}

// LotSamples are how many packages are measured, from the smallest lots up; the last row
// has no bound.
type LotSamples struct {
	Known
	Rows []LotSample `json:"rows"`
}

// A LotSample is for lots of at most To packages: Percent of them, rounded up, and no
// fewer than Least.
type LotSample struct {
	To      int     `json:"to,omitempty"`
	Percent float64 `json:"percent,omitempty"` // 0 to 100
	Least   int     `json:"least,omitempty"`
}

// Size is how many of a lot are measured; never more than there are.
func (r LotSample) Size(lot int) int {
	return min(lot, max(r.Least, int(math.Ceil(r.Percent*float64(lot)/100))))
}

// LotFactors are Student's t by how many packages were measured, rising. The average may
// be short by t·s/√n, s the standard deviation; where the whole lot was measured, by
// nothing.
type LotFactors struct {
	Known
	Rows []LotFactor `json:"rows"`
}

// A LotFactor is t, above 0, to at most three decimals.
type LotFactor struct {
	Packages int     `json:"packages"`
	T        float64 `json:"t"`
}

// LotShort is how many packages short by more than the tolerance make a lot fail, by how
// many were measured, rising; for more than the last row holds nothing is stated.
type LotShort struct {
	Known
	Rows []LotShortRow `json:"rows"`
}

// A LotShortRow is for samples of at most To packages.
type LotShortRow struct {
	To      int `json:"to"`
	FailsAt int `json:"fails_at"`
}

// LotTwice is how many packages short by more than twice the tolerance make a lot fail.
type LotTwice struct {
	Known
	FailsAt int `json:"fails_at"`
}

// SampleRow is the row for a lot of so many packages.
func (l *Lots) SampleRow(lot int) LotSample {
	for _, row := range l.Samples.Rows {
		if lot <= row.To || row.To == 0 {
			return row
		}
	}
	return LotSample{Percent: 100} // no file that was read ends in a bound
}

// FailsAt is how many packages over the tolerance make a lot fail of which n were measured;
// 0 where nothing is stated for so many.
func (l *Lots) FailsAt(n int) int {
	for _, row := range l.Short.Rows {
		if n <= row.To {
			return row.FailsAt
		}
	}
	return 0
}

// T gives t for n packages measured; between two rows it is interpolated along 120/n and
// rounded to three decimals, as the rows are. Either bound is 0 where the row is there;
// t is 0 where nothing is stated for so many.
func (l *Lots) T(n int) (t float64, below, above int) {
	var low LotFactor
	for _, row := range l.Factors.Rows {
		switch {
		case row.Packages == n:
			return row.T, 0, 0
		case row.Packages > n && low.Packages == 0:
			return 0, 0, 0
		case row.Packages > n:
			c, d, e := 120/float64(low.Packages), 120/float64(row.Packages), 120/float64(n)
			t := low.T - (c-e)/(c-d)*(low.T-row.T)
			return math.Round(1000*t) / 1000, low.Packages, row.Packages
		}
		low = row
	}
	return 0, 0, 0
}

// lots checks a plan for lots: rising rows, each with figures that can be used.
func (c *checker) lots(s Set) {
	l := s.Lots
	if l == nil {
		return
	}
	c.words("lots.name", l.Name)
	c.statement("lots", &l.Statement)
	c.known("lots.samples", l.Samples.Known)
	c.known("lots.factors", l.Factors.Known)
	c.known("lots.short", l.Short.Known)
	c.known("lots.twice", l.Twice.Known)
	if len(s.Tolerance.StepsFor(CubicDecimetre)) == 0 && s.Extends == "" {
		c.fail("lots", "the tolerance of a package is missing: give the set’s tolerance steps in %q", CubicDecimetre)
	}
	c.lotSamples(l.Samples.Rows)
	last := 0
	for i, row := range l.Factors.Rows {
		at := item("lots.factors.rows", i)
		if row.Packages <= max(last, 1) {
			c.fail(at, "%d packages are not more than in the row before, and at least 2", row.Packages)
		}
		if thousandths := 1000 * row.T; row.T <= 0 || row.T > 1000 || math.Abs(thousandths-math.Round(thousandths)) > 1e-6 {
			c.fail(at, "t is not above 0 up to 1000 with at most three decimals")
		}
		last = row.Packages
	}
	last = 0
	for i, row := range l.Short.Rows {
		if row.To <= last || row.FailsAt < 1 {
			c.fail(item("lots.short.rows", i), "the rows rise, and each has how many packages make the lot fail, from 1")
		}
		last = row.To
	}
	if len(l.Factors.Rows) == 0 || len(l.Short.Rows) == 0 || l.Twice.FailsAt < 1 {
		c.fail("lots", "factors, short and twice have rows and figures above 0")
	}
}

func (c *checker) lotSamples(rows []LotSample) {
	bound := 0
	for i, row := range rows {
		at := item("lots.samples.rows", i)
		if last := i == len(rows)-1; last != (row.To == 0) || !last && row.To <= bound {
			c.fail(at, "the bounds rise, and the last row alone has none")
		}
		if row.Percent < 0 || row.Percent > 100 || row.Least < 0 || row.Percent == 0 && row.Least == 0 {
			c.fail(at, "a row has a percent up to 100, a least number, or both")
		}
		bound = row.To
	}
	if len(rows) == 0 {
		c.fail("lots.samples", "the rows are missing")
	}
}
