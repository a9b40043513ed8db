package words

import (
	"fmt"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// ErasedOn says that a paper's names were erased, and when.
func (p *Printer) ErasedOn(on orders.Date) string { return p.say("Names erased on %s.", p.Date(on)) }

// Past says how many receipts are past what is asked, and which.
func (p *Printer) Past(receipts []int64) string {
	switch len(receipts) {
	case 0:
		return p.say("No names can be erased today.")
	case 1:
		return p.say("1 receipt is past what the rules ask to be kept: number %d", int(receipts[0]))
	}
	return p.say("%d receipts are past what the rules ask to be kept: numbers %s", len(receipts), p.Spans(receipts))
}

// Spans words numbers in order, those in a row by the first and the last.
func (p *Printer) Spans(numbers []int64) string {
	var parts []string
	for i := 0; i < len(numbers); {
		end := i
		for end+1 < len(numbers) && numbers[end+1] == numbers[end]+1 {
			end++
		}
		switch {
		case end > i+1:
			parts = append(parts, p.say("%d to %d", int(numbers[i]), int(numbers[end])))
		default:
			for _, n := range numbers[i : end+1] {
				parts = append(parts, fmt.Sprint(n))
			}
		}
		i = end + 1
	}
	return strings.Join(parts, ", ")
}

// Kept says how long names are kept under a set of rules.
func (p *Printer) Kept(s rules.Set) string {
	months, voided := orders.KeptMonths(s)
	switch {
	case s.Retention == nil:
		return p.say("%s: states no time. Names are kept %d months after delivery here, a cautious practice of this program.", s.Name, months)
	case voided > months:
		return p.say("%s: receipts at least %d months, those voided or corrected at least %d (%s).", s.Name, months, voided, p.Mark(s.Retention.Known))
	}
	return p.say("%s: receipts at least %d months (%s).", s.Name, months, p.Mark(s.Retention.Known))
}

// Erased words an erasure of the log.
func (p *Printer) Erased(e orders.Erasure) string {
	what := p.say("receipts %s", p.Spans(e.Receipts))
	if len(e.Receipts) == 1 {
		what = p.say("receipt %d", int(e.Receipts[0]))
	}
	switch len(e.Sheets) {
	case 0:
		return what
	case 1:
		return p.say("%s; measurement sheet %d", what, int(e.Sheets[0]))
	}
	return p.say("%s; measurement sheets %s", what, p.Spans(e.Sheets))
}

// Held words why receipts are held back.
func (p *Printer) Held(h orders.HeldBack) []string {
	why := make([]string, len(h.Why))
	for i, text := range h.Why {
		why[i] = p.Say(text)
	}
	return why
}

// Later says how many receipts are kept for now, and until when the first are.
func (p *Printer) Later(plan orders.ErasurePlan) string {
	switch plan.Later {
	case 0:
		return ""
	case 1:
		return p.Say(measure.Say("1 receipt is still to be kept, until %s.", plan.Next.AddDays(-1).Text()))
	}
	return p.Say(measure.Say("%d receipts are still to be kept, the first of them until %s.", plan.Later, plan.Next.AddDays(-1).Text()))
}
