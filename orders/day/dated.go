package day

import (
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// month reads a month's name, whole or short, and how many tokens it takes.
func (p *parser) month(i int) (time.Month, int) {
	if i >= len(p.tokens) || p.tokens[i].sort != word {
		return 0, 0
	}
	text := p.tokens[i].text
	for m := time.January; m <= time.December; m++ {
		whole := strings.ToLower(m.String())
		if text == whole || len(text) == 3 && text == whole[:3] || text == "sept" && m == time.September {
			return m, 1
		}
	}
	return 0, 0
}

// yearAt reads a year, 0 where there is none.
func (p *parser) yearAt(i int) int {
	if i < len(p.tokens) && p.tokens[i].sort == figure && len(p.tokens[i].text) == 4 {
		return number(p.tokens[i].text)
	}
	return 0
}

// year goes past a year where one is next.
func (p *parser) year() int {
	year := p.yearAt(p.pos)
	if year != 0 {
		p.pos++
	}
	return year
}

// partOfMonth reads a month, or the first, middle or last third of it.
func (p *parser) partOfMonth() ([]Span, error) {
	start := p.pos
	first, last := 1, 31
	switch {
	case p.takes("early"), p.takes("beginning", "of"), p.takes("start", "of"):
		last = 10
	case p.takes("mid"), p.takes("middle", "of"):
		first, last = 11, 20
	case p.takes("late"), p.takes("end", "of"):
		first = 21
	}
	if p.pos > start && p.pos < len(p.tokens) && p.tokens[p.pos].sort == dash {
		p.pos++ // mid-December
	}
	p.takes("in")
	month := p.wholeMonth()
	if month.IsZero() {
		p.pos = start
		return nil, nil
	}
	days := month.From.DaysTo(month.To) + 1
	return []Span{{From: month.From.AddDays(first - 1), To: month.From.AddDays(min(last, days) - 1)}}, nil
}

// wholeMonth reads a month that no day of is named.
func (p *parser) wholeMonth() Span {
	begin := act.Date{Year: p.today.Year, Month: p.today.Month, Day: 1}
	switch {
	case p.takes("this", "month"), p.takes("the", "month"):
	case p.takes("next", "month"):
		begin = act.DateOf(begin.Midnight().AddDate(0, 1, 0))
	default:
		month, n := p.month(p.pos)
		if n == 0 || p.pos+1 < len(p.tokens) && p.yearAt(p.pos+1) == 0 && (p.tokens[p.pos+1].sort == figure || p.tokens[p.pos+1].sort == ordinal || p.ordinalWord(p.pos+1) > 0) ||
			p.at(p.pos+1, "the") {
			return Span{}
		}
		p.pos++
		begin = act.Date{Year: p.ref.Year, Month: month, Day: 1}
		if year := p.year(); year != 0 {
			begin.Year = year
		} else if month < p.ref.Month {
			begin.Year++
		}
	}
	end := act.DateOf(begin.Midnight().AddDate(0, 1, -1))
	return Span{From: begin, To: end}
}

// dated reads a date: by names, by figures, or the day of a month alone.
func (p *parser) dated() ([]Span, error) {
	if p.pos >= len(p.tokens) {
		return nil, nil
	}
	t := p.tokens[p.pos]
	switch t.sort {
	case iso:
		p.pos++
		return p.inFigures(strings.Split(t.text, "-"), 2, 1, 0)
	case dotted:
		p.pos++
		return p.inFigures(strings.Split(strings.TrimSuffix(t.text, "."), "."), 0, 1, 2)
	case slashed:
		p.pos++
		return p.eitherWay(strings.Split(t.text, "/"))
	}
	if month, n := p.month(p.pos); n > 0 {
		return p.monthFirst(month)
	}
	return p.dayFirst()
}

// inFigures gives the date of figures, of which those at the places given are the day,
// the month and the year.
func (p *parser) inFigures(parts []string, day, month, year int) ([]Span, error) {
	y := 0
	if year < len(parts) {
		y = number(parts[year])
		if len(parts[year]) == 2 {
			y += 2000
		}
	}
	return p.date(number(parts[day]), time.Month(number(parts[month])), y)
}

// eitherWay reads "12/5": the month first, and the day first.
func (p *parser) eitherWay(parts []string) ([]Span, error) {
	first, err := p.inFigures(parts, 1, 0, 2)
	second, other := p.inFigures(parts, 0, 1, 2)
	if err != nil && other != nil {
		return nil, err
	}
	return append(first, second...), nil
}

func (p *parser) monthFirst(month time.Month) ([]Span, error) {
	p.pos++
	p.takes("the")
	day, n := p.dayAt(p.pos)
	if n == 0 {
		return nil, p.unknown()
	}
	p.pos += n
	return p.date(day, month, p.year())
}

func (p *parser) dayFirst() ([]Span, error) {
	day, n := p.dayAt(p.pos)
	if n == 0 {
		return nil, nil
	}
	ordered := p.tokens[p.pos].sort != figure
	start := p.pos
	p.pos += n
	of := p.takes("of")
	switch month, m := p.month(p.pos); {
	case m > 0:
		p.pos++
		return p.date(day, month, p.year())
	case p.takes("this", "month"), p.takes("the", "month"):
		return p.date(day, p.today.Month, p.today.Year)
	case p.takes("next", "month"):
		next := act.Date{Year: p.today.Year, Month: p.today.Month, Day: 1}.Midnight().AddDate(0, 1, 0)
		return p.date(day, next.Month(), next.Year())
	case ordered && !of:
		return p.thisOrNextMonths(day)
	}
	p.pos = start
	return nil, fault("no-day", p.text, measure.Say("“%s” alone isn’t a day", p.tokens[start].text))
}

// dayAt reads the number of a day, and how many tokens it takes.
func (p *parser) dayAt(i int) (day, n int) {
	if i >= len(p.tokens) {
		return 0, 0
	}
	switch t := p.tokens[i]; {
	case t.sort == ordinal, t.sort == figure && len(t.text) <= 2:
		return number(t.text), 1
	}
	n = p.ordinalWord(i)
	if n == 0 {
		return 0, 0
	}
	day = ordinals[p.tokens[i].text]
	for _, t := range p.tokens[i+1 : i+n] {
		day += ordinals[t.text]
	}
	return day, n
}

// ordinals are the days of a month as people say them; of the tens, what is added to.
var ordinals = map[string]int{"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6, "seventh": 7, "eighth": 8, "ninth": 9, "tenth": 10,
	"eleventh": 11, "twelfth": 12, "thirteenth": 13, "fourteenth": 14, "fifteenth": 15, "sixteenth": 16, "seventeenth": 17, "eighteenth": 18, "nineteenth": 19,
	"twentieth": 20, "thirtieth": 30, "twenty": 20, "thirty": 30}

// ordinalWord tells how many tokens a day said in words takes, 0 where there is none.
func (p *parser) ordinalWord(i int) int {
	if i >= len(p.tokens) || p.tokens[i].sort != word || ordinals[p.tokens[i].text] == 0 {
		return 0
	}
	if p.tokens[i].text != "twenty" && p.tokens[i].text != "thirty" {
		return 1
	}
	for n := 1; n <= 2 && i+n < len(p.tokens); n++ {
		t := p.tokens[i+n]
		if t.sort == word && ordinals[t.text] > 0 && ordinals[t.text] < 10 {
			return n + 1
		}
		if t.sort != dash {
			break
		}
	}
	return 0
}

// date is a day of the calendar, in its year or the next time that it comes.
func (p *parser) date(day int, month time.Month, year int) ([]Span, error) {
	if month < time.January || month > time.December {
		return nil, fault("not-a-day", p.text, measure.Say("there are twelve months, not %d", int(month)))
	}
	years := []int{year}
	if year == 0 {
		years = []int{p.ref.Year, p.ref.Year + 1, p.ref.Year + 2, p.ref.Year + 3, p.ref.Year + 4} // 29 February
	} else if year < act.FirstYear || year > act.LastYear {
		return nil, fault("not-a-day", p.text, measure.Say("its year is not between %d and %d", act.FirstYear, act.LastYear))
	}
	for _, y := range years {
		d := act.Date{Year: y, Month: month, Day: day}
		if act.DateOf(d.Midnight()) == d && (year != 0 || !p.ref.After(d)) {
			return one(d), nil
		}
	}
	return nil, fault("not-a-day", p.text, measure.Say("%s has no day %d", measure.Say(month.String()), day))
}

// thisOrNextMonths is the next day of a number: of this month, or of one of the next.
func (p *parser) thisOrNextMonths(day int) ([]Span, error) {
	if day < 1 || day > 31 {
		return nil, fault("not-a-day", p.text, measure.Say("no month has a day %d", day))
	}
	month := act.Date{Year: p.ref.Year, Month: p.ref.Month, Day: 1}.Midnight()
	for {
		d := act.Date{Year: month.Year(), Month: month.Month(), Day: day}
		if act.DateOf(d.Midnight()) == d && !p.ref.After(d) {
			return one(d), nil
		}
		month = month.AddDate(0, 1, 0)
	}
}
