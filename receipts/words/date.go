//go:build !wasm

package words

import (
	"strconv"
	"time"

	"wellstowed/orders/act"
)

// Date words a day so that day and month cannot be mistaken: "12 March 2026".
// The zero Date is an empty text.
func (p *Printer) Date(d act.Date) string {
	if d == (act.Date{}) {
		return ""
	}
	return p.say("%s %s %s", strconv.Itoa(d.Day), p.say(d.Month.String()), strconv.Itoa(d.Year))
}

// Day words the day of an instant in an IANA zone; UTC where that is not known.
func (p *Printer) Day(t time.Time, zone string) string {
	return p.Date(act.DateOf(inZone(t, zone)))
}

// Time words an instant in an IANA zone: "12 March 2026, 14:05 EDT". A zone that
// is not known is UTC, and says so.
func (p *Printer) Time(t time.Time, zone string) string {
	t = inZone(t, zone)
	year, month, day := t.Date()
	return p.say("%s, %s", p.Date(act.Date{Year: year, Month: month, Day: day}), t.Format("15:04 MST"))
}

// Clock words the time of day of an instant in an IANA zone, to the second: "14:05:09 EDT".
func (p *Printer) Clock(t time.Time, zone string) string {
	return inZone(t, zone).Format("15:04:05 MST")
}

// inZone is an instant in an IANA zone; in UTC where that is not known.
func inZone(t time.Time, zone string) time.Time {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return t.In(place)
}
