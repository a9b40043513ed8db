package receipts

import (
	"fmt"
	"maps"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// planFacts are what a storage plan is painted of.
type planFacts struct {
	Answer storage.Answer
	Layout storage.Layout
}

// filledPlan is a plan for a place of a kind in which every fact that can be drawn has a
// value of its own.
func filledPlan(t *testing.T, kind storage.PlaceKind, fits bool) planFacts {
	forecast, err := wood.Dries(storage.HeavyHardwood.Wood().Moist, wood.DefaultLimit(), wood.OutdoorEquilibrium())
	require.NoError(t, err)
	f := fill.Value(paperFiller(t), func(f *planFacts) {
		a, l := &f.Answer, &f.Layout
		a.Fits, a.Tight = fits, measure.Text{}
		a.Burns = storage.Burning{Forecast: forecast, Stacked: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC)}
		a.Burns.Ready = forecast.Ready(a.Burns.Stacked)
		for i, status := range []storage.Status{storage.Derived, storage.SecondHand} {
			a.Grounds[i].Status = status
		}
		a.Request.Volume = a.Capacity + 5*measure.Cord
		l.Place, l.Across, l.Drying, l.Easy, l.Rows = kind, false, storage.Slow, false, 3
		l.Room = storage.Room{Width: 231 * measure.Inch, Depth: 157 * measure.Inch}
		l.RowLength, l.Width, l.Depth, l.Height, l.Top = 181*measure.Inch, 189*measure.Inch, 140*measure.Inch, 61*measure.Inch, 66*measure.Inch
		l.PieceLength, l.OffGround, l.WallGap, l.RowGap, l.SideGap = 17*measure.Inch, 5*measure.Inch, 0, 7*measure.Inch, 0
		l.Heights, l.Clear, l.Air = nil, 0, 0
		if kind.Traits().Wall {
			l.WallGap = l.RowGap // rows and walls keep one width of air
		}
		if kind.Traits().Roof {
			l.Room.Height, l.Room.Back, l.Clear, l.Air = 95*measure.Inch, 92*measure.Inch, 85*measure.Inch, 19*measure.Inch
		}
		if kind == storage.Alcove || kind == storage.Shed {
			l.Heights = []measure.Length{41 * measure.Inch, 51 * measure.Inch, 56 * measure.Inch} // apart from Height, so that each can be counted
		}
		psf := func(low, high storage.Pressure) storage.Range[storage.Pressure] {
			return storage.Range[storage.Pressure]{Low: low * storage.PoundPerSquareFoot, High: high * storage.PoundPerSquareFoot}
		}
		pounds := func(low, high wood.Mass) storage.Range[wood.Mass] {
			return storage.Range[wood.Mass]{Low: low * wood.Pound, High: high * wood.Pound}
		}
		l.Green, l.Dry, l.GreenMass, l.DryMass = psf(131, 177), psf(93, 109), pounds(4110, 5230), pounds(2210, 3350)
	})
	return f
}

// planMentions are what doesn't stand on a storage plan once and in the usual words.
func planMentions(print *words.Printer, f planFacts) map[string]mention {
	ranked := as(func(v measure.Volume) string {
		return print.Quantity(measure.Quantity{Volume: v, Basis: measure.Ranked})
	})
	masses := as(print.Masses)
	pressures := as(print.Pressures)
	open := as(func(l measure.Length) string { // the sky, where it is none
		if l == 0 {
			return ""
		}
		return print.Length(l)
	})
	views, inWords := 1, 1
	if len(f.Layout.Heights) > 0 {
		inWords = 0 // each row's own is there
	}
	if f.Layout.Across || f.Layout.Room.Back > 0 {
		views = 2 // it is drawn from the side too
	}
	return map[string]mention{
		"planFacts.Answer.Request.*":      never("the layout holds what is built"),
		"planFacts.Answer.Request.Thrown": as(func(v measure.Volume) string { return print.Say(measure.Say("%s loose is taken", v)) }),
		"planFacts.Answer.Fits":           never("only what doesn't fit is said"),
		"planFacts.Answer.Capacity":       never("a layout's own volume stands"),
		"planFacts.Answer.Layouts":        never("one of them is painted"),
		"planFacts.Answer.Burns":          as(print.Burns),
		"planFacts.Answer.Grounds":        as(print.GroundsInShort),
		"planFacts.Layout.Volume":         ranked,
		"planFacts.Layout.Rows":           as(func(int) string { return print.Layout(f.Layout) }),
		"planFacts.Layout.Cautions":       never("the answer's stand"),
		"planFacts.Layout.Place":          as(func(k storage.PlaceKind) string { return print.Say(k.Name()) }),
		"planFacts.Layout.Across":         never("the sentence of the rows says it"),
		"planFacts.Layout.Easy":           never("the sentence of the top says it"),
		"planFacts.Layout.Holds":          never("it is to hold the volume"),
		"planFacts.Layout.Area":           never("its width and depth stand"),
		"planFacts.Layout.Drying":         as(func(storage.Drying) string { return print.BesideDrawing(f.Layout)[1] }),
		"planFacts.Layout.Green":          pressures, "planFacts.Layout.Dry": pressures,
		"planFacts.Layout.GreenMass": masses, "planFacts.Layout.DryMass": masses,
		// in words, and in the drawing where it is built by
		"planFacts.Layout.RowLength": times(2), "planFacts.Layout.Height": times(inWords + views), "planFacts.Layout.Depth": times(views),
		"planFacts.Layout.Heights":     {times: 2},
		"planFacts.Layout.Room.Height": open, "planFacts.Layout.Room.Back": open, "planFacts.Layout.Air": open, "planFacts.Layout.WallGap": open,
		"planFacts.Layout.SideGap": never("the gap behind is said of all sides"), "planFacts.Layout.Clear": never("the air under it stands"),
	}
}

// Every fact of a layout stands once on the plan to build it by, in every kind of place.
func TestEveryFactStandsOnAStoragePlanOnce(t *testing.T) {
	p := plainPainter(t)
	used, all := map[string]bool{}, map[string]mention{}
	for _, kind := range storage.PlaceKinds() {
		for _, fits := range []bool{true, false} {
			onEveryPaper(func(units act.Units, paper orders.Paper) {
				f := filledPlan(t, kind, fits)
				f.Answer.Layouts = []storage.Layout{f.Layout}
				print := words.New("en", units)
				pdf, err := p.StoragePlan("en", f.Answer, 0, paper, units, "")
				require.NoError(t, err)
				mentions := planMentions(print, f)
				maps.Copy(all, mentions)
				consult(t, fmt.Sprintf("plan %s, %s, fits: %t", kind, units, fits), p, pdf, print, "UTC", mentions, f, used)
			})
		}
	}
	allUsed(t, all, used)
}

// Every caution of a real answer and every figure that it rests on stands once on the plan
// of each of its layouts, those from front to back among them.
func TestEveryReasonStandsOnAStoragePlanOnce(t *testing.T) {
	p := plainPainter(t)
	across := 0
	for _, kind := range storage.PlaceKinds() {
		for _, deep := range []bool{false, true} {
			r := storage.Request{Volume: measure.Cord, PieceLength: 16 * measure.Inch, Wood: storage.Softwood, Stacked: time.Date(2026, 5, 2, 0, 0, 0, 0, time.UTC),
				Place: storage.Place{Kind: kind, Width: 14 * measure.Foot, Depth: 5 * measure.Foot, Height: 8 * measure.Foot, Braced: true}}
			if deep {
				r.Place.Width, r.Place.Depth, r.Wood = 5*measure.Foot, 14*measure.Foot, storage.HeavyHardwood
			}
			a, err := storage.Find(r)
			require.NoError(t, err)
			for n, l := range a.Layouts {
				if l.Across {
					across++
				}
				onEveryPaper(func(units act.Units, paper orders.Paper) {
					print := words.New("en", units)
					pdf, err := p.StoragePlan("en", a, n, paper, units, "")
					require.NoError(t, err)
					consult(t, fmt.Sprintf("plan %d %s, %s, deep: %t", n+1, kind, units, deep), p, pdf, print, "UTC", map[string]mention{
						"planFacts.*": never("held by the other test"), "planFacts.Answer.Cautions": {}, "planFacts.Answer.Grounds": sentences(),
						"planFacts.Layout.Cautions": {}, "planFacts.Layout.Drying": {says: func(any) []string { return print.BesideDrawing(l) }},
					}, planFacts{a, l}, map[string]bool{})
				})
			}
		}
	}
	require.Positive(t, across, "nothing was laid from front to back")
}
