package stack

import (
	"math"

	"wellstowed/measure"
)

// A Box is the inside of a body, bin or crate, filled to a height read at stations
// along its length. Heights go from the floor to the top of the wood.
type Box struct {
	Length, Width measure.Length
	Heights       []measure.Length
	Positions     []measure.Length // of the heights along the length; empty: middles of equal parts
}

// Half-widths of what is judged at a box: practice, no source.
const (
	insideHalf      = 0.5 // inches, where the inside of a box ends
	thrownStraight  = 1.0 // inches, top of thrown wood, by a straightedge
	thrownEye       = 2.0 // the same by eye
	boxMinutes      = 2   // for four more heights
	rowSlack        = 0.5 // inches that a row may reach past the side it is in
	usualPiece      = 16. // inches, where nothing is known of pieces
	unmeasuredShare = 0.5 // of a piece, how well rows of unmeasured pieces are known to fill a side
)

// given tells whether anything of the box was read.
func (x *Box) given() bool {
	return x.Length != 0 || x.Width != 0 || len(x.Heights) > 0 || len(x.Positions) > 0
}

// row is the box seen from its side.
func (x *Box) row() Row {
	return Row{Length: x.Length, Heights: x.Heights, Positions: x.Positions, Ends: [2]End{{Kind: Upright}, {Kind: Upright}}}
}

// floor is the area of the floor in square inches.
func (x *Box) floor() float64 { return inches(x.Length) * inches(x.Width) }

// check refuses a box whose volume can't be worked out.
func (x *Box) check(path string, raised measure.Length) error {
	r := x.row()
	fault := r.check(raised)
	if fault == nil && x.Width <= 0 {
		fault = unfit("width", "too-small", "", measure.Say("a box is wider than 0"), measure.Say("a length such as 5 ft"))
	}
	if fault != nil {
		fault.Field = path + "." + fault.Field
		return fault
	}
	return nil
}

// A bed is a box as its wood is counted: of ranked wood only the whole rows that fit,
// n·P̄ of the side that the pieces lie along; air beside them is not wood.
type bed struct {
	*Box
	tally    *Tally
	division float64 // in effect of heights and sides, inches
	held     Lie     // how the rows lie; empty where the wood is not ranked
	rows     float64 // that fit; 0 where the pieces are not known
	piece    pieceLength
	unsaid   bool // how they lie was not said
	loose    bool // the pieces were not measured
}

// bedOf counts a box; the fault has no field.
func (b *budget) bedOf(x *Box, lie Lie, p Pieces) (bed, *measure.InputError) {
	d := bed{Box: x, tally: b.tally, division: b.division}
	if b.basis != measure.Ranked || x.Length <= 0 {
		return d, nil
	}
	d.held, d.unsaid, d.loose = lie, lie == "", len(p.Sample) == 0
	if !p.Given() || !p.known() {
		if d.unsaid {
			d.held = Across
		}
		return d, nil
	}
	d.piece = p.judge(b.tally.Tape)
	across, along := d.fits(x.Width), d.fits(x.Length)
	piece := d.piece.at(b.tally, view{})
	smaller := across > 0 && (along == 0 || across*piece*inches(x.Length) <= along*piece*inches(x.Width))
	if d.held == Across || d.unsaid && smaller {
		d.held, d.rows = Across, across
	} else {
		d.held, d.rows = Along, along
	}
	if d.rows == 0 {
		return d, unfit("pieces", "too-long", "", measure.Say("pieces of %s are longer than the side they lie along", OfInches(piece)),
			measure.Say("pieces that fit, or the other way for them to lie"))
	}
	return d, nil
}

// fits is how many whole rows fit in a side.
func (d *bed) fits(side measure.Length) float64 {
	return math.Floor((inches(side)+d.tally.up(d.division, view{})+rowSlack)/d.piece.at(d.tally, view{}) + 1e-9)
}

// sides are the counted length and width in inches.
func (d *bed) sides(v view) (along, across float64) {
	up := d.tally.up(d.division, v)
	along, across = inches(d.Length)+up, inches(d.Width)+up
	switch {
	case d.rows == 0:
	case d.held == Along:
		along = d.rows * d.piece.at(d.tally, v)
	default:
		across = d.rows * d.piece.at(d.tally, v)
	}
	return along, across
}

// counted is the counted floor in square inches.
func (d *bed) counted(v view) float64 {
	along, across := d.sides(v)
	return along * across
}

// high is the mean height of the wood in inches, what is below it taken off.
func (d *bed) high(raised measure.Length, v view) float64 {
	r := d.row()
	area, _ := r.area(raised, inches(d.Length), d.tally.up(d.division, v)+d.tally.over(v))
	return area / inches(d.Length)
}

// tapedHigh is the mean height of a line that was taped once, in inches.
func (d *bed) tapedHigh() float64 {
	r := d.row()
	area, _ := r.area(0, inches(d.Length), 0)
	return area / inches(d.Length)
}

// holds are what of a bed's readings can't carry short or full; a line of a body that
// was taped is as good as heights.
func (d *bed) holds(basis measure.Basis, heights int, line bool) (holds []Hold) {
	if basis == measure.Ranked && (d.unsaid || d.Length <= 0) {
		holds = append(holds, HeldByKind)
	}
	if basis == measure.Ranked && (d.loose || d.piece.count < fitPieces) {
		holds = append(holds, HeldByPieces)
	}
	if !line && heights < fitHeights {
		holds = append(holds, HeldByHeights)
	}
	return holds
}

// addBox takes in a bed filled to its heights, all but its sides.
func (b *budget) addBox(d *bed) {
	r, floor := d.row(), d.counted(view{})
	b.value += d.high(b.tally.Raised, view{}) * floor
	b.addLevel(floor)
	b.addHeights(&r, floor)
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*floor)
	b.roundHeights(floor, deviation(r.Heights, MeanInches(r.Heights)))
}

// addSides takes in the length and width of a bed that holds so much, in cubic inches,
// in proportion to each of the two.
func (b *budget) addSides(d *bed, holds float64) {
	along, across := d.sides(view{})
	free := [2]float64{holds / along, holds / across}
	if d.held == Along {
		free[0] = 0
	} else if d.held == Across {
		free[1] = 0
	}
	b.add(InsideEnds, 0, rectangular(insideHalf)*math.Hypot(free[0], free[1]))
	b.roundSides(free[0], free[1])
	b.add(TapeOnSides, 0, rectangular(tapeHalf)*(free[0]+free[1]))
	b.note("Where the inside ends is taken as ± %s on length and on width: common practice.", measure.Length(insideHalf*float64(measure.Inch)))
	if d.held != "" {
		b.addWholeRows(d, holds, map[Lie]float64{Along: along, Across: across}[d.held])
	}
}

// addWholeRows takes in the side that whole rows make up.
func (b *budget) addWholeRows(d *bed, holds, side float64) {
	if d.unsaid && d.rows > 0 {
		b.note("It isn’t said whether the pieces lie across or along; counted is the way that gives less: %s.", measure.Say(string(d.held)))
	}
	if d.loose {
		piece := usualPiece
		if d.rows > 0 {
			piece = d.piece.mean
		}
		b.cure(RowsThatFit, 0, rectangular(unmeasuredShare*piece)*holds/side, cure{code: measurePieces, minutes: pieceMinutes})
		b.note("The pieces were not measured: the side that they lie along is taken as ± %s: common practice.", OfInches(unmeasuredShare*piece))
		return
	}
	p := &d.piece
	s := holds / p.at(b.tally, view{})
	b.parts = append(b.parts, part{source: p.source, u: p.u * s, degrees: p.degrees,
		cure: cure{code: measurePieces, u: p.afterU * s, degrees: p.afterNu, minutes: pieceMinutes}})
	b.roundPieces(p.division, s, p.spread)
	b.note("%d whole rows of pieces fit that side and make up %s of it; air beside them doesn’t count.", int(d.rows), OfInches(side))
}

// roundSides takes in the readings of length and width.
func (b *budget) roundSides(along, across float64) {
	half := b.division / 2
	u := rectangular(half) * math.Hypot(along, across)
	b.habit.linear += half * (along + across)
	b.habit.squares += u * u
	if b.tally.Rounded != "" {
		b.add(SizeReading, 0, u)
	}
}

// topHalf is the half-width, in inches, of where the top of the wood is.
func (b *budget) topHalf(top Top) float64 {
	switch {
	case b.basis == measure.Loose && top == Straightedge:
		return thrownStraight
	case b.basis == measure.Loose:
		return thrownEye
	case top == Straightedge:
		return straightHalf
	}
	return eyeHalf
}

// addLevel takes in where the top of the wood is over a floor: one judgement.
func (b *budget) addLevel(floor float64) {
	half := b.topHalf(b.tally.Top)
	b.note("The top of the wood is taken as ± %s over the whole: common practice.", measure.Length(half*float64(measure.Inch)))
	if b.tally.Top == Straightedge {
		b.add(TopOfWood, 0, rectangular(half)*floor)
		return
	}
	b.cure(TopOfWood, 0, rectangular(half)*floor, cure{
		code: layStraightedge, u: rectangular(b.topHalf(Straightedge)) * floor, minutes: straightedgeMinutes})
}

// addHeights takes in the spread between the stations of a box over its floor.
func (b *budget) addHeights(r *Row, floor float64) {
	m, more := len(r.Heights), r.moreHeights()
	heal := cure{code: readStations, u: more.u * floor, degrees: more.degrees, minutes: boxMinutes}
	if m < fewStations {
		b.cure(FewHeights, 0, rectangular(r.fewHalf())*floor, heal)
		b.note("Fewer than four heights are taken as ± %s, or half their range where that is larger: common practice.",
			measure.Length(r.fewHalf()*float64(measure.Inch)))
		b.note("What more heights would bring is worked out on a spread of at least %s between heights: common practice.", measure.Length(usualStep*measure.Inch))
		return
	}
	length := inches(r.Length)
	_, weights := r.area(0, length, 0)
	b.parts = append(b.parts, part{source: HeightSpread, u: r.stepSpread() * weights / length * floor, degrees: stepDegrees(m), cure: heal})
}
