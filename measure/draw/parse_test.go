package draw_test

import (
	"encoding/xml"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// A mark is one element of an SVG as a reader finds it.
type mark struct {
	tag   string
	attrs map[string]string
	text  string
}

// num is an attribute in millimetres.
func (m mark) num(t testing.TB, name string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(m.attrs[name], 64)
	require.NoError(t, err, "%s of %v", name, m)
	return v
}

// marks reads an SVG with a strict XML reader.
func marks(t testing.TB, s string) []mark {
	t.Helper()
	var found []mark
	var open []int
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		token, err := d.Token()
		if token == nil {
			require.ErrorContains(t, err, "EOF")
			return found
		}
		require.NoError(t, err)
		switch v := token.(type) {
		case xml.StartElement:
			m := mark{tag: v.Name.Local, attrs: map[string]string{}}
			for _, a := range v.Attr {
				m.attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(found))
			found = append(found, m)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				found[open[len(open)-1]].text += string(v)
			}
		}
	}
}

// A box is what a label covers, by 0.55 of its size a character.
type box struct {
	x0, y0, x1, y1 float64
	text           string
}

func boxOf(t testing.TB, m mark) box {
	size := m.num(t, "font-size")
	w := 0.55 * size * float64(utf8.RuneCountInString(m.text))
	x, y := m.num(t, "x"), m.num(t, "y")
	switch m.attrs["text-anchor"] {
	case "middle":
		x -= w / 2
	case "end":
		x -= w
	}
	return box{x, y - 0.75*size, x + w, y + 0.2*size, m.text}
}

func (a box) touches(b box) bool {
	return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

// requireLegible checks that everything lies on the drawing, that no label
// touches another, and that type is large enough to read on a phone.
func requireLegible(t testing.TB, s string) {
	t.Helper()
	all := marks(t, s)
	view := strings.Fields(all[0].attrs["viewBox"])
	w, _ := strconv.ParseFloat(view[2], 64)
	h, _ := strconv.ParseFloat(view[3], 64)
	inside := func(x, y float64, what any) {
		if x < 0 || y < 0 || x > w || y > h {
			t.Fatalf("%v,%v is off the drawing of %v × %v: %v", x, y, w, h, what)
		}
	}
	var boxes []box
	for _, m := range all {
		switch m.tag {
		case "line":
			inside(m.num(t, "x1"), m.num(t, "y1"), m)
			inside(m.num(t, "x2"), m.num(t, "y2"), m)
		case "polygon":
			for _, p := range points(t, m) {
				inside(p[0], p[1], m)
			}
		case "text":
			require.GreaterOrEqual(t, m.num(t, "font-size"), 3.2)
			b := boxOf(t, m)
			inside(b.x0, b.y0, b.text)
			inside(b.x1, b.y1, b.text)
			for _, o := range boxes {
				if b.touches(o) {
					t.Fatalf("label %q touches %q", b.text, o.text)
				}
			}
			boxes = append(boxes, b)
		}
	}
}

func points(t testing.TB, m mark) [][2]float64 {
	var ps [][2]float64
	for pair := range strings.FieldsSeq(m.attrs["points"]) {
		x, y, ok := strings.Cut(pair, ",")
		require.True(t, ok)
		px, err := strconv.ParseFloat(x, 64)
		require.NoError(t, err)
		py, err := strconv.ParseFloat(y, 64)
		require.NoError(t, err)
		ps = append(ps, [2]float64{px, py})
	}
	return ps
}
