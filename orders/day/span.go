// Package day reads when wood is wanted, as people say it, and writes it so that nobody
// can take it for another day.
package day

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Span is the day that wood is wanted on, or the days that it may come on. The zero Span
// is no day yet.
type Span struct {
	From act.Date `json:"from,omitzero"`
	// To is the last day; From itself where it is one day, no day where no end was said.
	To act.Date `json:"to,omitzero"`
	Hours
}

// Hours are the part of a day. All are empty where any hour will do.
type Hours struct {
	Part string `json:"part,omitempty"` // Morning, Afternoon or Evening
	// After and Before are "15:04"; the same in both is an appointed time.
	After  string `json:"after,omitempty"`
	Before string `json:"before,omitempty"`
}

// The parts of a day.
const (
	Morning   = "morning"
	Afternoon = "afternoon"
	Evening   = "evening"
)

// IsZero tells that no day was said.
func (s Span) IsZero() bool { return s.From.IsZero() }

// Due is the day by which it should have come: the last, or the first where no end was
// said.
func (s Span) Due() act.Date {
	if s.To.IsZero() {
		return s.From
	}
	return s.To
}

// Open tells that no last day was said.
func (s Span) Open() bool { return !s.IsZero() && s.To.IsZero() }

// OneDay tells that it is one day.
func (s Span) OneDay() bool { return !s.IsZero() && s.From == s.To }

// String writes a span so that Parse reads it back on any day that is not after it:
// "5 December 2026, morning"; "7 December 2026 to 13 December 2026"; "from 5 December 2026".
func (s Span) String() string {
	if s.IsZero() {
		return ""
	}
	text := plain(s.From)
	switch {
	case s.Open():
		text = "from " + text
	case !s.OneDay():
		text += " to " + plain(s.To)
	}
	if hours := s.Hours.String(); hours != "" {
		text += ", " + hours
	}
	return text
}

// Text is a span in words: a day with its weekday, else as String writes it.
func (s Span) Text() measure.Text {
	switch hours := s.Hours.String(); {
	case !s.OneDay():
		return measure.Say("%s", s.String())
	case hours != "":
		return measure.Say("%s, %s", today(s.From), hours)
	}
	return today(s.From)
}

func plain(d act.Date) string {
	return strconv.Itoa(d.Day) + " " + d.Month.String() + " " + strconv.Itoa(d.Year)
}

// String writes hours as Parse reads them: "morning", "at 09:30", "after 15:00",
// "09:00 to 11:00".
func (h Hours) String() string {
	switch {
	case h.Part != "":
		return h.Part
	case h.After == "" && h.Before == "":
		return ""
	case h.After == h.Before:
		return "at " + h.After
	case h.Before == "":
		return "after " + h.After
	case h.After == "":
		return "before " + h.Before
	}
	return h.After + " to " + h.Before
}

// Start is the hour by which stops are put in order, in minutes of the day: a morning
// before an afternoon, and what may come at any hour last.
func (h Hours) Start() int {
	switch h.Part {
	case Morning:
		return 8 * 60
	case Afternoon:
		return 12 * 60
	case Evening:
		return 17 * 60
	}
	for _, clock := range []string{h.After, h.Before} {
		hour, minute, found := strings.Cut(clock, ":")
		if found {
			return number(hour)*60 + number(minute)
		}
	}
	return 24 * 60
}

func number(digits string) int {
	n, err := strconv.Atoi(digits)
	if err != nil {
		return 0
	}
	return n
}
