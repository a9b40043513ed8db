package receipts

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// readings are the lengths as read, row by row.
func (w *paper) readings(t stack.Tally) {
	w.heading(w.print.Heading("Readings"), 5*mainFace().lead())
	w.readingsOf(t)
}

// readingsOf are readings without a heading of their own.
func (w *paper) readingsOf(t stack.Tally) {
	tape := w.print.ForTape(t.Tape)
	rows, ok := t.Stack.(stack.Rows)
	if !ok {
		for _, r := range tape.Readings(t.Stack) {
			w.reading(r)
		}
		return
	}
	w.pieces(tape, w.print.Heading("Piece length"), rows.Pieces)
	if inMatrix(rows) {
		w.matrix(tape, rows)
	} else {
		for i, row := range rows.Rows {
			w.rowRead(tape, i+1, row)
		}
	}
	if counted := tape.Window(rows.Window); counted != "" {
		w.paragraph(mainFace(), w.print.Field("Pieces counted", counted))
	}
}

// reading is one reading in a line, or several in a table.
func (w *paper) reading(r words.Readings) {
	if r.One() {
		w.paragraph(mainFace(), w.print.Field(r.Name, r.Read[0]))
		return
	}
	w.need(boldFace().lead()*2 + cellHeight)
	w.gap(1)
	w.paragraph(boldFace(), r.Name)
	w.cells(r.Read, nth)
}

// nth names a reading by its place in a list.
func nth(i int) string { return strconv.Itoa(i + 1) }

// inMatrix tells whether rows fit one table: few heights in each, and one length.
func inMatrix(rows stack.Rows) bool {
	for _, row := range rows.Rows {
		if len(row.Heights) > cellsAcross || len(row.Lengths) > 0 || row.Photo != nil || row.Beside != nil {
			return false
		}
	}
	return true
}

// matrix is the heights of all rows, row by row, each under the number of its station,
// and below it how the rows end.
func (w *paper) matrix(tape *words.Printer, rows stack.Rows) {
	stations := 0
	for _, row := range rows.Rows {
		stations = max(stations, len(row.Heights))
	}
	w.matrixLine(labelFace(), stations, w.print.Heading("Row"), w.print.Heading("Length"), nth)
	for i, row := range rows.Rows {
		line := func(f face, first, second string, read []measure.Length) {
			w.matrixLine(f, stations, first, second, func(i int) string {
				if i < len(read) {
					return tape.Reading(read[i])
				}
				return ""
			})
		}
		if len(row.Positions) > 0 {
			line(noteFace(), "", w.print.Heading("read at"), row.Positions)
		}
		line(mainFace(), nth(i), tape.Reading(row.Length), row.Heights)
		if len(row.Back) > 0 {
			line(mainFace(), "", w.print.Heading("back"), row.Back)
		}
		w.rule(hairline)
	}
	said := tape.RowShapes(rows.Rows)
	for i, row := range rows.Rows {
		if slope := tape.Slope(row.Slope); slope != "" {
			said = append(said, w.print.Field("Slope", slope))
		}
		if read := pieceLengths(tape, row.Pieces); read != "" {
			said = append(said, w.print.Field(w.print.Heading("Piece length of this row")+" "+nth(i), read))
		}
	}
	w.paragraph(noteFace(), w.filled(noteFace(), w.inner(), said))
}

// matrixLine is one line of the table of heights: what it is of, and a cell for each
// station.
func (w *paper) matrixLine(f face, stations int, first, second string, cell func(i int) string) {
	const name, long, high = 10.0, 22.0, 4.7
	width := min((w.inner()-name-long)/float64(stations), 22)
	w.need(high)
	w.y += high
	w.at(w.left(), w.y-1.4, f, first)
	w.rightAt(w.left()+name+long-3, w.y-1.4, f, second)
	for i := range stations {
		text := cell(i)
		w.rightAt(w.left()+name+long+float64(i+1)*width, w.y-1.4, w.shrink(f, text, width-1), text)
	}
}

// rowRead is the readings of one row.
func (w *paper) rowRead(tape *words.Printer, n int, row stack.Row) {
	w.need(boldFace().lead()*2 + cellHeight)
	w.gap(1)
	w.paragraph(boldFace(), tape.RowLine(n, row))
	if row.Photo != nil {
		w.fromPhoto(tape, row.Photo)
		w.pieces(tape, w.print.Heading("Piece length of this row"), row.Pieces)
		return
	}
	w.grid(tape, row.Heights, func(i int) string {
		if i < len(row.Positions) {
			return tape.At(row.Positions[i])
		}
		return nth(i)
	})
	if len(row.Back) > 0 {
		w.need(mainFace().lead() + cellHeight)
		w.paragraph(mainFace(), w.print.Heading("Heights of the back face"))
		w.grid(tape, row.Back, nth)
	}
	if slope := tape.Slope(row.Slope); slope != "" {
		w.paragraph(mainFace(), w.print.Field("Slope", slope))
	}
	if row.Beside != nil {
		w.paragraph(mainFace(), w.print.Heading("Read from a photo too"))
		w.fromPhoto(tape, row.Beside)
	}
	w.pieces(tape, w.print.Heading("Piece length of this row"), row.Pieces)
}

// fromPhoto is a face read from a photo: straightened, and all that was tapped.
func (w *paper) fromPhoto(tape *words.Printer, seen *stack.RowPhoto) {
	d := draw.Face(&seen.Face, 0, straightWide)
	high := mm(d.Height)
	w.need(high + 2)
	w.drawing(d, w.left(), w.y)
	w.y += high + 2
	for _, line := range tape.Photo(seen) {
		w.paragraph(noteFace(), line)
	}
}

// straightWide is how wide a face is drawn that a photo was straightened to.
const straightWide = 110 * measure.Millimetre

// pieces are a sample of pieces, or the length they were said to have.
func (w *paper) pieces(tape *words.Printer, name string, p stack.Pieces) {
	if read := pieceLengths(tape, p); read != "" {
		w.paragraph(mainFace(), w.print.Field(name, read))
	}
}

func pieceLengths(tape *words.Printer, p stack.Pieces) string {
	if len(p.Sample) == 0 && p.Nominal > 0 {
		return tape.Nominal(p.Nominal)
	}
	read := make([]string, len(p.Sample))
	for i, l := range p.Sample {
		read[i] = tape.Reading(l)
	}
	return strings.Join(read, "; ")
}

const (
	cellsAcross = 10
	cellHeight  = 9.0
	leastCell   = 17.0
)

// grid is a table of lengths as the tape shows them.
func (w *paper) grid(tape *words.Printer, read []measure.Length, name func(int) string) {
	texts := make([]string, len(read))
	for i, l := range read {
		texts[i] = tape.Reading(l)
	}
	w.cells(texts, name)
}

// cells are a table of readings, ten across a page, each under its number or its place.
func (w *paper) cells(read []string, name func(int) string) {
	across := min(cellsAcross, int(w.inner()/leastCell))
	width := w.inner() / float64(across)
	for from := 0; from < len(read); from += across {
		w.need(cellHeight)
		for i := from; i < min(from+across, len(read)); i++ {
			x := w.left() + float64(i-from)*width
			w.frame(x, w.y, width, cellHeight, hairline)
			small := w.shrink(noteFace(), name(i), width-2)
			w.at(x+1, w.y+3, small, name(i))
			text := read[i]
			w.rightAt(x+width-1, w.y+cellHeight-1.7, w.shrink(mainFace(), text, width-2), text)
		}
		w.y += cellHeight
	}
}
