package privacy

import (
	"fmt"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

// A Reason says why the names of an order are kept for now, past the months they are kept
// for; nothing where they need not be.
type Reason func(tx Tx, o orders.Order, filed []orders.StoredReceipt) ([]measure.Text, error)

// A planner puts records where they belong in a plan.
type planner struct {
	service *Eraser
	tx      Tx
	plan    *Plan
	shop    orders.Shop
	today   act.Date
	places  []orders.Wish // read when the first is asked for
}

func (p *planner) place(r orders.Record) error {
	switch r.Kind {
	case orders.OrderRecord:
		return p.order(r)
	case orders.PlaceRecord:
		return p.dropped(r)
	case orders.CaseRecord:
		return p.ownCase(r)
	case orders.AuditRecord:
		return p.audit(r)
	}
	return fmt.Errorf("a record of kind %q is not known", r.Kind)
}

// order puts an order with its papers, its money and its audits.
func (p *planner) order(r orders.Record) error {
	o, err := p.tx.Order(r.ID)
	if err != nil {
		return err
	}
	filed, err := p.tx.OrderReceipts(r.ID)
	if err != nil {
		return err
	}
	k, err := p.keptOrder(o, filed)
	if err != nil {
		return err
	}
	sheets, err := p.sheets(r.ID, &k)
	if err != nil {
		return err
	}
	if !p.today.After(k.last) {
		p.later(len(filed), k.last)
		return nil
	}
	why, err := p.heldBack(o, filed, k)
	if err != nil {
		return err
	}
	if len(why) > 0 {
		p.plan.Held = append(p.plan.Held, HeldBack{Order: o.Number, OrderID: r.ID, Receipts: numbersOf(filed), Why: why})
		return nil
	}
	p.plan.records = append(p.plan.records, r)
	p.plan.Receipts, p.plan.Sheets = append(p.plan.Receipts, numbersOf(filed)...), append(p.plan.Sheets, sheets...)
	if len(filed) == 0 {
		p.plan.Orders = append(p.plan.Orders, o.Number)
	} else {
		p.plan.delivered++
	}
	return p.auditsWith(r.ID)
}

// keptOrder is how long the papers of an order are kept; of one that was cancelled
// before anything left, how long its names are.
func (p *planner) keptOrder(o orders.Order, filed []orders.StoredReceipt) (kept, error) {
	if len(filed) > 0 {
		return p.service.keptOf(filed)
	}
	k := kept{zone: p.shop.Zone, months: CautiousMonths}
	if set, err := act.RulesOf(p.service.book, p.shop.RuleSet); err == nil {
		k.months, _ = KeptMonths(set)
	}
	payments, err := p.tx.Payments(o.ID)
	if err != nil {
		return k, err
	}
	months := UnsoldMonths
	if len(payments) > 0 {
		months = k.months
	}
	k.until(act.DayIn(o.Changed, p.shop.Zone), months) // cancelling was the last change
	return k, nil
}

// sheets are the numbers of an order's measurement sheets, which are kept as its
// receipts are.
func (p *planner) sheets(orderID string, k *kept) (numbers []int64, err error) {
	tallies, err := p.tx.Tallies(orderID)
	for _, t := range tallies {
		numbers = append(numbers, t.Sheet)
		k.until(act.DayIn(t.Created, k.zone), k.months)
	}
	return numbers, err
}

// heldBack is why an order that is past it keeps its names.
func (p *planner) heldBack(o orders.Order, filed []orders.StoredReceipt, k kept) ([]measure.Text, error) {
	why := k.unknown
	for _, reason := range p.service.reasons {
		more, err := reason(p.tx, o, filed)
		if err != nil {
			return nil, err
		}
		why = append(why, more...)
	}
	more, err := audits.Reasons(p.tx, o.ID, k.zone, k.months, p.today)
	return append(why, more...), err
}

// auditsWith are the audits of an order's deliveries: their names go with it.
func (p *planner) auditsWith(orderID string) error {
	audits, err := p.tx.AuditsOf(orderID)
	for _, a := range audits {
		p.plan.Audits = append(p.plan.Audits, a.Number)
		p.plan.with = append(p.plan.with, orders.Record{Kind: orders.AuditRecord, ID: a.ID})
	}
	return err
}

// dropped puts a place that was dropped from the waiting list.
func (p *planner) dropped(r orders.Record) (err error) {
	if p.places == nil {
		if p.places, err = p.tx.Wishes(); err != nil {
			return err
		}
	}
	i := slices.IndexFunc(p.places, func(w orders.Wish) bool { return w.ID == r.ID })
	if i < 0 {
		return fmt.Errorf("the dropped place %s is not on the list", r.ID)
	}
	if p.past(r, p.places[i].Ended, UnsoldMonths) {
		p.plan.Places++
	}
	return nil
}

// ownCase puts a buyer's own record, which is kept from the last that was added to it.
func (p *planner) ownCase(r orders.Record) error {
	c, err := p.tx.Case(r.ID)
	if err != nil {
		return err
	}
	last := c.Account.At
	if t := c.Latest(); t != nil && t.Created.After(last) {
		last = t.Created
	}
	if n := len(c.Entries); n > 0 && c.Entries[n-1].At.After(last) {
		last = c.Entries[n-1].At
	}
	if p.past(r, last, CautiousMonths) {
		p.plan.Records++
	}
	return nil
}

// audit puts a closed audit of a load with no order here, or of one whose names are
// gone.
func (p *planner) audit(r orders.Record) error {
	stored, err := p.tx.StoredAudit(r.ID)
	if err != nil {
		return err
	}
	months := CautiousMonths
	if set, err := p.service.book.Get(stored.Audit.Subject.RuleSet.Code); err == nil {
		months, _ = KeptMonths(set)
	}
	if p.past(r, stored.Audit.ClosedAt, months) {
		p.plan.Audits = append(p.plan.Audits, stored.Audit.Number)
	}
	return nil
}

// past puts a record by itself into the plan where the months since it ended are over,
// and tells whether they are.
func (p *planner) past(r orders.Record, ended time.Time, months int) bool {
	k := kept{zone: p.shop.Zone}
	k.until(act.DayIn(ended, k.zone), months)
	if !p.today.After(k.last) {
		p.later(0, k.last)
		return false
	}
	p.plan.records = append(p.plan.records, r)
	return true
}

// later counts receipts, or one other record, that are kept for now.
func (p *planner) later(receipts int, last act.Date) {
	count, next := &p.plan.Later, &p.plan.Next
	if receipts == 0 {
		count, next, receipts = &p.plan.LaterRecords, &p.plan.NextRecord, 1
	}
	*count += receipts
	if day := last.AddDays(1); next.IsZero() || next.After(day) {
		*next = day
	}
}
