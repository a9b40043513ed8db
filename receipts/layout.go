package receipts

import (
	"strings"

	"wellstowed/orders"
)

// A paper reads as a list of blocks on a grid of twelve columns. Every block begins where
// the last one ended; what has to stay on one page says so.

const (
	gridColumns = 12
	gutter      = 4.0
)

// A block is a part of a paper: it paints itself from the paper's y down, over the column
// that the paper is in, and leaves y below it.
type block func()

// lay paints blocks one under another.
func (w *paper) lay(blocks ...block) {
	for _, b := range blocks {
		b()
	}
}

// high is how high blocks are together, in millimetres; nothing is painted.
func (w *paper) high(blocks ...block) float64 {
	dry, y := w.dry, w.y
	w.dry = true
	w.lay(blocks...)
	h := w.y - y
	w.dry, w.y = dry, y
	return h
}

// together keeps blocks on one page where a page holds them.
func (w *paper) together(blocks ...block) block {
	return func() {
		if !w.dry && !w.whole {
			if h := w.high(blocks...); h <= w.bottom()-marginTop {
				w.need(h)
			}
		}
		w.lay(blocks...)
	}
}

// section is a heading with blocks under it, the first on the page of the heading.
func (w *paper) section(name string, first block, more ...block) block {
	return func() {
		w.lay(w.together(func() { w.heading(name, 0) }, first))
		w.lay(more...)
	}
}

// A span is a block over some of the twelve columns, the first and the last counted from 1.
type span struct {
	from, to int
	of       block
}

// spread is where columns of the grid begin and how wide they are together, within the
// column that the paper is in.
func (w *paper) spread(from, to int) (x, wide float64) {
	one := (w.inner() - (gridColumns-1)*gutter) / gridColumns
	return w.left() + float64(from-1)*(one+gutter), float64(to-from+1)*(one+gutter) - gutter
}

// beside paints blocks side by side on one page, and goes on below the highest.
func (w *paper) beside(spans ...span) block {
	return func() {
		high := 0.0
		for _, s := range spans {
			high = max(high, w.high(func() { w.within(s) }))
		}
		w.need(min(high, w.bottom()-marginTop))
		top := w.y
		for _, s := range spans {
			w.y = top
			w.within(s)
		}
		w.y = top + high
	}
}

// within paints a block into its columns; pages don't turn inside.
func (w *paper) within(s span) {
	x, wide, whole := w.x, w.wide, w.whole
	w.x, w.wide = w.spread(s.from, s.to)
	w.whole = true
	s.of()
	w.x, w.wide, w.whole = x, wide, whole
}

// atFoot paints a block so that it ends at the foot of the page.
func (w *paper) atFoot(b block) {
	h := w.high(b)
	w.need(h)
	if !w.dry {
		w.y = max(w.y, w.bottom()-h)
	}
	b()
}

// said is a block of one text.
func (w *paper) said(f face, text string) block { return func() { w.paragraph(f, text) } }

// A cell is a text of a table, held at the left of its column or at the right.
type cell struct {
	text  string
	right bool
}

// row is a line of a table whose columns take shares of the width, with a hairline below.
func (w *paper) row(f face, shares []float64, cells ...cell) {
	cols := make([]column, len(cells))
	x := w.left()
	for i, c := range cells {
		wide := w.inner() * shares[i]
		cols[i] = column{x: x, lines: w.lines(f, wide-3, c.text)}
		if c.right {
			cols[i] = column{x: x + wide, lines: w.lines(f, wide-1, c.text), right: true}
		}
		x += wide
	}
	w.columns(cols...)
	w.gap(0.4)
	w.rule(hairline)
	w.gap(0.3)
}

// A head is what every paper begins with: whose it is, which paper it is, its facts in a
// line, and under the heaviest rule the sides that it speaks of.
type head struct {
	from         *side  // whose paper it is; nil where it is nobody's of the two sides
	tax          string // the number that the tax office knows it by, as it is printed; may be empty
	kind, number string
	facts        []string
	sides        []side
}

// letterhead paints a head.
func (w *paper) letterhead(h head) {
	if h.from != nil {
		w.reach(h.from.party.Phone)
	}
	title := strings.TrimSpace(h.kind + " " + h.number)
	x, left := w.spread(1, 7)
	_, right := w.spread(8, gridColumns)
	facts := w.lines(noteFace(), right, w.filled(noteFace(), right, h.facts))
	from, which := w.lines(headFace(), left, title), facts
	if h.from != nil {
		from = append(w.lines(headFace(), left, h.from.party.Name), w.lines(noteFace(), left, w.inOneLine(noteFace(), left, h.from.party), h.tax)...)
		which = append(w.lines(headFace(), right, title), facts...)
	}
	w.columns(column{x: x, lines: from}, column{x: w.right(), lines: which, right: true})
	w.gap(1.4)
	w.rule(headLine)
	w.gap(1.4)
	wide := w.inner() / float64(max(1, len(h.sides)))
	cols := make([]column, len(h.sides))
	for i, s := range h.sides {
		cols[i] = column{x: w.left() + float64(i)*wide, lines: w.side(s, wide-gutter)}
	}
	w.columns(cols...)
}

// filled are facts one behind the other, as many on a line as there is room for.
func (w *paper) filled(f face, width float64, facts []string) string {
	var lines []string
	for _, fact := range facts {
		if fact == "" {
			continue
		}
		if n := len(lines); n > 0 && w.measure(f, lines[n-1]+" · "+fact) <= width {
			lines[n-1] += " · " + fact
			continue
		}
		lines = append(lines, fact)
	}
	return strings.Join(lines, "\n")
}

// inOneLine is an address and a phone number in one line, or one of each.
func (w *paper) inOneLine(f face, width float64, p orders.Party) string {
	return w.filled(f, width, []string{strings.ReplaceAll(p.Address, "\n", ", "), p.Phone})
}
