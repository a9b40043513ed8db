package wood

import "time"

// The months in which wood dries outdoors north of the equator, first and last:
// common practice, no source. Forest Products Laboratory, Technical Note 233 (1960)
// says that wood stacked in fall or winter hardly dries before spring.
const (
	firstDryingMonth = time.April
	lastDryingMonth  = time.September
)

// DryBy is the day by which d days of drying weather have passed, counted from the
// day of start on, as a plan: days outside the drying season of the north, April to
// September, count for nothing. Before day 1 it is start.
func (d Days) DryBy(start time.Time) time.Time {
	day := start
	for left := d; left > 0; {
		day = day.AddDate(0, 0, 1)
		if day.Month() >= firstDryingMonth && day.Month() <= lastDryingMonth {
			left--
		}
	}
	return day
}
