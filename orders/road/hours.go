package road

import (
	"strconv"
	"strings"

	"wellstowed/orders/day"
)

// A window is when a stop may be, in minutes of the day.
type window struct{ from, to int }

// windowOf is when wood is wanted on its day: a morning ends at noon, an afternoon at five.
func windowOf(h day.Hours) window {
	const noon, five, night = 12 * 60, 17 * 60, 24 * 60
	switch h.Part {
	case day.Morning:
		return window{0, noon}
	case day.Afternoon:
		return window{noon, five}
	case day.Evening:
		return window{five, night}
	}
	w := window{0, night}
	if minutes, said := clock(h.After); said {
		w.from = minutes
	}
	if minutes, said := clock(h.Before); said {
		w.to = minutes
	}
	return w
}

// before tells that a stop has to come before another: it must be done by when the other may
// begin. No stops of any windows wait for each other in a circle.
func (w window) before(o window) bool { return w.to <= o.from && w.from < o.to }

// clock reads "15:04" as minutes of the day.
func clock(text string) (minutes int, said bool) {
	hour, minute, found := strings.Cut(text, ":")
	h, err := strconv.Atoi(hour)
	m, err2 := strconv.Atoi(minute)
	return h*60 + m, found && err == nil && err2 == nil
}
