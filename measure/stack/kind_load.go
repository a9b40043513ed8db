package stack

import (
	"math"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A Load is wood in a truck, trailer or other body: filled to heights, to heights
// of a grid, or to the line of a calibrated body; less wheel wells, with a crown.
type Load struct {
	Arrangement measure.Basis // Loose or Ranked
	Box         Box           // Heights empty where Grid or Calibrated stands instead
	Wells       []Well
	Crown       Crown
	// Grid holds heights of the top from the floor, lines along the length, at the
	// middles of equal cells, all lines of one number; the crown is in them.
	Grid       [][]measure.Length
	Calibrated *Calibrated // nil: not filled to a line
	Lie        Lie         // of ranked wood
	Pieces     Pieces      // zero: not known
	Window     Window      // of ranked wood, where pieces were counted
}

// A Well is a wheel well or another thing that takes room on the floor.
type Well struct {
	Length, Width, Height measure.Length
	Count                 int
}

// A Calibrated is a body that was taped once, and the line it is filled to: the
// volume up to it as said, or the box that was taped.
type Calibrated struct {
	Volume measure.Volume
	Box    Box // up to the line; zero where Volume is given
	Wells  []Well
	On     string // the day it was taped, YYYY-MM-DD
	By     string // who taped it
	Line   string // which line; may be empty
}

// Half-widths at a load: practice, no source.
const (
	wellHalf    = 0.10 // of a well's volume
	tapedShare  = 0.02 // half-width of the volume of a body taped once
	lineShare   = 0.04 // half-width of the level against its line, of the volume
	lineHalf    = 1.0  // same in inches, where the body's box is known
	MaxWells    = 20
	maxWellSame = 20
)

// Kind is "load".
func (s Load) Kind() string { return "load" }

// Basis is Loose or Ranked, as the wood was put in.
func (s Load) Basis() measure.Basis { return s.Arrangement }

func (s Load) estimate(t *Tally) (estimate, error) {
	if err := s.check(t); err != nil {
		return estimate{}, err
	}
	b := budget{tally: t, basis: s.Arrangement, division: s.division(t.Tape), window: s.Window, parts: make([]part, 0, 20+len(s.Wells))}
	d, fault := b.bedOf(s.body(), s.Lie, s.Pieces)
	if fault != nil {
		fault.Field = strict.Member("stack", fault.Field)
		return estimate{}, fault
	}
	fill := b.addFill(&s, &d)
	b.addCrown(&s.Crown, d.counted(view{}))
	if d.Length > 0 {
		b.addSides(&d, b.value-fill.said)
	}
	taped := b.value - fill.said
	b.addWells(fill.wells, fill.height)
	b.addFace(s.Pieces)
	b.addStowage(1)
	if fill.said == 0 {
		b.addTape(3)
	}
	b.noteLoose()
	e := b.estimate("load", s.Pieces.length(t))
	e.holds = d.holds(b.basis, s.heights(), s.Calibrated != nil)
	wells := taped + fill.said - b.value
	e.at = viewFunc(func(v view) float64 { return fill.said + s.high(&d, v)*d.counted(v) - wells })
	return e, nil
}

// high is the mean height of a load in inches, its crown in it, as readings would be
// seen otherwise; 0 up to a line whose volume was said.
func (s *Load) high(d *bed, v view) float64 {
	up := d.tally.up(d.division, v)
	var high float64
	switch {
	case s.Calibrated != nil && !s.Calibrated.Box.given():
	case s.Calibrated != nil: // the line was taped at another time
		high = d.tapedHigh()
	case len(s.Grid) > 0:
		high = s.gridMean(d.tally.Raised).value + up + d.tally.over(v)
	default:
		high = d.high(d.tally.Raised, v)
	}
	if len(s.Crown.Crest) > 0 {
		low, most := s.Crown.Shape.factor()
		high += (low + most) / 2 * (MeanInches(s.Crown.Crest) + up)
	}
	return high
}

// division is the division in effect of all heights of the load, in inches.
func (s *Load) division(tape measure.Length) float64 {
	d := dividerFor(tape)
	d.add(s.Box.Heights)
	d.add(s.Crown.Crest)
	for _, line := range s.Grid {
		d.add(line)
	}
	return inches(d.inEffect())
}

// heights is how many heights of the fill were read.
func (s *Load) heights() int {
	n := len(s.Box.Heights)
	for _, line := range s.Grid {
		n += len(line)
	}
	return n
}

// noteLoose says what the volume of wood that is not ranked means.
func (b *budget) noteLoose() {
	if b.basis == measure.Loose {
		b.note("The volume is the space that the wood takes as it was thrown, not ranked wood.")
		b.note("What stacking and measuring would leave is taken as ± %.3g of the volume then: common practice.", stackedShare)
	}
}

// length is the mean piece length in inches, 0 where it is not known.
func (p Pieces) length(t *Tally) float64 {
	if !p.Given() || !p.known() {
		return 0
	}
	l := p.judge(t.Tape)
	return l.at(t, view{})
}

// body is the box that the load stands in; a box without sides where only a volume
// is known.
func (s *Load) body() *Box {
	if s.Calibrated != nil && s.Calibrated.Box.given() {
		return &s.Calibrated.Box
	}
	return &s.Box
}

// A fill is what is left to do about a body once it is taken in.
type fill struct {
	said   float64 // of its volume, what was said and does not come of its sides
	wells  []Well
	height float64 // mean, in inches
}

// addFill takes in the body up to its heights or its line, without its crown, its
// sides and its wells.
func (b *budget) addFill(s *Load, d *bed) fill {
	if c := s.Calibrated; c != nil {
		b.note("The bed was taped on %s by %s.", c.On, c.By)
		if c.Box.given() {
			b.addTapedBox(d)
			return fill{wells: c.Wells, height: b.value / d.counted(view{})}
		}
		b.addTapedVolume(c.Volume)
		return fill{said: b.value}
	}
	if len(s.Grid) > 0 {
		b.addGrid(s, d)
	} else {
		b.addBox(d)
	}
	return fill{wells: s.Wells, height: b.value / d.counted(view{})}
}

// addTapedVolume takes in a volume up to a line as said.
func (b *budget) addTapedVolume(v measure.Volume) {
	b.value = float64(v) / float64(measure.CubicInch)
	b.add(TapedVolume, 0, rectangular(tapedShare*b.value))
	b.add(LevelToLine, 0, rectangular(lineShare*b.value))
	b.note("The volume up to the line is taken as ± %.3g of itself, and the level of the wood against the line as ± %.3g: common practice.",
		tapedShare, lineShare)
}

// addTapedBox takes in the box that was taped; how level the wood lies takes the
// place of where its top is.
func (b *budget) addTapedBox(d *bed) {
	floor := d.counted(view{})
	b.value = d.tapedHigh() * floor
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*floor)
	half := lineHalf
	if b.basis == measure.Loose {
		half *= 2
	}
	b.add(LevelToLine, 0, rectangular(half)*floor)
	b.note("The level of the wood against the line is taken as ± %s: common practice.", measure.Length(half*float64(measure.Inch)))
}

// addGrid takes in a grid of heights: their mean, doubted by their whole spread.
func (b *budget) addGrid(s *Load, d *bed) {
	m, floor := s.gridMean(b.tally.Raised), d.counted(view{})
	b.value = (m.value + b.tally.up(b.division, view{})) * floor
	b.addLevel(floor)
	b.observe(HeightGrid, m, floor, readGrid, gridMinutes)
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*floor)
	b.roundHeights(floor, m.spread)
}

// gridMean is the mean of a grid, what is below the wood taken off.
func (s *Load) gridMean(raised measure.Length) mean {
	all := make([]measure.Length, 0, s.heights())
	for _, line := range s.Grid {
		for _, h := range line {
			all = append(all, h-raised)
		}
	}
	return meanFrom(all, oneStationHalf)
}

// addWells takes off the wells up to the height of the fill, in inches.
func (b *budget) addWells(wells []Well, fill float64) {
	var squares float64
	for _, w := range wells {
		v := inches(w.Length) * inches(w.Width) * min(inches(w.Height), fill) * float64(w.Count)
		b.value -= v
		squares += v * v
	}
	if len(wells) > 0 {
		b.add(WellSize, 0, rectangular(wellHalf*math.Sqrt(squares)))
		b.note("The room a wheel well takes is taken as ± %.3g of itself: common practice.", wellHalf)
	}
}

// wellFloor is the floor under the wells in square inches.
func wellFloor(wells []Well) float64 {
	var area float64
	for _, w := range wells {
		area += inches(w.Length) * inches(w.Width) * float64(w.Count)
	}
	return area
}

// check refuses a load whose volume cannot be worked out.
func (s *Load) check(t *Tally) error {
	if s.Arrangement != measure.Loose && s.Arrangement != measure.Ranked {
		return unfit("stack.arrangement", "unknown", string(s.Arrangement), measure.Say("it is not said how the wood was put in"), measure.Say("thrown or ranked"))
	}
	if err := s.checkBody(t); err != nil {
		return err
	}
	if len(s.Crown.Crest) > 0 && !slices.Contains(crownShapes(), string(s.Crown.Shape)) {
		return unfit("stack.crown.shape", "unknown", string(s.Crown.Shape), measure.Say("this isn’t a shape of a crown"), measure.Say("peak, ridge, rounded, flat-topped or not said"))
	}
	for _, c := range s.Crown.Crest {
		if c < 0 {
			return unfit("stack.crown.crest", "negative", "", measure.Say("a crest is 0 or more"), measure.Say("a length such as 10 in"))
		}
	}
	if len(s.Crown.Crest) > 0 && s.body().floor() <= 0 {
		return unfit("stack.length", "missing", "", measure.Say("a crown stands over no floor that was read"), measure.Say("length and width of the bed"))
	}
	return nil
}

func (s *Load) checkBody(t *Tally) error {
	switch {
	case s.Calibrated != nil && t.Raised != 0:
		return unfit("raised", "out-of-place", "", measure.Say("a bed filled to its line has nothing taken off below the wood"), measure.Say("nothing here"))
	case s.Calibrated != nil && s.Calibrated.Box.given():
		if err := s.Calibrated.Box.check("stack.calibrated.box", 0); err != nil {
			return err
		}
		return checkWells("stack.calibrated.box.wells", s.Calibrated.Wells, s.Calibrated.Box.floor())
	case s.Calibrated != nil:
		if s.Calibrated.Volume <= 0 {
			return unfit("stack.calibrated.volume", "too-small", "", measure.Say("the volume up to the line is not above 0"), measure.Say("a volume such as 64 cu ft"))
		}
		return nil
	case len(s.Grid) > 0:
		if err := s.checkGrid(t.Raised); err != nil {
			return err
		}
	default:
		if err := s.Box.check("stack", t.Raised); err != nil {
			return err
		}
	}
	return checkWells("stack.wells", s.Wells, s.Box.floor())
}

func (s *Load) checkGrid(raised measure.Length) error {
	if s.Box.Length <= 0 || s.Box.Width <= 0 {
		return unfit("stack.length", "too-small", "", measure.Say("a bed is longer and wider than 0"), measure.Say("lengths such as 8 ft"))
	}
	for i, line := range s.Grid {
		if len(line) == 0 || len(line) != len(s.Grid[0]) {
			return unfit(at("stack.grid", i), "mismatch", "", measure.Say("the lines of the grid have not one number of heights"), measure.Say("as many heights in each line"))
		}
		for _, h := range line {
			if h <= raised {
				return unfit(at("stack.grid", i), "too-small", "", measure.Say("the height %s is not above the %s that the wood is raised", h, raised),
					measure.Say("a height taken from the same place as the part taken off"))
			}
		}
	}
	return nil
}

// checkWells refuses wells that leave no floor.
func checkWells(path string, wells []Well, floor float64) error {
	for i, w := range wells {
		if w.Length <= 0 || w.Width <= 0 || w.Height <= 0 || w.Count < 1 {
			return unfit(at(path, i), "too-small", "", measure.Say("a wheel well has a length, a width and a height above 0"), measure.Say("lengths such as 3 ft"))
		}
	}
	if area := wellFloor(wells); area >= floor || math.IsNaN(area) {
		if len(wells) > 0 {
			return unfit(path, "too-large", "", measure.Say("the wheel wells take up the whole floor"), measure.Say("wells smaller than the floor they are on"))
		}
	}
	return nil
}
