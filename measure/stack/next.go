package stack

import (
	"cmp"
	"math"
	"slices"

	"wellstowed/measure"
)

// The actions of the advice.
const (
	measurePieces   = "pieces"
	readStations    = "stations"
	layStraightedge = "straightedge"
	checkStowing    = "stowing"
	restackCribs    = "cribs"
	countGaps       = "gaps"
	readBack        = "back"     // heights of the back face
	sayRounding     = "rounding" // or read to a finer mark
	sayApart        = "apart"
	sayLie          = "lie"
	sayEnds         = "ends"

	gridHeights      = "grid"      // read a grid in place of a crown
	readGrid         = "grid-more" // more heights of a grid
	measureDiameters = "diameters"
	readWall         = "heights" // of a round stack
	stackIt          = "stack"

	setLevel = "level" // on the sticks of a photo
	zoomIn   = "zoom"  // when tapping it
	tapMore  = "taps"  // of its outline, between sticks at both ends

)

// How many minutes an action takes: practice, only used to put actions in order.
const (
	pieceMinutes        = 3  // a sample
	stationMinutes      = 2  // a row
	straightedgeMinutes = 2  // a row
	stowingMinutes      = 3  // a row
	cribMinutes         = 15 // a crib
	sayMinutes          = 1
	levelMinutes        = 3 // a row, with the photo taken again
	zoomMinutes         = 2 // a row
)

// zoomedIn is how far a photo is enlarged by whoever is asked to zoom in.
const zoomedIn = 4

// leastCoverage is below k of any degrees of freedom, so that U needn't be worked out where
// it would still be too large.
const leastCoverage = 1.959

// worthDoing is the least part of U that an action has to take away to be listed.
const worthDoing = 0.01

// after gives the part's doubt once an action is taken. Checked stowing includes
// restacked cribs.
func (p *part) after(action string) (u, degrees float64) {
	if p.changes(action) {
		return p.cure.u, p.cure.degrees
	}
	return p.u, p.degrees
}

func (p *part) changes(action string) bool {
	if action == "" || p.cure.code == "" {
		return false
	}
	return p.cure.code == action || action == checkStowing && p.cure.code == restackCribs
}

// next lists the actions that would take at least one part in a hundred off U, with
// U afterwards on the same spreads, and those that would lift what holds a finding
// back. What held it back comes first, as the finding has it; the rest by U taken off
// for each minute of work, most first.
func next(e *estimate, f *Finding, expanded float64) []Action {
	parts := e.parts
	type option struct {
		Action
		worth float64
	}
	var found [16]option
	options := found[:0]
	var codes [mostHolds]string
	held := e.heldActions(codes[:0], f)
	for _, code := range [...]string{layStraightedge, measurePieces, readStations, sayRounding, checkStowing, countGaps, restackCribs, readBack,
		gridHeights, readGrid, measureDiameters, readWall, setLevel, zoomIn} {
		minutes := work(parts, code)
		if minutes == 0 || slices.Contains(held, code) {
			continue
		}
		left := combine(parts, code)
		if expanded-leastCoverage*left.u < worthDoing*expanded {
			continue
		}
		after := left.expanded()
		if drop := expanded - after; drop >= worthDoing*expanded {
			options = append(options, option{Action{code, e.actionText(code), volume(after)}, drop / minutes})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(b.worth, a.worth) })
	actions := make([]Action, 0, len(held)+len(options)+1)
	for _, code := range held {
		actions = append(actions, Action{code, e.actionText(code), volume(combine(parts, code).expanded())})
	}
	for i := range options {
		actions = append(actions, options[i].Action)
	}
	if stack, ok := e.stackAction(expanded, f); ok {
		actions = append(actions, stack)
	}
	return actions
}

// heldActions adds what would lift the holds of a finding, first things first.
func (e *estimate) heldActions(codes []string, f *Finding) []string {
	if f == nil || f.Expectation() {
		return codes
	}
	for _, holds := range [...][]Hold{f.HeldBack, f.HeldFromFull} {
		for _, by := range holds {
			if code := e.lifts(by); code != "" && !slices.Contains(codes, code) {
				codes = append(codes, code)
			}
		}
	}
	return codes
}

// lifts is the action that lifts a hold; empty where there is none.
func (e *estimate) lifts(by Hold) string {
	switch by {
	case HeldByApart, HeldByUse:
		return sayApart
	case HeldByKind:
		return sayLie
	case HeldByPieces:
		return measurePieces
	case HeldByHeights:
		if !slices.Contains(e.holds, HeldByHeights) {
			return layStraightedge
		}
		return readStations
	case HeldByPhoto:
		return tapMore
	case HeldByRounding:
		return sayRounding
	case HeldByCribs:
		return restackCribs
	case HeldByStowing:
		return checkStowing
	case HeldByEnds:
		return sayEnds
	}
	return ""
}

// work is how many minutes an action takes, 0 where it is done already.
func work(parts []part, action string) float64 {
	var minutes float64
	var open bool
	for i := range parts {
		open = open || parts[i].cure.code == action
		if parts[i].changes(action) {
			minutes += parts[i].cure.minutes
		}
	}
	if !open {
		return 0
	}
	return minutes
}

// stackAction is the answer to wood that is not ranked: stack it, then measure. The row is that of
// all the volume may be and of all that stacking may make of it. U afterwards is that
// of a stack well measured.
// Wood in a container is told so where the sale can’t be held against it.
func (e *estimate) stackAction(expanded float64, f *Finding) (Action, bool) {
	low, high := rankedShare(e.basis, e.piece)
	after := stackedShare * e.value * high
	better := e.thrown && after < expanded
	if e.basis == measure.Ranked || !better && (f == nil || !f.Expectation()) {
		return Action{}, false
	}
	key, piece := "Stack it in rows %s high: expect about %s to %s of row of %s pieces, then measure that.", e.piece
	if piece == 0 {
		key, piece = "Stack it in rows %s high: expect about %s to %s of row if its pieces are %s, then measure that.", shortPieces
	}
	face := inches(stackHeight) * piece
	text := measure.Say(key, measure.Length(stackHeight), wholeFeet(max(e.value-expanded, 0)*low/face, math.Floor), wholeFeet((e.value+expanded)*high/face, math.Ceil),
		measure.Length(math.RoundToEven(piece*2))*(measure.Inch/2))
	return Action{stackIt, text, volume(after)}, true
}

// wholeFeet rounds inches to feet, at least one.
func wholeFeet(inches float64, round func(float64) float64) measure.Length {
	return measure.Length(max(round(inches/12), 1)) * measure.Foot
}

// actionText says what to do, in the words of the kind of stack.
func (e *estimate) actionText(code string) measure.Text {
	switch {
	case code == sayApart && e.tally.Used:
		return measure.Say("Say how much of this delivery was used since it came.")
	case code == sayApart:
		return measure.Say("Say how much of this delivery is not in this stack, or that none is.")
	case code == sayRounding:
		return measure.Say("Say how readings between two marks were rounded, or read again to a finer mark.")
	case code == sayLie:
		return measure.Say("Say whether the pieces lie across or along.")
	case code == gridHeights:
		return measure.Say("Read heights from the floor over the whole load, three lines of four, in place of the crown.")
	case code == readGrid:
		return measure.Say("Read four more heights of the grid, evenly spread.")
	case code == measureDiameters:
		return measure.Say("Measure four more diameters, evenly spread round the stack.")
	case code == readWall:
		return measure.Say("Read four more heights of the wall, evenly spread round the stack.")
	case e.kind != "" && code == readStations:
		return measure.Say("Read four more heights, evenly spread.")
	case e.kind != "" && code == layStraightedge:
		return measure.Say("Lay a straightedge across the top and read every height up to it.")
	}
	return rowsActionText(code)
}

func rowsActionText(code string) measure.Text {
	switch code {
	case measurePieces:
		return measure.Say("Measure five more pieces, taken from all over the stack.")
	case readStations:
		return measure.Say("Read four more heights along each row.")
	case layStraightedge:
		return measure.Say("Lay a straightedge on the top pieces and read every height up to it.")
	case checkStowing:
		return measure.Say("Check the stowing: pieces parallel and touching, no gap that takes a piece, any crib restacked.")
	case countGaps:
		return measure.Say("Count the gaps that take a stick half as thick as an average piece, and the pieces around them.")
	case readBack:
		return measure.Say("Read the heights of the back face too, at the same places.")
	case sayEnds:
		return measure.Say("Say how every row ends, upright or not.")
	case setLevel:
		return measure.Say("Set the sticks upright with a level and take the photo again.")
	case zoomIn:
		return measure.Say("Zoom into the photo four times and tap its points again.")
	case tapMore:
		return measure.Say("Take the photo with sticks at both ends of the row, and tap at least eight points of its outline.")
	}
	return measure.Say("Restack the cribs as ranked rows, then measure again.")
}
