package receipts

import (
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// BlankTally paints a form for a clipboard: a picture of where to read what, and
// boxes for the readings of six rows. The same bytes each time.
func (p *Painter) BlankTally(language string, paper orders.Paper, units act.Units) ([]byte, error) {
	w := p.paper(setup{title: measure.Say("Tally form"), paper: paper, units: units, language: language})
	w.formHead()
	w.formPicture()
	w.formSale()
	w.formPieces()
	w.formRows()
	w.formReader()
	return w.bytes()
}

func (w *paper) formHead() {
	w.at(w.left(), w.y+6, headFace(), w.print.Heading("Tally form"))
	w.at(w.left()+44, w.y+6, noteFace(), w.print.FormUnits())
	w.writeOn(w.right()-62, w.y+6, 62, "Receipt or order number")
	w.y += 11
}

// formPicture shows where to read, beside how to go about it.
func (w *paper) formPicture() {
	half := w.inner() / 2
	d := draw.WhereToRead(onPaper(half))
	w.heading(w.print.Say(d.Title), mm(d.Height))
	top := w.y
	w.drawing(d, w.left(), top)
	w.gap(2)
	for i, step := range w.print.FormSteps() {
		w.gap(1.2)
		w.at(w.left()+half+3, w.y+mainFace().lead()*0.76, boldFace(), strconv.Itoa(i+1))
		w.block(w.left()+half+9, half-9, mainFace(), step)
	}
	w.y = max(w.y, top+mm(d.Height))
}

// formSale are the boxes for what was sold and how it is read.
func (w *paper) formSale() {
	w.heading(w.print.Heading("Before reading"), 26)
	w.gap(1)
	w.boxes(11, box{"Sold (as said)", 0.3, nil}, box{"Not in the stack (none, or how much)", 0.4, nil}, box{"Check number", 0.3, []string{"1", "2", "3"}})
	w.boxes(11,
		box{"Smallest mark of the tape", 0.23, nil}, box{"Raised (below the wood)", 0.23, nil},
		box{"Top of the wood", 0.32, []string{"straightedge", "by eye"}}, box{"Stowing", 0.22, []string{"checked"}})
	w.boxes(11,
		box{"Between two marks", 0.34, []string{"nearest mark", "mark below"}}, box{"The tape is made of", 0.22, []string{"steel", "cloth"}},
		box{"Gaps a test stick goes into", 0.22, nil}, box{"Among how many pieces", 0.22, nil})
}

// A box is to be filled in by hand: a name, its share of the width, and choices
// to tick where there are some.
type box struct {
	name    string
	share   float64
	choices []string
}

func (w *paper) boxes(height float64, boxes ...box) {
	x := w.left()
	for _, b := range boxes {
		width := b.share * w.inner()
		w.frame(x, w.y, width, height, hairline)
		name := w.print.Heading(b.name)
		w.at(x+1.2, w.y+3.6, w.shrink(noteFace(), name, width-2), name)
		at := x + 1.8
		for _, choice := range b.choices {
			at = w.tickBox(at, w.y+height-2.4, w.print.Heading(choice)) + 4
		}
		x += width
	}
	w.y += height
}

// tickBox is a small square before a word; it returns where the word ends.
func (w *paper) tickBox(x, y float64, word string) float64 {
	w.frame(x, y-3.2, 3.6, 3.6, ruleLine)
	w.at(x+5, y, mainFace(), word)
	return x + 5 + w.measure(mainFace(), word)
}

func (w *paper) formPieces() {
	w.heading(w.print.Heading("Ten pieces from all over, centre to centre of the cut ends"), 10)
	w.gap(1)
	boxes := make([]box, 10)
	for i := range boxes {
		boxes[i] = box{strconv.Itoa(i + 1), 0.1, nil}
	}
	w.boxes(10, boxes...)
}

const formRowCount, formStations = 6, 10

// formRows is the table of rows.
func (w *paper) formRows() {
	w.heading(w.print.Heading("Rows: heights at the middle of equal parts, from the underside of the lowest piece"), 50)
	w.gap(1)
	const station, head, below = 0.066, 4.6, 32.0
	rowHeight := min((w.bottom()-w.y-head-below)/formRowCount, 15)
	cells := []box{{"Row", 0.05, nil}, {"Length", 0.1, nil}}
	for i := range formStations {
		cells = append(cells, box{strconv.Itoa(i + 1), station, nil})
	}
	cells = append(cells, box{"Ends, gaps", 1 - 0.15 - station*formStations, nil})
	w.boxes(head, cells...)
	for n := 1; n <= formRowCount; n++ {
		row := make([]box, len(cells))
		for i, c := range cells {
			row[i] = box{"", c.share, nil}
		}
		y := w.y
		w.boxes(rowHeight, row...)
		w.middleAt(w.left()+0.025*w.inner(), y+rowHeight/2+1.4, boldFace(), strconv.Itoa(n))
	}
	w.gap(0.6)
	w.block(w.left(), w.inner(), noteFace(), w.print.FormEnds())
}

// formReader is who read, and when.
func (w *paper) formReader() {
	w.heading(w.print.Heading("Who reads"), 16)
	w.gap(1)
	y := w.y
	x := w.left()
	for _, who := range []stack.Party{stack.Seller, stack.Buyer, stack.Inspector} {
		x = w.tickBox(x, y+4.5, w.print.Party(who)) + 6
	}
	w.writeOn(w.left(), y+13, 70, "Printed name")
	w.writeOn(w.left()+76, y+13, 58, "Signature")
	w.writeOn(w.left()+140, y+13, w.inner()-140, "Day and time")
	w.y += 17
}
