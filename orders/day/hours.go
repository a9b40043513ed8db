package day

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// partWords are the words that name a part of a day.
var partWords = map[string]string{
	"morning": Morning, "mornings": Morning, "forenoon": Morning, "am": Morning,
	"afternoon": Afternoon, "afternoons": Afternoon, "pm": Afternoon,
	"evening": Evening, "evenings": Evening, "tonight": Evening,
}

// hours takes what is said of the hour out of the tokens.
func (p *parser) hours() (Hours, error) {
	var h Hours
	for i := 0; i < len(p.tokens); {
		said, from, to, err := p.hourAt(i)
		switch {
		case err != nil:
			return Hours{}, err
		case from == to:
			i++
		case h != (Hours{}):
			return Hours{}, fault("two-hours", p.text, measure.Say("it names two parts of the day"))
		default:
			h = said
			p.tokens = slices.Delete(p.tokens, from, to)
			i = from
		}
	}
	return h, nil
}

// hourAt reads an hour at a token, with the words that lead to it; from is to where
// there is none.
func (p *parser) hourAt(i int) (h Hours, from, to int, err error) {
	if part, n := p.partAt(i); n > 0 {
		if p.at(i, "tonight") {
			return Hours{Part: part}, i, i, p.tonight(i)
		}
		from = p.leading(i, "in", "the", "first", "thing", "during", "late", "early")
		if p.at(from-1, "this") {
			p.tokens[from-1].text = "today" // this morning
		}
		return Hours{Part: part}, from, i + n, nil
	}
	at, n, err := p.timeAt(i)
	if n == 0 || err != nil {
		return Hours{}, i, i, err
	}
	from, to = i, i+n
	if later, m, err := p.timeAt(to + 1); m > 0 && p.joins(to) {
		if later < at {
			err = fault("hours", p.text, measure.Say("%s is before %s", later, at))
		}
		return Hours{After: at, Before: later}, p.leading(from, "between", "from"), to + 1 + m, err
	}
	switch {
	case p.at(i-1, "after"), p.at(i-1, "from"):
		return Hours{After: at}, i - 1, to, nil
	case p.at(i-1, "before"), p.at(i-1, "by"), p.at(i-1, "until"):
		return Hours{Before: at}, i - 1, to, nil
	}
	return Hours{After: at, Before: at}, p.leading(i, "at", "around", "about"), to, nil
}

// tonight is left as a day, and its hour is kept.
func (p *parser) tonight(i int) error {
	p.evening, p.tokens[i].text = true, "today"
	return nil
}

// partAt gives the part of a day that tokens name, and how many they are.
func (p *parser) partAt(i int) (string, int) {
	t := p.tokens[i]
	switch {
	case t.sort != word:
		return "", 0
	case t.text == "first" && p.at(i+1, "thing"):
		n := 2
		for n < 5 && (p.at(i+n, "in") || p.at(i+n, "the") || p.at(i+n, "morning")) {
			n++
		}
		return Morning, n
	case t.text == "noon" || t.text == "midday" || t.text == "lunchtime":
		return "", 0
	}
	return partWords[t.text], min(len(partWords[t.text]), 1)
}

// leading gives where the words before a token that only lead to it begin.
func (p *parser) leading(i int, words ...string) int {
	for i > 0 && p.tokens[i-1].sort == word && slices.Contains(words, p.tokens[i-1].text) {
		i--
	}
	return i
}

func (p *parser) joins(i int) bool {
	return i < len(p.tokens) && (p.tokens[i].sort == dash || p.at(i, "to") || p.at(i, "and"))
}

// timeAt reads a time of the day, and how many tokens it takes; none where there is none.
func (p *parser) timeAt(i int) (string, int, error) {
	if i >= len(p.tokens) {
		return "", 0, nil
	}
	switch t := p.tokens[i]; {
	case t.sort == clock:
		at, err := p.clock(t.text)
		return at, 1, err
	case p.at(i, "noon"), p.at(i, "midday"):
		return "12:00", 1, nil
	case t.sort == figure && p.bareHour(i):
		at, err := p.bare(number(t.text))
		return at, 1, err
	}
	return "", 0, nil
}

// bareHour tells whether a figure can only be an hour: after "at", and joined to one that
// says morning or afternoon.
func (p *parser) bareHour(i int) bool {
	if p.at(i-1, "at") || p.at(i-1, "around") {
		_, month := p.month(i + 1)
		return month == 0
	}
	return p.joins(i+1) && i+2 < len(p.tokens) && p.tokens[i+2].sort == clock
}

// bare reads an hour without morning or afternoon: people work from eight to five, and an
// hour outside of that is asked about.
func (p *parser) bare(hour int) (string, error) {
	switch {
	case hour >= 8 && hour <= 12:
		return at(hour, 0), nil
	case hour >= 1 && hour <= 5:
		return at(hour+12, 0), nil
	case hour == 6 || hour == 7:
		return "", p.eitherHalf(hour)
	}
	return "", fault("hours", p.text, measure.Say("a day has no %d o’clock by a twelve-hour clock", hour))
}

// eitherHalf asks about an hour that may be in the morning or in the evening.
func (p *parser) eitherHalf(hour int) error {
	asked := &measure.InputError{Code: "ambiguous", Got: p.text, Reason: measure.Say("%d o’clock may be in the morning or in the evening", hour), Accepts: measure.Say("the hour with am or pm")}
	bare := regexp.MustCompile(`(?i)\b` + strconv.Itoa(hour) + `\b( o['’]clock)?`)
	for half, label := range map[string]measure.Text{"am": measure.Say("%d in the morning", hour), "pm": measure.Say("%d in the evening", hour)} {
		if at := bare.FindAllStringIndex(p.text, -1); len(at) > 0 {
			last := at[len(at)-1]
			asked.Choices = append(asked.Choices, measure.Choice{Value: p.text[:last[0]] + strconv.Itoa(hour) + " " + half + p.text[last[1]:], Label: label})
		}
	}
	slices.SortFunc(asked.Choices, func(a, b measure.Choice) int { return strings.Compare(a.Value, b.Value) })
	return asked
}

var clockText = regexp.MustCompile(`^(\d{1,2})(?:[:.](\d{2}))? ?(.*)$`)

// clock reads "9:30", "9am", "3.15 p.m.", "15h".
func (p *parser) clock(text string) (string, error) {
	parts := clockText.FindStringSubmatch(text)
	hour, minute, half := number(parts[1]), number(parts[2]), strings.ReplaceAll(parts[3], ".", "")
	wrong := fault("hours", p.text, measure.Say("“%s” is not a time of the day", text))
	if minute > 59 || hour > 23 {
		return "", wrong
	}
	switch half {
	case "o'clock":
		return p.bare(hour)
	case "am", "pm":
		if hour < 1 || hour > 12 {
			return "", wrong
		}
		hour %= 12
		if half == "pm" {
			hour += 12
		}
	}
	return at(hour, minute), nil
}

func at(hour, minute int) string { return fmt.Sprintf("%02d:%02d", hour, minute) }
