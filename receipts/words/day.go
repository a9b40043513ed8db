//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
)

// Promised says when wood is to be delivered, as one says it on a day: "Saturday
// 5 December, in the morning", "by Monday 14 December", "from 7 to 13 December". Empty
// where no day is set.
func (p *Printer) Promised(s day.Span, today act.Date) string {
	if s.IsZero() {
		return ""
	}
	text := p.say("from %s to %s", p.shortDay(s.From, today), p.shortDay(s.To, today))
	switch {
	case s.Open():
		text = p.say("from %s", p.weekday(s.From, today))
	case s.OneDay():
		text = p.weekday(s.From, today)
	case !s.From.After(today):
		text = p.say("by %s", p.weekday(s.To, today))
	}
	if hours := p.hours(s.Hours); hours != "" {
		text = p.say("%s, %s", text, hours)
	}
	return text
}

// weekday says a day with its weekday, and with its year where that is another.
func (p *Printer) weekday(d, today act.Date) string {
	return p.say("%s %s", p.say(d.Midnight().Weekday().String()), p.shortDay(d, today))
}

// heading says a day in short: "Sat 5 Dec".
func (p *Printer) heading(d act.Date) string {
	return p.say("%[1]s %[2]s %[3]s", p.say(d.Midnight().Weekday().String()[:3]), strconv.Itoa(d.Day), p.say(d.Month.String()[:3]))
}

func (p *Printer) shortDay(d, today act.Date) string {
	if d.Year != today.Year {
		return p.Date(d)
	}
	return p.say("%s %s", strconv.Itoa(d.Day), p.say(d.Month.String()))
}

// hours says the part of a day.
func (p *Printer) hours(h day.Hours) string {
	switch {
	case h.Part != "":
		return p.say("in the " + h.Part)
	case h.After == "" && h.Before == "":
		return ""
	case h.After == h.Before:
		return p.say("at %[1]s", p.clock(h.After))
	case h.Before == "":
		return p.say("after %s", p.clock(h.After))
	case h.After == "":
		return p.say("before %s", p.clock(h.Before))
	}
	return p.say("%s to %s", p.clock(h.After), p.clock(h.Before))
}

// clock says a time of the day: by twelve hours where wood is measured in feet.
func (p *Printer) clock(text string) string {
	if p.metric() {
		return text
	}
	hour, minute, _ := strings.Cut(text, ":")
	n, err := strconv.Atoi(hour)
	if err != nil {
		return text
	}
	half := "am"
	if n >= 12 {
		half = "pm"
	}
	n = (n+11)%12 + 1
	if minute == "00" {
		return p.say("%s "+half, strconv.Itoa(n))
	}
	return p.say("%s:%s "+half, strconv.Itoa(n), minute)
}

// Quantities says quantities of several bases together: "2 1/6 cords, 180 cubic feet loose".
func (p *Printer) Quantities(all []measure.Quantity, spell func(measure.Quantity) string) string {
	said := make([]string, len(all))
	for i, q := range all {
		said[i] = spell(q)
	}
	return strings.Join(said, ", ")
}

// BoardGroup is the heading of a group of the board.
func (p *Printer) BoardGroup(key orders.BoardKey, today act.Date) string {
	switch key {
	case orders.BoardToday:
		return p.say("Today, %s", p.heading(today))
	case orders.BoardTomorrow:
		return p.say("Tomorrow, %s", p.heading(today.AddDays(1)))
	}
	return p.BoardWord(key)
}

// BoardWord is a group of the board in one or two words.
func (p *Printer) BoardWord(key orders.BoardKey) string {
	switch key {
	case orders.BoardToday:
		return p.say("Today")
	case orders.BoardTomorrow:
		return p.say("Tomorrow")
	case orders.BoardSettle:
		return p.say("To settle")
	case orders.BoardUnpaid:
		return p.say("Unpaid")
	case orders.BoardWeek:
		return p.say("Next 7 days")
	case orders.BoardLater:
		return p.say("Later")
	}
	return p.say("No day yet")
}

// OrderStep is what the button of an order's next step says; empty where nothing is left.
func (p *Printer) OrderStep(step orders.OrderStep, b orders.Balance) string {
	switch step {
	case orders.StepSettle:
		return p.say("Settle")
	case orders.StepMeasure:
		return p.say("Measure")
	case orders.StepSetDay:
		return p.say("Set a day")
	case orders.StepDeliver:
		return p.say("Deliver")
	case orders.StepTakePayment:
		return p.say("Take %s", b.Due)
	case orders.StepGiveBack:
		return p.say("Give back %s", b.Back)
	}
	return ""
}

// StopNote says what else to know of a stop: that its day is past or when it is, what was
// found, for how long money is owed. Empty where its group says it all.
func (p *Printer) StopNote(s orders.Stop, key orders.BoardKey, today act.Date) string {
	switch {
	case key == orders.BoardSettle:
		return p.Word(s.Order.Outcome)
	case key == orders.BoardUndated:
		return "" // its heading says it
	case key == orders.BoardUnpaid && s.Last.DaysTo(today) == 1:
		return p.say("1 day")
	case key == orders.BoardUnpaid && !s.Last.IsZero():
		return p.say("%d days", s.Last.DaysTo(today))
	case s.Late > 0:
		return p.say("was for %s", p.weekday(s.Order.Day.Due(), today))
	case key == orders.BoardToday, key == orders.BoardTomorrow:
		return p.hours(s.Order.Day.Hours)
	}
	return p.Promised(s.Order.Day, today)
}
