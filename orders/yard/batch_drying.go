package yard

import (
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

// A BatchDrying is a plan for the drying of a batch: then measure.
type BatchDrying struct {
	Forecast wood.Forecast `json:"forecast"`
	// From is the day it is reckoned from: that of the newest readings, else that of
	// the splitting, when the wood is taken to have been green.
	From     act.Date `json:"from"`
	Measured bool     `json:"measured"` // reckoned from readings
	// Soonest and Latest are the band of days it may be dry by; From, where it is dry.
	Soonest act.Date `json:"soonest"`
	Latest  act.Date `json:"latest"`
}

// Drying plans when the batch comes to the limit its readings were held against, 20 %
// dry basis without any; nil where neither readings nor the day of splitting are
// known, or readings and a species of the table, or air does not dry wood so far.
func (b Batch) Drying() *BatchDrying {
	d := BatchDrying{From: b.Split}
	limit := wood.DefaultLimit()
	var from wood.Moisture
	if m := b.Latest(); m != nil {
		d.From, d.Measured = m.On, true
		from, limit = m.Season.Mean, m.Season.Limit
	} else {
		mixes, err := wood.ParseMixes(b.Species)
		if err != nil {
			return nil
		}
		from = wettest(mixes)
	}
	if d.From.IsZero() {
		return nil
	}
	var err error
	if d.Forecast, err = wood.Dries(from, limit, wood.OutdoorEquilibrium()); err != nil {
		return nil
	}
	ready := d.Forecast.Ready(d.From.Midnight())
	d.Soonest, d.Latest = act.DateOf(ready.Soonest), act.DateOf(ready.Latest)
	return &d
}

// wettest is the moisture of the one that grows the wettest.
func wettest(mixes []wood.Mix) wood.Moisture {
	wettest := mixes[0].Green()
	for _, mix := range mixes[1:] {
		if green := mix.Green(); green.Percent() > wettest.Percent() { // all on the dry basis
			wettest = green
		}
	}
	return wettest
}
