package measure

import (
	"cmp"
	"slices"
)

// The actions of the advice.
const (
	measurePieces   = "pieces"
	readStations    = "stations"
	layStraightedge = "straightedge"
	checkStowing    = "stowing"
	restackCribs    = "cribs"
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
func next(parts []part, expanded float64) []Action {
	type option struct {
		Action
		worth float64
	}
	var found [5]option
	options := found[:0]
	for _, code := range [...]string{layStraightedge, measurePieces, readStations, checkStowing, restackCribs} {
		minutes := work(parts, code)
		if minutes == 0 {
			continue
		}
		after := combine(parts, code).expanded()
		if drop := expanded - after; drop >= worthDoing*expanded {
			options = append(options, option{Action{code, actionText(code), volume(after)}, drop / minutes})
		}
	}
	slices.SortStableFunc(options, func(a, b option) int { return cmp.Compare(b.worth, a.worth) })
	actions := make([]Action, len(options))
	for i := range options {
		actions[i] = options[i].Action
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

func actionText(code string) Text {
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
