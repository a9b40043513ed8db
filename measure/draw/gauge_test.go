package draw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

// readGauge reads the word off a gauge as a person does: the part of the stick that the
// tip of the pointer stands on, by the edges that are drawn. A part that isn't drawn
// has no edge.
func readGauge(d draw.Drawing) (word stack.Word, ok bool) {
	at := map[string]measure.Length{}
	for _, l := range d.Lines {
		at[l.Role] = l.A.X
	}
	pointer, ok := tip(d)
	sold, found := at["sold"]
	if !ok || !found {
		return "", false
	}
	short, hasShort := at["short"]
	full, hasFull := at["full"]
	switch {
	case hasShort && pointer <= short:
		return stack.Short, true
	case hasFull && pointer >= full:
		return stack.Full, true
	case pointer < sold:
		return stack.Unresolved, true
	}
	return stack.NoShortage, true
}

// tip is where the pointer touches the stick.
func tip(d draw.Drawing) (measure.Length, bool) {
	for _, p := range d.Polygons {
		if p.Role == "pointer" {
			low := p.Points[0]
			for _, at := range p.Points {
				if at.Y > low.Y {
					low = at
				}
			}
			return low.X, true
		}
	}
	return 0, false
}

// anyResult is a result with a finding whose word follows from its volumes.
func anyResult(t *rapid.T) stack.Result {
	volume := func(name string, lo, hi measure.Volume) measure.Volume {
		return measure.Volume(rapid.Int64Range(int64(lo), int64(hi)).Draw(t, name))
	}
	most := rapid.SampledFrom([]measure.Volume{measure.CubicFoot, measure.Cord, 10 * measure.Cord, measure.MaxQuantity}).Draw(t, "size")
	v := volume("volume", most/100, most)
	f := stack.Finding{
		Due:        volume("due", most/100, most),
		ShortAbove: v + volume("short", 0, v/5),
		FullBelow:  v - volume("full", 0, v/5),
	}
	if rapid.Bool().Draw(t, "close") { // to the nanolitre about a mark
		marks := []measure.Volume{v, f.ShortAbove, f.FullBelow}
		f.Due = rapid.SampledFrom(marks).Draw(t, "mark") + volume("off", -3, 3)
	}
	f.Sold = measure.Quantity{Volume: f.Due, Basis: measure.Ranked}
	switch {
	case f.Due >= f.ShortAbove:
		f.Word = stack.Short
	case f.Due <= f.FullBelow:
		f.Word = stack.Full
	case v < f.Due:
		f.Word = stack.Unresolved
	default:
		f.Word = stack.NoShortage
	}
	if rapid.Bool().Draw(t, "held") { // by a question nobody answered: the part is not drawn
		switch f.Word {
		case stack.Short:
			if v < f.Due {
				f.Word, f.HeldBack = stack.Unresolved, []stack.Hold{stack.HeldByApart}
			}
		case stack.Full:
			if v >= f.Due {
				f.Word, f.HeldFromFull = stack.NoShortage, []stack.Hold{stack.HeldByStowing}
			}
		}
	}
	return stack.Result{
		Quantity: measure.Quantity{Volume: v, Basis: measure.Ranked},
		Expanded: volume("expanded", 0, v/5),
		Finding:  &f,
	}
}

func TestGaugeGivesTheWord(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyResult(rt)
		for _, unit := range []measure.Volume{measure.Cord, measure.CubicFoot, measure.CubicMetre} {
			d := draw.Gauge(r, page, unit)
			word, ok := readGauge(d)
			require.True(t, ok)
			require.Equal(t, r.Finding.Word, word, "finding %+v of %d", *r.Finding, r.Quantity.Volume)
			named := 0
			for _, l := range d.Labels {
				if l.Role == string(word) {
					named++
				}
			}
			require.Positive(t, named, "the part it stands on has its name")
		}
	})
}

// The parts are anchored at what was sold: a reader sees where the wood would have to
// be, so the same wood sold as more moves the edges and never the pointer's own figure.
func TestGaugeIsAnchoredAtWhatWasSold(t *testing.T) {
	r := measured(t, shortTally())
	d := gaugeOf(r, page, false)
	edges := map[string]measure.Length{}
	for _, l := range d.Lines {
		edges[l.Role] = l.A.X
	}
	assert.Less(t, edges["short"], edges["sold"], "short lies below what was sold")
	assert.Less(t, edges["sold"], edges["full"], "full lies above it")
}

func TestGaugeGivesTheWordOfMeasuredTallies(t *testing.T) {
	words := map[stack.Word]bool{}
	for sold := 80; sold <= 110; sold++ {
		for _, tally := range []stack.Tally{shortTally(), notSettledTally()} {
			tally.Sold.Quantity.Volume = measure.Cord * measure.Volume(sold) / 100
			r := measured(t, tally)
			word, ok := readGauge(gaugeOf(r, phone, false))
			require.True(t, ok)
			assert.Equal(t, r.Finding.Word, word, "sold %d hundredths of a cord", sold)
			words[word] = true
		}
	}
	assert.Len(t, words, 4, "each word came up")
}

func TestGaugeIsLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyResult(rt)
		width := rapid.SampledFrom([]measure.Length{page, phone, paper}).Draw(rt, "width")
		d := draw.Gauge(r, width, rapid.SampledFrom([]measure.Volume{measure.Cord, measure.CubicFoot, measure.CubicMetre}).Draw(rt, "unit"))
		requireLegible(t, svg(t, d))
		numbers := 0
		for _, l := range d.Labels {
			if l.Role == "number" {
				numbers++
			}
		}
		assert.GreaterOrEqual(t, numbers, 2, "a scale needs two numbers")
	})
}

// The scale is in the unit that everybody can tape, and a second row counts cords.
func TestGaugeCountsFeetAndCords(t *testing.T) {
	var numbers, units []string
	for _, l := range gaugeOf(measured(t, shortTally()), phone, false).Labels {
		switch l.Role {
		case "number":
			numbers = append(numbers, say(l.Text))
		case "unit":
			units = append(units, say(l.Text))
		}
	}
	assert.Equal(t, []string{"ft³", "cords"}, units)
	assert.Contains(t, numbers, "130")
	assert.Contains(t, numbers, "1")
}

func TestGaugeWithoutAFinding(t *testing.T) {
	r := measured(t, shortTally())
	r.Finding = nil
	d := gaugeOf(r, phone, false)
	assert.Equal(t, map[string]bool{"tick": true, "scale": true, "whisker": true}, lineRoles(d))
	_, ok := readGauge(d)
	assert.False(t, ok)
}

// Wood measured ranked and sold loose: the pointer beside the range that the loose
// quantity is likely to be, and no part that would clear or accuse.
func TestGaugeAcrossBases(t *testing.T) {
	d := pictures(t)["gauge-loose-phone"]
	assert.Equal(t, map[string]bool{"tick": true, "scale": true, "whisker": true, "expected": true}, lineRoles(d))
	for _, l := range d.Lines {
		if l.Role == "expected" {
			assert.Equal(t, draw.Dashed, l.Style)
		}
	}
	for _, p := range d.Polygons {
		assert.NotEqual(t, "sold", p.Role)
	}
}

// A thrown load of 167.4 ft³ where a cord was sold stands on no scale of cords as if it
// were ranked: the scale is of ranked wood, and what is likely lies below what was sold.
func TestGaugeOfThrownWoodIsOnceRanked(t *testing.T) {
	load := stack.Result{
		Quantity: measure.Quantity{Volume: 1674 * measure.CubicFoot / 10, Basis: measure.Loose}, Expanded: 8 * measure.CubicFoot,
		Expected: &stack.Range{Low: 100 * measure.CubicFoot, High: 120 * measure.CubicFoot},
		Finding:  &stack.Finding{Word: stack.Expected, Sold: oneCord().Quantity, Due: measure.Cord},
	}
	for _, unit := range []measure.Volume{measure.Cord, measure.CubicFoot, measure.CubicMetre} {
		d := draw.Gauge(load, page, unit)
		_, pointed := tip(d)
		assert.False(t, pointed, "loose feet have no pointer on a scale of ranked wood")
		at := map[string][2]measure.Length{}
		for _, l := range d.Lines {
			if l.A.Y == l.B.Y && l.Role != "scale" || l.Role == "sold" {
				at[l.Role] = [2]measure.Length{l.A.X, l.B.X}
			}
		}
		assert.Less(t, at["likely"][0], at["likely"][1])
		assert.Less(t, at["likely"][1], at["sold"][0], "all that is likely is less than was sold")
	}
	load.Finding.Sold.Basis, load.Expected = measure.Loose, nil
	for _, l := range draw.Gauge(load, page, measure.Cord).Labels {
		assert.NotEqual(t, "cords", l.Text.Key, "loose wood is never in cords")
	}
}

func TestGaugeOfNothing(t *testing.T) {
	assert.Zero(t, gaugeOf(stack.Result{}, phone, false))
}

func lineRoles(d draw.Drawing) map[string]bool {
	roles := map[string]bool{}
	for _, l := range d.Lines {
		roles[l.Role] = true
	}
	return roles
}

// gaugeOf is a gauge in cubic metres or in cords.
func gaugeOf(r stack.Result, width measure.Length, metric bool) draw.Drawing {
	if metric {
		return draw.Gauge(r, width, measure.CubicMetre)
	}
	return draw.Gauge(r, width, measure.Cord)
}
