package measure

import "math"

// A Box is the inside of a body, bin or crate, filled to a height read at stations
// along its length. Heights go from the floor to the top of the wood.
type Box struct {
	Length, Width Length
	Heights       []Length
	Positions     []Length // of the heights along the length; empty: middles of equal parts
}

// Half-widths of what is judged at a box: practice, no source.
const (
	insideHalf   = 0.5 // inches, where the inside of a box ends
	looseTopHalf = 2   // thrown wood: so many times the half-width of ranked wood
	boxMinutes   = 2   // for four more heights
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

// check refuses a box whose volume cannot be worked out.
func (x *Box) check(path string, raised Length) error {
	r := x.row()
	fault := r.check(raised)
	if fault == nil && x.Width <= 0 {
		fault = unfit("width", "too-small", "", Say("a box is wider than 0"), Say("a length such as 5 ft"))
	}
	if fault != nil {
		fault.Field = path + "." + fault.Field
		return fault
	}
	return nil
}

// addBox takes in a box filled to its heights, all but its sides.
func (b *budget) addBox(x *Box) {
	r := x.row()
	area, weights := r.area(b.tally.Raised)
	width := inches(x.Width)
	b.value += area * width
	b.addLevel(x.floor())
	b.addHeights(&r, width, weights)
	b.judge(TapeOnHeights, rectangular(tapeHalf)*x.floor())
}

// addSides takes in the length and width of a box that holds so much, in cubic
// inches, in proportion to each of the two.
func (b *budget) addSides(x *Box, holds float64) {
	along, across := holds/inches(x.Length), holds/inches(x.Width)
	b.judge(InsideEnds, rectangular(insideHalf)*math.Hypot(along, across))
	b.judge(SizeReading, resolution(b.tally.Tape)*math.Hypot(along, across))
	b.judge(TapeOnSides, rectangular(tapeHalf)*(along+across))
	b.note("Where the inside ends is taken as ± %s on length and on width: common practice.", Length(insideHalf*float64(Inch)))
}

// topHalf is the half-width, in inches, of where the top of the wood is.
func (b *budget) topHalf(top Top) float64 {
	half := eyeHalf
	if top == Straightedge {
		half = straightHalf
	}
	if b.basis == Loose {
		half *= looseTopHalf
	}
	return half
}

// addLevel takes in where the top of the wood is over a floor: one judgement.
func (b *budget) addLevel(floor float64) {
	half := b.topHalf(b.tally.Top)
	b.note("The top of the wood is taken as ± %s over the whole: common practice.", Length(half*float64(Inch)))
	if b.tally.Top == Straightedge {
		b.judge(TopOfWood, rectangular(half)*floor)
		return
	}
	b.cure(TopOfWood, rectangular(half)*floor, cure{
		code: layStraightedge, u: rectangular(b.topHalf(Straightedge)) * floor, minutes: straightedgeMinutes})
}

// addHeights takes in the spread between the stations of a box.
func (b *budget) addHeights(r *Row, width, weights float64) {
	m, more := len(r.Heights), r.moreHeights()
	heal := cure{code: readStations, u: more.u * width, degrees: more.degrees, minutes: boxMinutes}
	if m < fewStations {
		b.cure(FewHeights, rectangular(r.fewHalf())*inches(r.Length)*width, heal)
		b.note("Fewer than four heights are taken as ± %s, or half their range where that is larger: common practice.",
			Length(r.fewHalf()*float64(Inch)))
		b.note("What more heights would bring is worked out on a spread of at least %s between heights: common practice.", Length(usualStep*Inch))
		return
	}
	b.parts = append(b.parts, part{source: HeightSpread, u: r.stepSpread() * weights * width, degrees: stepDegrees(m), cure: heal})
}
