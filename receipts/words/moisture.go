//go:build !wasm

package words

import (
	"wellstowed/measure/wood"
	"wellstowed/orders/yard"
)

// Moisture words a moisture with its basis, always: "16.4 % dry basis".
func (p *Printer) Moisture(m wood.Moisture) string {
	if m.Basis() == wood.Wet {
		return p.say("%s %% wet basis", p.decimal(m.Percent(), 1))
	}
	return p.say("%s %% dry basis", p.decimal(m.Percent(), 1))
}

// BothBases words a moisture on its own basis, and on the other.
func (p *Printer) BothBases(m wood.Moisture) string {
	other := wood.Wet
	if m.Basis() == wood.Wet {
		other = wood.Dry
	}
	return p.say("%s, which is %s", p.Moisture(m), p.Moisture(m.On(other)))
}

// Temperature words a temperature: "50 °F", or in metric "10 °C".
func (p *Printer) Temperature(t wood.Temperature) string {
	if p.metric() {
		return p.say("%s °C", p.decimal(t.InCelsius(), 0))
	}
	return p.say("%s °F", p.decimal(t.InFahrenheit(), 0))
}

// Method names a way of reading moisture.
func (p *Printer) Method(m wood.Method) string { return p.say(string(m)) }

// Pieces counts pieces.
func (p *Printer) Pieces(n int) string {
	if n == 1 {
		return p.say("1 piece")
	}
	return p.say("%d pieces", n)
}

// Dryness gives the seller's statement, and that nothing was measured where nothing
// was.
func (p *Printer) Dryness(stated yard.Seasoning, m *yard.MoistureFact) string {
	switch {
	case stated == "":
		return p.Seasoning(stated)
	case m == nil:
		return p.Stated(p.Seasoning(stated))
	}
	return p.say("%s (stated by seller)", p.Seasoning(stated))
}

// Measured says what was read of the wood or of its batch, how, by whom and when.
func (p *Printer) Measured(m yard.MoistureFact) string {
	key := "measured: mean %s, %s, %s, by %s, %s"
	if m.OfBatch {
		key = "measured on the batch: mean %s, %s, %s, by %s, %s"
	}
	return p.say(key, p.meanOf(m), p.Method(m.Method), p.Pieces(m.Pieces), m.By, p.Date(m.On))
}

// meanOf words a mean with how far the load's may be from it, where the meter's own
// accuracy is in that.
func (p *Printer) meanOf(m yard.MoistureFact) string {
	switch {
	case m.Bound == nil || m.Accuracy == 0:
		return p.Moisture(m.Mean)
	case m.Bound.Percent() < m.Mean.Percent():
		return p.say("%s (at least %s, the meter ±%.1f points)", p.Moisture(m.Mean), p.Moisture(*m.Bound), m.Accuracy)
	}
	return p.say("%s (at most %s, the meter ±%.1f points)", p.Moisture(m.Mean), p.Moisture(*m.Bound), m.Accuracy)
}

// Season says in one sentence what moisture readings show.
func (p *Printer) Season(s wood.Season) string {
	key := "These readings can’t tell whether the wood is below %s."
	switch {
	case s.Verdict == wood.Above:
		key = "Above %s, by these readings."
	case s.Verdict == wood.Below && s.AtMost:
		key = "At or below %s, by these readings."
	case s.Verdict == wood.Below:
		key = "Below %s, by these readings."
	case s.AtMost:
		key = "These readings can’t tell whether the wood is at or below %s."
	}
	return p.say(key, p.MoistureLimit(s.Limit))
}

// MoistureLimit words a limit on its own basis, and what a meter shows for it where that
// is on the other.
func (p *Printer) MoistureLimit(m wood.Moisture) string {
	if m.Basis() == wood.Wet {
		return p.say("%s (%s on a meter)", p.Moisture(m), p.Moisture(m.Dry()))
	}
	return p.Moisture(m)
}

// SeasonFacts give the figures behind it.
func (p *Printer) SeasonFacts(s wood.Season) []Fact {
	facts := []Fact{
		{p.say("Mean"), p.say("%s, %s", p.Moisture(s.Mean), p.Pieces(s.Pieces))},
		{p.say("Driest and wettest reading"), p.say("%s and %s", p.Moisture(s.Driest), p.Moisture(s.Wettest))},
	}
	if s.Bound == nil {
		return facts
	}
	facts = append(facts, Fact{p.say("Spread between pieces"), p.say("%.1f points (standard deviation)", s.Spread)})
	bound := p.say("The mean of the load is at most %s, 95 times in 100", p.Moisture(*s.Bound))
	if s.Bound.Percent() < s.Mean.Percent() {
		bound = p.say("The mean of the load is at least %s, 95 times in 100", p.Moisture(*s.Bound))
	}
	if s.Accuracy > 0 {
		bound = p.say("%s, the meter’s own ±%.1f points with it", bound, s.Accuracy)
	}
	return append(facts, Fact{p.say("How sure"), bound})
}

// SeasonNotes say what more there is to know, and how to settle it.
func (p *Printer) SeasonNotes(s wood.Season) []string {
	var notes []string
	if s.More > 0 {
		notes = append(notes, p.say("Read %s more: if they lie like these, that settles it.", p.Pieces(s.More)))
	}
	return append(notes, p.texts(s.Notes)...)
}
