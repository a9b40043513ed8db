package lot

import (
	"math"
	"math/big"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/student"
)

// A Figure is a number, where it comes from, and how that is known.
type Figure[T int | float64] struct {
	Value T `json:"value"`
	rules.Known
}

// A Plan says how many packages of a lot are measured and what they are held to.
type Plan struct {
	Name    string      `json:"name"`          // whose plan it is
	For     string      `json:"for,omitempty"` // the rules in force, where they state no plan of their own
	LotSize int         `json:"lot_size"`
	Sample  Figure[int] `json:"sample"` // packages to measure
	// Factor is the sample correction factor, a ratio: times the standard
	// deviation it is the sample error limit. It is nil for a lot of one, which has
	// no limit and can't be judged on the average. Where a whole lot is measured a
	// plan may have 0.
	Factor *Figure[float64] `json:"factor,omitempty"`
	// Allowed is how many of the sample may be short by more than an individual
	// limit, where there is one.
	Allowed Figure[int] `json:"allowed"`
}

// PlanFor gives the plan for a lot of 1 to MaxLotSize packages: that of the rule set where
// it states one, else the Category A plan. The error is an *measure.InputError.
func PlanFor(under rules.Set, lotSize int) (Plan, error) {
	if err := CheckSize(lotSize); err != nil {
		return Plan{}, err
	}
	if under.Lots != nil {
		return statedPlan(under.Lots, lotSize), nil
	}
	row := rowFor(lotSize)
	known := fromTable()
	plan := Plan{
		Name:    "NIST Handbook 133, Category A",
		For:     under.Name,
		LotSize: lotSize,
		Sample:  Figure[int]{row.sample, known},
		Allowed: Figure[int]{row.allowed, known},
	}
	if row.thousandths > 0 {
		plan.Factor = &Figure[float64]{float64(row.thousandths) / 1000, known}
	}
	return plan, nil
}

// CheckSize refuses a number of packages that no lot has; the error is an
// *measure.InputError.
func CheckSize(lotSize int) error {
	var errs faults
	if errs.within("lot_size", lotSize, MaxLotSize); len(errs) > 0 {
		return errs[0]
	}
	return nil
}

func fromTable() rules.Known {
	return rules.Known{Source: "NIST Handbook 133, Appendix A, Table 2-1, Category A", Status: rules.FromMemory}
}

// A planRow is a line of the Category A table.
type planRow struct {
	upTo        int // lot size
	sample      int
	thousandths int // of the factor; 0 is no factor
	allowed     int
}

// categoryA is NIST Handbook 133, Appendix A, Table 2-1, from memory. Each factor
// is also t(0.975, n − 1)/√n to three decimals; for 48 the table may print 0.291.
func categoryA() []planRow {
	return []planRow{
		{1, 1, 0, 0}, {2, 2, 8985, 0}, {3, 3, 2484, 0}, {4, 4, 1591, 0}, {5, 5, 1242, 0}, {6, 6, 1049, 0},
		{7, 7, 925, 0}, {8, 8, 836, 0}, {9, 9, 769, 0}, {10, 10, 715, 0}, {11, 11, 672, 0},
		{250, 12, 635, 0}, {3200, 24, 422, 0}, {MaxLotSize, 48, 290, 1},
	}
}

func rowFor(lotSize int) planRow {
	rows := categoryA()
	for _, row := range rows {
		if lotSize <= row.upTo {
			return row
		}
	}
	return rows[len(rows)-1]
}

// A Ground is a rule that a verdict rests on.
type Ground struct {
	Code string       `json:"code"`
	Text measure.Text `json:"text"`
	rules.Known
}

// A factor is a sample correction factor, and its square to the last digit.
type factor struct {
	Figure[float64]
	square *big.Rat
}

// handbookFactor is the factor for n ≥ 2 packages: the table's where it has that sample,
// else by the rule that the table's factors follow, to three decimals.
func handbookFactor(n int) *factor {
	f := handbookFigure(n)
	thousandths := int64(math.Round(1000 * f.Value))
	return &factor{f, big.NewRat(thousandths*thousandths, 1_000_000)}
}

func handbookFigure(n int) Figure[float64] {
	for _, row := range categoryA() {
		if row.sample == n && row.thousandths > 0 {
			return Figure[float64]{float64(row.thousandths) / 1000, fromTable()}
		}
	}
	factor := student.Quantile(0.975, float64(n-1)) / math.Sqrt(float64(n))
	return Figure[float64]{math.Round(1000*factor) / 1000,
		rules.Known{Source: "t(0.975, n − 1)/√n, which the factors of NIST Handbook 133, Table 2-1, follow", Status: rules.FromMemory}}
}

// Grounds of a verdict, in the order they are used.
func (v *Verdict) grounds(l Lot) []Ground {
	p, limit := v.Plan, l.Limit != nil
	section := rules.Known{Source: "NIST Handbook 133, section 2.3", Status: rules.FromMemory}
	worksheet := rules.Known{Source: "Handbook 133 worksheet drafted by NIST", Status: rules.Read}
	grounds := []Ground{
		v.sampled(),
		{"error", meaningOfError(), section},
		{"spread", meaningOfSpread(), section},
	}
	grounds = append(grounds, p.individual(limit, worksheet))
	grounds = append(grounds, Ground{"average", measure.Say("A lot whose average error is zero or more passes on the average."), worksheet})
	if v.Factor != nil {
		grounds = append(grounds,
			Ground{"factor", v.factor(), v.Factor.Known},
			Ground{"limit", measure.Say("Sample error limit = factor × s. An average error below zero passes where it is smaller than the limit."), worksheet},
			Ground{"equal", measure.Say("An average error below zero by exactly the limit passes too."), section})
	}
	return append(grounds, Ground{"rounding", measure.Say("The procedure rounds each dimension in the packer’s favour; here readings are taken as they were given."),
		rules.Known{Source: "NIST Handbook 133, section 3.14", Status: rules.FromMemory}})
}

// sampled says how many packages were to be measured, and how many were.
func (v *Verdict) sampled() Ground {
	drawn := 0
	for _, e := range v.Packages {
		if e.Drawn {
			drawn++
		}
	}
	return Ground{"sample", measure.Say("Packages to draw at random: %d, of a lot of %d. Measured: %d, of them drawn by the seed: %d.", v.Plan.Sample.Value, v.Plan.LotSize, len(v.Packages), drawn), v.Plan.Sample.Known}
}

func meaningOfError() measure.Text {
	return measure.Say("Error of a package = measured − labelled; the average is their sum over their number n.")
}

func meaningOfSpread() measure.Text {
	return measure.Say("Standard deviation s = √(sum of (error − average)² / (n − 1)).")
}

// individual is the rule for single packages.
func (p Plan) individual(limit bool, worksheet rules.Known) Ground {
	if !limit {
		return Ground{"no-individual-limit", measure.Say("Packages of firewood labelled by volume have no individual limit: the lot is judged on the average alone."),
			rules.Known{Source: "NIST Handbook 133, Appendix A, Table 2-10", Status: rules.FromMemory}}
	}
	return Ground{"individual-limit", measure.Say("First, the lot fails where more packages than the plan allows, %d, are short by more than the individual limit that was given.", p.Allowed.Value), worksheet}
}

// factor says what the factor is for the packages measured, and how it is known.
func (v *Verdict) factor() measure.Text {
	n, value := len(v.Packages), strconv.FormatFloat(v.Factor.Value, 'f', 3, 64)
	if v.Factor.Source != fromTable().Source {
		return measure.Say("Sample correction factor for the %d packages measured: %s, worked out, since the table has none for that number.", n, value)
	}
	said := measure.Say("Sample correction factor for %d packages: %s. Worked out again as t(0.975, n − 1)/√n it agrees to three decimals.", n, value)
	if n == 48 {
		return measure.Say("%s The table may print 0.291 here.", said)
	}
	return said
}
