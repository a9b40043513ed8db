package promise

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Month is the wood on one measure at the end of a month, once what is promised by then
// is delivered.
type Month struct {
	Year     int            `json:"year"`
	Month    time.Month     `json:"month"`
	Due      measure.Volume `json:"due"`      // promised by its end, from now on
	Promised measure.Volume `json:"promised"` // for later, or for no day yet
	Dry      measure.Volume `json:"dry"`      // free, and likely dry by then
	Green    measure.Volume `json:"green"`    // free, and not dry by then, or it isn't known
}

// Months gives this month and those after it, of wood on one measure.
func (y Yard) Months(n int, basis measure.Basis) []Month {
	months := make([]Month, n)
	for i := range months {
		first := time.Date(y.Today.Year, y.Today.Month+time.Month(i), 1, 0, 0, 0, 0, time.UTC)
		months[i] = y.month(act.DateOf(first), act.DateOf(first.AddDate(0, 1, -1)), basis)
	}
	return months
}

func (y Yard) month(first, end act.Date, basis measure.Basis) Month {
	m := Month{Year: first.Year, Month: first.Month}
	free := func(dry bool) measure.Volume {
		asked := Claim{Dry: dry, Wood: measure.Quantity{Basis: basis}, By: end}
		return y.network(asked, end).most()
	}
	any := free(false)
	m.Dry = min(free(true), any)
	m.Green = any - m.Dry
	total := measure.Volume(0)
	for _, w := range y.Woods {
		if w.Left.Basis == basis {
			total += w.Left.Volume
		}
	}
	for _, c := range y.Claims {
		if c.Wood.Basis == basis && !c.By.IsZero() && !y.by(c).After(end) {
			m.Due += c.Wood.Volume
		}
	}
	m.Promised = max(total-any-m.Due, 0)
	return m
}
