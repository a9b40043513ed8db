package wood

import "time"

// Wood outdoors dries about five times as fast from April to October as it does in
// winter: common practice, no source. It agrees with the Forest Products Laboratory's
// Technical Note 233 (1960), by which wood stacked in fall or winter hardly dries
// before spring. Over a year the two come to 12 months.
const (
	summerDay   = 1.5
	winterDay   = 0.3
	firstSummer = time.April
	lastSummer  = time.October
)

// longestDrying is the most days that are looked through, some way past the longest
// forecast.
const longestDrying = 20 * 366

// A Window is when something is to be expected: at the soonest, likely, and at the
// latest. Each is the midnight that begins a day.
type Window struct {
	Soonest time.Time `json:"soonest"`
	Likely  time.Time `json:"likely"`
	Latest  time.Time `json:"latest"`
}

// Ready is when wood stacked on a day has come to what the forecast is for.
func (f Forecast) Ready(stacked time.Time) Window {
	return Window{after(stacked, f.Soonest), after(stacked, f.Likely), after(stacked, f.Latest)}
}

// StackBy is by when wood must be stacked to be there on a day: Soonest where it
// dries as slowly as is reckoned with, which is to be sure of it, Latest where it
// dries as fast.
func (f Forecast) StackBy(wanted time.Time) Window {
	return Window{before(wanted, f.Latest), before(wanted, f.Likely), before(wanted, f.Soonest)}
}

// after is the first day by whose beginning d days of drying have gone by.
func after(start time.Time, d Days) time.Time {
	day, left := midnight(start), float64(d)
	for range longestDrying {
		if left <= 1e-9 {
			break
		}
		left -= dries(day)
		day = day.AddDate(0, 0, 1)
	}
	return day
}

// before is the last day from which d days of drying go by until the beginning of
// end.
func before(end time.Time, d Days) time.Time {
	day, left := midnight(end), float64(d)
	for range longestDrying {
		if left <= 1e-9 {
			break
		}
		day = day.AddDate(0, 0, -1)
		left -= dries(day)
	}
	return day
}

// dries is how much of a day of a year taken together a day is.
func dries(day time.Time) float64 {
	if m := day.Month(); m >= firstSummer && m <= lastSummer {
		return summerDay
	}
	return winterDay
}

func midnight(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}
