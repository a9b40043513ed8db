package stack

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// crownedLoad is thrown wood in a body with wheel wells and a crown, by eye.
func crownedLoad() Tally {
	return Tally{Look: 1, Tape: measure.Inch / 2, Top: ByEye, Stack: Load{
		Arrangement: measure.Loose, Box: Box{Length: 96 * measure.Inch, Width: 60 * measure.Inch, Heights: in(20, 21, 19.5, 20.5, 22)},
		Wells: []Well{{30 * measure.Inch, 8 * measure.Inch, 10 * measure.Inch, 2}}, Crown: Crown{Rounded, in(9, 11, 10, 12, 10)},
	}}
}

// mean throws the mean of a sample of four or more.
func (d draw) mean(ls []measure.Length) float64 {
	n := float64(len(ls))
	m := MeanInches(ls)
	return m + d.NormFloat64()*deviation(ls, m)/math.Sqrt(n)
}

// steps throws the mean of heights at equal distances.
func (d draw) steps(ls []measure.Length) float64 {
	r := Row{Heights: ls}
	return MeanInches(ls) + d.NormFloat64()*r.stepSpread()/math.Sqrt(float64(len(ls)))
}

// scaled is a volume by a tape of nobody knows what.
func (d draw) scaled(v float64) float64 { return v * math.Pow(1+d.within(0.002), 3) }

// All heights and crests are whole half inches, so half an inch is their division.
func (d draw) crownedLoad(t *Tally) float64 {
	s := t.Stack.(Load)
	habit, tape := d.within(0.25), d.within(1./16)
	length := 96 + d.within(0.5) + habit + tape
	width := 60 + d.within(0.5) + habit + tape
	high := d.steps(s.Box.Heights) + habit + d.within(2) + d.within(1./16)
	crown := (0.555 + d.within(0.115)) * (d.mean(s.Crown.Crest) + habit)
	return d.scaled(length*width*(high+crown) - 2*30*8*10*(1+d.within(0.1)))
}

// Four heights are too few to show a division: it is the tape's quarter inch.
func (d draw) drum(t *Tally) float64 {
	s := t.Stack.(Round)
	habit := d.within(0.125)
	across := d.mean(s.Diameters) + habit + d.within(1./16)
	high := d.mean(s.Heights) + habit + d.within(1.5) + d.within(1./16)
	floor := math.Pi / 4 * across * across
	return d.scaled(floor*high + floor*inches(s.Cone)/3*(1+d.within(0.25)))
}

// Heights and pieces are whole half inches; 21 pieces stand in 3 square feet of face.
func (d draw) restacked(t *Tally) float64 {
	s := t.Stack.(Packaged)
	habit := d.within(0.25)
	high := d.mean(s.Heights) + habit + d.within(1.5) + d.within(1./16)
	stow := math.Sqrt(0.02*0.02 + 0.12*0.12/(7*18.0625*24/144))
	return d.scaled(high * (d.mean(s.Lengths) + habit + d.within(1./16)) * (d.mean(s.Pieces.Sample) + habit + d.within(1./16)) * (1 + d.within(stow*math.Sqrt(3))))
}

// Propagation of the distributions (JCGM 101:2008) gives the same volume, and the
// same standard uncertainty within four standard errors and the half in a hundred
// that products of doubts add.
func TestMonteCarloAgreesForKinds(t *testing.T) {
	const throws = 200_000
	for name, c := range map[string]struct {
		tally Tally
		throw func(draw, *Tally) float64
	}{
		"load":  {crownedLoad(), draw.crownedLoad},
		"round": {Tally{Look: 1, Tape: measure.Inch / 4, Top: ByEye, Stack: Round{Diameters: in(84, 82, 86, 85), Heights: in(60, 58, 61, 59), Cone: 18 * measure.Inch}}, draw.drum},
		"package": {Tally{Look: 1, Tape: measure.Inch / 4, Top: ByEye, Stack: Packaged{Method: Crosshatched, Heights: in(18, 18.5, 18, 17.5, 18, 18, 18.5, 18),
			Lengths: in(24, 24.5, 24, 23.5), Pieces: Pieces{Sample: in(16, 15.5, 16, 16.5, 16)}}}, draw.restacked},
	} {
		r := measured(t, c.tally)
		d := draw{rand.New(rand.NewPCG(5, 101))}
		value := float64(r.Quantity.Volume) / float64(measure.CubicInch)
		var sum, squares float64
		for range throws {
			x := c.throw(d, &c.tally) - value
			sum += x
			squares += x * x
		}
		mean := sum / throws
		spread := math.Sqrt((squares - throws*mean*mean) / (throws - 1))
		u := float64(r.Standard) / float64(measure.CubicInch)
		t.Logf("%s: u %.4f ft³ here, %.4f by %d throws", name, u/1728, spread/1728, throws)
		assert.InDelta(t, 0, mean/u, 0.01+4/math.Sqrt(throws), name)
		assert.InDelta(t, 1, spread/u, 0.005+4/math.Sqrt(2*throws), name)
	}
}
