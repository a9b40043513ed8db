// Package lot judges packaged lots of firewood on the average of a sample, as NIST
// Handbook 133 is known here: every figure and rule it rests on carries its source,
// and whether that was read or is from memory. It does no input or output and
// reads no clock.
package lot

import (
	"strconv"

	"wellstowed/measure"
)

// What a lot may hold.
const (
	Format      = 1                // of a lot document
	MaxLotSize  = 1_000_000        // packages
	MaxPackages = 500              // measured
	MaxPackage  = 1 * measure.Cord // labelled or measured
	MaxDraws    = 200              // of one lot
	MaxBytes    = 256_000          // of a document
)

// A Lot is an inspection lot: packages of one label, and those of them that were
// measured.
type Lot struct {
	Labelled measure.Volume // on each package, > 0
	LotSize  int            // packages in the lot, 1 to MaxLotSize
	// Seed is what the sample was drawn with, nil where it was not said; Drawn are all
	// seeds that were drawn for this lot, in order, where that is known.
	Seed     *uint64
	Drawn    []uint64
	Packages []Package // those measured, 1 to MaxPackages, in any order
	// Limit is how much less than labelled one package may hold, where the rule
	// set in force gives an individual limit; else nil.
	Limit *measure.Volume
}

// A Package is one measured package.
type Package struct {
	Number int            // in the lot, from 1, each once
	Volume measure.Volume // > 0
	// Length and Area, the mean of the pieces and of the two ends, are what Volume
	// was worked out from; both are 0 where a volume was given.
	Length measure.Length
	Area   Area
}

// places names where a value stands: field of the i-th package, or of the lot
// where i is -1.
type places func(i int, field string) string

func inDocument(i int, field string) string {
	switch {
	case i < 0:
		return field
	case field == "":
		return "packages[" + strconv.Itoa(i) + "]"
	}
	return "packages[" + strconv.Itoa(i) + "]." + field
}

// check notes what is missing or out of range.
func (l *Lot) check(at places) measure.InputErrors {
	var errs faults
	errs.volume(at(-1, "labelled"), l.Labelled, MaxPackage)
	errs.within(at(-1, "lot_size"), l.LotSize, MaxLotSize)
	if l.Limit != nil {
		errs.volume(at(-1, "limit"), *l.Limit, sound(l.Labelled, MaxPackage))
	}
	if len(l.Drawn) > MaxDraws {
		errs.within(at(-1, "drawn"), len(l.Drawn), MaxDraws)
	}
	errs.within(at(-1, "packages"), len(l.Packages), MaxPackages)
	seen := map[int]bool{}
	for i, p := range l.Packages {
		errs.within(at(i, "number"), p.Number, sound(l.LotSize, MaxLotSize))
		if seen[p.Number] {
			errs.add(at(i, "number"), "duplicate", strconv.Itoa(p.Number),
				measure.Say("this package is in the lot twice"), measure.Say("each package once"))
		}
		seen[p.Number] = true
		p.check(i, at, &errs)
	}
	return measure.InputErrors(errs)
}

// sound is n where it is a bound that others can be held to, else high.
func sound[T int | measure.Volume](n, high T) T {
	if n < 1 || n > high {
		return high
	}
	return n
}

func (p Package) check(i int, at places, errs *faults) {
	field := "volume"
	if p.Length != 0 || p.Area != 0 {
		field = ""
		errs.length(at(i, "length"), p.Length)
		errs.area(at(i, "area"), p.Area)
	}
	errs.volume(at(i, field), p.Volume, MaxPackage)
}
