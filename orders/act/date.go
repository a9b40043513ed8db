package act

import (
	"strconv"
	"time"

	"wellstowed/measure"
)

// A Date is a calendar day in the shop's zone, stored and written "2006-01-02".
// The zero Date is no day.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// The years a date may lie in.
const (
	FirstYear = 2000
	LastYear  = 2199
)

// DateOf is the day of t in t's own zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{Year: y, Month: m, Day: d}
}

// ParseDate reads a day as "2006-01-02", in the years 2000 to 2199. Its error is
// a *measure.InputError.
func ParseDate(text string) (Date, error) {
	accepts := measure.Say("a day as year-month-day, such as 2026-03-09")
	if len(text) > measure.MaxText {
		return Date{}, &measure.InputError{Code: "too-long", Reason: measure.Say("it is too long for a day"), Accepts: accepts}
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return Date{}, &measure.InputError{Code: "not-a-date", Got: text, Reason: measure.Say("it is not a day of the calendar"), Accepts: accepts}
	}
	if t.Year() < FirstYear || t.Year() > LastYear {
		return Date{}, &measure.InputError{Code: "out-of-range", Got: text,
			Reason: measure.Say("its year is not between %d and %d", FirstYear, LastYear), Accepts: accepts}
	}
	return DateOf(t), nil
}

// IsZero tells that d is no day.
func (d Date) IsZero() bool { return d == Date{} }

// String writes "2006-01-02", empty for no day.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return d.Midnight().Format(time.DateOnly)
}

// Text says the day so that day and month cannot be mistaken.
func (d Date) Text() measure.Text {
	return measure.Say("%s %s %s", strconv.Itoa(d.Day), measure.Say(d.Month.String()), strconv.Itoa(d.Year))
}

// After tells that d is a later day than o.
func (d Date) After(o Date) bool { return d.Midnight().After(o.Midnight()) }

// AddDays is the day n days on.
func (d Date) AddDays(n int) Date { return DateOf(d.Midnight().AddDate(0, 0, n)) }

// DaysTo is how many days later o is, negative where it is earlier.
func (d Date) DaysTo(o Date) int { return int(o.Midnight().Sub(d.Midnight()).Hours()) / 24 }

// Midnight is the instant that day d begins, in UTC.
func (d Date) Midnight() time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
}

// MarshalText writes what String does.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (d *Date) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*d = Date{}
		return nil
	}
	parsed, err := ParseDate(string(b))
	if err != nil {
		return err
	}
	*d = parsed
	return nil
}

// DayIn is the day of an instant in a zone, in UTC where that is not known.
func DayIn(t time.Time, zone string) Date {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return DateOf(t.In(place))
}
