package live

import (
	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
	"wellstowed/web/form"
)

// A Face is a row as far as it is tapped in its photo: straightened, and what it holds.
type Face struct {
	Row     int // from 1
	Picture draw.Drawing
	Line    string
}

// A Whole is what all rows of a stack come to; its Rows are empty where they can't be
// measured yet.
type Whole struct {
	Rows   stack.Rows
	Result stack.Result
}

// WholeOf is a tally and its result, for the face of one of its rows.
func WholeOf(t stack.Tally, r stack.Result) Whole {
	rows, _ := t.Stack.(stack.Rows)
	return Whole{rows, r}
}

// FaceOf is row n of a form, from 1, as its photo shows it; of no size where it isn't tapped
// yet, or can't be. parse reads a tally as the page does.
func FaceOf(print *words.Printer, f form.Tally, n int, whole Whole, width measure.Length, parse func([]byte) (stack.Tally, error)) Face {
	said := Face{Row: n}
	if n < 1 || n > len(f.Rows) || !f.Rows[n-1].Photo.Taken() {
		return said
	}
	measured := len(f.Pieces) > 0 && f.Pieces[0] != "" || f.Nominal != ""
	alone := form.Tally{Unit: f.Unit, Tape: f.Tape, Top: f.Top, Stowed: f.Stowed, Pieces: f.Pieces, Nominal: f.Nominal, Rows: []form.Row{{Photo: f.Rows[n-1].Photo}}}
	if !measured {
		alone.Nominal = "16 in" // any will do for the face
	}
	doc, err := alone.Document()
	if err != nil {
		return said
	}
	tally, err := parse(doc)
	rows, ok := tally.Stack.(stack.Rows)
	if err != nil || !ok || len(rows.Rows) != 1 || rows.Rows[0].Photo == nil {
		return said
	}
	result, err := stack.Measure(tally)
	if err != nil {
		return said
	}
	seen := &rows.Rows[0].Photo.Face
	due := draw.DueHeight(whole.Rows, whole.Result)
	said.Picture = draw.Face(seen, due, width)
	switch {
	case !measured:
		said.Line = print.Say(measure.Say("A face of %s; how much wood that is, the lengths of its pieces tell.", print.SquareFeet(seen.Area)))
	case due > 0:
		share := measure.Volume(float64(result.Quantity.Volume) / float64(seen.Area) * due.In(measure.Inch) * seen.Length.In(measure.Inch))
		said.Line = print.Say(measure.Say("%s of the %s due in this row, give or take %s.", print.Volume(result.Quantity.Volume), print.Volume(share), print.Volume(result.Expanded)))
	default:
		said.Line = print.Say(measure.Say("%s in this row, give or take %s.", print.Volume(result.Quantity.Volume), print.Volume(result.Expanded)))
	}
	return said
}
