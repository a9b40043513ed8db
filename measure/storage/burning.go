package storage

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Burning is when wood that is stacked will burn well: at 20 % moisture, dry basis.
type Burning struct {
	Forecast wood.Forecast
	Stacked  time.Time   // the zero time: not said
	Ready    wood.Window // where Stacked is said
	Wanted   time.Time   // the zero time: not said
	// Tight tells that the likely day to stack by is past, TooLate that the last is.
	Tight, TooLate bool
	StackBy        wood.Window // where Wanted is said
}

// Already tells that the wood burns well as it is, by the figure given.
func (b Burning) Already() bool { return b.Forecast.Latest == 0 }

// burning forecasts when wood of this moisture, or green where that is the zero one,
// burns well.
func burning(m wood.Moisture, k WoodKind, species []wood.Mix) (Burning, error) {
	if m.Basis() == "" {
		m = woodOf(k, species).Moist
	}
	f, err := wood.Dries(m, wood.DefaultLimit(), wood.OutdoorEquilibrium())
	return Burning{Forecast: f}, err
}

// burns is when the wood of a request burns well.
func (r Request) burns() (Burning, error) {
	b, err := burning(r.Moisture, r.Wood, r.Species)
	if err == nil && !r.Stacked.IsZero() {
		b.Stacked, b.Ready = r.Stacked, b.Forecast.Ready(r.Stacked)
	}
	return b, err
}

// Weights are what all of the wood weighs, green and at 20 % moisture.
func (r Request) Weights() (green, dry Range[wood.Mass]) {
	w := woodOf(r.Wood, r.Species)
	return w.GreenWeight(r.Volume), w.DryWeight(r.Volume)
}

// dryingGrounds are what a forecast rests on.
func dryingGrounds(k WoodKind, species []wood.Mix) []Ground {
	green := Ground{measure.Say("Green wood of this kind holds about %.0f %% of its dry weight in water.", woodOf(k, species).Moist.Percent()), "", Derived}
	if len(species) > 0 {
		green.Source, green.Status = "USDA Forest Service, Research Note NRS-38 (2009)", SecondHand
	}
	return []Ground{
		{measure.Say("From April to October wood dries about five times as fast as in winter."), "", Practice},
		green,
		{measure.Say("Cut and split: 6 months to 30 % dry basis, 9 to 20; 6 to 12 is common practice."), "University of Missouri Extension (2011)", SecondHand},
	}
}
