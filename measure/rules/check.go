package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
)

// A checker holds a set against what every set must have, and keeps all faults.
type checker struct {
	file   *file
	faults []*FileError
}

// fail notes a fault.
func (c *checker) fail(path, reason string, args ...any) {
	c.faults = append(c.faults, &FileError{c.file.lineOf(path), path + ": " + fmt.Sprintf(reason, args...)})
}

// check gives the first fault of a set.
func (f *file) check(s Set) error {
	if faults := f.faultsOf(s); len(faults) > 0 {
		return faults[0]
	}
	return nil
}

// faultsOf gives every fault of a set.
func (f *file) faultsOf(s Set) []*FileError {
	c := &checker{file: f}
	c.head(s)
	c.units(s)
	c.terms("barred", s.Barred)
	c.terms("undefined", s.Undefined)
	c.terms("defined", s.Defined)
	c.once(s)
	c.fields(s)
	c.cords("ranked", s.Ranked)
	c.cords("loose", s.Loose)
	c.sold(s)
	c.single(s)
	for i, n := range s.Notices {
		c.statement(item("notices", i), &n)
	}
	return c.faults
}

func item(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

func (c *checker) head(s Set) {
	if s.Code == "" || strings.Trim(s.Code, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		c.fail("code", "%q is not made of small letters, digits and hyphens", s.Code)
	}
	c.words("name", s.Name)
	c.words("edition", s.Edition)
	if _, err := time.Parse(time.DateOnly, s.Date); err != nil {
		c.fail("date", "%q is not a date such as 2026-01-31", s.Date)
	}
	c.known("", s.Known)
	if s.Nation != "" && !slices.Contains(Nations(), s.Nation) {
		c.fail("nation", "%q is none of %q", s.Nation, Nations())
	}
}

// words asks for text.
func (c *checker) words(path, text string) {
	if strings.TrimSpace(text) == "" {
		c.fail(path, "is missing or empty")
	}
}

func (c *checker) known(path string, k Known) {
	if path != "" {
		path += "."
	}
	c.words(path+"source", k.Source)
	if !validStatus(k.Status) {
		c.fail(path+"status", "%q is none of %q", k.Status, statuses())
	}
}

func (c *checker) units(s Set) {
	if len(s.Units) == 0 && s.Extends == "" {
		c.fail("units", "the unit of sale is missing")
	}
	for i, u := range s.Units {
		path := item("units", i)
		c.words(path+".name", u.Name)
		if !slices.Contains(unitCodes(), u.Unit) {
			c.fail(path+".unit", "%q is none of %q", u.Unit, unitCodes())
		}
		if !slices.Contains([]measure.Basis{measure.Ranked, measure.Loose, measure.Container}, u.Basis) {
			c.fail(path+".basis", "%q isn’t a basis", u.Basis)
		}
		c.known(path, u.Known)
	}
}

// cords checks what a set takes a cord for: no wood may be of two sizes.
func (c *checker) cords(list string, measures []CordMeasure) {
	for i, m := range measures {
		path := item(list, i)
		c.words(path+".name", m.Name)
		if m.PieceFrom <= 0 || m.PieceTo < m.PieceFrom || m.PieceTo > measure.MaxPieceLength {
			c.fail(path+".piece_from", "the piece lengths are not a range above 0 up to %s", measure.MaxPieceLength)
		}
		if m.Volume.Volume <= 0 {
			c.fail(path+".volume", "is not above 0")
		}
		if m.Preparation != "" && !slices.Contains(measure.Preparations(), m.Preparation) {
			c.fail(path+".preparation", "%q is none of %q", m.Preparation, measure.Preparations())
		}
		for j, other := range measures[:i] {
			if meets(m, other) {
				c.fail(path+".preparation", "pieces of one length are in %s as well: each needs a preparation that the other has not", item(list, j))
			}
		}
		c.known(path, m.Known)
	}
}

// meets tells whether some wood would be of both measures.
func meets(a, b CordMeasure) bool {
	return a.PieceFrom <= b.PieceTo && b.PieceFrom <= a.PieceTo &&
		(a.Preparation == "" || b.Preparation == "" || a.Preparation == b.Preparation)
}

// sold holds the cords of a set against its units. What extends a set is held
// against them with it.
func (c *checker) sold(s Set) {
	if s.Extends != "" {
		return
	}
	if len(s.Loose) > 0 && !s.SellsOn(measure.Loose) {
		c.fail("loose", "there is a loose measure, and no unit of sale with the basis %q", measure.Loose)
	}
	if len(s.Ranked) > 0 && !s.Sells(Cord) {
		c.fail("ranked", "there is a size of a cord, and the cord is no unit of sale")
	}
}

// single checks what a set may have one of.
func (c *checker) single(s Set) {
	if r := s.Reading; r != nil {
		if r.Increment <= 0 {
			c.fail("reading.increment", "is not above 0")
		}
		if !slices.Contains([]string{"up", "down", "nearest"}, r.Rounding) {
			c.fail("reading.rounding", "%q is none of up, down, nearest", r.Rounding)
		}
		c.known("reading", r.Known)
	}
	c.tolerance(s.Tolerance)
	if s.Procedure != nil {
		c.fail("procedure", "a procedure is a file of its own")
	}
	c.limit("shares", s.Shares)
	if p := s.Pieces; p != nil {
		c.statement("pieces", &p.Statement)
		if p.Over <= 0 || p.Over >= measure.MaxPieceLength {
			c.fail("pieces.over", "is not above 0 and under %s", measure.MaxPieceLength)
		}
	}
	if l := s.Label; l != nil {
		c.statement("label", &l.Statement)
		if l.Height <= 0 || l.Height > 2*measure.Inch {
			c.fail("label.height", "is not above 0 up to 2 in")
		}
	}
	c.lots(s)
	c.moving(s)
	c.printed(s)
	for i, gap := range s.Gaps {
		c.words(item("gaps", i), gap)
	}
	c.moisture(s.Moisture)
	c.statement("tax", s.Tax)
	if r := s.Retention; r != nil {
		if r.Months <= 0 {
			c.fail("retention.months", "is not above 0")
		}
		if r.VoidedMonths != 0 && r.VoidedMonths < r.Months {
			c.fail("retention.voided_months", "is below the months of the others")
		}
		c.known("retention", r.Known)
	}
}

func (c *checker) statement(path string, s *Statement) {
	if s == nil {
		return
	}
	c.words(path+".words", s.Words)
	c.known(path, s.Known)
}

func (c *checker) limit(path string, l *Limit) {
	if l == nil {
		return
	}
	c.statement(path, &l.Statement)
	if l.Percent < 0 || l.Percent >= 100 {
		c.fail(path+".percent", "is not from 0 to under 100")
	}
}
