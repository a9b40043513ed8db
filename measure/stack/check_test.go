package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// What ParseTally does not make is refused by name, never measured and never a
// panic.
func TestMeasureRefuses(t *testing.T) {
	row := func(change func(*Row)) func(*Tally) {
		return func(t *Tally) { change(&t.Stack.(Rows).Rows[0]) }
	}
	for _, c := range []struct {
		field  string
		change func(*Tally)
	}{
		{"stack", func(t *Tally) { t.Stack = nil }},
		{"tape", func(t *Tally) { t.Tape = 0 }},
		{"top", func(t *Tally) { t.Top = "by ear" }},
		{"raised", func(t *Tally) { t.Raised = -1 }},
		{"look", func(t *Tally) { t.Look = 0 }},
		{"stack.rows", func(t *Tally) { t.Stack = Rows{} }},
		{"stack.rows[0].length", row(func(r *Row) { r.Length = 0 })},
		{"stack.rows[0].heights", row(func(r *Row) { r.Heights = nil })},
		{"stack.rows[0].heights[1]", row(func(r *Row) { r.Heights = in(40, 0) })},
		{"stack.rows[0].heights[0]", func(t *Tally) { t.Raised = 60 * measure.Inch }},
		{"stack.rows[0].positions", row(func(r *Row) { r.Positions = in(1, 2) })},
		{"stack.rows[0].positions[2]", row(func(r *Row) { r.Positions = in(1, 2, 2, 3, 4) })},
		{"stack.rows[0].positions[4]", row(func(r *Row) { r.Positions = in(1, 2, 3, 4, 97) })},
		{"stack.rows[0].ends[1].kind", row(func(r *Row) { r.Ends[1] = End{} })},
		{"stack.rows[0].ends[0].over", row(func(r *Row) { r.Ends[0].Kind = Tapered })},
		{"stack.rows[0].ends[0].share", row(func(r *Row) { r.Ends[0] = End{Kind: Cribbed, Over: 1, Share: math.NaN()} })},
		{"stack.rows[0].ends", row(func(r *Row) { r.Ends[0] = End{Kind: Shouldered, Over: 97 * measure.Inch} })},
		{"stack.rows[0].pieces", row(func(r *Row) { r.Pieces.Nominal = nominalLess })},
		{"stack.rows[0].pieces", row(func(r *Row) { r.Pieces.Sample = in(16, 0) })},
		{"stack.rows", func(t *Tally) {
			s := t.Stack.(Rows)
			for i := range s.Rows {
				s.Rows[i].Voids = []Void{{96 * measure.Inch, 48 * measure.Inch}}
			}
		}},
	} {
		tally := shortTally()
		c.change(&tally)
		_, err := Measure(tally)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, c.field)
		assert.Equal(t, c.field, fault.Field)
		assert.NotEmpty(t, fault.Code, c.field)
		assert.NotEmpty(t, fault.Reason.Key, c.field)
		assert.NotEmpty(t, fault.Accepts.Key, c.field)
	}
}
