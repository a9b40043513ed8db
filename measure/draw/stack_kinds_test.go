package draw_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

func kindTally(s stack.Stack) stack.Tally {
	return stack.Tally{Look: 1, Tape: measure.Inch / 4, Top: stack.ByEye, Stack: s}
}

func section() stack.Section {
	return stack.Section{Inside: 24 * measure.Inch, Headspace: in(1, 1.25, 0.875, 1, 1, 1.5), Widths: in(16, 16, 16), Pieces: in(16, 15.75, 16, 16, 16.25)}
}

// kindStacks gives a stack of each kind but rows.
func kindStacks() map[string]stack.Stack {
	box := stack.Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Heights: in(20, 21, 19.5, 20.5)}
	floor := stack.Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot}
	return map[string]stack.Stack{
		"load": stack.Load{Arrangement: measure.Loose, Box: box, Crown: stack.Crown{Shape: stack.Rounded, Crest: in(10, 12)},
			Wells: []stack.Well{{Length: 30 * measure.Inch, Width: 8 * measure.Inch, Height: 10 * measure.Inch, Count: 2}}},
		"grid":      stack.Load{Arrangement: measure.Loose, Box: floor, Grid: [][]measure.Length{in(24, 30, 22), in(28, 36, 27), in(23, 31, 22)}},
		"line":      stack.Load{Arrangement: measure.Loose, Calibrated: &stack.Calibrated{Volume: 64 * measure.CubicFoot}},
		"taped":     stack.Load{Arrangement: measure.Ranked, Calibrated: &stack.Calibrated{Box: box}},
		"bin":       stack.Bin{Arrangement: measure.Ranked, Lie: stack.Along, Pieces: stack.Pieces{Sample: in(16, 16, 16, 16, 16)}, Box: stack.Box{Length: 4 * measure.Foot, Width: 40 * measure.Inch, Heights: in(48, 44, 46)}},
		"round":     stack.Round{Diameters: in(84, 82, 86), Heights: in(60, 58, 61), Cone: 18 * measure.Inch},
		"heap":      stack.Heap{Shape: stack.RoundedHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot},
		"ridge":     stack.Heap{Shape: stack.RidgeHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot},
		"boxed":     stack.Packaged{Method: stack.Boxed, Sections: []stack.Section{section(), section()}},
		"restacked": stack.Packaged{Method: stack.Crosshatched, Heights: in(18, 18, 18, 18.5, 18, 17.5, 18, 18), Lengths: in(24, 24, 24, 24), Pieces: stack.Pieces{Sample: in(16, 16, 16, 16, 16)}},
		"bundle":    stack.Packaged{Method: stack.Bundled, Ends: [2]stack.Traced{{Quarters: 473, Edge: measure.Inch}, {Quarters: 484, Edge: measure.Inch}}, Pieces: stack.Pieces{Sample: in(16, 16, 16, 16, 16)}},
	}
}

func TestKindsGoldenDrawings(t *testing.T) {
	for name, s := range kindStacks() {
		tally := kindTally(s)
		got := svg(t, draw.Stack(tally, measured(t, tally), phone))
		requireLegible(t, got)
		golden := filepath.Join("testdata", "stack-"+name+"-phone.svg")
		if *update {
			require.NoError(t, os.WriteFile(golden, []byte(got), 0o644))
			continue
		}
		want, err := os.ReadFile(golden)
		require.NoError(t, err, "no golden drawing: run with -update and look at it")
		if string(want) != got {
			require.NoError(t, os.WriteFile(strings.TrimSuffix(golden, ".svg")+".got.svg", []byte(got), 0o644))
			t.Errorf("%s differs from its golden; the drawing now lies beside it", golden)
		}
	}
}

// Each height of a body is drawn to scale, within 0.5 %.
func TestKindsStationsAreToScale(t *testing.T) {
	for name, heights := range map[string][]measure.Length{
		"load": in(20, 21, 19.5, 20.5), "taped": in(20, 21, 19.5, 20.5), "bin": in(48, 44, 46), "round": in(60, 58, 61),
		"grid": in(25, 32.25, 23.75), // means across the load to the quarter inch
	} {
		for _, width := range []measure.Length{phone, paper} {
			d := draw.Stack(kindTally(kindStacks()[name]), stack.Result{}, width)
			var seen int
			for _, l := range d.Lines {
				if l.Role == "station" {
					got := float64(l.A.Y-l.B.Y) * float64(d.Scale) / 1000
					assert.InEpsilon(t, float64(heights[l.Index-1]), got, 0.005, "%s station %d", name, l.Index)
					seen++
				}
			}
			assert.Equal(t, len(heights), seen, name)
		}
	}
}

// What is drawn has the area of what is measured: a heap's side, a bundle's ends, a
// well, a cone.
func TestKindsAreasAreToScale(t *testing.T) {
	for _, c := range []struct {
		name, role string
		squareFeet float64
	}{
		{"heap", "heap", math.Pi / 4 * 12 * 4},
		{"ridge", "heap", (12. + 4) / 2 * 4},
		{"bundle", "end", (473 + 484) / 4. / 144},
		{"load", "well", 30 * 10 / 144.},
		{"load", "crown", 2. / 3 * 8 * 11 / 12},
		{"round", "crown", 84. / 12 * 1.5 / 2},
	} {
		d := draw.Stack(kindTally(kindStacks()[c.name]), stack.Result{}, paper)
		scale := float64(d.Scale) / 1000 / float64(measure.Foot)
		var area float64
		for _, p := range d.Polygons {
			if p.Role == c.role {
				area += shoelace(p.Points) * scale * scale
			}
		}
		assert.InEpsilon(t, c.squareFeet, area, 0.005, "%s %s", c.name, c.role)
	}
}

// A row of two faces on a slope is drawn as the wood that is counted: the mean of
// 48 and 44 in, by 4 in 5.
func TestStackDrawsTheWoodThatCounts(t *testing.T) {
	row := stack.Row{Length: 8 * measure.Foot, Heights: in(48, 48, 48, 48), Back: in(44, 44, 44, 44), Ends: upright(),
		Slope: stack.Slope{Held: stack.Vertical, Rise: 3 * measure.Foot, Run: 4 * measure.Foot}}
	d := draw.Stack(kindTally(stack.Rows{Pieces: stack.Pieces{Nominal: 16 * measure.Inch}, Rows: []stack.Row{row}}), stack.Result{}, paper)
	for _, l := range d.Lines {
		if l.Role == "station" {
			got := float64(l.A.Y-l.B.Y) * float64(d.Scale) / 1000
			assert.InEpsilon(t, float64(46*measure.Inch)*0.8, got, 0.005)
		}
	}
}

// Only ranked wood is redrawn as a cord.
func TestKindsCordIsForRankedWood(t *testing.T) {
	for name, s := range kindStacks() {
		tally := kindTally(s)
		r := measured(t, tally)
		for _, p := range draw.Stack(tally, r, paper).Polygons {
			if p.Role == "cord box" {
				assert.Equal(t, measure.Ranked, r.Quantity.Basis, name)
			}
		}
	}
}

func TestKindsAreLegible(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		between := func(name string, lo, hi measure.Length) measure.Length {
			return measure.Length(rapid.Int64Range(int64(lo), int64(hi)).Draw(rt, name))
		}
		list := func(name string, hi measure.Length) []measure.Length {
			ls := make([]measure.Length, rapid.IntRange(1, 12).Draw(rt, name+" count"))
			for i := range ls {
				ls[i] = between(name, 7*measure.Inch, hi)
			}
			return ls
		}
		raised := rapid.SampledFrom([]measure.Length{0, 4 * measure.Inch}).Draw(rt, "raised")
		long, wide := between("length", measure.Foot, stack.MaxRowLength), between("width", measure.Foot, stack.MaxRowLength)
		box := stack.Box{Length: long, Width: wide, Heights: list("height", stack.MaxHeight)}
		crest := list("crest", stack.MaxHeight)
		wells := []stack.Well{{Length: between("well", measure.Inch, stack.MaxRowLength), Width: 1, Height: crest[0], Count: 1}}
		shape := rapid.SampledFrom([]stack.CrownShape{stack.Peak, stack.Ridge, stack.Rounded, stack.FlatTopped, stack.ShapeNotSaid}).Draw(rt, "shape")
		s := rapid.SampledFrom([]stack.Stack{
			stack.Load{Arrangement: measure.Loose, Box: box, Wells: wells, Crown: stack.Crown{Shape: shape, Crest: crest}},
			stack.Load{Arrangement: measure.Loose, Box: box, Grid: [][]measure.Length{box.Heights, box.Heights}},
			stack.Load{Arrangement: measure.Loose, Calibrated: &stack.Calibrated{Volume: measure.Volume(rapid.Int64Range(1, int64(measure.MaxQuantity)).Draw(rt, "volume"))}},
			stack.Bin{Arrangement: measure.Container, Box: box},
			stack.Round{Diameters: []measure.Length{long}, Heights: box.Heights, Cone: crest[0]},
			stack.Heap{Shape: stack.RoundedHeap, Length: long, Width: wide, Height: crest[0]},
			stack.Heap{Shape: stack.RidgeHeap, Length: long, Width: wide, Height: crest[0]},
			stack.Packaged{Method: stack.Crosshatched, Heights: box.Heights, Lengths: []measure.Length{long}, Pieces: stack.Pieces{Sample: crest}},
			stack.Packaged{Method: stack.Boxed, Sections: []stack.Section{{Inside: stack.MaxHeight, Headspace: box.Heights, Widths: []measure.Length{wide}, Pieces: crest}}},
			stack.Packaged{Method: stack.Bundled, Ends: [2]stack.Traced{{Quarters: rapid.IntRange(1, 400_000).Draw(rt, "squares"), Edge: measure.Foot}, {Quarters: 1, Edge: measure.Millimetre}}},
		}).Draw(rt, "stack")
		tally := kindTally(s)
		tally.Raised = raised
		r := stack.Result{Quantity: measure.Quantity{Basis: s.Basis(), Volume: 3 * measure.Cord}}
		width := rapid.SampledFrom([]measure.Length{phone, paper, 0}).Draw(rt, "width")
		requireLegible(t, svg(t, draw.Stack(tally, r, width)))
	})
}

// A stack that is not read yet is not drawn.
func TestKindsWhileTyping(t *testing.T) {
	for _, s := range []stack.Stack{stack.Load{}, stack.Bin{}, stack.Round{}, stack.Heap{}, stack.Packaged{},
		stack.Packaged{Method: stack.Boxed}, stack.Packaged{Method: stack.Crosshatched}, stack.Load{Calibrated: &stack.Calibrated{}}} {
		assert.Zero(t, draw.Stack(kindTally(s), stack.Result{}, phone), "%T", s)
	}
}
