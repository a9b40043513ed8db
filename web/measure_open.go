package web

import (
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/web/form"
	"wellstowed/web/live"
)

// What the page's script says of a form that is being filled in: the row that isn't read
// to its end, how many heights it is to have, and how wide its drawing is shown.
const (
	openHeader   = "Wellstowed-Open"
	placesHeader = "Wellstowed-Places"
	widthHeader  = "Wellstowed-Width"
)

// shown is the width on paper of the drawings that the page shows; live.ReadingWidth where it
// doesn't say how wide they are.
func shown(c *fiber.Ctx) measure.Length {
	px, _ := strconv.Atoi(c.Get(widthHeader)) // 0 where that isn't a number
	return live.Shown(px)
}

// An openRow is what is said while a row is being read: no result before it ends.
type openRow struct {
	Row     int    // from 1
	Line    string // what is here so far
	Picture draw.Drawing
}

// openIn is the row that isn't read to its end, from 1; 0 where none is.
func (p measurePage) openIn(c *fiber.Ctx) int {
	n, err := strconv.Atoi(c.Get(openHeader))
	if err != nil || c.Get(partHeader) == "" || p.Kind != rowsKind || n < 1 || n > len(p.F.Rows) {
		return 0
	}
	return n
}

// readOn answers a form in which row n is being read: what the other rows hold, the row as
// far as it is read, and what is asked about its readings.
func (p *measurePage) readOn(c *fiber.Ctx, n int, try tried) {
	places, _ := strconv.Atoi(c.Get(placesHeader))
	row, fault := p.rowSoFar(n)
	p.Hand = &openRow{Row: n}
	all, result := p.measured(p.F.Rows[:n], try)
	p.ask(result)
	due := measure.Length(0)
	if rows, ok := all.Stack.(stack.Rows); ok && len(row.Heights) > 0 {
		// A height far above the wood is that of a stack whose other rows aren't read yet.
		if due = draw.DueHeight(rows, result); due > slices.Max(row.Heights)*5/4 {
			due = 0
		}
	}
	p.Hand.Picture = draw.RowInHand(row, min(places, stack.MaxStations), due, p.width)
	_, before := p.measured(p.F.Rows[:n-1], try)
	p.Hand.Line = fault
	if fault == "" {
		p.Hand.Line = p.hereSoFar(n-1, before)
	}
}

// rowSoFar is row n as far as its readings can be read, and what is wrong with the first
// that can't.
func (p measurePage) rowSoFar(n int) (stack.Row, string) {
	var row stack.Row
	var fault string
	length := func(typed string, most measure.Length) measure.Length {
		if strings.TrimSpace(typed) == "" || fault != "" {
			return 0
		}
		l, err := measure.ParseLength(string(stack.WithUnit(typed, string(p.UnitNow()))))
		switch {
		case err != nil:
			fault = p.T("Row %d: “%s” isn’t a length yet.", n, typed)
		case l > most:
			fault = p.T("Row %d: %s can’t be, up to %s can.", n, l, most)
		default:
			return l
		}
		return 0
	}
	typed := p.F.Rows[n-1]
	row.Length = length(typed.Length, stack.MaxRowLength)
	for _, h := range typed.Heights {
		if l := length(h, stack.MaxHeight); l > 0 {
			row.Heights = append(row.Heights, l)
		}
	}
	return row, fault
}

// measured measures some rows of the form as if they were all; where no piece is read
// yet, or what was sold stands in the way, without those. The zero Result where they
// can't be measured.
func (p measurePage) measured(rows []form.Row, try tried) (stack.Tally, stack.Result) {
	some := p
	some.F.Rows = slices.Clone(rows)
	if len(rows) == 0 {
		return stack.Tally{}, stack.Result{}
	}
	doc, faults, err := some.document()
	if err != nil || len(faults) > 0 {
		return stack.Tally{}, stack.Result{}
	}
	for _, tried := range [][]byte{doc, withoutSale(doc)} {
		if tally, result, err := try(tried); err == nil {
			return tally, result
		}
	}
	return stack.Tally{}, stack.Result{}
}

// hereSoFar says what the rows before the one in hand hold.
func (p measurePage) hereSoFar(rows int, r stack.Result) string {
	if rows == 0 || r.Quantity.Volume == 0 {
		return p.T("No result before the row is read")
	}
	share := p.Print.Volume(r.Quantity.Volume)
	if f := r.Finding; f != nil && !f.Expectation() {
		share = p.Print.Share(r.Quantity.Volume, f.Due, r.Quantity.Basis)
	}
	if rows == 1 {
		return p.T("Here so far: row 1, %s", share)
	}
	return p.T("Here so far: rows 1 to %d, %s", rows, share)
}
