package draw

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// ink gives the presentation attributes of a style. The colour is that of the
// text around the picture, so dark pages and black-and-white paper both work.
func (s Style) ink(area bool) string {
	fill := "none"
	if area && (s == Solid || s == Band) {
		fill = "currentColor"
	}
	attrs := `fill="` + fill + `" stroke="currentColor" stroke-width="` + s.weight() + `"`
	switch {
	case area && s == Band:
		attrs += ` fill-opacity="0.14"`
	case s == Light:
		attrs += ` stroke-opacity="0.55"`
	case s == Dashed:
		attrs += ` stroke-dasharray="1.5 1"`
	}
	return attrs
}

// weight is how thick a style's line is, in millimetres.
func (s Style) weight() string {
	switch s {
	case Thin, Empty:
		return "0.2"
	case Light:
		return "0.15"
	case Dashed, Band:
		return "0.3"
	}
	return "0.5"
}

// SVG writes d as one svg element, one unit of it a millimetre, as wide as its
// place allows. It uses presentation attributes only: no style, no script. Every
// text goes through say and is escaped. It fails only where w does.
func SVG(w io.Writer, d Drawing, say func(measure.Text) string) error {
	out := bufio.NewWriter(w)
	fmt.Fprintf(out, `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="img" width="100%%" viewBox="0 0 %s %s" data-scale="%d">`+"\n",
		mm(d.Width), mm(d.Height), d.Scale)
	fmt.Fprintf(out, "<title>%s</title>\n<desc>%s</desc>\n", escape(say(d.Title)), escape(say(d.Description)))
	if d.Piece > 0 {
		writeTile(out, d.Piece)
	}
	for _, p := range d.Polygons {
		writePolygon(out, p, d.Piece)
	}
	for _, l := range d.Lines {
		writeLine(out, l)
	}
	for _, l := range d.Labels {
		writeLabel(out, l, say(l.Text))
	}
	fmt.Fprint(out, "</svg>\n")
	return out.Flush()
}

// writeTile writes the texture of wood, once for a drawing. Drawings of pieces of one size
// have the same one, so that its name stands for the same wherever it is found.
func writeTile(w io.Writer, piece measure.Length) {
	t := WoodTile(piece)
	fmt.Fprintf(w, `<defs><pattern id="%s" patternUnits="userSpaceOnUse" width="%s" height="%s"><g fill="none" stroke="currentColor"><path class="d-grain" stroke-width="0.12" stroke-opacity="0.45" d="%s"/><path class="d-bark" stroke-width="0.22" stroke-opacity="0.75" d="%s"/></g></pattern></defs>`+"\n",
		tileName(piece), mm(t.Width), mm(t.Height), path(t.Grain), path(t.Bark))
}

func tileName(piece measure.Length) string { return "wood-" + strconv.FormatInt(int64(piece), 36) }

// path writes open lines one after the other, each point from the one before it.
func path(lines [][]Point) string {
	var b strings.Builder
	for _, line := range lines {
		b.WriteString("M" + mm(line[0].X) + " " + mm(line[0].Y) + "l")
		for i, p := range line[1:] {
			if i > 0 {
				b.WriteString(" ")
			}
			b.WriteString(mm(p.X-line[i].X) + " " + mm(p.Y-line[i].Y))
		}
	}
	return b.String()
}

// writeWood writes an area of wood with its holes.
func writeWood(w io.Writer, p Polygon, piece measure.Length) {
	var b strings.Builder
	for _, ring := range append([][]Point{p.Points}, p.Holes...) {
		for i, at := range ring {
			b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + mm(at.X) + " " + mm(at.Y))
		}
		b.WriteString("Z")
	}
	fmt.Fprintf(w, `<path d="%s" class="d-wood" fill="url(#%s)" fill-rule="evenodd" stroke="none"%s/>`+"\n", b.String(), tileName(piece), data(p.Role, p.Row, p.Index))
}

func writePolygon(w io.Writer, p Polygon, piece measure.Length) {
	if p.Style == Wood {
		writeWood(w, p, piece)
		return
	}
	points := make([]string, len(p.Points))
	for i, at := range p.Points {
		points[i] = mm(at.X) + "," + mm(at.Y)
	}
	fmt.Fprintf(w, `<polygon points="%s" class="d-%s" %s stroke-linejoin="round"%s/>`+"\n",
		strings.Join(points, " "), escape(string(p.Style)), p.Style.ink(true), data(p.Role, p.Row, p.Index))
}

func writeLine(w io.Writer, l Line) {
	fmt.Fprintf(w, `<line x1="%s" y1="%s" x2="%s" y2="%s" class="d-%s" %s stroke-linecap="round"%s/>`+"\n",
		mm(l.A.X), mm(l.A.Y), mm(l.B.X), mm(l.B.Y), escape(string(l.Style)), l.Style.ink(false), data(l.Role, l.Row, l.Index))
}

func writeLabel(w io.Writer, l Label, text string) {
	weight := ""
	if l.Bold {
		weight = ` font-weight="700"`
	}
	fmt.Fprintf(w, `<text x="%s" y="%s" font-size="%s"%s text-anchor="%s" class="d-label" fill="currentColor" font-family="system-ui, sans-serif"%s>%s</text>`+"\n",
		mm(l.At.X), mm(l.At.Y), mm(l.Size), weight, escape(string(l.Anchor)), data(l.Role, 0, 0), escape(text))
}

// data names what a mark stands for, for programs and tests.
func data(role string, row, index int) string {
	var b strings.Builder
	if role != "" {
		b.WriteString(` data-role="` + escape(role) + `"`)
	}
	if row > 0 {
		b.WriteString(` data-row="` + strconv.Itoa(row) + `"`)
	}
	if index > 0 {
		b.WriteString(` data-index="` + strconv.Itoa(index) + `"`)
	}
	return b.String()
}

// mm writes a length in millimetres, exactly.
func mm(l measure.Length) string {
	sign := ""
	if l < 0 {
		sign, l = "-", -l
	}
	whole, part := l/measure.Millimetre, l%measure.Millimetre
	if part == 0 {
		return sign + strconv.FormatInt(int64(whole), 10)
	}
	return sign + strings.TrimRight(fmt.Sprintf("%d.%06d", whole, part), "0")
}

// escape makes text safe between tags and in attributes.
func escape(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes every write
	return b.String()
}
