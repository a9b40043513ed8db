package draw_test

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

// anyTally draws rows of every size and end that a tally may hold.
func anyTally(t *rapid.T) stack.Tally {
	rows := stack.Rows{Pieces: stack.Pieces{Nominal: 16 * measure.Inch}}
	raised := rapid.SampledFrom([]measure.Length{0, 4 * measure.Inch, 6*measure.Inch - 1}).Draw(t, "raised")
	for range rapid.IntRange(1, 4).Draw(t, "rows") {
		rows.Rows = append(rows.Rows, anyRow(t, raised))
	}
	return stack.Tally{
		Sold: oneCord(), Apart: stack.Apart{Answered: true}, Look: 1, Tape: measure.Inch / 4,
		Top: stack.ByEye, Raised: raised, Stack: rows,
	}
}

func anyRow(t *rapid.T, raised measure.Length) stack.Row {
	between := func(name string, lo, hi measure.Length) measure.Length {
		return measure.Length(rapid.Int64Range(int64(lo), int64(hi)).Draw(t, name))
	}
	row := stack.Row{Length: between("length", 2*measure.Foot, stack.MaxRowLength)}
	for range rapid.IntRange(1, 30).Draw(t, "stations") {
		row.Heights = append(row.Heights, raised+between("height", 3*measure.Inch, stack.MaxHeight-raised))
	}
	for i := range row.Ends {
		end := stack.End{Kind: rapid.SampledFrom([]stack.EndKind{
			stack.Upright, stack.Shouldered, stack.Tapered, stack.Cribbed,
		}).Draw(t, "end")}
		if end.Kind != stack.Upright {
			end.Over = between("over", measure.Inch, measure.Foot)
		}
		if end.Kind == stack.Shouldered {
			end.Drop = between("drop", 1, 2*measure.Inch)
		}
		row.Ends[i] = end
	}
	for range rapid.IntRange(0, 3).Draw(t, "voids") {
		row.Voids = append(row.Voids, stack.Void{Width: between("void", 1, measure.Foot), Height: between("void", 1, measure.Foot)})
	}
	return row
}

func TestStackStationsAreToScale(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tally := anyTally(rt)
		width := rapid.SampledFrom([]measure.Length{phone, paper}).Draw(rt, "width")
		all := marks(t, svg(t, draw.Stack(tally, stack.Result{}, width)))
		requireStations(t, tally, all)
	})
}

func TestStackStationsAreToScaleAtTheLimits(t *testing.T) {
	tally := shortTally()
	rows := tally.Stack.(stack.Rows)
	rows.Rows[0] = stack.Row{Length: stack.MaxRowLength, Heights: in(3, 240, 3, 48), Ends: upright()}
	rows.Rows[1] = stack.Row{Length: measure.Foot, Heights: in(3), Ends: upright()}
	requireStations(t, tally, marks(t, svg(t, draw.Stack(tally, measured(t, tally), phone))))
}

// requireStations reads each height back from the drawing, within 0.5 %.
func requireStations(t testing.TB, tally stack.Tally, all []mark) {
	t.Helper()
	scale, err := strconv.ParseFloat(all[0].attrs["data-scale"], 64)
	require.NoError(t, err)
	rows := tally.Stack.(stack.Rows).Rows
	seen := 0
	for _, m := range all {
		if m.attrs["data-role"] != "station" {
			continue
		}
		seen++
		row, _ := strconv.Atoi(m.attrs["data-row"])
		index, _ := strconv.Atoi(m.attrs["data-index"])
		want := (rows[row-1].Heights[index-1] - tally.Raised).In(measure.Millimetre)
		got := (m.num(t, "y1") - m.num(t, "y2")) * scale / 1000
		require.InEpsilon(t, want, got, 0.005, "row %d station %d", row, index)
	}
	want := 0
	for _, row := range rows {
		want += len(row.Heights)
	}
	require.Equal(t, want, seen, "every station is drawn")
}

func TestStackIsLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		tally := anyTally(rt)
		r := stack.Result{Quantity: measure.Quantity{Basis: measure.Ranked,
			Volume: measure.Volume(rapid.Int64Range(0, int64(30*measure.Cord)).Draw(rt, "volume"))}}
		width := rapid.SampledFrom([]measure.Length{leastRows, page, phone, paper, 0}).Draw(rt, "width")
		requireLegible(t, svg(t, draw.Stack(tally, r, width)))
	})
}

// The drawn ends and voids have the areas the model counts: what is seen is what
// is measured.
func TestStackEndsAndVoidsHaveTheModelsAreas(t *testing.T) {
	d := draw.Stack(notSettledTally(), stack.Result{}, paper)
	scale := float64(d.Scale) / 1000
	area := func(role string, row int) float64 {
		var sum float64
		for _, p := range d.Polygons {
			if p.Role == role && p.Row == row {
				sum += shoelace(p.Points)
			}
		}
		return sum * scale * scale / math.Pow(float64(measure.Inch), 2)
	}
	// Worked example 2: a taper of 43 in over 20 in, a void of 12 × 6 in, a crib of
	// 46 in over 18 in, all after 4 in are taken off; arithmetic.
	assert.InEpsilon(t, 430, area("taper", 1), 1e-5)
	assert.InEpsilon(t, 72, area("void", 1), 1e-5)
	assert.InEpsilon(t, 828, area("crib", 2), 1e-5)
}

func shoelace(ps []draw.Point) float64 {
	var sum float64
	for i, a := range ps {
		b := ps[(i+1)%len(ps)]
		sum += float64(a.X)*float64(b.Y) - float64(b.X)*float64(a.Y)
	}
	return math.Abs(sum) / 2
}

func TestStackShowsASlippedDecimal(t *testing.T) {
	d := draw.Stack(slippedTally(), stack.Result{}, phone)
	var texts []string
	for _, l := range d.Labels {
		texts = append(texts, say(l.Text))
	}
	assert.Contains(t, texts, "4 3/4 in", "the odd reading is never thinned out")
}

func TestStackCordIsFilledToItsLevel(t *testing.T) {
	r := measured(t, shortTally())
	r.Finding = nil // where something was sold, what is missing is drawn instead
	d := draw.Stack(shortTally(), r, phone)
	var levels, fronts []measure.Length
	for _, p := range d.Polygons {
		switch p.Role {
		case "cord fill":
			levels = append(levels, p.Points[2].Y-p.Points[0].Y)
		case "cord box":
			fronts = append(fronts, p.Points[2].Y-p.Points[0].Y)
		}
	}
	require.Len(t, levels, 1)
	assert.InEpsilon(t, r.Quantity.Volume.In(measure.Cord), levels[0].In(fronts[0]), 1e-6, "V / 32 ft² of 4 ft")
}

func TestStackManyCords(t *testing.T) {
	tests := []struct {
		volume measure.Volume
		boxes  int
		times  string
	}{
		{measure.Cord / 2, 1, ""},
		{measure.Cord, 1, ""},
		{4 * measure.Cord, 4, ""},
		{3*measure.Cord + measure.Cord/2, 4, ""},
		{4*measure.Cord + measure.Cord/2, 2, "× 4"},
		{12 * measure.Cord, 1, "× 12"},
	}
	for _, tt := range tests {
		r := stack.Result{Quantity: measure.Quantity{Volume: tt.volume, Basis: measure.Ranked}}
		d := draw.Stack(shortTally(), r, phone)
		fills, times := 0, ""
		for _, p := range d.Polygons {
			if p.Role == "cord fill" {
				fills++
			}
		}
		for _, l := range d.Labels {
			if l.Role == "times" {
				times = say(l.Text)
			}
		}
		assert.Equal(t, tt.boxes, fills, "boxes for %.1f cords", tt.volume.In(measure.Cord))
		assert.Equal(t, tt.times, times)
	}
}

func TestStackVoidIsLeftOutOfTheWood(t *testing.T) {
	d := draw.Stack(notSettledTally(), stack.Result{}, paper)
	var hole draw.Polygon
	for _, p := range d.Polygons {
		if p.Role == "void" {
			hole = p
		}
	}
	require.Len(t, hole.Points, 4)
	faces := 0
	for _, p := range d.Polygons {
		if p.Role == "wood" && p.Row == 1 && len(p.Holes) > 0 {
			assert.Equal(t, [][]draw.Point{hole.Points}, p.Holes)
			faces++
		}
	}
	assert.Equal(t, 1, faces)
}

func TestStackWhileTyping(t *testing.T) {
	assert.Zero(t, draw.Stack(stack.Tally{}, stack.Result{}, phone), "nothing read yet")
	tally := shortTally()
	tally.Stack.(stack.Rows).Rows[1].Heights = nil
	d := draw.Stack(tally, stack.Result{}, phone)
	requireLegible(t, svg(t, d))
	for _, l := range d.Lines {
		assert.NotEqual(t, 2, l.Row, "a row without heights is not drawn")
	}
}
