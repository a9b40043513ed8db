package receipts

import (
	"bytes"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// A penned line is one that a paper draws level or upright, in points from the lower
// left, from its lower or left end.
type penned struct {
	page         int
	x, y, to, up float64 // it ends at to, up
}

// A framed box is one that a paper draws, in points from the lower left.
type framed struct {
	page              int
	x, y, right, high float64 // high is its upper edge
}

var (
	lineDrawn = regexp.MustCompile(`^(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S$`)
	boxDrawn  = regexp.MustCompile(`^(-?[\d.]+) (-?[\d.]+) (-?[\d.]+) (-?[\d.]+) re S$`)
)

// readPen reads back the lines and boxes of a paper that was painted plain.
func readPen(t *testing.T, pdf []byte) (lines []penned, boxes []framed) {
	t.Helper()
	for n, content := range pageStreams(t, pdf) {
		for line := range bytes.SplitSeq(content, []byte("\n")) {
			if m := lineDrawn.FindSubmatch(line); m != nil {
				a, b, c, d := points(t, m[1]), points(t, m[2]), points(t, m[3]), points(t, m[4])
				if a == c || b == d {
					lines = append(lines, penned{n, min(a, c), min(b, d), max(a, c), max(b, d)})
				}
			}
			if m := boxDrawn.FindSubmatch(line); m != nil {
				x, y, wide, high := points(t, m[1]), points(t, m[2]), points(t, m[3]), points(t, m[4])
				boxes = append(boxes, framed{n, x, min(y, y+high), x + wide, max(y, y+high)})
			}
		}
	}
	return lines, boxes
}

// pageStreams are what a PDF paints, page by page.
func pageStreams(t *testing.T, pdf []byte) (streams [][]byte) {
	t.Helper()
	order := kids.FindSubmatch(pdf)
	require.NotNil(t, order)
	object := func(number []byte) []byte {
		_, from, found := bytes.Cut(pdf, append(append([]byte("\n"), number...), []byte(" 0 obj\n")...))
		require.True(t, found, "object %s", number)
		inside, _, _ := bytes.Cut(from, []byte("\nendobj"))
		return inside
	}
	for _, page := range reference.FindAllSubmatch(order[1], -1) {
		streams = append(streams, object(contents.FindSubmatch(object(page[1]))[1]))
	}
	return streams
}

// requireLaidOut holds what whoever reads a paper relies on without thinking of it: lines
// of text have room between them, no line is drawn through a text, all is inside the
// margins, a heading is not the last thing on its page, and where somebody is to write
// there is room above the line and its name below it.
func requireLaidOut(t *testing.T, name string, p *Painter, pdf []byte) {
	t.Helper()
	texts := readPDF(t, p, pdf)
	lines, boxes := readPen(t, pdf)
	box := mediaBox.FindSubmatch(pdf)
	wide, high := points(t, box[1]), points(t, box[2])
	const mm = 72 / 25.4
	for i, a := range texts {
		where := fmt.Sprintf("%s, page %d: “%s”", name, a.page+1, a.text)
		require.GreaterOrEqual(t, a.x, marginLeft*mm-0.1, "%s begins in the margin", where)
		require.LessOrEqual(t, a.to, wide-marginRight*mm+0.6, "%s ends in the margin", where)
		require.LessOrEqual(t, a.y+a.size*0.5, high-marginTop*mm, "%s is above the margin", where)
		if a.y < marginBottom*mm-0.1 {
			require.InDelta(t, 8*mm, a.y, 0.1, "%s is below the margin and no footer", where)
		}
		for _, b := range texts[i+1:] {
			if a.page == b.page && a.x < b.to-1 && b.x < a.to-1 {
				require.GreaterOrEqual(t, math.Abs(a.y-b.y), 0.78*min(a.size, b.size), "%s and “%s” touch", where, b.text)
			}
		}
		for _, l := range lines {
			if l.page != a.page || l.to < a.x+0.5 || l.x > a.to-0.5 {
				continue
			}
			if math.Abs(l.x-a.x) < 0.5 && math.Abs(l.to-a.to) < 0.5 { // crossed out
				continue
			}
			through := l.up >= a.y+0.08*a.size && l.y <= a.y+0.5*a.size
			require.False(t, through, "%s has a line through it, from %.0f %.0f to %.0f %.0f", where, l.x, l.y, l.to, l.up)
		}
	}
	for _, b := range boxes {
		require.True(t, b.x >= marginLeft*mm-0.5 && b.right <= wide-marginRight*mm+0.5 && b.y >= marginBottom*mm-0.5, "%s: a box leaves the page", name)
		requireTicked(t, name, b, texts)
	}
	requireHeadingsLeadOn(t, name, texts)
	requireRoomToWrite(t, name, texts, lines)
}

// requireTicked holds that a small square stands before a word on its line.
func requireTicked(t *testing.T, name string, b framed, texts []painted) {
	t.Helper()
	const least, most = 8.5, 11.0 // points: 3 to 3.9 mm
	if wide, high := b.right-b.x, b.high-b.y; wide < least || wide > most || math.Abs(wide-high) > 0.1 {
		return
	}
	before := slices.ContainsFunc(texts, func(a painted) bool {
		return a.page == b.page && a.x > b.right+2 && a.x < b.right+8 && a.y > b.y-2 && a.y < b.y+5
	})
	require.True(t, before, "%s: the square at %.0f, %.0f stands before nothing", name, b.x, b.y)
	for _, a := range texts {
		near := a.page == b.page && a.x < b.right && a.to > b.x && a.y > b.y && a.y-0.22*a.size < b.high+1
		require.False(t, near, "%s: “%s” touches the square below it", name, a.text)
	}
}

// requireHeadingsLeadOn holds that below every heading something of its part is on the
// same page.
func requireHeadingsLeadOn(t *testing.T, name string, texts []painted) {
	t.Helper()
	for _, a := range texts {
		if a.size != labelFace().size || math.Abs(a.x-marginLeft*72/25.4) > 0.1 || a.text != strings.ToUpper(a.text) || a.text == strings.ToLower(a.text) {
			continue
		}
		on := slices.ContainsFunc(texts, func(b painted) bool { return b.page == a.page && b.y < a.y-4 && b.y > footersBelow })
		require.True(t, on, "%s: “%s” ends page %d", name, a.text, a.page+1)
	}
}

// requireRoomToWrite holds that the name of each line to write on is right below it, and
// that a hand has room above it.
func requireRoomToWrite(t *testing.T, name string, texts []painted, lines []penned) {
	t.Helper()
	const below, room = 12.0, 15.0 // points
	for _, a := range texts {
		if !slices.ContainsFunc([]string{"Printed name", "Signature", "Read by: ", "Seen by: ", "Day and time"}, func(s string) bool { return strings.HasPrefix(a.text, s) }) {
			continue
		}
		var on *penned
		for _, l := range lines {
			if l.page == a.page && l.y == l.up && math.Abs(l.x-a.x) < 0.1 && l.y > a.y+a.size*0.6 && l.y < a.y+below {
				on = &l
			}
		}
		require.NotNil(t, on, "%s: “%s” names no line to write on", name, a.text)
		require.GreaterOrEqual(t, on.to, a.to, "%s: the line of “%s” is shorter than its name", name, a.text)
		for _, b := range texts {
			over := b.page == a.page && b.x < on.to && b.to > on.x && b.y > on.y-1 && b.y < on.y+room
			require.False(t, over, "%s: “%s” leaves no room to write over “%s”", name, b.text, a.text)
		}
	}
}

// Every paper can be read: nothing touches, nothing is struck by a line, nothing leaves the
// margins, and there is room where somebody is to write.
func TestEveryPaperIsLaidOut(t *testing.T) {
	p := plainPainter(t)
	for title, pdf := range everyPaper(t, p) {
		requireLaidOut(t, title, p, pdf)
		requireFull(t, title, p, pdf)
	}
	for name, doc := range stacksMeasured() {
		pdf, err := p.Sheet(sampleSheet(t, orders.A4, doc))
		require.NoError(t, err)
		requireLaidOut(t, name, p, pdf)
	}
	ten := strings.TrimSuffix(strings.Repeat(`"48 1/2 in",`, cellsAcross), ",")
	pdf, err := p.Sheet(sampleSheet(t, orders.Letter, `{"format":2,"sold":"1 cord","stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"16 ft","heights":[`+ten+`]},{"length":"16 ft","heights":["48 in"]}]}}`))
	require.NoError(t, err)
	requireLaidOut(t, "ten stations", p, pdf)
	require.Len(t, beside(readPDF(t, p, pdf), matching(readPDF(t, p, pdf), `^192 in$`)[0]), 2+cellsAcross)
	many := strings.TrimSuffix(strings.Repeat(`{"length":"16 ft","heights":["48 in","47 in","46 in","45 in"]},`, stack.MaxRows), ",")
	pdf, err = p.Sheet(sampleSheet(t, orders.Letter, `{"format":2,"sold":"20 cords","stack":{"kind":"rows","nominal":"16 in","rows":[`+many+`]}}`))
	require.NoError(t, err)
	requireLaidOut(t, "many rows", p, pdf)
}
