package audits

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// fold makes an audit of what lies in the store: what was written down, in order, over
// the checklist of the rules that govern the sale.
func (st StoredAudit) fold(set rules.Set) (Audit, error) {
	a := st.Audit
	a.Checklist = blankChecklist(set, a.Subject)
	for i, e := range st.Entries {
		if err := a.apply(e); err != nil {
			return Audit{}, fmt.Errorf("audit %d, entry %d: %w", a.Number, i+1, err)
		}
	}
	a.withoutTicket()
	return a, nil
}

func (a *Audit) apply(e Entry) error {
	switch e.Kind {
	case NoticeEntry:
		return appendTo(&a.Notices, e)
	case AttendanceEntry:
		return appendTo(&a.Attendances, e)
	case HoldEntry:
		return appendTo(&a.Holds, e)
	case PlanEntry:
		return appendTo(&a.Plans, e)
	case NoteEntry:
		return appendTo(&a.Notes, e)
	case ItemEntry:
		return a.answer(e)
	}
	return fmt.Errorf("an entry of kind %q is not known", e.Kind)
}

func appendTo[T any](list *[]T, e Entry) error {
	var v T
	if err := json.Unmarshal(e.Body, &v); err != nil {
		return err
	}
	*list = append(*list, v)
	return nil
}

func (a *Audit) answer(e Entry) error {
	var item Item
	if err := json.Unmarshal(e.Body, &item); err != nil {
		return err
	}
	i := slices.IndexFunc(a.Checklist, func(o Item) bool { return o.Code == item.Code })
	if i < 0 { // the rules asked for it then
		a.Checklist = append(a.Checklist, item)
		return nil
	}
	item.Question = a.Checklist[i].Question
	a.Checklist[i] = item
	return nil
}

// ticketItem begins the codes of items that ask for a field of the ticket.
const ticketItem = "ticket."

// blankChecklist are the items of evidence, those of the ticket answered where the
// receipt answers them.
func blankChecklist(set rules.Set, s Subject) []Item {
	var items []Item
	for _, field := range set.Required {
		item := Item{Code: ticketItem + field.Code, Question: measure.Say("Does the ticket show this: %s?", field.Name)}
		if slices.Contains(s.TicketHas, field.Code) {
			item.Answer, item.Filled = AnswerYes, true
		}
		items = append(items, item)
	}
	ticket := Item{Code: "ticket", Question: measure.Say("Was a ticket or receipt left with the wood?")}
	unit := Item{Code: "unit", Question: measure.Say("Does the ticket give the quantity in a unit and on a basis that these rules allow?")}
	if s.Receipt.Number != 0 {
		unit.Answer, unit.Filled = AnswerYes, true
		ticket.Answer, ticket.Filled = AnswerYes, true
	}
	return append(append([]Item{ticket}, items...), unit,
		Item{Code: "pieces", Question: measure.Say("Were pieces taped, from all over the stack?")},
		Item{Code: "faces", Question: measure.Say("Were both faces of the stack seen?")},
		Item{Code: "voids", Question: measure.Say("Was the stack looked over for gaps that would take a piece?")},
		Item{Code: "cribs", Question: measure.Say("Were the ends looked over for criss-cross piling?")},
		Item{Code: "used", Question: measure.Say("Was any of the wood used or taken away since it was delivered?")},
		Item{Code: "weather", Question: measure.Say("Was the weather recorded?")},
		Item{Code: "struck", Question: measure.Say("Were slips crossed out and left legible, none rubbed out?")},
	)
}

// needsNote tells whether an answer says too little without a note.
func (i Item) needsNote() bool {
	if i.Answer == AnswerNotSeen {
		return true
	}
	return i.Answer == AnswerYes && slices.Contains([]string{"weather", "used"}, i.Code)
}

// OfTicket tells whether the item asks for the ticket, or for a field of it.
func (i Item) OfTicket() bool {
	return i.Code == "ticket" || i.ofField()
}

func (i Item) ofField() bool { return i.Code == "unit" || strings.HasPrefix(i.Code, ticketItem) }

// withoutTicket answers what is asked of a ticket where there was none at all.
func (a *Audit) withoutTicket() {
	none := a.item("ticket")
	if none.Answer != AnswerNo {
		return
	}
	for i := range a.Checklist {
		if item := &a.Checklist[i]; item.ofField() {
			item.Answer, item.Note, item.By, item.Written = AnswerNo, "there was no ticket", none.By, none.Written
		}
	}
}

// Plan is the plan that holds, nil before one is fixed.
func (a Audit) Plan() *Plan {
	if len(a.Plans) == 0 {
		return nil
	}
	return &a.Plans[len(a.Plans)-1]
}

// Hold is what was last written down of the wood kept unmoved; nothing before.
func (a Audit) Hold() Hold {
	if len(a.Holds) == 0 {
		return Hold{}
	}
	return a.Holds[len(a.Holds)-1]
}

// Step is what is to be done next.
type Step string

// The steps of an audit, in order.
const (
	StepNotice     Step = "notice"
	StepHold       Step = "hold"
	StepPlan       Step = "plan"
	StepMeasurers  Step = "measurers"
	StepReadings   Step = "readings"
	StepAttendance Step = "attendance"
	StepChecklist  Step = "checklist"
	StepClose      Step = "close"
	StepClosed     Step = "closed"
)

// Step is what is to be done next.
func (a Audit) Step() Step {
	plan := a.Plan()
	switch {
	case a.State == Closed:
		return StepClosed
	case len(a.Notices) == 0:
		return StepNotice
	case len(a.Holds) == 0:
		return StepHold
	case plan == nil:
		return StepPlan
	case len(a.Measurers) < plan.Measurers:
		return StepMeasurers
	case a.Waiting() > 0:
		return StepReadings
	case len(a.Attendances) == 0:
		return StepAttendance
	case len(a.Unanswered()) > 0:
		return StepChecklist
	}
	return StepClose
}

// Waiting is how many measurers have not handed in.
func (a Audit) Waiting() int {
	n := 0
	for _, h := range a.Measurers {
		if h.HandedIn.IsZero() {
			n++
		}
	}
	return n
}

// Unanswered are the items of the checklist that have no answer yet.
func (a Audit) Unanswered() []Item {
	return slices.DeleteFunc(slices.Clone(a.Checklist), func(i Item) bool { return i.Answer != "" })
}
