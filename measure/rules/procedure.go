package rules

import (
	"fmt"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
)

// A Procedure is how an office checks stacked wood, by its own text: what readings are
// taken, how they are rounded, and how much may be missing. It takes the place of what
// this program remembers of a handbook.
type Procedure struct {
	Name    string `json:"name"`
	Edition string `json:"edition"`
	Date    string `json:"date"` // of this reading, YYYY-MM-DD
	Known

	Increment measure.Length `json:"increment"` // that lengths are read to
	Rounding  string         `json:"rounding"`  // "up", "down" or "nearest"
	// The least counts: heights of each row and face, lengths of each row at different
	// heights, and pieces; Faces is "front" or "both".
	Heights int    `json:"heights"`
	Faces   string `json:"faces"`
	Lengths int    `json:"lengths"`
	Pieces  int    `json:"pieces"`
	// Tolerance is how much may be missing; nil: none stated.
	Tolerance *Tolerance `json:"tolerance,omitempty"`
}

// ParseProcedure reads the file of a procedure, held to what a rule set's file is held
// to: unknown, doubled and missing fields are refused; the error is a *FileError.
func ParseProcedure(b []byte) (Procedure, error) {
	if len(b) > MaxBytes {
		return Procedure{}, &FileError{1, fmt.Sprintf("a file of %d bytes is over the limit of %d", len(b), MaxBytes)}
	}
	f := file{text: b, lines: map[string]int{}, values: map[string]int{}}
	if err := f.walk(); err != nil {
		return Procedure{}, err
	}
	var p Procedure
	if err := strictly(b, &p); err != nil {
		return Procedure{}, f.fault(err)
	}
	c := &checker{file: &f}
	c.procedure(p)
	if len(c.faults) > 0 {
		return Procedure{}, c.faults[0]
	}
	return p, nil
}

func (c *checker) procedure(p Procedure) {
	c.words("name", p.Name)
	c.words("edition", p.Edition)
	if _, err := time.Parse(time.DateOnly, p.Date); err != nil {
		c.fail("date", "%q is not a date such as 2026-01-31", p.Date)
	}
	c.known("", p.Known)
	if p.Increment <= 0 || p.Increment > measure.Foot {
		c.fail("increment", "%s is not above 0 and at most %s", p.Increment, measure.Foot)
	}
	if way := []string{"up", "down", "nearest"}; !slices.Contains(way, p.Rounding) {
		c.fail("rounding", "%q is none of %q", p.Rounding, way)
	}
	if faces := []string{"front", "both"}; !slices.Contains(faces, p.Faces) {
		c.fail("faces", "%q is none of %q", p.Faces, faces)
	}
	c.least("heights", p.Heights, stack.MaxStations)
	c.least("lengths", p.Lengths, stack.MaxLengths+1)
	c.least("pieces", p.Pieces, stack.MaxPieces)
	c.tolerance(p.Tolerance)
}

func (c *checker) least(path string, n, most int) {
	if n < 1 || n > most {
		c.fail(path, "%d is not from 1 to %d", n, most)
	}
}

// WithProcedure gives the book whose sets all go by a procedure.
func (b Book) WithProcedure(p Procedure) Book {
	sets := b.All()
	for i := range sets {
		sets[i].Procedure = &p
	}
	return Book{sets}
}

// Reckoning is how the procedure wants a stack reckoned, for what is sold in a unit.
func (p Procedure) Reckoning(unit UnitCode) procedure.Reckoning {
	named := measure.Say("%s, edition %s, read %s", p.Name, p.Edition, p.Date)
	k := procedure.Reckoning{Named: &named, Increment: p.Increment, Rounding: stack.Rounding(p.Rounding), From: p.Known.text(),
		Counts: procedure.LeastCounts{Heights: p.Heights, Lengths: p.Lengths, Pieces: p.Pieces}}
	if p.Faces == "both" {
		k.Counts.Back = p.Heights
	}
	if steps := p.Tolerance.StepsFor(unit); len(steps) > 0 {
		k.Tolerance, k.ToleranceFrom = steps, p.Tolerance.Known.text()
	}
	return k
}
