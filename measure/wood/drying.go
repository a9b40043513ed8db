package wood

import (
	"math"

	"wellstowed/measure"
)

// Wood that dries loses a like share of what is left above equilibrium each month.
// The middle rate follows two published points for cut and split wood, 30 % after
// about 6 months and 20 % after about 9 (a state university's extension leaflet of
// 2011); the outer ones make 12 and 6 months of green wood to 20 %: common practice,
// no source. Months are those of a year taken together; Year spreads them over its
// seasons.
const (
	slowRate = 0.182
	midRate  = 0.22
	fastRate = 0.363
)

// daysInMonth is a mean month.
const daysInMonth = 365.25 / 12

// Days counts days of a year taken together: neither of its summer nor its winter.
type Days int

// Months gives d in mean months, a ratio.
func (d Days) Months() float64 { return float64(d) / daysInMonth }

// OutdoorEquilibrium is what wood under a roof outdoors comes to over much of North
// America, 13 % dry basis: FPL-RN-0268 (1998) prints 9 to 14 % for the cities it was
// read for, second-hand.
func OutdoorEquilibrium() Moisture { return fromDry(13) }

// A Forecast is a plan for drying split wood under a top cover: then measure.
type Forecast struct {
	From        Moisture `json:"from"`
	To          Moisture `json:"to"`
	Equilibrium Moisture `json:"equilibrium"`
	// Soonest, Likely and Latest are 0 where the wood is there already.
	Soonest Days           `json:"soonest_days"`
	Likely  Days           `json:"likely_days"`
	Latest  Days           `json:"latest_days"`
	Notes   []measure.Text `json:"-"`
}

// Dries forecasts how long split, stacked and top-covered wood takes from one
// moisture to another in air of an equilibrium. A moisture that the air does not
// bring wood to is refused. The error is a *measure.InputError.
func Dries(from, to, equilibrium Moisture) (Forecast, error) {
	for _, m := range []Moisture{from, to, equilibrium} {
		if m.basis != Dry && m.basis != Wet {
			return Forecast{}, noBasis("")
		}
	}
	f := Forecast{From: from, To: to, Equilibrium: equilibrium}
	start, end, still := from.dryPercent(), to.dryPercent(), equilibrium.dryPercent()
	if start <= end {
		f.Notes = []measure.Text{measure.Say("It is there already, by the figure given: measure to be sure.")}
		return f, nil
	}
	if end < still+1 {
		return Forecast{}, &measure.InputError{
			Field: "to", Code: "out-of-reach", Got: to.String(),
			Reason:  measure.Say("air drying stops at about %.1f %% on the dry basis here", still),
			Accepts: measure.Say("at least one point more than that"),
		}
	}
	left := math.Log((start - still) / (end - still))
	days := func(rate float64) Days { return Days(math.Ceil(left / rate * daysInMonth)) }
	f.Soonest, f.Likely, f.Latest = days(fastRate), days(midRate), days(slowRate)
	f.Notes = []measure.Text{
		measure.Say("A plan: then measure."),
		measure.Say("For wood that is split, stacked off the ground and covered on top only; oak and thick pieces are slower."),
		measure.Say("Wood stacked in fall or winter hardly dries before spring (Forest Products Laboratory, Technical Note 233, 1960)."),
	}
	return f, nil
}

// After gives the moisture to expect after days: where wood dries
// as fast, as likely and as slowly as is reckoned with. Before day 0 it is that of
// day 0.
func (f Forecast) After(d Days) (fast, likely, slow Moisture) {
	start, still := f.From.dryPercent(), f.Equilibrium.dryPercent()
	at := func(rate float64) Moisture {
		return fromDry(still + (start-still)*math.Exp(-rate*max(d.Months(), 0)))
	}
	return at(fastRate), at(midRate), at(slowRate)
}
