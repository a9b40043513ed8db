package measure

import (
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A way of measuring, for the simulation.
type way struct {
	name             string
	stations, pieces int
	top              Top
	stowed           Stowing
}

func waysOfMeasuring() []way {
	return []way{
		{"careful", 5, 10, Straightedge, StowingChecked},
		{"by eye", 5, 10, ByEye, ""},
		{"three stations", 3, 10, ByEye, ""},
		{"one station", 1, 10, ByEye, ""},
	}
}

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

func (p *profile) area() float64 {
	const steps = 500
	var sum float64
	for i := range steps {
		sum += p.at((float64(i) + 0.5) * p.length / steps)
	}
	return sum * p.length / steps
}

// read rounds a value to the nearest division of a quarter inch.
func read(v float64) Length { return Length(math.Round(4*v)) * (Inch / 4) }

// stack makes a stack of three rows and a tally of it, in which everything the
// budget names goes wrong by as much as the budget says. The volume that truly
// stands there is in cubic inches.
func (d draw) stack(w way) (Tally, float64) {
	top, stow := 1.0, 0.02
	if w.top == Straightedge {
		top = 0.5
	}
	if w.stowed != "" {
		stow = 0.01
	}
	up, along, across := d.within(top)+d.within(1./16), d.within(1./16), d.within(1./16)
	piece := 16 + d.within(1)
	var s Rows
	for range w.pieces {
		s.Pieces.Sample = append(s.Pieces.Sample, read(piece+0.4*d.NormFloat64()+across))
	}
	var truth float64
	for range 3 {
		p := d.profile()
		truth += p.area() * piece
		row := Row{Length: read(p.length + d.within(0.5) + along), Ends: upright()}
		for i := range w.stations {
			x := (float64(i) + 0.5) * p.length / float64(w.stations)
			row.Heights = append(row.Heights, read(p.at(x)+0.5*d.NormFloat64()+up))
		}
		s.Rows = append(s.Rows, row)
	}
	truth *= 1 + stow*d.NormFloat64()
	return Tally{Apart: Apart{Answered: true}, Look: 1, Tape: Inch / 4, Top: w.top, Stowed: w.stowed, Stack: s}, truth
}

// On stacks whose volume is known, ± U holds it at least 95 times in a hundred, and
// an exact full quantity is called short at most 5 times in a hundred.
// WELLSTOWED_FULL=1 takes ten times as many stacks.
func TestCoverage(t *testing.T) {
	stacks := 400
	if os.Getenv("WELLSTOWED_FULL") == "1" {
		stacks = 4000
	}
	// Three standard deviations of a count of events with probability 0.05.
	slack := 3 * math.Sqrt(0.05*0.95/float64(stacks))
	for _, w := range waysOfMeasuring() {
		d := draw{rand.New(rand.NewPCG(2, 95))}
		var held, short int
		for range stacks {
			tally, truth := d.stack(w)
			tally = sellAs(tally, volume(truth))
			r := measured(t, tally)
			if math.Abs(float64(r.Finding.Margin)) <= float64(r.Expanded) {
				held++
			}
			if r.Finding.Word == Short {
				short++
			}
		}
		coverage, falseShort := float64(held)/float64(stacks), float64(short)/float64(stacks)
		t.Logf("%s, %d stacks: ± U holds the true volume in %.2f %%, false short %.2f %%", w.name, stacks, 100*coverage, 100*falseShort)
		assert.GreaterOrEqual(t, coverage, 0.95-slack, w.name)
		assert.LessOrEqual(t, falseShort, 0.05+slack, w.name)
	}
}
