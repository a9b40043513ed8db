package web

import (
	"fmt"

	"wellstowed/web/form"
)

// A rowPart is one row of the form, on the page it stands on.
type rowPart struct {
	measurePage
	R    int // from 0
	Row  form.Row
	Last bool
}

// RowParts are the rows of the form.
func (p measurePage) RowParts() []rowPart {
	parts := make([]rowPart, len(p.F.Rows))
	for i, row := range p.F.Rows {
		parts[i] = rowPart{p, i, row, i == len(p.F.Rows)-1}
	}
	return parts
}

// Number is the row's number, from 1.
func (p rowPart) Number() int { return p.R + 1 }

// Steps tells whether a narrow page goes through the form step by step.
func (p measurePage) Steps() bool { return p.Kind == rowsKind }

// Whose is whose wood is measured, empty where that isn't known.
func (p measurePage) Whose() string {
	if p.Order == nil {
		return ""
	}
	return p.Order.Customer.Name
}

// InOther is the page as its words are once its unit is changed.
func (p measurePage) InOther() measurePage {
	unit := form.Unit(p.OtherUnit().Value)
	p.F.Unit = unit
	if p.K != nil {
		other := *p.K
		other.Unit = unit
		p.K = &other
	}
	return p
}

// A fraction is a key for part of an inch. Its tick is as long as on a tape: the fewer
// parts an inch is cut in, the longer.
type fraction struct {
	Over, Under, Deep int
	Label             string
}

// Value is what the key types.
func (f fraction) Value() string { return fmt.Sprintf("%d/%d", f.Over, f.Under) }

// Inch are the keys for the parts of an inch, in their order on a tape.
func (p measurePage) Inch() []fraction {
	return []fraction{
		{1, 8, 8, p.T("one eighth inch")}, {1, 4, 4, p.T("one quarter inch")}, {3, 8, 8, p.T("three eighths inch")}, {1, 2, 2, p.T("one half inch")},
		{5, 8, 8, p.T("five eighths inch")}, {3, 4, 4, p.T("three quarters inch")}, {7, 8, 8, p.T("seven eighths inch")},
	}
}

// A padKey is one key of the pad.
type padKey struct{ Value, Label, Class string }

// Keys are the keys of the pad by rows of four, without the one that leads on, which is
// two rows high.
func (p measurePage) Keys() []padKey {
	digit := func(d string) padKey { return padKey{Value: d, Label: d} }
	return []padKey{
		digit("7"), digit("8"), digit("9"), {"ft", p.T("ft"), "unit for-in"}, {"m", p.T("m"), "unit for-cm"},
		digit("4"), digit("5"), digit("6"), {"in", p.T("in"), "unit for-in"}, {"cm", p.T("cm"), "unit for-cm"},
		digit("1"), digit("2"), digit("3"),
		{"to cm", p.T("m, cm"), "unit for-in"}, {"to in", p.T("ft, in"), "unit for-cm"}, digit("0"), {"delete", p.T("delete"), "unit"},
	}
}
