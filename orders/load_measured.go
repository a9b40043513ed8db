package orders

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A MeasuringFact is what was found of a load that was measured before it was delivered.
type MeasuringFact struct {
	Sheet int64      `json:"sheet"`          // the measurement sheet that says so
	Word  stack.Word `json:"word,omitempty"` // empty where it was held against nothing
	// Missing is how much the sheet finds short of what was ordered, 0 where it finds
	// nothing short.
	Missing measure.Volume `json:"missing,omitempty"`
	// Why is why more is said to be delivered than was found, in the seller's words;
	// empty where no more is.
	Why string `json:"why,omitempty" names:"sealed"`
}

// measuredBefore is the tally that binds the first load: the latest one, where no other
// receipt counts than the one of that number, which the next stands in place of. It is
// nil where the wood was not measured before.
func (d desk) measuredBefore(of int64) *Tally {
	if len(d.tallies) == 0 || len(d.others(of)) > 0 {
		return nil
	}
	return &d.tallies[len(d.tallies)-1]
}

// word is what a tally finds, empty where it was held against nothing.
func (t Tally) word() stack.Word {
	if t.Result.Finding == nil {
		return ""
	}
	return t.Result.Finding.Word
}

// found is how much a tally that is short finds of what was ordered, wood said to be
// elsewhere included.
func (t Tally) found() measure.Quantity {
	f := t.Result.Finding
	return measure.Quantity{Volume: f.Sold.Volume + f.Margin, Basis: f.Sold.Basis}
}

// Proposed is what the next load is proposed as: what is still due; or what was measured,
// where that was short before any of it was delivered, cut to a tenth of a cubic foot
// or a hundredth of a cubic metre.
func (h History) Proposed(units act.Units) measure.Quantity {
	if t := h.ShortBefore(); t != nil {
		return cut(t.found(), units)
	}
	due := h.Order.Quantity
	for _, l := range h.Loads {
		if l.Delivered.Basis == due.Basis {
			due.Volume -= l.Delivered.Volume
		}
	}
	due.Volume = max(due.Volume, 0)
	return due
}

// ShortBefore is the tally that found the wood short before any of it was delivered, nil
// where none did.
func (h History) ShortBefore() *Tally {
	if n := len(h.Tallies); n > 0 && len(h.Loads) == 0 && h.Tallies[n-1].word() == stack.Short {
		return &h.Tallies[n-1]
	}
	return nil
}

// allOf tells whether what is delivered is all that was found, to less than a cubic foot:
// a part of it was not measured by itself.
func allOf(delivered, found measure.Quantity) bool {
	return delivered.Volume > found.Volume-measure.CubicFoot
}

// cut is a quantity without what is finer than a receipt prints.
func cut(q measure.Quantity, units act.Units) measure.Quantity {
	unit, parts := measure.CubicFoot, measure.Volume(10)
	if units == act.Metric {
		unit, parts = measure.CubicMetre, 100
	}
	whole, rest := q.Volume/unit, q.Volume%unit
	q.Volume = whole*unit + measure.Volume(math.RoundToEven(float64(rest*parts/unit*unit)/float64(parts)))
	return q
}

// measured puts on the facts what the wood was measured at before any of it was handed
// over. Where that was short, more than was found is refused until the seller says why.
func measured(f *act.Fields, facts *Facts, d desk, set rules.Set, why string) {
	t := d.measuredBefore(0)
	if t == nil {
		noWhy(f, why)
		return
	}
	measured := t.Result.Quantity
	short := t.word() == stack.Short
	if facts.Delivered == d.order.Quantity || short && allOf(facts.Delivered, t.found()) {
		facts.Measured, facts.Measuring = &measured, &MeasuringFact{Sheet: t.Sheet, Word: t.word()}
	}
	if !short {
		noWhy(f, why)
		return
	}
	if facts.Measuring != nil {
		facts.Measuring.Missing, _ = shortBy(d.tallies)
	}
	explained(f, facts, t.found(), set, why)
}

// explained takes the words that say why a receipt says more than was found, and refuses
// a receipt that says more without them.
func explained(f *act.Fields, facts *Facts, found measure.Quantity, set rules.Set, why string) {
	switch {
	case facts.Delivered.Volume <= found.Volume:
		noWhy(f, why)
	case why == "":
		f.Add("differs", "measured-short", "", measure.Say("sheet %d finds %s there and %s short, and this would say %s", int(facts.Measuring.Sheet), found, measure.Quantity{Volume: facts.Measuring.Missing, Basis: found.Basis}, facts.Delivered),
			measure.Say("%s as what is delivered; or why it is more, in your words", act.Spell(set, facts.Units, cut(found, facts.Units))))
	default:
		facts.Measuring.Why = why
	}
}

// noWhy refuses words that say why a receipt says more than was found where it doesn't.
func noWhy(f *act.Fields, why string) {
	if why != "" {
		f.Add("differs", "not-needed", why, measure.Say("no more is delivered than was measured, so there is nothing to explain"), measure.Say("nothing here"))
	}
}
