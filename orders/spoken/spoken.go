// Package spoken reads an order said in one line, such as "2 cords seasoned oak 16 inch,
// split small, stacked, before Christmas". What is understood goes to the order's fields,
// what isn't stays as a note, and what may be meant two ways is asked about: nothing is
// guessed, and nothing that was typed is dropped.
package spoken

import (
	"slices"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
)

// A Kind is what some words of a line were taken for.
type Kind string

// The kinds. Idle words only join others or are polite.
const (
	Quantity  Kind = "quantity"
	Wood      Kind = "wood"
	Seasoning Kind = "seasoning"
	Piece     Kind = "piece length"
	Split     Kind = "split"
	Stacking  Kind = "stacking"
	Day       Kind = "day"
	Cost      Kind = "price"
	Idle      Kind = "idle"
	Note      Kind = "note"
	Asked     Kind = "asked"
)

// A SplitSize is how the wood is to be split.
type SplitSize string

// How wood is split; the zero SplitSize is not said.
const (
	AnySplit    SplitSize = "split" // as usual
	SmallSplit  SplitSize = "small"
	MediumSplit SplitSize = "medium"
	LargeSplit  SplitSize = "large"
	Unsplit     SplitSize = "not split"
)

// Known tells whether it is one of them, or not said.
func (s SplitSize) Known() bool {
	return slices.Contains([]SplitSize{"", AnySplit, SmallSplit, MediumSplit, LargeSplit, Unsplit}, s)
}

// A Stack is whether the wood is to be stacked where it goes.
type Stack string

// Whether it is to be stacked; the zero Stack is not said.
const (
	Stacked   Stack = "yes"
	Unstacked Stack = "no"
)

// Known tells whether it is one of them, or not said.
func (s Stack) Known() bool { return s == "" || s == Stacked || s == Unstacked }

// A Part is a run of a line, from one byte to before another, and what it was taken for.
type Part struct {
	Kind     Kind
	From, To int
}

// A Bed is a truck's or trailer's bed, taped to a line, that loads are said by.
type Bed struct {
	ID, Name, Line string
	Quantity       measure.Quantity // up to the line
}

// About is what a line is read under.
type About struct {
	Today act.Date // in the shop's zone
	// Units are what wood is sold in, as they are written after a number: "cords",
	// "m³ stacked".
	Units []string
	// Points tells that a point may part thousands.
	Points bool
	// AsksBasis tells that wood is sold stacked and loose by the same unit.
	AsksBasis bool
	// LooseCords tells that the rules give a cord of loose wood a size.
	LooseCords bool
	Beds       []Bed
}

// A Load is a quantity said in truckloads: how many of which bed.
type Load struct {
	Bed   Bed
	Count int // ≥ 1
}

// A Price is what a line says that the wood costs; the zero Price is not said.
type Price struct {
	Amount string // as money reads it: "280", "$280", "280 EUR"
	Each   bool   // for one unit of sale, else for all of the wood
}

// A Line is an order's line as it was understood. What a line doesn't say is zero.
type Line struct {
	// Quantity are the words for how much wood it is, for measure to read: "2 cords",
	// "3.6 m³ stacked".
	Quantity string
	// Load is what Quantity was worked out from where loads were said.
	Load      *Load
	Species   string
	Seasoning string // "green", "seasoned" or "kiln-dried"
	Piece     measure.Length
	Split     SplitSize
	Stacking  Stack
	Day       day.Span
	Price     Price
	Notes     []string // what wasn't understood, as typed
	// Parts are the line's words in order, each in one part; only marks that part words
	// are in none.
	Parts []Part
	// Questions are what has to be asked. Their choices are whole lines in place of the
	// one typed, for the field "quantity".
	Questions []*measure.InputError
}

// Longest is how many characters a line may have.
const Longest = 300

// Read reads a line. Whatever is typed, it gives a Line; a line of nothing but spaces is
// the zero one with the question how much wood it is.
func Read(line string, about About) Line {
	if fault := measure.CheckText(strings.ReplaceAll(line, "\n", " "), measure.Say("a line of plain words")); fault != nil {
		return unread(line, *fault)
	}
	if n := utf8.RuneCountInString(line); n > Longest {
		return unread(line, measure.InputError{Code: "too-long", Reason: measure.Say("this has %d characters", n), Accepts: measure.Say("at most %d characters; the rest belongs in the notes", Longest)})
	}
	r := &reader{line: line, about: about}
	r.cut()
	r.marked()
	r.priced()
	r.quantities()
	r.stands()
	r.pieces()
	r.fractions()
	r.phrases()
	r.woods()
	r.prepared()
	r.conflicts()
	r.days()
	r.idle()
	r.amounts()
	r.doubts()
	r.notes()
	return r.result()
}

// WoodOf gives the one wood that some words name, and what they state of how dry it is; empty
// where they name none, or several.
func WoodOf(words string) (species, seasoning string) {
	r := &reader{line: words}
	r.cut()
	r.phrases()
	r.woods()
	if found := r.of(Wood); len(found) == 1 {
		species = found[0].value
	}
	for _, g := range r.of(Seasoning) {
		seasoning = g.value
	}
	return species, seasoning
}

// unread is a line of which nothing was read.
func unread(line string, why measure.InputError) Line {
	why.Field, why.Got = "quantity", measure.Seen(line)
	l := Line{Questions: []*measure.InputError{&why}}
	if line != "" {
		l.Parts = []Part{{Asked, 0, len(line)}}
	}
	return l
}
