// Package calendar writes deliveries for calendar programs (iCalendar, RFC 5545).
package calendar

import (
	"fmt"
	"io"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/calendar"
	"wellstowed/orders/day"
	"wellstowed/receipts/words"
)

// Write writes the deliveries that have a day: of each how much of which wood, its order's
// number, the address and, where base is given, the address of the order's page. No name of a
// customer, telephone number, money or note is in it. Days are whole days; times of a day are
// instants, by the shop's zone. The same bytes each time from the same data.
func Write(out io.Writer, f calendar.Feed, set rules.Set, base string) error {
	zone, err := time.LoadLocation(f.Shop.Zone)
	if err != nil {
		return fmt.Errorf("the shop’s time zone: %w", err)
	}
	print := words.New(f.Shop.Language, f.Shop.Units).Under(set)
	c := ics.NewCalendar()
	c.SetProductId("-//Wellstowed//Deliveries//EN")
	c.SetName(print.CalendarName(f.Shop)) // RFC 7986, and the next
	c.SetRefreshInterval("PT1H")
	for _, stop := range f.Stops {
		if !stop.Order.Day.IsZero() {
			add(c, stop, print, zone, base)
		}
	}
	return c.SerializeTo(out, ics.WithNewLine("\r\n"))
}

// add puts a delivery on the calendar.
func add(c *ics.Calendar, stop orders.Stop, print *words.Printer, zone *time.Location, base string) {
	o := stop.Order
	e := c.AddEvent(o.ID)
	e.SetDtStampTime(o.Changed)
	e.SetSequence(int(o.Version))
	e.SetSummary(print.CalendarLine(stop))
	if place := strings.ReplaceAll(o.Customer.Address, "\n", ", "); place != "" {
		e.SetLocation(place)
	}
	if base != "" {
		e.SetURL(base + "/orders/" + o.ID)
	}
	if from, to, timed := times(o.Day, zone); timed {
		e.SetStartAt(from)
		e.SetEndAt(to)
	} else {
		last := o.Day.Due()
		e.SetAllDayStartAt(o.Day.From.Midnight())
		e.SetAllDayEndAt(last.AddDays(1).Midnight()) // the end isn't part of it
	}
}

// times are when a delivery is on its day; not timed where any hour will do, or where it may be
// on several days.
func times(s day.Span, zone *time.Location) (from, to time.Time, timed bool) {
	if !s.OneDay() || s.Hours == (day.Hours{}) {
		return from, to, false
	}
	switch s.Part {
	case day.Morning:
		return at(s.From, "08:00", zone), at(s.From, "12:00", zone), true
	case day.Afternoon:
		return at(s.From, "12:00", zone), at(s.From, "17:00", zone), true
	case day.Evening:
		return at(s.From, "17:00", zone), at(s.From, "20:00", zone), true
	}
	from, to = at(s.From, s.After, zone), at(s.From, s.Before, zone)
	switch {
	case s.After == "":
		from = to.Add(-time.Hour)
	case s.Before == "" || s.Before == s.After:
		to = from.Add(time.Hour)
	}
	return from, to, true
}

// at is a time of a day; midnight where none was said.
func at(d act.Date, clock string, zone *time.Location) time.Time {
	hours, err := time.Parse("15:04", clock)
	if err != nil {
		hours = time.Time{}
	}
	return time.Date(d.Year, d.Month, d.Day, hours.Hour(), hours.Minute(), 0, 0, zone)
}
