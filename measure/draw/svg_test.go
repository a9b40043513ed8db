package draw_test

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
)

func TestSVGIsPlain(t *testing.T) {
	for name, d := range pictures(t) {
		s := svg(t, d)
		assert.Equal(t, s, svg(t, d), "%s: the same every time", name)
		requireLegible(t, s)
		all := marks(t, s)
		assert.Equal(t, "img", all[0].attrs["role"])
		assert.Equal(t, "100%", all[0].attrs["width"])
		assert.NotContains(t, all[0].attrs, "height", "as high as the width asks for")
		assert.Equal(t, "title", all[1].tag)
		assert.NotEmpty(t, all[1].text)
		assert.Equal(t, "desc", all[2].tag)
		assert.NotEmpty(t, all[2].text)
		for _, m := range all {
			assert.NotContains(t, m.attrs, "style")
			assert.NotContains(t, []string{"script", "style", "a", "image", "foreignObject"}, m.tag)
		}
	}
}

func TestSVGEscapesText(t *testing.T) {
	const nasty = `</text><script>alert(1)</script> & "x" 'y' ]]> ` + "\x00\x1b"
	d := oneLabel(nasty)
	s := svg(t, d)
	assert.NotContains(t, s, "<script")
	assert.NotContains(t, s, "\x00")
	all := marks(t, s)
	assert.Equal(t, `</text><script>alert(1)</script> & "x" 'y' ]]> `+"\uFFFD\uFFFD", all[3].text)
	assert.Equal(t, all[3].text, all[3].attrs["data-role"])
}

func oneLabel(text string) draw.Drawing {
	return draw.Drawing{
		Title: measure.Say("%s", text), Description: measure.Say("%s", text), Width: phone, Height: phone,
		Labels: []draw.Label{{Anchor: draw.Start, Size: 4 * measure.Millimetre, Text: measure.Say("%s", text), Role: text}},
	}
}

func FuzzSVG(f *testing.F) {
	for _, seed := range []string{"", "48 in", "<", `"><script>`, "&amp;", "\x00", "\xff\xfe", "½ × ′″", "]]>", "\n\t"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		all := marks(t, svg(t, oneLabel(text)))
		require.Len(t, all, 4, "svg, title, desc, text and nothing else")
		assert.Equal(t, "text", all[3].tag)
		assert.Equal(t, all[1].text, all[3].text)
	})
}

func TestSVGWritesNanometres(t *testing.T) {
	d := draw.Drawing{Width: phone, Height: phone, Lines: []draw.Line{{
		A: draw.Point{X: 1, Y: 1_500_000}, B: draw.Point{X: -2_000_001, Y: 3 * measure.Millimetre}, Style: draw.Thin,
	}}}
	s := svg(t, d)
	assert.Contains(t, s, `x1="0.000001" y1="1.5" x2="-2.000001" y2="3"`)
}

type brokenPipe struct{}

func (brokenPipe) Write([]byte) (int, error) { return 0, errors.New("gone") }

func TestSVGReportsAFailedWrite(t *testing.T) {
	assert.ErrorContains(t, draw.SVG(brokenPipe{}, pictures(t)["where-to-read-phone"], say), "gone")
}

func TestStorageIsLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := measure.Volume(rapid.Int64Range(1, int64(40*measure.Cord)).Draw(rt, "volume"))
		piece := measure.Length(rapid.Int64Range(int64(storage.MinPiece), int64(measure.MaxPieceLength)).Draw(rt, "piece"))
		width := rapid.SampledFrom([]measure.Length{phone, paper}).Draw(rt, "width")
		requireLegible(t, svg(t, draw.Storage(plan(t, v, piece), width)))
	})
}

func TestStorageIsToScale(t *testing.T) {
	p := plan(t, measure.Cord, 16*measure.Inch)
	d := draw.Storage(p, phone)
	person := false
	for _, a := range d.Polygons {
		if a.Role == "person" {
			person = true
			low, high := a.Points[0].Y, a.Points[0].Y
			for _, at := range a.Points {
				low, high = min(low, at.Y), max(high, at.Y)
			}
			assert.InEpsilon(t, (68 * measure.Inch).In(measure.Millimetre), (high-low).In(measure.Millimetre)*float64(d.Scale)/1000, 1e-5, "5 ft 8 in")
		}
		if a.Role == "row" && a.Row == 0 {
			assert.InEpsilon(t, p.Height.In(measure.Millimetre), (a.Points[2].Y-a.Points[0].Y).In(measure.Millimetre)*float64(d.Scale)/1000, 1e-5)
			assert.InEpsilon(t, p.RowLength.In(measure.Millimetre), (a.Points[2].X-a.Points[0].X).In(measure.Millimetre)*float64(d.Scale)/1000, 1e-5)
		}
	}
	assert.True(t, person, "there is room for a person beside a cord")
	assert.Zero(t, draw.Storage(storage.Plan{}, phone))
}

// A person taller than the stack stands on the ground that its runners stand on, below
// the name of the view.
func TestStorageStandsOnOneGround(t *testing.T) {
	low := plan(t, measure.Cord, 16*measure.Inch)
	low.Height = 2 * measure.Foot
	for _, p := range []storage.Plan{plan(t, measure.Cord, 16*measure.Inch), low} {
		d := draw.Storage(p, phone)
		foot, head := map[string]measure.Length{}, map[string]measure.Length{}
		for _, a := range d.Polygons {
			for _, at := range a.Points {
				if old, ok := head[a.Role]; !ok || at.Y < old {
					head[a.Role] = at.Y
				}
				foot[a.Role] = max(foot[a.Role], at.Y)
			}
		}
		require.Contains(t, foot, "person")
		onPaper := func(l measure.Length) float64 { return l.In(measure.Millimetre) * 1000 / float64(d.Scale) }
		assert.InDelta(t, onPaper(p.OffGround), (foot["person"] - foot["row"]).In(measure.Millimetre), 0.01, "the runners are between")
		name := d.Labels[slices.IndexFunc(d.Labels, func(l draw.Label) bool { return l.Text.Key == "From the front" })]
		assert.Greater(t, head["person"], name.At.Y)
		assert.Less(t, foot["person"], d.Height)
	}
}

func TestWhereToReadShowsEachReading(t *testing.T) {
	for _, width := range []measure.Length{0, phone, paper} {
		d := draw.WhereToRead(width)
		requireLegible(t, svg(t, d))
		stations := 0
		for _, l := range d.Lines {
			if l.Role == "station" {
				stations++
			}
		}
		assert.Equal(t, 5, stations)
	}
	var b bytes.Buffer
	require.NoError(t, draw.SVG(&b, draw.WhereToRead(phone), say))
	for _, role := range []string{"straightedge", "row length", "piece length", "base", "ground"} {
		assert.True(t, strings.Contains(b.String(), `data-role="`+role+`"`), "shows %s", role)
	}
}
