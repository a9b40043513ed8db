//go:build !wasm

package words

import (
	"fmt"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/privacy"
)

// ErasedOn says that a paper's names were erased, and when.
func (p *Printer) ErasedOn(on act.Date) string { return p.say("Names erased on %s.", p.Date(on)) }

// Past says what is past the time it is kept for, one line for each sort; nothing where
// nothing is.
func (p *Printer) Past(e privacy.Erased) []string {
	var lines []string
	switch n := len(e.Receipts); n {
	case 0:
	case 1:
		lines = append(lines, p.say("1 receipt is past what the rules ask to be kept: number %d", int(e.Receipts[0])))
	default:
		lines = append(lines, p.say("%d receipts are past what the rules ask to be kept: numbers %s", n, p.Spans(e.Receipts)))
	}
	if others := p.others(e); len(others) > 0 {
		lines = append(lines, p.say("Past the time they are kept for: %s", strings.Join(others, "; ")))
	}
	return lines
}

// others are what an erasure reaches besides receipts and sheets.
func (p *Printer) others(e privacy.Erased) []string {
	var all []string
	switch len(e.Orders) {
	case 0:
	case 1:
		all = append(all, p.say("cancelled order %d", int(e.Orders[0])))
	default:
		all = append(all, p.say("cancelled orders %s", p.Spans(e.Orders)))
	}
	switch e.Places {
	case 0:
	case 1:
		all = append(all, p.say("1 place dropped from the waiting list"))
	default:
		all = append(all, p.say("%d places dropped from the waiting list", e.Places))
	}
	switch e.Records {
	case 0:
	case 1:
		all = append(all, p.say("1 record of wood you bought elsewhere"))
	default:
		all = append(all, p.say("%d records of wood you bought elsewhere", e.Records))
	}
	switch len(e.Audits) {
	case 0:
	case 1:
		all = append(all, p.say("audit %d", int(e.Audits[0])))
	default:
		all = append(all, p.say("audits %s", p.Spans(e.Audits)))
	}
	return all
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
	months, voided := privacy.KeptMonths(s)
	switch {
	case s.Retention == nil:
		return p.say("%s: states no time. Names are kept %d months after delivery here, a cautious practice of this program.", s.Name, months)
	case voided > months:
		return p.say("%s: receipts at least %d months, those voided or corrected at least %d (%s).", s.Name, months, voided, p.Mark(s.Retention.Known))
	}
	return p.say("%s: receipts at least %d months (%s).", s.Name, months, p.Mark(s.Retention.Known))
}

// KeptUnsold says how long names are kept where no receipt was issued.
func (p *Printer) KeptUnsold() string {
	return p.say("Where nothing was sold, names are kept %d month after the order was cancelled or the place on the waiting list was dropped; with a measurement sheet or a payment, as long as receipts are. Your own records of wood bought elsewhere are kept %d months after the last thing you added. These are practices of this program.",
		privacy.UnsoldMonths, privacy.CautiousMonths)
}

// Erased words an erasure of the log.
func (p *Printer) Erased(e privacy.Erasure) string {
	var what []string
	switch len(e.Receipts) {
	case 0:
	case 1:
		what = append(what, p.say("receipt %d", int(e.Receipts[0])))
	default:
		what = append(what, p.say("receipts %s", p.Spans(e.Receipts)))
	}
	switch len(e.Sheets) {
	case 0:
	case 1:
		what = append(what, p.say("measurement sheet %d", int(e.Sheets[0])))
	default:
		what = append(what, p.say("measurement sheets %s", p.Spans(e.Sheets)))
	}
	return strings.Join(append(what, p.others(e.Erased)...), "; ")
}

// Held words why receipts are held back.
func (p *Printer) Held(h privacy.HeldBack) []string {
	why := make([]string, len(h.Why))
	for i, text := range h.Why {
		why[i] = p.Say(text)
	}
	return why
}

// Later says what is kept for now, and until when the first of it is.
func (p *Printer) Later(plan privacy.Plan) []string {
	var lines []string
	switch plan.Later {
	case 0:
	case 1:
		lines = append(lines, p.Say(measure.Say("1 receipt is still to be kept, until %s.", plan.Next.AddDays(-1).Text())))
	default:
		lines = append(lines, p.Say(measure.Say("%d receipts are still to be kept, the first of them until %s.", plan.Later, plan.Next.AddDays(-1).Text())))
	}
	switch plan.LaterRecords {
	case 0:
	case 1:
		lines = append(lines, p.Say(measure.Say("1 other record is still kept, until %s.", plan.NextRecord.AddDays(-1).Text())))
	default:
		lines = append(lines, p.Say(measure.Say("%d other records are still kept, the first of them until %s.", plan.LaterRecords, plan.NextRecord.AddDays(-1).Text())))
	}
	return lines
}
