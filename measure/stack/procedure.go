package stack

import (
	"math"

	"wellstowed/measure"
)

// How the procedure rounds what is read, from memory: 0.5 cm, or 3/16 in, up; a
// headspace down to 0.5 cm, or 1/8 in. All of it favours the packer.
const (
	metricIncrement = 5 * measure.Millimetre
	inchIncrement   = 3 * measure.Inch / 16
	inchHeadspace   = measure.Inch / 8
	PackLimit       = 4 * measure.CubicFoot // the labelled volume the procedure is for
)

// A rounding is how a procedure rounds its readings.
type rounding struct{ up, down measure.Length }

// roundingFor goes by the tape: metric where its division is whole millimetres.
func roundingFor(tape measure.Length) rounding {
	if tape%measure.Millimetre == 0 {
		return rounding{metricIncrement, metricIncrement}
	}
	return rounding{inchIncrement, inchHeadspace}
}

// HandbookIncrement is what the handbook rounds lengths up to, by the tape.
func HandbookIncrement(tape measure.Length) measure.Length { return roundingFor(tape).up }

// mean is the mean of lengths, each rounded up, in inches.
func (r rounding) mean(ls []measure.Length) float64 {
	var sum measure.Length
	for _, l := range ls {
		sum += (l + r.up - 1) / r.up * r.up
	}
	return inches(sum) / float64(len(ls))
}

// headspace is the mean of lengths, each rounded down, in inches.
func (r rounding) headspace(ls []measure.Length) float64 {
	var sum measure.Length
	for _, l := range ls {
		sum += l / r.down * r.down
	}
	return inches(sum) / float64(len(ls))
}

// ByHandbook is what the published procedure makes of the readings.
func (s *Packaged) ByHandbook(tape measure.Length) *Procedure {
	r := roundingFor(tape)
	var v float64
	switch s.Method {
	case Boxed:
		for _, c := range s.Sections {
			high := r.mean([]measure.Length{c.Inside}) - r.headspace(c.Headspace)
			v += high * r.mean(c.Widths) * r.mean(c.Pieces)
		}
	case Crosshatched:
		v = r.mean(s.Heights) * r.mean(s.Lengths) * r.mean(s.Pieces.Sample)
	default:
		v = (s.Ends[0].area() + s.Ends[1].area()) / 2 * r.mean(s.Pieces.Sample)
	}
	p := &Procedure{Volume: measure.Volume(math.RoundToEven(v * float64(measure.CubicInch)))}
	p.Notes = append(p.Notes,
		measure.Say("By the volumetric test for packaged firewood of NIST Handbook 133, section 3.14: from memory, to be checked against its text."),
		r.note(s.Method))
	if p.Volume > PackLimit {
		p.Notes = append(p.Notes, measure.Say("The procedure is for packages labelled %s or less: from memory.", measure.Volume(PackLimit)))
	}
	return p
}

// note says how the procedure rounds.
func (r rounding) note(m PackageMethod) measure.Text {
	if m == Boxed {
		return measure.Say("Lengths are rounded up to the next %s and headspace down to %s, in the packer’s favour: from memory.", r.up.String(), r.down.String())
	}
	return measure.Say("Lengths are rounded up to the next %s, in the packer’s favour: from memory.", r.up.String())
}
