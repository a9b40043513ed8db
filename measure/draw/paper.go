package draw

import (
	"fmt"
	"unicode/utf8"

	"wellstowed/measure"
)

// Measures of every drawing, on paper.
const (
	margin   = 4 * measure.Millimetre
	typeSize = 3_400_000 * measure.Nanometre // 9.6 pt
	minWidth = 80 * measure.Millimetre
	maxWidth = 1_000 * measure.Millimetre
)

// runeWidth is the width allowed for a character, in hundredths of the type size:
// common sans-serif faces need less.
const runeWidth = 58

// leastRows is the least width of rows on paper, where they stand side by side.
const leastRows = 56 * measure.Millimetre

// paperWidth keeps a width within what the drawings are laid out for.
func paperWidth(width measure.Length) measure.Length {
	return min(max(width, minWidth), maxWidth)
}

// scaled is a real length on paper, rounded to the nanometre. scale is real
// length per length on paper, in thousandths.
func scaled(l measure.Length, scale int64) measure.Length {
	n := int64(l) * 1000
	if n < 0 {
		return -measure.Length((-2*n + scale) / (2 * scale))
	}
	return measure.Length((2*n + scale) / (2 * scale))
}

// scaleFor is the smallest scale that brings real within room, in thousandths;
// a scale of 1:10 or smaller is a whole one.
func scaleFor(real, room measure.Length) int64 {
	scale := (int64(real)*1000 + int64(room) - 1) / int64(room)
	if scale > 10_000 {
		scale = (scale + 999) / 1000 * 1000
	}
	return max(scale, 1)
}

// add puts a line on the drawing.
func (d *Drawing) add(a, b Point, style Style, role string) *Line {
	d.Lines = append(d.Lines, Line{A: a, B: b, Style: style, Role: role})
	return &d.Lines[len(d.Lines)-1]
}

// addArea puts an area on the drawing.
func (d *Drawing) addArea(points []Point, style Style, role string) *Polygon {
	d.Polygons = append(d.Polygons, Polygon{Points: points, Style: style, Role: role})
	return &d.Polygons[len(d.Polygons)-1]
}

// write puts a label on the drawing, moved sideways where it would run off it.
func (d *Drawing) write(at Point, anchor Anchor, text measure.Text, role string) *Label {
	w := textWidth(text, typeSize)
	lo, hi := margin/2, d.Width-margin/2
	switch anchor {
	case Start:
		at.X = max(min(at.X, hi-w), lo)
	case Middle:
		at.X = max(min(at.X, hi-w/2), lo+w/2)
	case End:
		at.X = min(max(at.X, lo+w), hi)
	}
	d.Labels = append(d.Labels, Label{At: at, Anchor: anchor, Size: typeSize, Text: text, Role: role})
	return &d.Labels[len(d.Labels)-1]
}

// oneLine gives the whole text where it fits across the drawing, else its parts.
func (d *Drawing) oneLine(whole measure.Text, parts ...measure.Text) []measure.Text {
	if textWidth(whole, typeSize) <= d.Width-margin*3/2 {
		return []measure.Text{whole}
	}
	return parts
}

// rect is a box from its top left to its bottom right corner.
func rect(x0, y0, x1, y1 measure.Length) []Point {
	return []Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// textWidth is the room a text is given, whatever the reader's units.
func textWidth(t measure.Text, size measure.Length) measure.Length {
	n := utf8.RuneCountInString(widest(t))
	return measure.Length(n) * size * runeWidth / 100
}

// widest fills a text with arguments as long as they are likely to be worded.
func widest(t measure.Text) string {
	if len(t.Args) == 0 {
		return t.Key
	}
	args := make([]any, len(t.Args))
	for i, arg := range t.Args {
		switch v := arg.(type) {
		case measure.Length:
			args[i] = widestLength(v)
		case measure.Volume:
			args[i] = widestVolume(v)
		case measure.Quantity:
			args[i] = fmt.Sprintf("%.2f cords (%s)", v.Volume.In(measure.Cord), widestVolume(v.Volume))
		case measure.Text:
			args[i] = widest(v)
		default:
			args[i] = arg
		}
	}
	return fmt.Sprintf(t.Key, args...)
}

// widestVolume leaves room for commas between thousands.
func widestVolume(v measure.Volume) string {
	return fmt.Sprintf("%.1f  ft³", v.In(measure.CubicFoot))
}

// widestLength is the longest likely wording of a length: inches in eighths below
// six feet, then feet and inches, or the metric.
func widestLength(l measure.Length) string {
	feet, inches := l/measure.Foot, l/measure.Inch
	part := ""
	if l%measure.Inch != 0 {
		part = " 7/8"
	}
	switch {
	case l < 6*measure.Foot:
		return fmt.Sprintf("%*d%s in", max(2, 5-len(part)), inches, part) // "121.9 cm"
	case l%measure.Foot == 0:
		return fmt.Sprintf("%d ft  ", feet)
	}
	return fmt.Sprintf("%d ft %d%s in", feet, inches%12, part)
}
