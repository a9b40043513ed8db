package stack

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// Readings that are asked about before anything is said: practice, no source.
const (
	muchMore   = 2.0               // the volume, of what was sold
	muchLess   = 0.4               // the same
	longRow    = 40 * measure.Foot // and longer
	shortRow   = 2 * measure.Foot  // and shorter
	highRow    = 8 * measure.Foot  // and higher
	longPiece  = 4 * measure.Foot  // and longer
	lowRow     = 10 * measure.Inch // every height lower
	strayFrom  = 4 * measure.Inch  // one reading so far from the others,
	straySigns = 5.0               // and so many of their spreads
)

// An asker gathers the questions about a tally’s readings.
type asker struct {
	tally *Tally
	asked []Question
}

// questions are asked about readings that are hardly meant as they stand, and about a
// volume that is far from what was sold.
func questions(t *Tally, r *Result) []Question {
	a := asker{tally: t}
	a.askVolume(r)
	if s, ok := t.Stack.(interface{ ask(asker) asker }); ok {
		a = s.ask(a)
	}
	return a.asked
}

// A place is where a reading stands in the document; its path is made only where
// something is asked.
type place struct {
	path  string // of a field, or of a list of which each has one
	list  int    // from 0; −1: there is no such list
	field string
	at    int // in the field’s list, from 0; −1: it is none
}

func placeOf(path string) place { return place{path: path, list: -1, at: -1} }

func (p place) nth(i int) place { p.at = i; return p }

func (p place) String() string {
	path := p.path
	if p.list >= 0 {
		path = strict.Item(path, p.list)
	}
	if p.field != "" {
		path = strict.Member(path, p.field)
	}
	if p.at >= 0 {
		path = strict.Item(path, p.at)
	}
	return path
}

// ask puts a question with its key; it is answered where the tally has the key.
func (a *asker) ask(code string, where place, text measure.Text, reading measure.Length, key string) {
	field := where.String()
	q := Question{Code: code, Field: field, Key: code + " " + field + " " + key, Text: text, Reading: reading}
	for _, confirmed := range a.tally.Confirmed {
		q.Confirmed = q.Confirmed || confirmed == q.Key
	}
	a.asked = append(a.asked, q)
}

// askVolume asks about a volume that is far from what was sold, or from what that is
// expected to come to.
func (a *asker) askVolume(r *Result) {
	f := r.Finding
	if f == nil {
		return
	}
	v, low, high := r.Quantity.Volume, float64(f.Due), float64(f.Sold.Volume)
	if f.Expectation() {
		low, high = float64(f.ExpectedLow), max(float64(f.ExpectedHigh), float64(f.ExpectedLow))
	}
	switch {
	case float64(v) > muchMore*high:
		a.ask("volume-above", placeOf("stack"), measure.Say("%s was measured, and %s was sold. Are all the readings in the unit you mean?", r.Quantity, f.Sold), 0, v.String())
	case float64(v) < muchLess*low:
		a.ask("volume-below", placeOf("stack"), measure.Say("Only %s was measured, and %s was sold. Is all of it in this tally, every reading in the unit you mean?", r.Quantity, f.Sold), 0, v.String())
	}
}

// other is what a reading would be, its number taken in the other unit: feet for inches
// and inches for feet, metres for centimetres and centimetres for metres.
func (a *asker) other(l measure.Length, larger bool) measure.Length {
	times := measure.Length(12)
	if a.tally.Tape%measure.Millimetre == 0 {
		times = 100
	}
	if larger {
		return l * times
	}
	return l / times
}

// askReading asks about one reading; key has %s for it and %s for what it would be.
func (a *asker) askReading(code string, where place, l measure.Length, larger bool, key string, args ...any) {
	other := a.other(l, larger)
	a.ask(code, where, measure.Say(key, append(args, l, other)...), l, l.String())
	a.asked[len(a.asked)-1].InOther = other
}

func (s Rows) ask(a asker) asker {
	for i := range s.Rows {
		r := &s.Rows[i]
		row := func(field string) place { return place{"stack.rows", i, field, -1} }
		a.askLong(row("length"), r.Length, i+1)
		if r.Photo == nil {
			a.askHeights(row("heights"), r.Heights, "row", i+1)
		}
		a.askHeights(row("back"), r.Back, "back of row", i+1)
		a.askPieces(row("pieces"), r.Pieces)
	}
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}

// askLong asks about a row that is very long, or very short.
func (a *asker) askLong(where place, l measure.Length, row int) {
	const key = "Row %d is %s long. Is that right? In the other unit it would be %s."
	switch {
	case l > longRow:
		a.askReading("row-long", where, l, false, key, row)
	case l < shortRow:
		a.askReading("row-short", where, l, true, key, row)
	}
}

// askHeights asks about heights that are very high, that are all very low, and about one
// that is far from the others. of is what they are heights of, with its number.
func (a *asker) askHeights(where place, heights []measure.Length, of string, number int) {
	low := len(heights) > 0
	for i, h := range heights {
		low = low && h < lowRow
		if h > highRow {
			a.askReading("row-high", where.nth(i), h, false, "Height %d of %s %d is %s. Is that right? In the other unit it would be %s.", i+1, measure.Say(of), number)
		}
	}
	if low {
		a.askReading("all-low", where.nth(0), heights[0], true, "Every height of %s %d is low, the first %s. Is that right? In the other unit it would be %s.", measure.Say(of), number)
		return
	}
	a.askStray(where, heights, "Height %d of %s %d", of, number)
}

// askPieces asks about pieces that are very long, and about one far from the others.
func (a *asker) askPieces(where place, p Pieces) {
	for i, l := range p.Sample {
		if l > longPiece {
			a.askReading("piece-long", where.nth(i), l, false, "Piece %d is %s long. Is that right? In the other unit it would be %s.", i+1)
		}
	}
	a.askStray(where, p.Sample, "Piece %d", "", 0)
}

// askStray asks about readings that lie far from the others: further than 4 in and
// than five of their spreads. name has %d for the reading's number, and of with its
// number behind it where they are of something.
func (a *asker) askStray(where place, ls []measure.Length, name, of string, number int) {
	if len(ls) < 3 {
		return
	}
	for i, l := range ls {
		mean, spread := others(ls, i)
		far := math.Abs(inches(l) - mean)
		if far <= inches(strayFrom) || far <= straySigns*spread {
			continue
		}
		about, named := OfInches(math.Round(mean)), measure.Say(name, i+1)
		if of != "" {
			named.Args = append(named.Args, measure.Say(of), number)
		}
		a.ask("stray", where.nth(i), measure.Say("%s is %s, where the others are about %s. Is that right?", named, l, about), l, l.String())
		if near := a.nearer(l, mean); near > 0 {
			q := &a.asked[len(a.asked)-1]
			q.InOther = near
			q.Text = measure.Say("%s is %s, where the others are about %s. Is that right? In the other unit it would be %s.", named, l, about, near)
		}
	}
}

// others gives the mean and spread of all readings but one, in inches.
func others(ls []measure.Length, but int) (mean, spread float64) {
	n := float64(len(ls) - 1)
	var sum, squares float64
	for i, l := range ls {
		if i != but {
			sum += inches(l)
		}
	}
	mean = sum / n
	for i, l := range ls {
		if i != but {
			squares += (inches(l) - mean) * (inches(l) - mean)
		}
	}
	return mean, math.Sqrt(squares / max(n-1, 1))
}

// nearer is what a reading would be in the other unit, or in the other measure, where
// that is about what the others are; else 0.
func (a *asker) nearer(l measure.Length, mean float64) measure.Length {
	for _, other := range [...]measure.Length{a.other(l, true), a.other(l, false), l * 100 / 254, l * 254 / 100} {
		if math.Abs(inches(other)-mean) <= mean/10 {
			return other
		}
	}
	return 0
}

func (s Bin) ask(a asker) asker {
	a.askBox("stack", &s.Box)
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}

func (s Load) ask(a asker) asker {
	if s.Calibrated != nil {
		a.askBox("stack.calibrated.box", &s.Calibrated.Box)
	} else {
		a.askBox("stack", &s.Box)
	}
	for i, line := range s.Grid {
		a.askHeights(place{"stack.grid", i, "", -1}, line, "line", i+1)
	}
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}

// askBox asks about the inside of a box.
func (a *asker) askBox(path string, x *Box) {
	if !x.given() {
		return
	}
	of := func(field string) place { return place{path, -1, field, -1} }
	a.askSide(of("length"), x.Length, "The inside length is %s. Is that right? In the other unit it would be %s.")
	a.askSide(of("width"), x.Width, "The inside width is %s. Is that right? In the other unit it would be %s.")
	a.askHeights(of("heights"), x.Heights, "side", 1)
}

// askSide asks about a side longer than any row; a short one may be a crate's.
func (a *asker) askSide(where place, l measure.Length, key string) {
	if l > longRow {
		a.askReading("row-long", where, l, false, key)
	}
}

func (s Heap) ask(a asker) asker {
	a.askSide(placeOf("stack.length"), s.Length, "The heap is %s long. Is that right? In the other unit it would be %s.")
	a.askSide(placeOf("stack.width"), s.Width, "The heap is %s wide. Is that right? In the other unit it would be %s.")
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}

func (s Round) ask(a asker) asker {
	for i, d := range s.Diameters {
		a.askSide(placeOf("stack.diameters").nth(i), d, "The round stack is %s across. Is that right? In the other unit it would be %s.")
	}
	a.askHeights(placeOf("stack.heights"), s.Heights, "wall", 1)
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}

func (s Packaged) ask(a asker) asker {
	a.askPieces(placeOf("stack.pieces"), s.Pieces)
	return a
}
