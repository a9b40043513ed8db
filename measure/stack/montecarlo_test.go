package stack

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// A draw is one throw of everything a tally of rows is in doubt about, in inches:
// normal where it was observed (type A), rectangular where it was judged (type B).
type draw struct{ *rand.Rand }

func (d draw) within(half float64) float64 { return half * (2*d.Float64() - 1) }

// pieces is the mean of pieces that may all be read so much too short or too long.
func (d draw) pieces(p Pieces, off float64) float64 {
	n := float64(len(p.Sample))
	if n == 0 {
		return inches(p.Nominal) - 0.5 + d.within(1.5)
	}
	var sum, squares float64
	for _, l := range p.Sample {
		sum += inches(l)
		squares += inches(l) * inches(l)
	}
	mean := sum / n
	return mean + off + d.NormFloat64()*math.Sqrt((squares-n*mean*mean)/(n-1)/n)
}

// stations is the mean height of a row with the weights of its stations, and the
// error of it; few is the throw that all rows with few stations share.
func (d draw) stations(r *Row, raised, few float64) float64 {
	m := len(r.Heights)
	length := inches(r.Length)
	at := func(i int) float64 {
		if len(r.Positions) > 0 {
			return inches(r.Positions[i])
		}
		return length * (2*float64(i) + 1) / float64(2*m)
	}
	var mean, steps, squares float64
	for i, h := range r.Heights {
		from, to := 0., length
		if i > 0 {
			from = (at(i-1) + at(i)) / 2
			steps += math.Pow(inches(h-r.Heights[i-1]), 2)
		}
		if i < m-1 {
			to = (at(i) + at(i+1)) / 2
		}
		share := (to - from) / length
		mean += share * (inches(h) - raised)
		squares += share * share
	}
	switch {
	case m >= 4:
		return mean + d.NormFloat64()*math.Sqrt(steps/float64(2*(m-1))*squares)
	case m == 1:
		return mean + 3*few
	}
	return mean + 2*few
}

// A doubted is a tally with what the model's text says of it: the stowing, and the
// divisions in effect of heights and of pieces in inches.
type doubted struct {
	tally           Tally
	stow            float64
	heights, pieces float64
}

// volume throws once, in cubic inches. Seven pieces stand in a square foot of face.
func (d draw) volume(in *doubted) float64 {
	t := &in.tally
	s := t.Stack.(Rows)
	top := 1.5
	if t.Top == Straightedge {
		top = 0.5
	}
	habit, up, few := d.within(1), d.within(top)+d.within(1./16), d.within(1)
	along, across := d.within(1./16), d.within(1./16)
	shared := d.pieces(s.Pieces, habit*in.pieces/2)
	var v, n float64
	for i := range s.Rows {
		r := &s.Rows[i]
		piece := shared
		if r.Pieces.Given() {
			piece = d.pieces(r.Pieces, habit*in.pieces/2)
		}
		length := inches(r.Length) + d.within(0.5) + habit*in.heights/2 + along
		face := length*d.stations(r, inches(t.Raised), few) + inches(r.Length)*(up+habit*in.heights/2)
		for j, e := range r.Ends {
			over, high := inches(e.Over), inches(r.Heights[j*(len(r.Heights)-1)]-t.Raised)
			switch e.Kind {
			case Shouldered:
				face -= inches(e.Drop) * over / 2 * (1 + d.within(0.2))
			case Tapered:
				face += high * over / 2 * (1 + d.within(0.2))
			case Cribbed:
				face += high * over * (0.8 + d.within(0.2))
			}
		}
		for _, gap := range r.Voids {
			face -= inches(gap.Width) * inches(gap.Height) * (1 + d.within(0.25))
		}
		v += face * (piece + across)
		n += face / 144 * 7
	}
	stow := math.Sqrt(in.stow*in.stow + 0.12*0.12/n)
	return v * (1 + d.within(stow*math.Sqrt(3))) * (1 + d.within(0.01)) * math.Pow(1+d.within(0.002), 3)
}

// Propagation of the distributions (JCGM 101:2008) gives the same volume and the
// same standard uncertainty, within four standard errors of a standard deviation
// from N throws, 4/√(2N).
func TestMonteCarloAgrees(t *testing.T) {
	const throws = 200_000
	for name, in := range map[string]doubted{
		"short":       {shortTally(), 0.016, 0.5, 0.25},
		"not settled": {notSettledTally(), 0.020, 0.5, 0.5},
	} {
		r := measured(t, in.tally)
		d := draw{rand.New(rand.NewPCG(1, 101))}
		value := float64(r.Quantity.Volume) / float64(measure.CubicInch)
		var sum, squares float64
		for range throws {
			x := d.volume(&in) - value
			sum += x
			squares += x * x
		}
		mean := sum / throws
		spread := math.Sqrt((squares - throws*mean*mean) / (throws - 1))
		u := float64(r.Standard) / float64(measure.CubicInch)
		t.Logf("%s: u %.4f ft³ here, %.4f by %d throws", name, u/1728, spread/1728, throws)
		assert.InDelta(t, 0, mean/u, 4/math.Sqrt(throws), name)
		assert.InDelta(t, 1, spread/u, 4/math.Sqrt(2*throws), name)
	}
}
