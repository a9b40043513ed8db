package road

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
)

// ReadDay reads the day that is asked for, as people say it; empty is today. It is Invalid where
// it isn't one day.
func ReadDay(text string, today act.Date) (act.Date, error) {
	if text == "" {
		return today, nil
	}
	if on, err := act.ParseDate(text); err == nil {
		return on, nil
	}
	for n := range 7 { // today's own name is today, which for an order would be asked about
		if on := today.AddDays(n); strings.EqualFold(text, on.Midnight().Weekday().String()) {
			return on, nil
		}
	}
	span, err := day.Parse(text, today)
	var in act.Fields
	if in.Parsed("day", err) && !span.OneDay() {
		in.Add("day", "not-a-day", text, measure.Say("it isn’t one day"), measure.Say("a day such as Saturday, or 28 November"))
	}
	return span.From, in.Err()
}
