//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A Readings is what was read of one thing, as a tape shows it: one reading or several.
type Readings struct {
	Name string
	Read []string
}

// One tells whether it is a single reading.
func (r Readings) One() bool { return len(r.Read) == 1 }

// Readings lists what was read of a stack that does not stand in rows, in the order of
// the form. The printer is one for the tape.
func (p *Printer) Readings(read stack.Stack) []Readings {
	l := readingList{print: p}
	switch s := read.(type) {
	case stack.Load:
		l.load(s)
	case stack.Bin:
		l.say("How the wood was put in", p.arrangement(s.Arrangement))
		l.box("", s.Box)
		l.pieces(s.Pieces)
		l.window(s.Window)
	case stack.Heap:
		l.say("Shape", p.heapForm(s.Shape))
		l.one("Length on the ground", s.Length)
		l.one("Width on the ground", s.Width)
		l.one("Height at the top", s.Height)
		l.pieces(s.Pieces)
	case stack.Round:
		l.many("Diameters", s.Diameters)
		l.one("All the way round", s.Circumference)
		l.many("Heights of the wall", s.Heights)
		l.one("Height of the cone", s.Cone)
		l.pieces(s.Pieces)
	case stack.Packaged:
		l.packaged(s)
	}
	return l.all
}

// Window words the part of a face in which pieces were counted; empty where none was.
func (p *Printer) Window(w stack.Window) string {
	if w.Pieces == 0 {
		return ""
	}
	return p.say("%d in %s × %s of the face", w.Pieces, p.Reading(w.Width), p.Reading(w.Height))
}

// Slope words how the ground along a row slopes; empty where it does not.
func (p *Printer) Slope(s stack.Slope) string {
	switch s.Held {
	case stack.Perpendicular:
		return p.say("heights held perpendicular to the slope")
	case stack.Vertical:
		return p.say("heights held vertical; the ground rises %s in %s", s.Rise, s.Run)
	}
	return ""
}

func (p *Printer) arrangement(b measure.Basis) string {
	switch b {
	case measure.Loose:
		return p.say("thrown in")
	case measure.Container:
		return p.say("as it fills the container")
	}
	return p.say("ranked")
}

func (p *Printer) heapForm(f stack.HeapForm) string {
	if f == stack.RidgeHeap {
		return p.say("a ridge")
	}
	return p.say("rounded")
}

// A readingList gathers readings; what was not read is left out.
type readingList struct {
	print *Printer
	all   []Readings
}

func (l *readingList) say(name string, read ...string) {
	if len(read) > 0 && read[0] != "" {
		l.all = append(l.all, Readings{l.print.say(name), read})
	}
}

func (l *readingList) one(name string, read measure.Length) {
	if read > 0 {
		l.say(name, l.print.Reading(read))
	}
}

func (l *readingList) many(name string, read []measure.Length) {
	texts := make([]string, len(read))
	for i, r := range read {
		texts[i] = l.print.Reading(r)
	}
	l.say(name, texts...)
}

func (l *readingList) pieces(p stack.Pieces) {
	l.many("Piece lengths", p.Sample)
	if len(p.Sample) == 0 && p.Nominal > 0 {
		l.say("Piece length", l.print.Nominal(p.Nominal))
	}
}

func (l *readingList) window(w stack.Window) { l.say("Pieces counted", l.print.Window(w)) }

func (l *readingList) box(of string, x stack.Box) {
	l.one(of+"Inside length", x.Length)
	l.one(of+"Inside width", x.Width)
	l.many(of+"Heights of the fill", x.Heights)
	l.many(of+"Where they were read", x.Positions)
}

func (l *readingList) wells(wells []stack.Well) {
	for _, w := range wells {
		size := []string{l.print.Reading(w.Length), l.print.Reading(w.Width), l.print.Reading(w.Height)}
		l.say("Wheel wells", l.print.say("%d of %s", w.Count, strings.Join(size, " × ")))
	}
}

func (l *readingList) load(s stack.Load) {
	l.say("How the wood was put in", l.print.arrangement(s.Arrangement))
	l.box("", s.Box)
	for i, line := range s.Grid {
		l.many(l.print.say("Heights of line %d", i+1), line)
	}
	if c := s.Calibrated; c != nil {
		if c.Volume > 0 {
			l.say("Volume up to the line", l.print.Volume(c.Volume))
		}
		l.box("", c.Box)
		l.wells(c.Wells)
		l.say("Bed taped", l.print.say("%s, by %s", c.On, c.By))
		l.say("Filled to the line", c.Line)
	}
	l.wells(s.Wells)
	if len(s.Crown.Crest) > 0 {
		l.say("Shape of the crown", l.print.say(string(s.Crown.Shape)))
		l.many("Crest above the fill", s.Crown.Crest)
	}
	l.pieces(s.Pieces)
	l.window(s.Window)
}

func (l *readingList) packaged(s stack.Packaged) {
	l.say("Method", l.print.say(string(s.Method)))
	for i, c := range s.Sections {
		of := ""
		if len(s.Sections) > 1 {
			of = l.print.say("Section %d: ", i+1)
		}
		l.one(of+"Height inside", c.Inside)
		l.many(of+"Headspace", c.Headspace)
		l.many(of+"Width inside", c.Widths)
		l.many(of+"Lengths of the thickest pieces", c.Pieces)
	}
	l.many("Heights of the stack", s.Heights)
	l.many("Lengths of the stack", s.Lengths)
	for i, e := range s.Ends {
		if e.Quarters > 0 {
			squares := strconv.FormatFloat(float64(e.Quarters)/4, 'f', -1, 64)
			l.say(l.print.say("Traced end %d", i+1), l.print.say("%s squares of %s", squares, l.print.Reading(e.Edge)))
		}
	}
	l.many("Lengths of the thickest pieces", s.Pieces.Sample)
}
