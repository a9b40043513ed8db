package rules

import "wellstowed/measure"

// A Seasoned is what a law takes “seasoned” for.
type Seasoned struct {
	Statement
	Months int `json:"months"` // that the wood was cut and air-dried at least
}

// A Printed is a text that a receipt carries.
type Printed struct {
	Statement
	// Exact tells that the law gives the words, which are printed untouched.
	Exact bool    `json:"exact,omitempty"`
	From  *Amount `json:"at_least,omitempty"` // of loads of at least this much; nil: any
	Under *Amount `json:"under,omitempty"`    // of loads of less than this; nil: any
}

// goesWith tells whether the text is printed for a load.
func (p Printed) goesWith(delivered measure.Volume) bool {
	return (p.From == nil || delivered >= p.From.Volume) && (p.Under == nil || delivered < p.Under.Volume)
}

// PrintedWith are the texts that the receipt of a load carries.
func (s Set) PrintedWith(delivered measure.Volume) []Printed {
	return kept(s.Printed, func(p Printed) bool { return p.goesWith(delivered) })
}

// printed checks the texts of receipts and what seasoned is.
func (c *checker) printed(s Set) {
	for i, p := range s.Printed {
		path := item("printed", i)
		c.statement(path, &p.Statement)
		if p.From != nil && p.Under != nil {
			c.fail(path, "one of “at_least” and “under”")
		}
	}
	if d := s.Seasoned; d != nil {
		c.statement("seasoned", &d.Statement)
		if d.Months <= 0 {
			c.fail("seasoned.months", "is not above 0")
		}
	}
}
