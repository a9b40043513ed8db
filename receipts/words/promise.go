//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/orders/act"
	"wellstowed/orders/promise"
)

// Promise says whether wood can be promised, in one to three sentences: the first is the
// answer, the second what it depends on; none is empty.
func (p *Printer) Promise(a promise.Answer) (lines []string) {
	switch a.Word {
	case promise.Yes:
		lines = append(lines, p.say("Yes, from %s: %s left after it.", p.comesFrom(a), p.amountOrNone(a)))
	case promise.Later:
		lines = append(lines, p.say("Not before %s, then from %s.", p.about(a.NotBefore), p.comesFrom(a)))
	default:
		lines = append(lines, p.shortOf(a))
	}
	if dry := p.dryWhen(a); dry != "" {
		lines = append(lines, dry)
	}
	if a.Oversold.Volume > 0 {
		lines = append(lines, p.say("%s of other orders can’t come from the batches.", upper(p.perhapsRanked(a.Oversold))))
	}
	return lines
}

func (p *Printer) amountOrNone(a promise.Answer) string {
	if a.Left.Volume == 0 {
		return p.say("nothing")
	}
	return p.perhapsRanked(a.Left)
}

func (p *Printer) shortOf(a promise.Answer) string {
	switch missing := upper(p.perhapsRanked(a.Lacking)); {
	case a.Free.Volume == 0:
		return p.say("None of such wood is free.")
	case a.By.IsZero():
		return p.say("%s short: %s of such wood is free.", missing, p.perhapsRanked(a.Free))
	default:
		return p.say("%s short by then: %s of such wood is free.", missing, p.perhapsRanked(a.Free))
	}
}

// comesFrom names the batches, with how much of each where there are several.
func (p *Printer) comesFrom(a promise.Answer) string {
	if len(a.From) == 1 {
		return a.From[0].Name
	}
	var parts []string
	for _, s := range a.From {
		parts = append(parts, p.say("%s (%s)", s.Name, p.perhapsRanked(s.Wood)))
	}
	return strings.Join(parts, ", ")
}

func (p *Printer) dryWhen(a promise.Answer) string {
	switch {
	case a.Dry.IsZero():
		return ""
	case a.DryLatest.Year == a.Dry.Year && a.DryLatest.Month == a.Dry.Month || a.DryLatest.IsZero():
		return p.say("Dry by about %s. A plan: then measure.", p.about(a.Dry))
	}
	return p.say("Dry by about %s, at the latest by %s. A plan: then measure.", p.about(a.Dry), p.about(a.DryLatest))
}

// about says a day to a third of its month: "mid-October 2026".
func (p *Printer) about(d act.Date) string {
	month, year := p.say(d.Month.String()), strconv.Itoa(d.Year)
	switch {
	case d.Day <= 10:
		return p.say("early %s %s", month, year)
	case d.Day <= 20:
		return p.say("mid-%s %s", month, year)
	}
	return p.say("late %s %s", month, year)
}

// DryFrom says when a batch is dry, for a list.
func (p *Printer) DryFrom(w promise.Wood, today act.Date) string {
	switch {
	case w.Dry.IsZero():
		return p.say("not known when dry")
	case w.Dry.After(today):
		return p.say("dry by about %s", p.about(w.Dry))
	}
	return p.say("dry")
}
