package draw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

// readGauge reads the word off a gauge as a person does: the sold mark against
// the two decision ticks and the middle of the band.
func readGauge(d draw.Drawing) (word measure.Word, ok bool) {
	at := map[string]measure.Length{}
	for _, l := range d.Lines {
		at[l.Role] = l.A.X
	}
	sold, ok := at["sold"]
	if !ok {
		return "", false
	}
	switch {
	case sold >= at["short"]:
		return measure.Short, true
	case sold <= at["full"]:
		return measure.Full, true
	case sold > at["measured"]:
		return measure.Unresolved, true
	}
	return measure.NoShortage, true
}

// anyResult is a result with a finding whose word follows from its volumes.
func anyResult(t *rapid.T) measure.Result {
	volume := func(name string, lo, hi measure.Volume) measure.Volume {
		return measure.Volume(rapid.Int64Range(int64(lo), int64(hi)).Draw(t, name))
	}
	most := rapid.SampledFrom([]measure.Volume{measure.CubicFoot, measure.Cord, 10 * measure.Cord, measure.MaxQuantity}).Draw(t, "size")
	v := volume("volume", most/100, most)
	f := measure.Finding{
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
		f.Word = measure.Short
	case f.Due <= f.FullBelow:
		f.Word = measure.Full
	case v < f.Due:
		f.Word = measure.Unresolved
	default:
		f.Word = measure.NoShortage
	}
	return measure.Result{
		Quantity: measure.Quantity{Volume: v, Basis: measure.Ranked},
		Expanded: volume("expanded", 0, v/5),
		Finding:  &f,
	}
}

func TestGaugeGivesTheWord(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := anyResult(rt)
		for _, metric := range []bool{false, true} {
			word, ok := readGauge(gaugeOf(r, phone, metric))
			require.True(t, ok)
			require.Equal(t, r.Finding.Word, word, "finding %+v of %d", *r.Finding, r.Quantity.Volume)
		}
	})
}

func TestGaugeGivesTheWordOfMeasuredTallies(t *testing.T) {
	words := map[measure.Word]bool{}
	for sold := 80; sold <= 110; sold++ {
		for _, tally := range []measure.Tally{shortTally(), notSettledTally()} {
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
		width := rapid.SampledFrom([]measure.Length{phone, paper}).Draw(rt, "width")
		d := gaugeOf(r, width, rapid.Bool().Draw(rt, "metric"))
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

func TestGaugeTicksAreEighths(t *testing.T) {
	var numbers []string
	for _, l := range gaugeOf(measured(t, shortTally()), phone, false).Labels {
		if l.Role == "number" {
			numbers = append(numbers, say(l.Text))
		}
	}
	assert.Equal(t, []string{"7/8", "1", "1 1/8"}, numbers)
}

func TestGaugeWithoutAFinding(t *testing.T) {
	r := measured(t, shortTally())
	r.Finding = nil
	d := gaugeOf(r, phone, false)
	assert.Equal(t, map[string]bool{"tick": true, "measured": true}, lineRoles(d))
	_, ok := readGauge(d)
	assert.False(t, ok)
}

func TestGaugeAcrossBases(t *testing.T) {
	d := pictures(t)["gauge-loose-phone"]
	assert.Equal(t, map[string]bool{"tick": true, "measured": true, "expected": true}, lineRoles(d))
	for _, l := range d.Lines {
		if l.Role == "expected" {
			assert.Equal(t, draw.Dashed, l.Style)
		}
	}
	for _, p := range d.Polygons {
		assert.NotEqual(t, "sold", p.Role)
	}
}

func TestGaugeOfNothing(t *testing.T) {
	assert.Zero(t, gaugeOf(measure.Result{}, phone, false))
}

func lineRoles(d draw.Drawing) map[string]bool {
	roles := map[string]bool{}
	for _, l := range d.Lines {
		roles[l.Role] = true
	}
	return roles
}

// gaugeOf is a gauge in cubic metres or in cords.
func gaugeOf(r measure.Result, width measure.Length, metric bool) draw.Drawing {
	if metric {
		return draw.Gauge(r, width, measure.CubicMetre)
	}
	return draw.Gauge(r, width, measure.Cord)
}
