package wood

import "math"

// Fibre saturation, in percent on the dry basis: above it wood does not shrink or
// swell. It averages about 30 % and differs by several points between species
// (Wood Handbook 2010, p. 4-2).
const saturation = 30.0

// water is the density of water that specific gravities are ratios to.
const water = 1000 * KilogramPerCubicMetre

// ShrinkageAt is the volume lost from green to m, in percent of the green volume: a
// ratio, 0 from fibre saturation up (Wood Handbook 2021, eq. 4-9, with eq. 4-12
// where the species' shrinkage is not tabulated).
func (s Species) ShrinkageAt(m Moisture) float64 {
	return s.Shrinkage * (1 - math.Min(m.dryPercent(), saturation)/saturation)
}

// GravityAt is ovendry mass over volume at m, as a ratio to water: the basic
// gravity from fibre saturation up, and below it by the general shrinkage of wood
// (Wood Handbook 2021, eq. 4-13), so that species compare whether or not their own
// shrinkage is known. The species' own (eq. 4-11) comes within 0.04 of it, and within
// 0.065 for osage orange and black locust, which shrink little for their weight.
func (s Species) GravityAt(m Moisture) float64 {
	dried := 1 - math.Min(m.dryPercent(), saturation)/saturation
	return s.BasicGravity / (1 - 0.265*s.BasicGravity*dried)
}

// Density is the mass of a solid volume at m over that volume (Wood Handbook 2021,
// eq. 4-14).
func (s Species) Density(m Moisture) Density {
	return Density(math.RoundToEven(float64(water) * s.GravityAt(m) * (1 + m.dryRatio())))
}

// ovendry is the mass of dry wood in a solid volume at m, over that volume.
func (s Species) ovendry(m Moisture) Density {
	return Density(math.RoundToEven(float64(water) * s.GravityAt(m)))
}
