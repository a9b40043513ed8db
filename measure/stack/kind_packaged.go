package stack

import (
	"math"
	"slices"

	"wellstowed/measure"
)

// A Packaged is one package measured by the volumetric test for packaged firewood
// of NIST Handbook 133, section 3.14, from memory: its readings and counts are the
// least it asks for.
type Packaged struct {
	Method   PackageMethod
	Sections []Section        // boxed only: one, or two ranked across each other
	Heights  []measure.Length // crosshatched only: at four equal intervals on both sides
	Lengths  []measure.Length // crosshatched only: of the stack, at four equal intervals from the base
	Ends     [2]Traced        // bundle only
	Pieces   Pieces           // crosshatched and bundle: the pieces of greatest girth
}

// PackageMethod is how a package is measured.
type PackageMethod string

// The methods.
const (
	Boxed        PackageMethod = "boxed"
	Crosshatched PackageMethod = "crosshatched"
	Bundled      PackageMethod = "bundle"
)

// A Section is a part of a box ranked one way.
type Section struct {
	Inside    measure.Length   // height of the box inside
	Headspace []measure.Length // from a straightedge across the top down to the wood
	Widths    []measure.Length // inside
	Pieces    []measure.Length // of greatest girth
}

// A Traced is one end of a bundle as traced on squared paper: the squares counted
// in quarters, and the edge of a square.
type Traced struct {
	Quarters int
	Edge     measure.Length
}

// area is in square inches.
func (e Traced) area() float64 { return float64(e.Quarters) / 4 * inches(e.Edge) * inches(e.Edge) }

// The counts of the procedure, from memory; more may be read.
const (
	PackHeadspaces = 6
	PackWidths     = 3
	PackPieces     = 5
	PackHeights    = 8
	PackLengths    = 4
)

// Half-widths at a package: practice, no source. All its means rest on enough
// readings to show their spread, but for widths and traced ends.
const (
	packHalf  = 0.5  // inches, mean of fewer than four
	traceHalf = 0.02 // of the area, or half of what two ends differ by
)

// Kind is "packaged".
func (s Packaged) Kind() string { return "packaged" }

// Basis is Ranked.
func (s Packaged) Basis() measure.Basis { return measure.Ranked }

func (s Packaged) estimate(t *Tally) (estimate, error) {
	if err := s.check(t); err != nil {
		return estimate{}, err
	}
	b := budget{tally: t, basis: measure.Ranked, division: divisionOf(t.Tape, s.Heights)}
	switch s.Method {
	case Boxed:
		b.addSections(s.Sections)
	case Crosshatched:
		b.addCrosshatched(&s)
	default:
		b.addBundle(&s)
	}
	b.addStowage(1)
	b.note("The mean of fewer than four readings is taken as ± %s, or half their range where that is larger: common practice.", measure.Length(packHalf*float64(measure.Inch)))
	e := b.estimate("packaged", b.value/b.face)
	e.procedure = s.ByHandbook(t.Tape)
	e.at = viewFunc(func(v view) float64 { return s.seen(t, b.division, v) })
	return e, nil
}

// seen is the package's volume as readings would be seen otherwise. What a headspace is
// raised by, its box is raised by as well.
func (s *Packaged) seen(t *Tally, division float64, v view) float64 {
	up, over := t.up(division, v), t.over(v)
	long := func(sample []measure.Length) float64 { return MeanInches(sample) + t.up(divisionOf(t.Tape, sample), v) }
	switch s.Method {
	case Boxed:
		var sum float64
		for i := range s.Sections {
			c := &s.Sections[i]
			sum += (inches(c.Inside) - MeanInches(c.Headspace) + over) * (MeanInches(c.Widths) + up) * long(c.Pieces)
		}
		return sum
	case Crosshatched:
		return (MeanInches(s.Heights) + up + over) * (MeanInches(s.Lengths) + up) * long(s.Pieces.Sample)
	}
	return (s.Ends[0].area() + s.Ends[1].area()) / 2 * long(s.Pieces.Sample)
}

// addSections takes in the sections of a box.
func (b *budget) addSections(sections []Section) {
	up := b.tally.up(b.division, view{})
	var floors, sides float64
	for _, s := range sections {
		gap, width, piece := meanFrom(s.Headspace, packHalf), meanFrom(s.Widths, packHalf), meanFrom(s.Pieces, packHalf)
		division := divisionOf(b.tally.Tape, s.Pieces)
		high := inches(s.Inside) - gap.value
		wide, long := width.value+up, piece.value+b.tally.up(division, view{})
		b.value += high * wide * long
		b.observe(HeadspaceMean, gap, wide*long, readStations, boxMinutes)
		b.observe(WidthMean, width, high*long, "", 0)
		b.observe(PieceSpread, piece, high*wide, measurePieces, pieceMinutes)
		b.roundLength(SizeReading, 0, high*long)
		b.roundPieces(division, high*wide, piece.spread)
		floors += wide * long
		sides += high * long
		b.face += high * wide
	}
	b.addPackTape(floors, sides)
}

func (b *budget) addCrosshatched(s *Packaged) {
	up := b.tally.up(b.division, view{})
	high, long, piece := meanFrom(s.Heights, packHalf), meanFrom(s.Lengths, packHalf), meanFrom(s.Pieces.Sample, packHalf)
	division := divisionOf(b.tally.Tape, s.Pieces.Sample)
	h, l, p := high.value+up, long.value+up, piece.value+b.tally.up(division, view{})
	b.value, b.face = h*l*p, h*l
	b.observe(HeightMean, high, l*p, readStations, boxMinutes)
	b.observe(StackLength, long, h*p, "", 0)
	b.observe(PieceSpread, piece, h*l, measurePieces, pieceMinutes)
	b.roundHeights(l*p, high.spread)
	b.roundLength(SizeReading, 0, h*p)
	b.roundPieces(division, h*l, piece.spread)
	b.addPackTape(l*p, h*p)
}

// addPackTape takes in where the top is, and the tape on each of three ways.
func (b *budget) addPackTape(floor, sides float64) {
	b.addLevel(floor)
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*floor)
	b.add(TapeOnSides, 0, rectangular(tapeHalf)*sides)
	b.add(TapeOnPieces, 0, rectangular(tapeHalf)*b.face)
	b.addTape(3)
}

func (b *budget) addBundle(s *Packaged) {
	first, second := s.Ends[0].area(), s.Ends[1].area()
	face, piece := (first+second)/2, meanFrom(s.Pieces.Sample, packHalf)
	division := divisionOf(b.tally.Tape, s.Pieces.Sample)
	long := piece.value + b.tally.up(division, view{})
	b.value, b.face = face*long, face
	b.add(EndArea, 0, rectangular(max(traceHalf*face, math.Abs(first-second)/2))*long)
	b.observe(PieceSpread, piece, face, measurePieces, pieceMinutes)
	b.roundPieces(division, face, piece.spread)
	b.add(TapeOnPieces, 0, rectangular(tapeHalf)*face)
	b.addTape(1)
	b.note("The mean of two traced ends is taken as ± %.3g of itself, or half of what they differ by where that is larger: common practice.", traceHalf)
}

// check refuses a package whose volume cannot be worked out.
func (s *Packaged) check(t *Tally) error {
	if t.Raised != 0 {
		return unfit("raised", "out-of-place", "", measure.Say("nothing is taken off below a package"), measure.Say("nothing here"))
	}
	switch s.Method {
	case Boxed:
		return s.checkSections()
	case Crosshatched:
		if err := positive("stack.heights", s.Heights); err != nil {
			return err
		}
		if err := positive("stack.lengths", s.Lengths); err != nil {
			return err
		}
		return positive("stack.pieces", s.Pieces.Sample)
	case Bundled:
		for i, e := range s.Ends {
			if e.Quarters <= 0 || e.Edge <= 0 {
				return unfit(at("stack.ends", i), "too-small", "", measure.Say("a traced end has no area"), measure.Say("squares and their edge"))
			}
		}
		return positive("stack.pieces", s.Pieces.Sample)
	}
	return unfit("stack.method", "unknown", string(s.Method), measure.Say("this isn’t a way to measure a package"), measure.Say("boxed, crosshatched or bundle"))
}

func (s *Packaged) checkSections() error {
	if len(s.Sections) == 0 {
		return unfit("stack.sections", "missing", "", measure.Say("the box has no section"), measure.Say("one or two sections"))
	}
	for i, c := range s.Sections {
		path := at("stack.sections", i)
		for name, list := range map[string][]measure.Length{"widths": c.Widths, "pieces": c.Pieces} {
			if err := positive(path+"."+name, list); err != nil {
				return err
			}
		}
		if len(c.Headspace) == 0 || slices.Min(c.Headspace) < 0 || MeanInches(c.Headspace) >= inches(c.Inside) {
			return unfit(path+".headspace", "no-wood", "", measure.Say("the headspace takes up the whole box, or is below 0"), measure.Say("headspaces from 0 to less than the height inside"))
		}
	}
	return nil
}

// positive refuses an empty list, and one with lengths that are not above 0.
func positive(path string, ls []measure.Length) error {
	if len(ls) == 0 {
		return unfit(path, "missing", "", measure.Say("no readings were given"), measure.Say("at least one length"))
	}
	for i, l := range ls {
		if l <= 0 {
			return unfit(at(path, i), "too-small", "", measure.Say("a length is above 0"), measure.Say("a length such as 16 in"))
		}
	}
	return nil
}

// Across is the diameter of a circle of the traced area, for a drawing.
func (e Traced) Across() measure.Length {
	return measure.Length(math.Round(2 * math.Sqrt(e.area()/math.Pi) * float64(measure.Inch)))
}
