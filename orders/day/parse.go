package day

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// farthest is how many days ahead a day may be: two years.
const farthest = 731

// longestSpan is how many days a span may have after its first.
const longestSpan = 183

// A parser reads one text on one day.
type parser struct {
	text   string
	today  act.Date
	ref    act.Date // the first day that a date without a year may be
	tokens []token
	pos    int
	// evening tells that "tonight" was said.
	evening bool
}

// Parse reads when wood is wanted, on the day today in the shop's zone: "Saturday
// morning", "before 15 December", "week of the 7th". Nothing typed means that no day is set. What can
// be taken two ways is asked about with the code "ambiguous", and nothing is guessed.
// Its error is a *measure.InputError.
func Parse(text string, today act.Date) (Span, error) {
	p := &parser{text: text, today: today, ref: today}
	var err error
	if p.tokens, err = lex(text); err != nil || len(p.tokens) == 0 {
		return Span{}, err
	}
	p.polite()
	h, err := p.hours()
	if err != nil {
		return Span{}, err
	}
	if p.evening {
		if h != (Hours{}) && h.Part != Evening && h.After == "" {
			return Span{}, fault("two-hours", text, measure.Say("it names two parts of the day"))
		}
		if h == (Hours{}) {
			h.Part = Evening
		}
	}
	found, err := p.days()
	if err != nil {
		return Span{}, err
	}
	for i := range found {
		found[i].Hours = h
	}
	return p.one(found)
}

// polite drops words that say nothing of the day.
func (p *parser) polite() {
	p.tokens = slices.DeleteFunc(p.tokens, func(t token) bool {
		return t.sort == word && slices.Contains([]string{"please", "sometime", "delivered", "delivery", "deliver", "bring", "it"}, t.text)
	})
}

// one gives the one span that was meant, or asks.
func (p *parser) one(found []Span) (Span, error) {
	var could []Span
	past := false
	for _, s := range found {
		switch {
		case !s.Open() && p.today.After(s.To):
			past = true
		case !slices.Contains(could, s):
			could = append(could, s)
		}
	}
	switch {
	case len(could) == 0 && past:
		return Span{}, fault("past", p.text, measure.Say("that day is past; today is %s", today(p.today)))
	case len(could) == 0:
		return Span{}, fault("not-a-day", p.text, measure.Say("no day is like that"))
	case len(could) > 1:
		first, second := could[0], could[1]
		return Span{}, &measure.InputError{Code: "ambiguous", Got: p.text,
			Reason:  measure.Say("it may be %s or %s", p.said(first), p.said(second)),
			Accepts: measure.Say("one of the two, such as %s", first.String()), Choices: p.choices(could)}
	case !could[0].Open() && could[0].From.DaysTo(could[0].To) > longestSpan:
		return Span{}, fault("not-a-span", p.text, measure.Say("that is a span of more than half a year"))
	case p.today.DaysTo(could[0].From) > farthest:
		return Span{}, fault("too-far", p.text, measure.Say("that is more than two years ahead"))
	}
	s := could[0]
	if p.today.After(s.From) {
		s.From = p.today // the rest of a week that began
	}
	return s, nil
}

// choices are the days that may be meant, each as it is read.
func (p *parser) choices(could []Span) []measure.Choice {
	all := make([]measure.Choice, len(could))
	for i, s := range could {
		all[i] = measure.Choice{Value: s.String(), Label: p.said(s)}
	}
	return all
}

func today(d act.Date) measure.Text {
	return measure.Say("%s %s", measure.Say(d.Midnight().Weekday().String()), d.Text())
}

// said is a span in a question.
func (p *parser) said(s Span) measure.Text {
	switch {
	case s.From == p.today && !s.OneDay() && !s.Open():
		return measure.Say("by %s", today(s.Due()))
	}
	return s.Text()
}

func fault(code, got string, reason measure.Text) error {
	return &measure.InputError{Code: code, Got: got, Reason: reason,
		Accepts: measure.Say("a day as you would say it, such as Saturday morning, tomorrow, 5 December, before 15 December, week of the 7th")}
}

// days reads all that is left as one or two days with what joins them.
func (p *parser) days() (found []Span, err error) {
	switch {
	case p.takes("not", "before"), p.takes("after"), p.takes("from"), p.takes("starting"), p.takes("any", "day", "after"), p.takes("anytime", "after"):
		found, err = p.since()
	case p.takes("before"), p.takes("ahead", "of"):
		found, err = p.deadline(func(s Span) act.Date { return s.From.AddDays(-1) })
	case p.takes("by"), p.takes("until"), p.takes("till"), p.takes("no", "later", "than"), p.takes("not", "later", "than"), p.takes("on", "or", "before"), p.takes("within"):
		found, err = p.deadline(func(s Span) act.Date { return s.Due() })
	default:
		p.takes("between")
		found, err = p.range_()
	}
	if err == nil && p.takes("at", "the", "latest") {
		for i := range found {
			found[i].From, found[i].To = p.today, found[i].Due()
		}
	}
	if err == nil && p.pos < len(p.tokens) {
		err = p.unknown()
	}
	return found, err
}

// deadline reads the day that ends a span from today on.
func (p *parser) deadline(last func(Span) act.Date) ([]Span, error) {
	if p.lone(figure) {
		return nil, p.dayOrHour(p.tokens[p.pos].text)
	}
	found, err := p.single()
	for i := range found {
		found[i] = Span{From: p.today, To: last(found[i])}
		if p.today.After(found[i].To) {
			found[i].From = found[i].To // past, and told so
		}
	}
	return found, err
}

// dayOrHour asks about “by the 5”: a day of the month, or an hour of today.
func (p *parser) dayOrHour(figure string) error {
	asked := &measure.InputError{Code: "ambiguous", Got: p.text, Reason: measure.Say("it may be the %sth of the month or %s o’clock", figure, figure),
		Accepts: measure.Say("the day with its month, or the hour with am or pm")}
	if n := number(figure); n >= 1 && n <= 31 {
		asked.Choices = append(asked.Choices, measure.Choice{Value: "by the " + figure + "th", Label: measure.Say("by the %s of the month", figure)})
		if n >= 8 && n <= 12 {
			asked.Choices = append(asked.Choices, measure.Choice{Value: "today before " + figure + " am", Label: measure.Say("by %s this morning", figure)})
		} else if n <= 6 {
			asked.Choices = append(asked.Choices, measure.Choice{Value: "today before " + figure + " pm", Label: measure.Say("by %s this afternoon", figure)})
		}
	}
	return asked
}

// since reads the day that begins a span, and its end where one is said.
func (p *parser) since() ([]Span, error) {
	after := p.tokens[p.pos-1].text == "after"
	found, err := p.range_()
	for i, s := range found {
		switch {
		case after:
			found[i] = Span{From: s.Due().AddDays(1)}
		case s.OneDay() && !p.ranged():
			found[i] = Span{From: s.From}
		}
	}
	return found, err
}

// ranged tells whether two days were joined.
func (p *parser) ranged() bool {
	return slices.ContainsFunc(p.tokens, func(t token) bool {
		return t.sort == dash || t.sort == word && slices.Contains([]string{"to", "through", "until", "till"}, t.text)
	})
}

// range_ reads a day, or two with what joins them.
func (p *parser) range_() ([]Span, error) {
	first, err := p.firstOfMonthsDays()
	if err != nil || len(first) == 0 {
		if first, err = p.single(); err != nil {
			return nil, err
		}
	}
	neighbours := p.at(p.pos, "or") || p.at(p.pos, "and")
	if !p.joining() {
		return first, nil
	}
	start := p.pos
	var all []Span
	for _, a := range first {
		p.pos, p.ref = start, a.From
		if p.lone(figure) {
			p.tokens[p.pos].sort = ordinal
		}
		second, err := p.single()
		if err != nil {
			return nil, err
		}
		for _, b := range second {
			switch {
			case a.Open() || b.Open() || a.From.After(b.Due()):
			case neighbours && a.To.DaysTo(b.From) > 1 && !p.at(0, "between"):
			default:
				all = append(all, Span{From: a.From, To: b.Due()})
			}
		}
	}
	if len(all) == 0 {
		return nil, fault("not-a-span", p.text, measure.Say("the two days don’t make one run of days"))
	}
	return all, nil
}

func (p *parser) joining() bool {
	if p.pos < len(p.tokens) && p.tokens[p.pos].sort == dash {
		p.pos++
		return true
	}
	return p.takes("to") || p.takes("through") || p.takes("thru") || p.takes("or") || p.takes("and") || p.takes("until") || p.takes("till")
}

// firstOfMonthsDays reads the first of two days of one month: the 5 of "5 to 8 December".
func (p *parser) firstOfMonthsDays() ([]Span, error) {
	i := p.pos
	p.skip()
	if p.pos+2 >= len(p.tokens) || p.tokens[p.pos].sort != figure && p.tokens[p.pos].sort != ordinal {
		p.pos = i
		return nil, nil
	}
	day := number(p.tokens[p.pos].text)
	join := p.pos + 1
	next := join + 1
	for p.at(next, "the") {
		next++
	}
	if p.tokens[join].sort != dash && !p.at(join, "to") && !p.at(join, "or") && !p.at(join, "and") || next >= len(p.tokens) ||
		p.tokens[next].sort != figure && p.tokens[next].sort != ordinal {
		p.pos = i
		return nil, nil
	}
	after := next + 1
	for p.at(after, "of") {
		after++
	}
	month, n := p.month(after)
	if n == 0 {
		p.pos = i
		return nil, nil
	}
	year := p.yearAt(after + n)
	p.pos = join
	return p.date(day, month, year)
}

// lone tells whether what is left is one token of a sort.
func (p *parser) lone(s sort) bool { return p.pos == len(p.tokens)-1 && p.tokens[p.pos].sort == s }

// at tells whether a word is at a token.
func (p *parser) at(i int, text string) bool {
	return i >= 0 && i < len(p.tokens) && p.tokens[i].sort == word && p.tokens[i].text == text
}

// takes goes past words where they are next.
func (p *parser) takes(words ...string) bool {
	for n, text := range words {
		if !p.at(p.pos+n, text) {
			return false
		}
	}
	p.pos += len(words)
	return true
}

// skip goes past words that only lead to a day.
func (p *parser) skip() {
	for p.takes("on") || p.takes("the") || p.takes("for") || p.takes("around") || p.takes("about") || p.takes("in") && !p.span() {
	}
}

// span tells that a length of time is next, and goes back to "in".
func (p *parser) span() bool {
	if _, _, n := p.lengthAt(p.pos); n > 0 {
		p.pos--
		return true
	}
	return false
}

func (p *parser) unknown() error {
	if p.pos >= len(p.tokens) {
		return fault("no-day", p.text, measure.Say("it names no day"))
	}
	return fault("unknown-word", p.text, measure.Say("“%s” isn’t understood in it", p.tokens[p.pos].text))
}
