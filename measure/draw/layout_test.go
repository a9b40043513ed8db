package draw_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
)

func layoutIn(t require.TestingT, kind storage.PlaceKind, v measure.Volume, width, depth, height measure.Length) storage.Layout {
	a, err := storage.Find(storage.Request{Volume: v, PieceLength: 16 * measure.Inch,
		Place: storage.Place{Kind: kind, Width: width, Depth: depth, Height: height}})
	require.NoError(t, err)
	require.NotEmpty(t, a.Layouts)
	return a.Layouts[0]
}

func shedLayout(t require.TestingT) storage.Layout {
	return layoutIn(t, storage.Shed, measure.Cord, 14*measure.Foot, 5*measure.Foot, 7*measure.Foot)
}

// sizes reads areas of a role back from an SVG, in real inches by its scale.
func sizes(t *testing.T, s, role string) (widths, heights []float64) {
	all := marks(t, s)
	scale := all[0].num(t, "data-scale") / 1000 / measure.Inch.In(measure.Millimetre)
	for _, m := range all {
		if m.tag != "polygon" || m.attrs["data-role"] != role {
			continue
		}
		at := points(t, m)
		x0, x1, y0, y1 := at[0][0], at[0][0], at[0][1], at[0][1]
		for _, p := range at {
			x0, x1, y0, y1 = min(x0, p[0]), max(x1, p[0]), min(y0, p[1]), max(y1, p[1])
		}
		widths, heights = append(widths, (x1-x0)*scale), append(heights, (y1-y0)*scale)
	}
	return widths, heights
}

func TestLayoutReadsBackToScale(t *testing.T) {
	l := shedLayout(t)
	s := svg(t, draw.Layout(l, paper))
	widths, heights := sizes(t, s, "row")
	require.Len(t, widths, l.Rows)
	for i := range widths {
		assert.InDelta(t, l.RowLength.In(measure.Inch), widths[i], 0.001)
		assert.InDelta(t, 16, heights[i], 0.001, "a piece")
	}
	widths, heights = sizes(t, s, "room")
	assert.InDelta(t, 14*12, widths[0], 0.001)
	assert.InDelta(t, 5*12, heights[0], 0.001)
	widths, heights = sizes(t, s, "face")
	assert.InDelta(t, l.RowLength.In(measure.Inch), widths[0], 0.001)
	assert.InDelta(t, l.Height.In(measure.Inch), heights[0], 0.001)
	_, heights = sizes(t, s, "person")
	assert.InDelta(t, 68, heights[0], 0.001, "5 ft 8 in")
	widths, _ = sizes(t, s, "hatch opening")
	assert.InDelta(t, 30, widths[0], 0.001)
	walls, _ := sizes(t, s, "side wall")
	assert.Len(t, walls, 4, "two from above, two from the front")
	assert.Contains(t, s, `data-role="roof"`)
}

// Rows from front to back and a sloping roof are drawn from the side too.
func TestLayoutFromTheSideReadsBackToScale(t *testing.T) {
	l := slopedLayout(t)
	require.True(t, l.Across)
	s := svg(t, draw.Layout(l, paper))
	widths, heights := sizes(t, s, "row")
	require.Len(t, widths, l.Rows)
	assert.InDelta(t, 16, widths[0], 0.001, "a piece lies across the row")
	assert.InDelta(t, l.RowLength.In(measure.Inch), heights[0], 0.001)
	widths, heights = sizes(t, s, "side face")
	require.Len(t, widths, 1)
	assert.InDelta(t, l.RowLength.In(measure.Inch), widths[0], 0.001)
	assert.InDelta(t, l.Height.In(measure.Inch), heights[0], 0.001)
	braces, _ := sizes(t, s, "brace")
	assert.Len(t, braces, 2*l.Rows+2, "each row from above, one from the side")
	assert.Contains(t, s, `data-role="roof at the back"`)
}

// The air that is too narrow on paper to carry a dimension is said in words below, all of
// it and in one order.
func TestLayoutSaysItsAirInWords(t *testing.T) {
	const inch = measure.Inch
	for _, c := range []struct {
		side, wall measure.Length
		rows       int
		want       string
	}{
		{3 * inch, 3 * inch, 2, "3 in of air on all sides of each row; "},
		{0, 3 * inch, 2, "3 in of air behind and between rows; "},
		{3 * inch, 3 * inch, 1, "3 in of air behind; "},
		{0, 3 * inch, 1, "3 in of air behind; "},
		{0, 0, 2, "2 in of air between rows; "},
		{3 * inch, 0, 1, ""},
	} {
		l := shedLayout(t)
		l.SideGap, l.WallGap, l.RowGap, l.Rows = c.side, c.wall, 2*inch, c.rows
		for _, width := range []measure.Length{phone, paper} {
			var said []string
			for _, label := range draw.Layout(l, width).Labels {
				if label.Role == "gap" {
					said = append(said, say(label.Text))
				}
			}
			if width == paper {
				assert.Equal(t, c.want+"room dashed, 14 ft by 60 in", said[0], "there is room for all of it on one line")
			}
			assert.True(t, strings.HasPrefix(strings.Join(said, "; ")+";", c.want+"room dashed, 14 ft by 60 in;"), said)
		}
	}
}

// What sets the kinds of place apart is on their drawings.
func TestLayoutShowsThePlace(t *testing.T) {
	for kind, has := range map[storage.PlaceKind]string{
		storage.Wall: `data-role="wall"`, storage.Porch: `data-role="joist"`, storage.Alcove: `data-role="side wall"`,
		storage.Carport: `data-role="post"`, storage.Shed: `data-role="hatch opening"`,
	} {
		s := svg(t, draw.Layout(layoutIn(t, kind, measure.Cord/4, 12*measure.Foot, 3*measure.Foot, 7*measure.Foot), paper))
		assert.Contains(t, s, has, kind)
	}
	rack := svg(t, draw.Layout(layoutIn(t, storage.Rack, measure.Cord/4, 12*measure.Foot, 3*measure.Foot, 0), paper))
	for _, none := range []string{"wall", "post", "joist", "roof", "side wall"} {
		assert.NotContains(t, rack, `data-role="`+none+`"`)
	}
}

func TestLayoutIsLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		kind := rapid.SampledFrom(storage.PlaceKinds()).Draw(rt, "kind")
		feet := func(name string, low, high int64) measure.Length {
			return measure.Length(rapid.Int64Range(low, high).Draw(rt, name)) * measure.Inch
		}
		a, err := storage.Find(storage.Request{
			Volume:      measure.Volume(rapid.Int64Range(int64(measure.CubicFoot), int64(20*measure.Cord)).Draw(rt, "volume")),
			PieceLength: feet("piece", 8, 30),
			Place: storage.Place{Kind: kind, Width: feet("width", 40, 600), Depth: feet("depth", 40, 200), Height: feet("height", 30, 200), Braced: rapid.Bool().Draw(rt, "braced"),
				Back: rapid.SampledFrom([]measure.Length{0, 40 * measure.Inch, 90 * measure.Inch}).Draw(rt, "back")},
		})
		require.NoError(rt, err)
		for _, l := range a.Layouts {
			for _, width := range []measure.Length{phone, paper} {
				requireLegible(t, svg(t, draw.Layout(l, width)))
				requireLegible(t, svg(t, draw.Pressure(l, width, width == paper)))
			}
		}
	})
	assert.Zero(t, draw.Layout(storage.Layout{}, phone))
}

// The bars are read back against the axis beside them.
func TestPressureReadsBack(t *testing.T) {
	l := shedLayout(t)
	for _, metric := range []bool{false, true} {
		s := svg(t, draw.Pressure(l, phone, metric))
		unit := storage.PoundPerSquareFoot
		if metric {
			unit = storage.Kilopascal
		}
		var zero, last, most, deck float64
		for _, m := range marks(t, s) {
			switch {
			case m.tag == "line" && m.attrs["data-role"] == "tick":
				n := m.num(t, "data-index") - 1
				if n == 0 {
					zero = m.num(t, "x1")
				}
				last, most = m.num(t, "x1"), n
			case m.tag == "line" && m.attrs["data-role"] == "deck":
				deck = m.num(t, "x1")
			}
		}
		read := func(x float64) float64 { return (x - zero) / (last - zero) * most }
		assert.InDelta(t, storage.DeckLoad.In(unit), read(deck), 0.01)
		for role, want := range map[string]storage.Range[storage.Pressure]{"green": l.Green, "dry": l.Dry} {
			for _, m := range marks(t, s) {
				if m.tag == "polygon" && m.attrs["data-role"] == role {
					at := points(t, m)
					assert.InDelta(t, want.Low.In(unit), read(at[0][0]), 0.01, role)
					assert.InDelta(t, want.High.In(unit), read(at[1][0]), 0.01, role)
				}
			}
		}
	}
}

// Six rows under a sloping roof say six heights, and none runs off the drawing.
func TestHeightsOfManyRowsFitTheDrawing(t *testing.T) {
	a, err := storage.Find(storage.Request{Volume: measure.Cord / 2, PieceLength: 12 * measure.Inch,
		Place: storage.Place{Kind: storage.Wall, Width: 4 * measure.Foot, Depth: 8 * measure.Foot, Height: 8 * measure.Foot, Back: 3 * measure.Foot}})
	require.NoError(t, err)
	many := 0
	for _, l := range a.Layouts {
		many = max(many, len(l.Heights))
		for _, wide := range []measure.Length{phone, paper} {
			d := draw.Layout(l, wide)
			requireLegible(t, svg(t, d))
			var said, want []string
			for _, h := range l.Heights {
				want = append(want, say(measure.Say("%s", h)))
			}
			for _, label := range d.Labels {
				said = append(said, say(label.Text))
			}
			all := strings.ReplaceAll(strings.Join(said, "; "), "; then ", ", ")
			assert.Contains(t, all+";", "from the back "+strings.Join(want, ", ")+";", "every height, in the order of the rows")
		}
	}
	assert.Greater(t, many, 3, "a note of one line would hold them")
}
