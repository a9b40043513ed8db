package day

import (
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// single reads one day, week or month as all that it may be.
func (p *parser) single() ([]Span, error) {
	p.skip()
	if p.pos >= len(p.tokens) {
		return nil, p.unknown()
	}
	for _, read := range []func() ([]Span, error){p.near, p.later, p.weekOf, p.partOfMonth, p.weekdays, p.feast, p.dated} {
		found, err := read()
		if err != nil || len(found) > 0 {
			return found, err
		}
	}
	return nil, p.unknown()
}

func one(d act.Date) []Span { return []Span{{From: d, To: d}} }

// near reads today and the days after it.
func (p *parser) near() ([]Span, error) {
	switch {
	case p.takes("today"):
		return one(p.today), nil
	case p.takes("day", "after", "tomorrow"), p.takes("overmorrow"):
		return one(p.today.AddDays(2)), nil
	case p.takes("tomorrow"), p.takes("tmrw"):
		return one(p.today.AddDays(1)), nil
	case p.takes("yesterday"):
		return one(p.today.AddDays(-1)), nil
	}
	return nil, nil
}

// later reads "in three days", "two weeks from Saturday", "a week on Monday".
func (p *parser) later() ([]Span, error) {
	start := p.pos
	in := p.takes("in") || p.takes("within")
	days, months, n := p.lengthAt(p.pos)
	if n == 0 {
		p.pos = start
		return nil, nil
	}
	p.pos += n
	from := one(p.today)
	switch {
	case p.takes("from", "now"), p.takes("from", "today"):
	case p.takes("from"), p.takes("on"), p.takes("after"):
		var err error
		if from, err = p.single(); err != nil {
			return nil, err
		}
	case !p.takes("time") && !in:
		p.pos = start
		return nil, nil
	}
	for i := range from {
		d := act.DateOf(from[i].Due().AddDays(days).Midnight().AddDate(0, months, 0))
		from[i] = Span{From: d, To: d}
	}
	return from, nil
}

// counts are numbers as people say them.
var counts = map[string]int{"a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10, "fourteen": 14}

// lengthAt reads a length of time and how many tokens it takes.
func (p *parser) lengthAt(i int) (days, months, n int) {
	count, n := 0, 1
	switch {
	case i >= len(p.tokens):
		return 0, 0, 0
	case p.at(i, "fortnight"):
		return 14, 0, 1
	case p.tokens[i].sort == figure:
		count = number(p.tokens[i].text)
	case p.tokens[i].sort == word:
		count = counts[p.tokens[i].text]
	}
	if count == 0 || count > farthest {
		return 0, 0, 0
	}
	switch {
	case p.at(i+1, "day"), p.at(i+1, "days"):
		days = count
	case p.at(i+1, "week"), p.at(i+1, "weeks"), p.at(i+1, "week's"), p.at(i+1, "weeks'"):
		days = 7 * count
	case p.at(i+1, "fortnight"):
		days = 14 * count
	case p.at(i+1, "month"), p.at(i+1, "months"):
		months = count
	default:
		return 0, 0, 0
	}
	return days, months, n + 1
}

// weekFrom are the seven days that begin on d.
func weekFrom(d act.Date) Span { return Span{From: d, To: d.AddDays(6)} }

// monday is the Monday of a day's week.
func monday(d act.Date) act.Date { return d.AddDays(-int(d.Midnight().Weekday()+6) % 7) }

// weekOf reads "this week", "next week", "the weekend", "week of the 7th".
func (p *parser) weekOf() ([]Span, error) {
	this := monday(p.today)
	switch {
	case p.takes("this", "week"):
		return []Span{weekFrom(this)}, nil
	case p.takes("later", "this", "week"), p.takes("end", "of", "the", "week"), p.takes("end", "of", "this", "week"):
		return []Span{{From: p.today, To: this.AddDays(6)}}, nil
	case p.takes("early", "next", "week"), p.takes("beginning", "of", "next", "week"), p.takes("start", "of", "next", "week"):
		return []Span{{From: this.AddDays(7), To: this.AddDays(9)}}, nil
	case p.takes("late", "next", "week"), p.takes("end", "of", "next", "week"):
		return []Span{{From: this.AddDays(10), To: this.AddDays(13)}}, nil
	case p.takes("next", "week"):
		return []Span{weekFrom(this.AddDays(7))}, nil
	case p.takes("week", "after", "next"):
		return []Span{weekFrom(this.AddDays(14))}, nil
	case p.takes("this", "weekend"), p.takes("weekend"):
		return []Span{{From: this.AddDays(5), To: this.AddDays(6)}}, nil
	case p.takes("next", "weekend"):
		soon, next := Span{From: this.AddDays(5), To: this.AddDays(6)}, Span{From: this.AddDays(12), To: this.AddDays(13)}
		if p.today.Midnight().Weekday() == time.Saturday || p.today.Midnight().Weekday() == time.Sunday {
			return []Span{next}, nil
		}
		return []Span{soon, next}, nil
	case p.takes("week", "beginning"), p.takes("week", "starting"), p.takes("week", "commencing"), p.takes("week", "from"):
		return p.weeks(func(d act.Date) Span { return weekFrom(d) })
	case p.takes("week", "of"):
		return p.weeks(func(d act.Date) Span { return weekFrom(monday(d)) })
	}
	return nil, nil
}

// weeks reads a day and gives its week.
func (p *parser) weeks(week func(act.Date) Span) ([]Span, error) {
	found, err := p.single()
	for i := range found {
		found[i] = week(found[i].From)
	}
	return found, err
}

// weekdayNames are the days of the week by their first three letters.
var weekdayNames = map[string]time.Weekday{"sun": time.Sunday, "mon": time.Monday, "tue": time.Tuesday, "wed": time.Wednesday, "thu": time.Thursday, "fri": time.Friday, "sat": time.Saturday}

func (p *parser) weekday(i int) (time.Weekday, bool) {
	if i >= len(p.tokens) || p.tokens[i].sort != word {
		return 0, false
	}
	text := p.tokens[i].text
	if len(text) < 3 {
		return 0, false
	}
	day, found := weekdayNames[text[:3]]
	whole := strings.ToLower(day.String())
	short := text == whole[:3] || text == "tues" || text == "weds" || text == "thur" || text == "thurs"
	return day, found && (short || text == whole || text == whole+"s")
}

// weekdays reads a day of the week, alone or with its date.
func (p *parser) weekdays() ([]Span, error) {
	start := p.pos
	lead := ""
	for _, w := range []string{"this", "next", "coming"} {
		if p.takes(w) || p.takes("this", w) {
			lead = w
			p.takes("coming")
		}
	}
	day, found := p.weekday(p.pos)
	if !found {
		p.pos = start
		return nil, nil
	}
	p.pos++
	soonest := p.ref.AddDays((int(day) - int(p.ref.Midnight().Weekday()) + 7) % 7)
	same := soonest == p.today
	switch {
	case p.takes("week"): // Saturday week
		return one(soonest.AddDays(7)), nil
	case p.takes("next", "week"), p.takes("of", "next", "week"):
		return one(monday(p.today).AddDays(7 + int(day+6)%7)), nil
	case p.takes("this", "week"), p.takes("of", "this", "week"):
		return one(monday(p.today).AddDays(int(day+6) % 7)), nil
	case lead == "this" || p.ref != p.today:
		return one(soonest), nil
	case lead == "coming" && same:
		return one(soonest.AddDays(7)), nil
	case lead == "next":
		next := monday(p.today).AddDays(7 + int(day+6)%7)
		if same || soonest == next {
			return one(next), nil
		}
		return append(one(soonest), one(next)...), nil
	}
	dates, err := p.itsDate()
	if err != nil || len(dates) > 0 {
		return onWeekday(dates, day), p.wrongWeekday(err, dates, day)
	}
	if same {
		return append(one(soonest), one(soonest.AddDays(7))...), nil
	}
	return one(soonest), nil
}

// itsDate reads a date after the day of the week; none where none is next.
func (p *parser) itsDate() ([]Span, error) {
	start := p.pos
	for p.takes("the") || p.takes("on") {
	}
	found, err := p.dated()
	if err == nil && len(found) == 0 {
		p.pos = start
	}
	return found, err
}

func onWeekday(found []Span, day time.Weekday) (fit []Span) {
	for _, s := range found {
		if s.From.Midnight().Weekday() == day {
			fit = append(fit, s)
		}
	}
	return fit
}

func (p *parser) wrongWeekday(err error, found []Span, day time.Weekday) error {
	if err != nil || len(onWeekday(found, day)) > 0 {
		return err
	}
	return fault("weekday", p.text, measure.Say("%s is a %s", found[0].From.Text(), measure.Say(found[0].From.Midnight().Weekday().String())))
}

// feast reads the days that people go by.
func (p *parser) feast() ([]Span, error) {
	p.takes("this")
	var on func(year int) act.Date
	switch {
	case p.takes("christmas", "eve"), p.takes("xmas", "eve"):
		on = fixed(time.December, 24)
	case p.takes("christmas", "day"), p.takes("christmas"), p.takes("xmas"):
		on = fixed(time.December, 25)
	case p.takes("boxing", "day"):
		on = fixed(time.December, 26)
	case p.takes("new", "year's", "eve"):
		on = fixed(time.December, 31)
	case p.takes("new", "year's", "day"), p.takes("new", "year's"), p.takes("new", "year"):
		on = fixed(time.January, 1)
	case p.takes("halloween"):
		on = fixed(time.October, 31)
	case p.takes("labor", "day"), p.takes("labour", "day"):
		on = func(year int) act.Date { return nth(year, time.September, time.Monday, 1) }
	case p.takes("easter", "sunday"), p.takes("easter"):
		on = easter
	case p.takes("thanksgiving", "day"), p.takes("thanksgiving"):
		us := p.coming(func(year int) act.Date { return nth(year, time.November, time.Thursday, 4) })
		canada := p.coming(func(year int) act.Date { return nth(year, time.October, time.Monday, 2) })
		return append(one(us), one(canada)...), nil
	default:
		return nil, nil
	}
	return one(p.coming(on)), nil
}

func fixed(month time.Month, day int) func(int) act.Date {
	return func(year int) act.Date { return act.Date{Year: year, Month: month, Day: day} }
}

// coming is the next of a day of the year, today among them.
func (p *parser) coming(on func(year int) act.Date) act.Date {
	if d := on(p.ref.Year); !p.ref.After(d) {
		return d
	}
	return on(p.ref.Year + 1)
}

// nth is the n-th of a weekday in a month.
func nth(year int, month time.Month, day time.Weekday, n int) act.Date {
	first := act.Date{Year: year, Month: month, Day: 1}
	return first.AddDays((int(day)-int(first.Midnight().Weekday())+7)%7 + 7*(n-1))
}

// easter is Easter Sunday by the Gregorian calendar: the Sunday after the ecclesiastical
// full moon on or after 21 March, by the usual tables of golden numbers and epacts.
func easter(year int) act.Date {
	golden := year%19 + 1
	century := year/100 + 1
	leaps := 3*century/4 - 12
	moons := (8*century+5)/25 - 5
	sunday := 5*year/4 - leaps - 10
	epact := ((11*golden+20+moons-leaps)%30 + 30) % 30
	if epact == 25 && golden > 11 || epact == 24 {
		epact++
	}
	full := 44 - epact
	if full < 21 {
		full += 30
	}
	d := full + 7 - (sunday+full)%7
	return act.Date{Year: year, Month: time.March, Day: 1}.AddDays(d - 1)
}
