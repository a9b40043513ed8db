package stack

import (
	"cmp"
	"math"
	"slices"

	"wellstowed/measure/student"
)

// A part is one line of the doubt budget as worked out, in cubic inches.
type part struct {
	source  Source
	row     int     // from 1; 0: the stack as a whole
	u       float64 // |sensitivity|·standard uncertainty
	degrees float64 // of freedom, +Inf where judged and not observed
	cure    cure
}

// A cure is what would make a part smaller, and how much would be left of it.
type cure struct {
	code    string // an Action's code; empty: nothing would
	u       float64
	degrees float64
	minutes float64 // of work, practice: only used to put actions in order
}

// rectangular is the standard uncertainty of a value known to lie within ± half
// (JCGM 100:2008, 4.3.7).
func rectangular(half float64) float64 { return half / math.Sqrt(3) }

// combined is a combined standard uncertainty and its effective degrees of freedom.
type combined struct{ u, degrees float64 }

// combine adds uncorrelated parts: u by the root of the sum of squares (JCGM
// 100:2008, 5.1.2), degrees by Welch–Satterthwaite (G.4.1), as if the action of
// that code had been taken; "" takes the parts as they are.
func combine(parts []part, action string) combined {
	var squares, tail float64
	for i := range parts {
		u, degrees := parts[i].after(action)
		squares += u * u
		tail += u * u * u * u / degrees
	}
	return summed(squares, tail)
}

// summed closes a sum of squares and of fourth powers over their degrees.
func summed(squares, tail float64) combined {
	if tail == 0 {
		return combined{math.Sqrt(squares), math.Inf(1)}
	}
	return combined{math.Sqrt(squares), squares * squares / tail}
}

// coverage is k, Student's t at 97.5 %, the degrees not rounded.
func (c combined) coverage() float64 { return student.Quantile(0.975, c.degrees) }

// expanded is U = k·u.
func (c combined) expanded() float64 { return c.coverage() * c.u }

// contributions puts the budget in order, largest first, ties as they came.
func contributions(parts []part, u float64) []Contribution {
	var few [64]int // so that most budgets are put in order without moving them
	order := few[:0]
	for i := range parts {
		order = append(order, i)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(parts[b].u, parts[a].u) })
	doubt := make([]Contribution, len(parts))
	for i, at := range order {
		p := &parts[at]
		doubt[i] = Contribution{
			Source:   p.source,
			Row:      p.row,
			Standard: volume(p.u),
			Degrees:  Degrees(p.degrees),
			Share:    p.u * p.u / (u * u),
		}
	}
	return doubt
}
