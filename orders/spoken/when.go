package spoken

import (
	"errors"
	"regexp"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/day"
)

// dayWords are the words that days and hours are said with.
var dayWords = strings.Fields(`today tomorrow tmrw yesterday overmorrow day days after before by until till on the at in of and or to through thru from between not later no earlier than latest
	within ahead starting any anytime for around about next this coming week weeks week's weeks' weekend fortnight month months time now
	beginning commencing end early late mid middle start first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth fifteenth
	sixteenth seventeenth eighteenth nineteenth twentieth thirtieth twenty thirty thing morning mornings forenoon am pm afternoon afternoons evening evenings tonight noon midday during
	a an one two three four five six seven eight nine ten fourteen a.m p.m
	christmas xmas eve boxing new year's year halloween labor labour easter thanksgiving sometime o'clock -`)

var (
	weekday = regexp.MustCompile(`^(sun|mon|tue|tues|wed|weds|thu|thur|thurs|fri|sat|sundays?|mondays?|tuesdays?|wednesdays?|thursdays?|fridays?|saturdays?)\.?$`)
	month   = regexp.MustCompile(`^(mid-)?(jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec|january|february|march|april|june|july|august|september|october|november|december)\.?$`)
	dated   = regexp.MustCompile(`^(\d{1,4}|\d{1,2}(st|nd|rd|th)|\d{4}-\d{1,2}-\d{1,2}|\d{1,2}/\d{1,2}(/\d{2,4})?|\d{1,2}\.\d{1,2}\.(\d{4})?|\d{1,2}([:.]\d{2})?([ap]\.?m\.?|h)?|\d{1,2}([:.]\d{2})?-\d{1,2}([:.]\d{2})?([ap]m)?)$`)
	// lone are words that are a day, and alone more often something else.
	lone = []string{"may", "march", "mar", "sat", "sun", "wed", "mon", "dec", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth", "this month", "the month", "the first", "the second", "the third"}
)

// doubtful are the codes of a day that is named and has to be asked about.
var doubtful = []string{"ambiguous", "past", "weekday", "not-a-day", "hours", "too-far", "not-a-span", "two-hours"}

func (r *reader) dayish(i int) bool {
	t := r.tokens[i]
	first, second, hyphen := strings.Cut(t.text, "-") // twenty-first
	return t.kind == "" && (r.at(i, dayWords...) || hyphen && slices.Contains(dayWords, first) && slices.Contains(dayWords, second) || weekday.MatchString(t.text) || month.MatchString(t.text) || dated.MatchString(t.text))
}

// days takes when it is wanted.
func (r *reader) days() {
	for i := 0; i < len(r.tokens); i++ {
		end := i
		for end < len(r.tokens) && end-i < mostTokens && r.dayish(end) {
			end++
		}
		for to := end; to > i; to-- {
			if r.dayAt(i, to) {
				i = to - 1
				break
			}
		}
	}
	r.hours()
}

// dayAt takes a run of tokens for a day, or asks which it is; false where it is none.
func (r *reader) dayAt(from, to int) bool {
	if r.at(to-1, "and", "or", "of", "the", "for", "a", "an", "in", "on", "at", "to", "from", "by", "before", "until", "after", "about", "around", "sometime", "not", "no") || r.at(from, "and", "or", "to", "of", "-", "a", "an", "time") && !r.at(from+1, "week", "fortnight", "month", "day") {
		return false
	}
	said := r.said(from, to)
	if r.at(to, loaded...) && part.MatchString(r.tokens[to-1].text) { // half a load
		return false
	}
	if slices.Contains(lone, said) && !r.alone(from, to) {
		return false
	}
	span, err := day.Parse(r.spelled(from, to), r.about.Today)
	var fault *measure.InputError
	switch {
	case err == nil && !span.IsZero() && !r.negated(from):
		r.take(Day, from, to, span.String())
		return true
	case !errors.As(err, &fault) || !slices.Contains(doubtful, fault.Code) || r.negated(from):
		return false
	}
	q := *fault
	q.Field, q.Got = "day", r.text(from, to)
	q.Choices = nil
	for _, c := range fault.Choices {
		q.Choices = append(q.Choices, r.choice(r.swapped(from, to, c.Value), c.Label))
	}
	r.ask(&q, from, to)
	return true
}

// alone tells whether a run is between what is understood, or set apart.
func (r *reader) alone(from, to int) bool {
	before := from == 0 || r.tokens[from].apart || r.tokens[from-1].kind != ""
	return before && (to == len(r.tokens) || r.tokens[to].apart || r.tokens[to].kind != "")
}

// hours gives a part of the day that is said by itself to the day that is said elsewhere.
func (r *reader) hours() {
	if len(r.of(Day)) != 1 {
		return
	}
	at := slices.IndexFunc(r.groups, func(g group) bool { return g.kind == Day })
	for i := 0; i < len(r.tokens); i++ {
		end := i
		for end < len(r.tokens) && end-i < mostTokens && r.dayish(end) {
			end++
		}
		for to := end; to > i; to-- {
			span, err := day.Parse(r.groups[at].value+" "+r.said(i, to), r.about.Today)
			if err == nil && !r.negated(i) && span.Hours != (day.Hours{}) && !r.at(to-1, "the", "a", "on") {
				r.groups[at].value = span.String()
				r.mark(Day, i, to)
				i = to - 1
				break
			}
		}
	}
}

// dayOf is a group's day as it is said.
func (r *reader) dayOf(g group) measure.Text {
	span, _ := day.Parse(g.value, r.about.Today) // as it was written from one
	return span.Text()
}

// oneDay asks where the line names two days.
func (r *reader) oneDay() {
	found := r.of(Day)
	if len(found) < 2 {
		return
	}
	q := &measure.InputError{Field: "day", Code: "two-days", Got: r.line, Reason: measure.Say("Which day is it to come, %s or %s?", r.dayOf(found[0]), r.dayOf(found[1])), Accepts: measure.Say("one day, or the first and the last: Monday to Friday")}
	for i, g := range found[:2] {
		q.Choices = append(q.Choices, r.choice(r.without(found[1-i]), r.dayOf(g)))
	}
	r.askAll(q, found...)
}
