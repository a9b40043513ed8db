package wood

import "math"

// A Heat is an amount of energy in joules, ≥ 0.
type Heat int64

// Units of heat. A million Btu (International Table) is 1 055 055 852.62 J (NIST
// SP 811, Appendix B.8), rounded to the joule.
const (
	Joule        Heat = 1
	Megajoule         = 1_000_000 * Joule
	Gigajoule         = 1_000 * Megajoule
	KilowattHour      = 3_600_000 * Joule
	MillionBtu        = 1_055_055_853 * Joule
)

// In gives h in the given unit as a ratio: Gigajoule.In(Megajoule) is 1000.
func (h Heat) In(unit Heat) float64 { return float64(h) / float64(unit) }

// String gives h in megajoules to a tenth, for logs and tests.
func (h Heat) String() string { return figure(h.In(Megajoule), 1) + " MJ" }

// A HeatRange is a heat that is only known between two bounds.
type HeatRange struct {
	Low  Heat `json:"low_joules"`
	Mid  Heat `json:"mid_joules"`
	High Heat `json:"high_joules"`
}

// Heat in Btu a pound of ovendry wood.
const (
	// ovendryBtu is the higher heating value of any species (extension text of
	// a state university, read second-hand); resinous softwoods give about
	// 9,000, which is not used.
	ovendryBtu = 8600.0
	// steamBtu is what a pound of water takes to leave as steam: from memory.
	steamBtu = 1050.0
	// hydrogen is its share of ovendry wood, each pound of which burns to nine
	// pounds of water: from memory.
	hydrogen = 0.06
)

// gross is the higher heating value of an ovendry mass.
func gross(ovendry Mass) Heat {
	return Heat(nearest(ovendry.In(Pound) * ovendryBtu / 1e6 * float64(MillionBtu)))
}

// net is what is left of gross once the water in the wood, and the water its
// hydrogen burns to, have left as steam; never below 0.
func net(ovendry Mass, m Moisture) Heat {
	perPound := ovendryBtu - steamBtu*9*hydrogen - steamBtu*m.dryRatio()
	return Heat(nearest(ovendry.In(Pound) * math.Max(perPound, 0) / 1e6 * float64(MillionBtu)))
}

// nearest rounds to a whole number, halves to even, and keeps within int64.
func nearest(x float64) int64 {
	return int64(math.RoundToEven(math.Min(x, 9.2e18)))
}
