package draw_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

// shares are the volumes written on a stack, below 0 for what is missing.
func shares(d draw.Drawing) (sum measure.Volume, count int) {
	for _, l := range d.Labels {
		if l.Role != "share" {
			continue
		}
		count++
		v := l.Text.Args[0].(measure.Volume)
		if l.Text.Key == "%s missing" || l.Text.Key == "ends, gaps: %s missing" {
			v = -v
		}
		sum += v
	}
	return sum, count
}

// What is written as missing of each row, and what ends and gaps add, sum to what is
// missing of the stack: the model's own V − S.
func TestSharesSumToTheShortage(t *testing.T) {
	for name, tally := range map[string]stack.Tally{"upright": shortTally(), "ends and gaps": notSettledTally()} {
		r := measured(t, tally)
		sum, count := shares(draw.Stack(tally, r, page))
		assert.Positive(t, count, name)
		assert.InDelta(t, r.Finding.Margin.In(measure.CubicFoot), sum.In(measure.CubicFoot), 1e-6, name)
	}
}

// The black between the top and the dashed line has the area of what is missing, less
// what lies over the line.
func TestMissingWoodIsDrawnToScale(t *testing.T) {
	tally := shortTally()
	r := measured(t, tally)
	for _, width := range []measure.Length{page, paper} {
		d := draw.Stack(tally, r, width)
		var area float64
		for _, p := range d.Polygons {
			switch p.Role {
			case "missing":
				assert.Equal(t, draw.Solid, p.Style)
				area -= shoelace(p.Points)
			case "more":
				assert.NotEqual(t, draw.Solid, p.Style, "only missing wood is solid")
				area += shoelace(p.Points)
			}
		}
		scale := float64(d.Scale) / 1000
		face := area * scale * scale / math.Pow(float64(measure.Inch), 2)
		// 15.875 in is the mean of the ten pieces of worked example 1; arithmetic.
		assert.InEpsilon(t, r.Finding.Margin.In(measure.CubicInch), face*15.875, 1e-3)
	}
}

// A stack far higher than what was sold has all of it above the dashed line, and no
// black below it, up to the highest that can be measured.
func TestNothingIsMissingOfAMuchHigherStack(t *testing.T) {
	for _, heights := range [][]float64{{170, 170, 170}, {236, 239, 236}, {230, 239, 220}} {
		tally := shortTally()
		rows := tally.Stack.(stack.Rows)
		rows.Rows = []stack.Row{{Length: 96 * measure.Inch, Heights: in(heights...), Ends: upright()}}
		tally.Stack = rows
		tally.Sold.Quantity.Volume = measure.Cord / 8
		r := measured(t, tally)
		d := draw.Stack(tally, r, page)
		var more float64
		for _, p := range d.Polygons {
			assert.NotEqual(t, "missing", p.Role, "%v", heights)
			if p.Role == "more" {
				more += shoelace(p.Points)
			}
		}
		scale := float64(d.Scale) / 1000
		face := more * scale * scale / math.Pow(float64(measure.Inch), 2)
		assert.InEpsilon(t, r.Finding.Margin.In(measure.CubicInch), face*15.875, 1e-3, "%v", heights)
	}
}

// Every height of every row stands in the picture, or every row whose heights would
// touch has numbers in their place, from 1.
func TestNoReadingIsDroppedFromThePicture(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		row := stack.Row{Length: measure.Length(rapid.Int64Range(int64(2*measure.Foot), int64(40*measure.Foot)).Draw(rt, "length")), Ends: upright()}
		for range rapid.IntRange(1, 40).Draw(rt, "stations") {
			row.Heights = append(row.Heights, measure.Length(rapid.Int64Range(40, 480).Draw(rt, "eighths"))*measure.Inch/8)
		}
		tally := stack.Tally{Tape: measure.Inch / 8, Stack: stack.Rows{Rows: []stack.Row{row}}}
		d := draw.Stack(tally, stack.Result{}, rapid.SampledFrom([]measure.Length{leastRows, page, phone, paper}).Draw(rt, "width"))
		requireLegible(t, svg(t, d))
		readings, numbers := 0, map[string]bool{}
		for _, l := range d.Labels {
			switch l.Role {
			case "reading":
				readings++
			case "number":
				numbers[say(l.Text)] = true
			}
		}
		if readings > 0 {
			require.Equal(rt, len(row.Heights), readings, "all of them or none")
			require.Empty(rt, numbers)
			return
		}
		require.True(rt, numbers["1"], fmt.Sprint(numbers))
	})
}
