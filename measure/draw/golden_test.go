package draw_test

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
)

var update = flag.Bool("update", false, "write the golden drawings")

const (
	page      = 80 * measure.Millimetre // a phone's, so that type is 15 px there
	leastRows = 56 * measure.Millimetre // a third of a paper
	phone     = 100 * measure.Millimetre
	paper     = 180 * measure.Millimetre
)

// in makes lengths of inches.
func in(values ...float64) []measure.Length {
	ls := make([]measure.Length, len(values))
	for i, v := range values {
		ls[i] = measure.Length(math.Round(v * float64(measure.Inch)))
	}
	return ls
}

func upright() [2]stack.End {
	return [2]stack.End{{Kind: stack.Upright}, {Kind: stack.Upright}}
}

func oneCord() *measure.Said {
	return &measure.Said{Words: "1 cord", Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}}
}

// shortTally is worked example 1 of the model: three upright rows.
func shortTally() stack.Tally {
	return stack.Tally{
		Sold: oneCord(), By: stack.Buyer, Apart: stack.Apart{Answered: true}, Look: 1,
		Tape: measure.Inch / 4, Rounded: stack.RoundNearest, Top: stack.Straightedge, Stowed: stack.StowingChecked,
		Stack: stack.Rows{
			Pieces: stack.Pieces{Sample: in(16, 15.5, 16.25, 15.75, 16.5, 15.25, 16, 15.75, 16.25, 15.5)},
			Rows: []stack.Row{
				{Length: 96 * measure.Inch, Heights: in(48, 47, 48.5, 46.5, 47.5), Ends: upright()},
				{Length: 95 * measure.Inch, Heights: in(47, 48, 46, 47.5, 46.5), Ends: upright()},
				{Length: 965 * measure.Inch / 10, Heights: in(46.5, 45, 46, 44.5, 45), Ends: upright()},
			},
		},
	}
}

// notSettledTally is worked example 2 of the model: every kind of end, a void.
func notSettledTally() stack.Tally {
	return stack.Tally{
		Sold: oneCord(), By: stack.Buyer, Apart: stack.Apart{Answered: true}, Look: 1,
		Tape: measure.Inch / 2, Top: stack.ByEye, Raised: 4 * measure.Inch,
		Stack: stack.Rows{
			Pieces: stack.Pieces{Sample: in(17.5, 18, 18.5, 17.75, 18.25, 18)},
			Rows: []stack.Row{
				{
					Length: 120 * measure.Inch, Heights: in(52, 54, 53, 50, 47), Positions: in(6, 30, 60, 90, 114),
					Ends: [2]stack.End{
						{Kind: stack.Shouldered, Over: 10 * measure.Inch, Drop: 8 * measure.Inch},
						{Kind: stack.Tapered, Over: 20 * measure.Inch},
					},
					Voids: []stack.Void{{Width: 12 * measure.Inch, Height: 6 * measure.Inch}},
				},
				{
					Length: 116 * measure.Inch, Heights: in(50, 51.5), Pieces: stack.Pieces{Nominal: 18 * measure.Inch},
					Ends: [2]stack.End{{Kind: stack.Cribbed, Over: 18 * measure.Inch, Share: 0.80}, {Kind: stack.Upright}},
				},
			},
		},
	}
}

// slippedTally has one reading of 4.75 in where 47.5 in was meant.
func slippedTally() stack.Tally {
	t := shortTally()
	t.Stack.(stack.Rows).Rows[0].Heights[3] = 475 * measure.Inch / 100
	return t
}

func measured(t testing.TB, tally stack.Tally) stack.Result {
	t.Helper()
	r, err := stack.Measure(tally)
	require.NoError(t, err)
	return r
}

func plan(t testing.TB, v measure.Volume, piece measure.Length) storage.Plan {
	t.Helper()
	p, err := storage.AlongWall(v, piece)
	require.NoError(t, err)
	return p
}

// say words text as the printer at the edge does: eighths of an inch, feet from
// six feet on, cords to two decimals with cubic feet.
func say(t measure.Text) string {
	if len(t.Args) == 0 {
		return t.Key
	}
	args := make([]any, len(t.Args))
	for i, arg := range t.Args {
		switch v := arg.(type) {
		case measure.Length:
			args[i] = tape(v)
		case measure.Volume:
			args[i] = fmt.Sprintf("%.1f ft³", v.In(measure.CubicFoot))
		case measure.Quantity:
			args[i] = fmt.Sprintf("%.2f cord (%.1f ft³)", v.Volume.In(measure.Cord), v.Volume.In(measure.CubicFoot))
		case measure.Text:
			args[i] = say(v)
		default:
			args[i] = arg
		}
	}
	return fmt.Sprintf(t.Key, args...)
}

// tape words a length.
func tape(l measure.Length) string {
	eighths := int64(math.RoundToEven(l.In(measure.Inch / 8)))
	switch {
	case eighths < 6*96:
		return mixed(eighths) + " in"
	case eighths%96 == 0:
		return fmt.Sprintf("%d ft", eighths/96)
	}
	return fmt.Sprintf("%d ft %s in", eighths/96, mixed(eighths%96))
}

// mixed writes eighths as a mixed number.
func mixed(eighths int64) string {
	whole, over, under := eighths/8, eighths%8, 8
	if over == 0 {
		return fmt.Sprint(whole)
	}
	for over%2 == 0 {
		over, under = over/2, under/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", over, under)
	}
	return fmt.Sprintf("%d %d/%d", whole, over, under)
}

func svg(t testing.TB, d draw.Drawing) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, draw.SVG(&b, d, say))
	return b.String()
}

// pictures are the drawings kept as golden files; Chrome shows them all the same.
func pictures(t testing.TB) map[string]draw.Drawing {
	short, unsettled, slipped := shortTally(), notSettledTally(), slippedTally()
	full := shortTally()
	full.Sold.Quantity.Volume = 7 * measure.Cord / 8
	unsold := shortTally()
	unsold.Sold = nil
	loose := measured(t, short)
	loose.Finding = &stack.Finding{
		Word:        stack.Expected,
		Sold:        measure.Quantity{Volume: 180 * measure.CubicFoot, Basis: measure.Loose},
		ExpectedLow: 108 * measure.CubicFoot, ExpectedHigh: 130 * measure.CubicFoot,
	}
	thrown := stack.Result{
		Quantity: measure.Quantity{Volume: 167 * measure.CubicFoot, Basis: measure.Loose}, Expanded: 8 * measure.CubicFoot,
		Expected: &stack.Range{Low: 100 * measure.CubicFoot, High: 120 * measure.CubicFoot},
		Finding:  &stack.Finding{Word: stack.Expected, Sold: oneCord().Quantity, Due: measure.Cord},
	}
	half := shortTally()
	half.Sold.Quantity.Volume = 2 * measure.Cord
	held := measured(t, half)
	held.Finding.Word, held.Finding.HeldBack = stack.Unresolved, []stack.Hold{stack.HeldByApart}
	return map[string]draw.Drawing{
		"stack-short-phone":       draw.Stack(short, measured(t, short), phone),
		"stack-short-paper":       draw.Stack(short, measured(t, short), paper),
		"stack-not-settled-phone": draw.Stack(unsettled, measured(t, unsettled), phone),
		"stack-not-settled-paper": draw.Stack(unsettled, measured(t, unsettled), paper),
		"stack-slipped-phone":     draw.Stack(slipped, measured(t, slipped), phone),
		"gauge-short-phone":       gaugeOf(measured(t, short), phone, false),
		"gauge-short-metric":      gaugeOf(measured(t, short), paper, true),
		"gauge-not-settled-phone": gaugeOf(measured(t, unsettled), phone, false),
		"gauge-full-paper":        gaugeOf(measured(t, full), paper, false),
		"gauge-unsold-phone":      gaugeOf(measured(t, unsold), phone, false),
		"gauge-loose-phone":       gaugeOf(loose, phone, false),
		"gauge-thrown-page":       gaugeOf(thrown, page, false),
		"gauge-far-page":          gaugeOf(measured(t, half), page, false),
		"gauge-held-page":         gaugeOf(held, page, false),
		"storage-one-cord-phone":  draw.Storage(plan(t, measure.Cord, 16*measure.Inch), phone),
		"storage-half-cord-paper": draw.Storage(plan(t, measure.Cord/2, 16*measure.Inch), paper),
		"layout-shed-phone":       draw.Layout(shedLayout(t), phone),
		"layout-shed-paper":       draw.Layout(shedLayout(t), paper),
		"layout-wall-paper":       draw.Layout(layoutIn(t, storage.Wall, measure.Cord, 40*measure.Foot, 6*measure.Foot, 0), paper),
		"layout-porch-paper":      draw.Layout(layoutIn(t, storage.Porch, measure.Cord/2, 20*measure.Foot, 6*measure.Foot, 8*measure.Foot), paper),
		"layout-carport-phone":    draw.Layout(layoutIn(t, storage.Carport, measure.Cord, 20*measure.Foot, 12*measure.Foot, 7*measure.Foot), phone),
		"layout-rack-paper":       draw.Layout(layoutIn(t, storage.Rack, measure.Cord/4, 12*measure.Foot, 3*measure.Foot, 0), paper),
		"layout-alcove-paper":     draw.Layout(slopedLayout(t), paper),
		"pressure-shed-paper":     draw.Pressure(shedLayout(t), paper, true),
		"pressure-shed-phone":     draw.Pressure(shedLayout(t), phone, false),
		"where-to-read-phone":     draw.WhereToRead(phone),
		"where-to-read-paper":     draw.WhereToRead(paper),
	}
}

// slopedLayout has rows from front to back under a sloping roof.
func slopedLayout(t testing.TB) storage.Layout {
	t.Helper()
	a, err := storage.Find(storage.Request{Volume: measure.Cord / 2, PieceLength: 16 * measure.Inch,
		Place: storage.Place{Kind: storage.Alcove, Width: 4 * measure.Foot, Depth: 10 * measure.Foot, Height: 7 * measure.Foot, Back: 6 * measure.Foot}})
	require.NoError(t, err)
	return a.Layouts[0]
}

func TestGoldenDrawings(t *testing.T) {
	for name, d := range pictures(t) {
		got := svg(t, d)
		golden := filepath.Join("testdata", name+".svg")
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
			continue
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err, "no golden drawing: run with -update and look at it")
		if got == string(want) {
			continue
		}
		require.NoError(t, os.WriteFile(golden+".got", []byte(got), 0o644))
		t.Errorf("%s differs; the new drawing is beside it as .got\n%s", golden, firstDifference(string(want), got))
	}
}

// firstDifference shows the first line that differs.
func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return fmt.Sprintf("line %d\n- %s\n+ %s", i+1, w[i], g[i])
		}
	}
	return fmt.Sprintf("%d lines, now %d", len(w), len(g))
}
