package measure

import (
	"cmp"
	"math"
	"slices"
)

// The actions of the advice.
const (
	measurePieces   = "pieces"
	readStations    = "stations"
	layStraightedge = "straightedge"
	checkStowing    = "stowing"
	restackCribs    = "cribs"

	gridHeights      = "grid"      // read a grid in place of a crown
	readGrid         = "grid-more" // more heights of a grid
	measureDiameters = "diameters"
	readWall         = "heights" // of a round stack
	stackIt          = "stack"
)

// How many minutes an action takes: practice, only used to put actions in order.
const (
	pieceMinutes        = 3  // a sample
	stationMinutes      = 2  // a row
	straightedgeMinutes = 2  // a row
	stowingMinutes      = 3  // a row
	cribMinutes         = 15 // a crib
)

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

// next lists the actions that would take at least one part in a hundred off U,
// with U afterwards on the same spreads. The order is by U taken off for each
// minute of work, most first.
func next(e *estimate, expanded float64) []Action {
	parts := e.parts
	type option struct {
		Action
		worth float64
	}
	var found [9]option
	options := found[:0]
	for _, code := range [...]string{layStraightedge, measurePieces, readStations, checkStowing, restackCribs,
		gridHeights, readGrid, measureDiameters, readWall} {
		minutes := work(parts, code)
		if minutes == 0 {
			continue
		}
		after := combine(parts, code).expanded()
		if drop := expanded - after; drop >= worthDoing*expanded {
			options = append(options, option{Action{code, e.actionText(code), volume(after)}, drop / minutes})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(b.worth, a.worth) })
	actions := make([]Action, len(options))
	for i := range options {
		actions[i] = options[i].Action
	}
	if stack, ok := e.stackAction(expanded); ok {
		actions = append(actions, stack)
	}
	return actions
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

// stackAction is the answer to thrown wood: stack it, then measure. The row is that of
// all the volume may be and of all that stacking may make of it. U afterwards is that
// of a stack well measured.
func (e *estimate) stackAction(expanded float64) (Action, bool) {
	if !e.thrown {
		return Action{}, false
	}
	low, high := thrownToRanked(e.piece)
	after := stackedShare * e.value * high
	if after >= expanded {
		return Action{}, false
	}
	key, piece := "Stack it in rows %s high: expect about %s to %s of row of %s pieces, then measure that.", e.piece
	if piece == 0 {
		key, piece = "Stack it in rows %s high: expect about %s to %s of row if its pieces are %s, then measure that.", shortPieces
	}
	face := inches(stackHeight) * piece
	text := Say(key, Length(stackHeight), wholeFeet((e.value-expanded)*low/face, math.Floor), wholeFeet((e.value+expanded)*high/face, math.Ceil),
		Length(math.RoundToEven(piece*2))*(Inch/2))
	return Action{stackIt, text, volume(after)}, true
}

// wholeFeet rounds inches to feet, at least one.
func wholeFeet(inches float64, round func(float64) float64) Length {
	return Length(max(round(inches/12), 1)) * Foot
}

// actionText says what to do, in the words of the kind of stack.
func (e *estimate) actionText(code string) Text {
	switch {
	case code == gridHeights:
		return Say("Read heights from the floor over the whole load, three lines of four, in place of the crown.")
	case code == readGrid:
		return Say("Read four more heights of the grid, evenly spread.")
	case code == measureDiameters:
		return Say("Measure four more diameters, evenly spread round the stack.")
	case code == readWall:
		return Say("Read four more heights of the wall, evenly spread round the stack.")
	case e.kind != "" && code == readStations:
		return Say("Read four more heights, evenly spread.")
	case e.kind != "" && code == layStraightedge:
		return Say("Lay a straightedge across the top and read every height up to it.")
	}
	return rowsActionText(code)
}

func rowsActionText(code string) Text {
	switch code {
	case measurePieces:
		return Say("Measure five more pieces, taken from all over the stack.")
	case readStations:
		return Say("Read four more heights along each row.")
	case layStraightedge:
		return Say("Lay a straightedge on the top pieces and read every height up to it.")
	case checkStowing:
		return Say("Check the stowing: pieces parallel and touching, no gap that takes a piece, any crib restacked.")
	}
	return Say("Restack the cribs as ranked rows, then measure again.")
}
