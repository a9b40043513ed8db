package web

import (
	"fmt"
	"strings"

	"wellstowed/measure/stack"
	"wellstowed/orders/audits"
	"wellstowed/web/live"
)

// A readCount is how many readings of a kind the form holds, of those planned.
type readCount struct {
	Name        string
	Read, Asked int
}

// look counts what is typed and, of readings that are whole, names heights to look at
// again.
func (p *measurerPage) look(read *audits.Reading) {
	p.Counts = p.counted()
	if read == nil {
		return
	}
	p.Odd = live.OddHeights(p.Print, read.Tally)
	for _, q := range read.Questions {
		p.Odd = append(p.Odd, p.Print.Say(q.Text))
	}
}

func (p *measurerPage) counted() []readCount {
	if p.Kind != rowsKind {
		return nil
	}
	plan := p.View.Plan
	heights, backs, lengths := readCount{Name: p.T("heights")}, readCount{Name: p.T("heights of the back")}, readCount{Name: p.T("row lengths")}
	for r, row := range p.F.Rows {
		heights.add(row.Heights, plan.Stations)
		lengths.add(p.LengthsTyped(r), plan.Lengths)
		if p.BothFaces() {
			backs.add(p.backTyped(r), max(plan.Stations, typed(row.Heights)))
		}
	}
	pieces := readCount{Name: p.T("pieces")}
	pieces.add(p.F.Pieces, plan.Pieces)
	all := []readCount{heights, lengths, pieces}
	if p.BothFaces() {
		all = []readCount{heights, backs, lengths, pieces}
	}
	return all
}

func (c *readCount) add(cells []string, asked int) {
	c.Read += typed(cells)
	c.Asked += asked
}

func typed(cells []string) int {
	n := 0
	for _, cell := range cells {
		if strings.TrimSpace(cell) != "" {
			n++
		}
	}
	return n
}

// Running says in a few words how much is read.
func (p measurerPage) Running() string {
	if len(p.Counts) == 0 {
		return p.T("Not handed in yet")
	}
	parts := make([]string, len(p.Counts))
	for i, c := range p.Counts {
		parts[i] = p.T("%d of %d %s", c.Read, c.Asked, c.Name)
	}
	return strings.Join(parts, ", ")
}

func (p measurerPage) lengthPath(row, i int) string {
	if i == 0 {
		return fmt.Sprintf("stack.rows[%d].length", row)
	}
	return fmt.Sprintf("stack.rows[%d].lengths[%d]", row, i-1)
}

// cellsOf are the readings at paths of a row, as many as were typed and at least as many
// as are asked for.
func (p measurerPage) cellsOf(least, most int, path func(i int) string) []string {
	var cells []string
	for i := range most {
		value := p.K.Value(path(i))
		if i >= least && value == "" {
			break
		}
		cells = append(cells, value)
	}
	return cells
}

// LengthsTyped are the lengths of a row as typed, from the ground up.
func (p measurerPage) LengthsTyped(row int) []string {
	cells := p.cellsOf(max(p.View.Plan.Lengths, 1), stack.MaxLengths+1, func(i int) string { return p.lengthPath(row, i) })
	cells[0] = p.F.Rows[row].Length
	return cells
}

// backTyped are the heights of a row's back as typed, with room for one behind each of the
// front.
func (p measurerPage) backTyped(row int) []string {
	return p.cellsOf(len(p.F.Rows[row].Heights), stack.MaxStations+1, func(i int) string { return fmt.Sprintf("stack.rows[%d].back[%d]", row, i) })
}

// Lengths are the inputs of a row's lengths, from the ground up.
func (p measurerPage) Lengths(row int) []field {
	var cells []field
	for i, value := range p.LengthsTyped(row) {
		cell := p.Named(p.Reading(value, "%s", p.lengthPath(row, i)), p.T("Row %d, length %d", row+1, i+1))
		cells = append(cells, cell.Cell(p.Digits(i+1)))
	}
	return cells
}

// Behind are the inputs of the heights of a row's back, one for each of the front.
func (p measurerPage) Behind(row int) []field {
	var cells []field
	for i, value := range p.backTyped(row) {
		cells = append(cells, p.Reading(value, "stack.rows[%d].back[%d]", row, i).Cell(p.Digits(i+1)))
	}
	return cells
}

// ReadingBlocks are those of the kind, where how the top was judged can't be left open.
func (p measurerPage) ReadingBlocks() []formBlock {
	all := p.measurePage.ReadingBlocks()
	for i := range all {
		if all[i].Name == "top" {
			all[i].Hint = ""
		}
	}
	return all
}

// SlopeBlocks are how the ground along a row slopes.
func (p measurerPage) SlopeBlocks(row int) []formBlock {
	return p.rowBlocks(row, "stack.rows[].slope.heights", "stack.rows[].slope.rise", "stack.rows[].slope.run", "stack.rows[].slope.degrees")
}

// Uneven tells whether anything is said, or wrong, in the folded part of a row.
func (p measurerPage) Uneven(row int) bool {
	if p.F.Rows[row].Shaped() || p.Typed(p.SlopeBlocks(row)) {
		return true
	}
	for name := range p.wrong {
		for _, part := range []string{"ends", "voids", "positions", "slope"} {
			if strings.HasPrefix(name, fmt.Sprintf("stack.rows[%d].%s", row, part)) {
				return true
			}
		}
	}
	return false
}

// readBack is all that was read, as it was typed, with when and by which tape.
func (p measurerPage) readBack(tally stack.Tally) []readBack {
	var all []readBack
	add := func(name string, read ...string) {
		var some []string
		for _, r := range read {
			if r = strings.TrimSpace(r); r != "" {
				some = append(some, r)
			}
		}
		if len(some) > 0 {
			all = append(all, readBack{name, some})
		}
	}
	if p.Kind == rowsKind {
		for r, row := range p.F.Rows {
			add(p.T("Row %d, lengths", r+1), p.LengthsTyped(r)...)
			add(p.T("Row %d, front", r+1), row.Heights...)
			add(p.T("Row %d, back", r+1), p.backTyped(r)...)
		}
		add(p.T("Pieces"), p.F.Pieces...)
		add(p.Label("tape"), p.F.Tape)
		add(p.Label("top"), map[string]string{string(stack.Straightedge): p.T("with a straightedge"), string(stack.ByEye): p.T("by eye")}[p.F.Top])
		for _, b := range append(p.HabitBlocks(), p.StowingBlocks()...) {
			add(b.Label, b.said())
		}
	} else {
		for _, r := range p.Print.ForTape(tally.Tape).Readings(tally.Stack) {
			add(r.Name, r.Read...)
		}
	}
	add(p.T("Numbers without a unit"), p.UnitName())
	add(p.T("Read"), p.T("%s to %s", spaced(p.Told.Began), spaced(p.Told.Ended)))
	add(p.T("Tape"), p.tapeLine())
	return all
}

// said is what was typed or chosen in a block; empty where nothing was.
func (b formBlock) said() string {
	for _, c := range b.Choices {
		if c.On && c.Value != "" {
			return c.Label
		}
	}
	return b.Value
}

func (p measurerPage) tapeLine() string {
	line := p.T("maker %s, number %s", p.Told.TapeMaker, p.Told.TapeNumber)
	if p.Told.TapeChecked == "yes" {
		return p.T("%s, checked %s against %s", line, p.Told.CheckedOn, p.Told.CheckedBy)
	}
	return p.T("%s, not checked", line)
}

func spaced(moment string) string { return strings.Replace(moment, "T", " ", 1) }
