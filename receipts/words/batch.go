//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// Known words a day, or that it is not known.
func (p *Printer) Known(d act.Date) string {
	if d.IsZero() {
		return p.say("not known")
	}
	return p.Date(d)
}

// FromBatch says which batch a load was drawn from, when that was cut and split, and
// its species where the receipt states another; only where one was named.
func (p *Printer) FromBatch(f orders.Facts) string {
	b := f.Batch
	if strings.EqualFold(b.Species, f.Species) {
		return p.say("%s; cut: %s; split: %s", b.Name, p.Known(b.Cut), p.Known(b.Split))
	}
	return p.say("%s, %s; cut: %s; split: %s", b.Name, b.Species, p.Known(b.Cut), p.Known(b.Split))
}

// Left says what is left of a batch.
func (p *Printer) Left(b yard.Batch) string {
	switch {
	case b.UsedUp:
		return p.say("Used up")
	case b.Left.Volume == 0:
		return p.say("Nothing left")
	}
	return p.say("%s left", p.Quantity(b.Left))
}

// InStock says what is left of all batches together, stacked and loose apart.
func (p *Printer) InStock(batches []yard.Batch) string {
	var ranked, loose measure.Volume
	for _, b := range batches {
		switch {
		case b.UsedUp:
		case b.Left.Basis == measure.Loose:
			loose += b.Left.Volume
		default:
			ranked += b.Left.Volume
		}
	}
	stacked := p.Quantity(measure.Quantity{Volume: ranked, Basis: measure.Ranked})
	thrown := p.Quantity(measure.Quantity{Volume: loose, Basis: measure.Loose})
	switch {
	case ranked > 0 && loose > 0:
		return p.say("%s and %s left", stacked, thrown)
	case loose > 0:
		return p.say("%s left", thrown)
	case ranked > 0:
		return p.say("%s left", stacked)
	}
	return p.say("Nothing left")
}

// BatchDry says how dry a batch is, or that it was not read.
func (p *Printer) BatchDry(b yard.Batch) string {
	m := b.Latest()
	if m == nil {
		return p.say("Moisture not read.")
	}
	return p.say("Read on %s: mean %s. %s", p.Date(m.On), p.Moisture(m.Season.Mean), p.Season(m.Season))
}

// DryBy says when a batch may be dry, as a plan; empty where that is not known or it
// is dry by its readings.
func (p *Printer) DryBy(d *yard.BatchDrying) string {
	if d == nil || d.Forecast.Latest <= 0 {
		return ""
	}
	soonest, latest := p.month(d.Soonest), p.month(d.Latest)
	switch {
	case soonest == latest:
		return p.say("Dry by about %s. A plan: then measure.", soonest)
	case d.Soonest.Year == d.Latest.Year:
		soonest = p.say(d.Soonest.Month.String())
	}
	return p.say("Dry by about %s to %s. A plan: then measure.", soonest, latest)
}

func (p *Printer) month(d act.Date) string {
	return p.say("%s %s", p.say(d.Month.String()), strconv.Itoa(d.Year))
}

// DryingFrom says what the plan is reckoned from.
func (p *Printer) DryingFrom(d yard.BatchDrying) string {
	if d.Measured {
		return p.say("Worked out from the readings of %s, mean %s, to %s.", p.Date(d.From), p.Moisture(d.Forecast.From), p.Moisture(d.Forecast.To))
	}
	return p.say("Worked out from green wood, %s, split on %s, to %s.", p.Moisture(d.Forecast.From), p.Date(d.From), p.Moisture(d.Forecast.To))
}

// Bound says how sure the mean of a set of readings is; empty for one piece.
func (p *Printer) Bound(m yard.Moisture) string {
	s := m.Season
	switch {
	case s.Bound == nil:
		return ""
	case s.Bound.Percent() < s.Mean.Percent():
		return p.say("at least %s", p.Moisture(*s.Bound))
	}
	return p.say("at most %s", p.Moisture(*s.Bound))
}

// A BatchNote is one thing written down of a batch: what, and why, by whom and when.
type BatchNote struct {
	What []string
	Why  string
}

// BatchNotes are what was written down of a batch, from when it was put up on.
func (p *Printer) BatchNotes(b yard.Batch, zone string) []BatchNote {
	notes := []BatchNote{{
		What: []string{p.say("Put up: %s", p.Quantity(b.PutUp))},
		Why:  p.say("%s, %s", b.By, p.Day(b.Created, zone)),
	}}
	before := b.First
	for _, e := range b.Entries {
		note := BatchNote{Why: p.say("%s. %s, %s", e.Reason, e.By, p.Date(e.On))}
		switch e.Kind {
		case yard.BatchRecounted:
			note.What = []string{p.say("Counted again: %s left", p.Quantity(measure.Quantity{Volume: e.Left, Basis: b.PutUp.Basis}))}
		case yard.BatchUsedUp:
			note.What = []string{p.say("Used up")}
		case yard.BatchCorrected:
			note.What = p.corrected(before, *e.Facts)
			before = *e.Facts
		}
		notes = append(notes, note)
	}
	return notes
}

// corrected says what a correction changed, a line each.
func (p *Printer) corrected(was, is yard.BatchFacts) []string {
	var lines []string
	for _, c := range []Change{
		{p.say("Name"), was.Name, is.Name},
		{p.say("Species"), was.Species, is.Species},
		{p.say("Piece length"), p.Length(was.PieceLength), p.Length(is.PieceLength)},
		{p.say("Cut"), p.Known(was.Cut), p.Known(is.Cut)},
		{p.say("Split"), p.Known(was.Split), p.Known(is.Split)},
		{p.say("Cut in"), dash(was.Origin), dash(is.Origin)},
		{p.say("Heat-treatment certificate"), dash(was.Certificate), dash(is.Certificate)},
		{p.say("Notes"), dash(oneLine(was.Notes)), dash(oneLine(is.Notes))},
	} {
		if c.Was != c.Is {
			lines = append(lines, p.Changed(c))
		}
	}
	return lines
}
