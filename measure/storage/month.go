package storage

import (
	"strings"
	"time"

	"wellstowed/measure"
)

// The years that a day of a plan lies in.
const (
	firstYear = 2000
	lastYear  = 2199
)

// parseMonth reads the first day of a month: "2027-10", "October 2027", and, where
// today is known, "October" as the next one to begin.
func parseMonth(s string, today time.Time) (time.Time, *measure.InputError) {
	accepts := measure.Say("a month, such as October 2027 or 2027-10")
	text := strings.Join(strings.Fields(strings.ToLower(s)), " ")
	for _, layout := range []string{"2006-01", "2006-01-02", "January 2006", "Jan 2006"} {
		t, err := time.Parse(layout, text)
		if err != nil {
			continue
		}
		if t.Year() < firstYear || t.Year() > lastYear {
			return time.Time{}, &measure.InputError{Code: "out-of-range", Got: s, Reason: measure.Say("its year is not between %d and %d", firstYear, lastYear), Accepts: accepts}
		}
		return time.Date(t.Year(), t.Month(), 1, 0, 0, 0, 0, time.UTC), nil
	}
	for _, layout := range []string{"January", "Jan"} {
		t, err := time.Parse(layout, text)
		if err != nil || today.IsZero() {
			continue
		}
		next := time.Date(today.Year(), t.Month(), 1, 0, 0, 0, 0, time.UTC)
		if !next.After(today) {
			next = next.AddDate(1, 0, 0)
		}
		return next, nil
	}
	return time.Time{}, &measure.InputError{Code: "not-a-month", Got: s, Reason: measure.Say("this isn’t a month"), Accepts: accepts}
}

// parseDay reads a day as "2027-03-09".
func parseDay(s string) (time.Time, *measure.InputError) {
	accepts := measure.Say("a day as year-month-day, such as 2026-03-09")
	t, err := time.Parse(time.DateOnly, strings.TrimSpace(s))
	if err != nil {
		return time.Time{}, &measure.InputError{Code: "not-a-date", Got: s, Reason: measure.Say("it is not a day of the calendar"), Accepts: accepts}
	}
	if t.Year() < firstYear || t.Year() > lastYear {
		return time.Time{}, &measure.InputError{Code: "out-of-range", Got: s, Reason: measure.Say("its year is not between %d and %d", firstYear, lastYear), Accepts: accepts}
	}
	return t, nil
}
