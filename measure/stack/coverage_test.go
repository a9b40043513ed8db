package stack

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// simulated is how many stacks to simulate: ten times as many where
// WELLSTOWED_FULL is 1.
func simulated(few int) int {
	if os.Getenv("WELLSTOWED_FULL") == "1" {
		return 10 * few
	}
	return few
}

// A person is one way of reading a stack, honest or not, with what the tally says of it.
// Truth is drawn from bodies and habits that are not the model's own.
type person struct {
	name string

	claimed  float64  // division of the tape as stated, inches
	division float64  // that readings are really taken to
	down     bool     // readings are cut down to the mark below; else they are rounded
	said     Rounding // what is said of it
	top      Top
	low      float64 // heights are read up to so much below the straightedge, inches
	heights  int     // in a row
	pieces   int     // measured; 0: a nominal 16 in
	cut      []float64
	scale    float64 // the tape's error, a ratio; 0: up to 0.2 % either way
	lean     float64 // ends lean in so much over their height, and the length is read at the foot
	gaps     int     // in a row, six inches square, that were not taken off
	careless bool
	stowed   Stowing

	holds, short float64 // what is let pass: ± U holds at least, false short at most
}

// careful is somebody with a quarter inch tape and a straightedge who says nothing of
// rounding and rounds to the nearest.
func careful(name string, change func(*person)) person {
	r := person{name: name, claimed: 0.25, division: 0.25, top: Straightedge, heights: 5, pieces: 10, cut: []float64{16},
		stowed: StowingChecked, holds: 0.94, short: 0.07}
	change(&r)
	return r
}

// The first are honest; the rest are habits that the model can't see. One stack in five
// is stacked tighter than the doubt against a shortage allows for, which takes false
// words of readings that carry little other doubt from 5 to 7 in a hundred.
func people() []person {
	hostile := func(holds, short float64) func(*person) {
		return func(r *person) { r.holds, r.short = holds, short }
	}
	with := func(changes ...func(*person)) func(*person) {
		return func(r *person) {
			for _, change := range changes {
				change(r)
			}
		}
	}
	return []person{
		careful("careful, 1/4 in, rounding not said", func(*person) {}),
		careful("the same, said to be to the nearest", func(r *person) { r.said = RoundNearest }),
		careful("1/16 in, not said", func(r *person) { r.claimed, r.division = 1./16, 1./16 }),
		careful("by eye, up to 1 1/2 in low", func(r *person) { r.top, r.low, r.stowed = ByEye, 1.5, "" }),
		careful("three heights, by eye", func(r *person) { r.top, r.low, r.heights, r.stowed = ByEye, 1.5, 3, "" }),
		careful("one height", func(r *person) { r.heights = 1 }),
		careful("cut down to 1/4 in", func(r *person) { r.down = true }),
		careful("cut down to 1/4 in, and said so", func(r *person) { r.down, r.said = true, RoundDown }),
		careful("cut down to 1/2 in, 1/4 in claimed", with(func(r *person) { r.division, r.down = 0.5, true }, hostile(0.88, 0.07))),
		careful("cut down to 1 in, 1/4 in claimed", with(func(r *person) { r.division, r.down = 1, true }, hostile(0.80, 0.07))),
		careful("nominal 16 in where pieces are 17", with(func(r *person) { r.pieces, r.cut = 0, []float64{17} }, hostile(0.70, 0))),
		careful("one piece of a mix of 14, 16 and 18 in", with(func(r *person) { r.pieces, r.cut = 1, []float64{14, 16, 18} }, hostile(0.95, 0))),
		careful("five pieces of the mix", with(func(r *person) { r.pieces, r.cut = 5, []float64{14, 16, 18} }, hostile(0.91, 0.05))),
		careful("tape 0.5 % long", with(func(r *person) { r.scale = 0.005 }, hostile(0.92, 0.09))),
		careful("straightedge said, read up to 1 in low", with(func(r *person) { r.low = 1 }, hostile(0.92, 0.08))),
		careful("ends lean 3 in, length read at the foot", with(func(r *person) { r.lean = 3 }, hostile(0.68, 0))),
		careful("three gaps a row not taken off", with(func(r *person) { r.gaps = 3 }, hostile(0.75, 0))),
		careful("stacked by a careless hand", with(func(r *person) { r.careless = true }, hostile(0.50, 0))),
	}
}

// byHand is how much more room the same wood takes than well stowed, by the hand that
// stacked it, from tight to loose: a simulation of 1 430 stacks (mixed wood), no
// published source. A careless hand leaves more.
var byHand = [...]float64{-0.021, -0.010, -0.004, 0.010, 0.033}

const byCarelessHand = 0.045

// A profile is the true top of a row: a slope and three waves, in inches.
type profile struct {
	base, slope, length float64
	high, long, phase   [3]float64
}

func (d draw) profile() profile {
	p := profile{base: 46 + d.within(4), slope: d.within(1.5), length: 96 + d.within(12)}
	for i := range p.high {
		p.high[i], p.long[i], p.phase[i] = 0.5+d.within(0.3), 25+d.within(15), d.within(math.Pi)
	}
	return p
}

func (p *profile) at(x float64) float64 {
	h := p.base + p.slope*(2*x/p.length-1)
	for i := range p.high {
		h += p.high[i] * math.Sin(2*math.Pi*x/p.long[i]+p.phase[i])
	}
	return h
}

// area is in closed form.
func (p *profile) area() float64 {
	sum := p.base * p.length
	for i := range p.high {
		k := 2 * math.Pi / p.long[i]
		sum += p.high[i] / k * (math.Cos(p.phase[i]) - math.Cos(k*p.length+p.phase[i]))
	}
	return sum
}

// read rounds a value to the nearest division of a quarter inch.
func read(v float64) measure.Length { return measure.Length(math.Round(4*v)) * (measure.Inch / 4) }

// reads gives the tape's reading of so many inches.
func (r *person) reads(v float64) measure.Length {
	marks := v / r.division
	if r.down {
		marks = math.Floor(marks)
	} else {
		marks = math.Round(marks)
	}
	return measure.Length(marks * r.division * float64(measure.Inch))
}

// piece is the true length of one piece.
func (r *person) piece(d draw) float64 { return r.cut[d.IntN(len(r.cut))] + 0.4*d.NormFloat64() }

// A pile is three rows as they truly stand, and the wood in them, ranked and well
// stowed, in cubic inches.
type pile struct {
	rows [3]profile
	wood float64
}

// pile stacks wood that this person will read.
func (r *person) pile(d draw) (p pile) {
	var piece, room, face float64
	for _, cut := range r.cut {
		piece += cut / float64(len(r.cut))
	}
	for i := range p.rows {
		row := d.profile()
		p.rows[i] = row
		back := 0.5 * d.NormFloat64() // the back stands so much higher
		area := row.area() + back/2*row.length - 36*float64(r.gaps) - r.lean*row.base
		room += area * piece
		face += area / 144
	}
	hand := byHand[d.IntN(len(byHand))]
	if r.careless {
		hand = byCarelessHand
	}
	p.wood = room / (1 + hand + 0.09/math.Sqrt(7*face)*d.NormFloat64())
	return p
}

// tally is the pile as this person reads it.
func (r *person) tally(d draw, p *pile) Tally {
	scale := r.scale
	if scale == 0 {
		scale = d.within(0.002)
	}
	tape := func(v float64) measure.Length { return r.reads(v/(1+scale) + d.within(1./16)) }
	edge := d.within(0.5) - r.low*d.Float64() // this straightedge, and this eye
	var s Rows
	for range r.pieces {
		s.Pieces.Sample = append(s.Pieces.Sample, tape(r.piece(d)))
	}
	if r.pieces == 0 {
		s.Pieces.Nominal = 16 * measure.Inch
	}
	for i := range p.rows {
		top := &p.rows[i]
		row := Row{Length: tape(top.length + d.within(0.5)), Ends: upright()}
		for j := range r.heights {
			x := (float64(j) + 0.5) * top.length / float64(r.heights)
			row.Heights = append(row.Heights, tape(top.at(x)+edge+0.5*d.NormFloat64()))
		}
		s.Rows = append(s.Rows, row)
	}
	return Tally{Apart: Apart{Answered: true}, Look: 1, Tape: measure.Length(r.claimed * float64(measure.Inch)), Rounded: r.said,
		Top: r.top, Stowed: r.stowed, Stack: s}
}

// sightings count what comes of a person's tallies: of stacks that hold exactly what was
// sold, those whose ± U holds it and those called short; of stacks that lack a fiftieth
// of it, those called full; and of those that lack a part, those found short.
type sightings struct{ holds, short, full, found float64 }

func (r *person) simulate(t *testing.T, stacks int, lacks float64) (s sightings) {
	d := draw{rand.New(rand.NewPCG(2, 95))}
	one := 1 / float64(stacks)
	for range stacks {
		p := r.pile(d)
		tally := r.tally(d, &p)
		exact := measured(t, sellAs(tally, volume(p.wood)))
		if math.Abs(float64(exact.Finding.Margin)) <= float64(exact.Expanded) {
			s.holds += one
		}
		if exact.Finding.Word == Short {
			s.short += one
		}
		if finding(t, sellAs(tally, volume(p.wood/0.98))).Word == Full {
			s.full += one
		}
		if finding(t, sellAs(tally, volume(p.wood/(1-lacks)))).Word == Short {
			s.found += one
		}
	}
	return s
}

// On stacks whose wood is known, ± U holds it and false words stay rare; what habits
// that the model can't see do to that is printed, and kept from getting worse.
func TestCoverage(t *testing.T) {
	stacks := simulated(500)
	// Three standard deviations of a count of events with probability 0.05.
	slack := 3 * math.Sqrt(0.05*0.95/float64(stacks))
	t.Logf("%-43s ± U holds  false short  full at 2 %% missing  short at 5 %%", fmt.Sprint(stacks, " stacks each"))
	for _, r := range people() {
		s := r.simulate(t, stacks, 0.05)
		t.Logf("%-42s %7.1f %% %10.1f %% %17.1f %% %12.1f %%", r.name, 100*s.holds, 100*s.short, 100*s.full, 100*s.found)
		assert.GreaterOrEqual(t, s.holds, r.holds-slack, r.name)
		assert.LessOrEqual(t, s.full, 0.05+slack, r.name)
		if r.short == 0 {
			assert.Zero(t, s.short, r.name)
			continue
		}
		assert.LessOrEqual(t, s.short, r.short+slack, r.name)
	}
}

// How often a shortage is found: that of 8 % by careful readings nearly always.
func TestCoverageFindsShortages(t *testing.T) {
	stacks := simulated(500)
	for _, c := range []struct {
		name         string
		change       func(*person)
		lacks, least float64
	}{
		{"1/4 in, rounding not said", func(*person) {}, 0.05, 0.45},
		{"1/4 in, to the nearest", func(r *person) { r.said = RoundNearest }, 0.05, 0.60},
		{"1/16 in, rounding not said", func(r *person) { r.claimed, r.division = 1./16, 1./16 }, 0.05, 0.60},
		{"1/4 in, rounding not said", func(*person) {}, 0.08, 0.90},
		{"by eye", func(r *person) { r.top, r.low, r.stowed = ByEye, 1.5, "" }, 0.08, 0.30},
		{"by eye", func(r *person) { r.top, r.low, r.stowed = ByEye, 1.5, "" }, 0.10, 0.60},
	} {
		r := careful(c.name, c.change)
		found := r.simulate(t, stacks, c.lacks).found
		t.Logf("%s: %.0f %% missing is found in %.1f %% of %d stacks", c.name, 100*c.lacks, 100*found, stacks)
		assert.GreaterOrEqual(t, found, c.least, c.name)
	}
}
