package orders

import (
	"wellstowed/measure"
)

// openOrderHolds holds back an order with wood still to come.
func openOrderHolds(_ Tx, o Order, _ []StoredReceipt) ([]measure.Text, error) {
	if o.State == Taken || o.State == PartLoad {
		return []measure.Text{measure.Say("wood of order %d is still to be delivered; cancel what is left of it if it never will be", int(o.Number))}, nil
	}
	return nil, nil
}

// moneyHolds holds back an order on which money is owed, either way.
func moneyHolds(tx Tx, o Order, _ []StoredReceipt) ([]measure.Text, error) {
	all, err := balances(tx, []Order{o})
	if err != nil {
		return nil, err
	}
	var why []measure.Text
	b := all[o.ID]
	if b.Due.Minor > 0 {
		why = append(why, measure.Say("the customer still owes money"))
	}
	if b.Back.Minor > 0 || b.Ahead.Minor > 0 {
		why = append(why, measure.Say("the shop holds money of the customer’s"))
	}
	return why, nil
}

// settlementHolds holds back an order with something still to be made good, or with
// a shortage that was measured and never settled.
func settlementHolds(tx Tx, o Order, _ []StoredReceipt) ([]measure.Text, error) {
	all, err := tx.Settlements(o.ID)
	if err != nil {
		return nil, err
	}
	for _, s := range all {
		if s.Open() {
			return []measure.Text{measure.Say("what is missing is not settled yet")}, nil
		}
	}
	tallies, err := tx.Tallies(o.ID)
	if err != nil {
		return nil, err
	}
	if missing, sheet := shortBy(tallies); missing > 0 && len(all) == 0 {
		return []measure.Text{measure.Say("measurement sheet %d found wood missing, and nothing was settled", int(sheet))}, nil
	}
	return nil, nil
}

// caseHolds holds back an order whose buyer has said or measured something that was
// never settled.
func caseHolds(tx Tx, o Order, filed []StoredReceipt) ([]measure.Text, error) {
	settlements, err := tx.Settlements(o.ID)
	if err != nil {
		return nil, err
	}
	var why []measure.Text
	for _, r := range filed {
		c, err := tx.CaseOf(r.Number)
		if KindOf(err) == NotFound {
			continue
		}
		if err != nil {
			return nil, err
		}
		if c.open() && !closedSince(settlements, c) {
			why = append(why, measure.Say("the buyer’s case on receipt %d is open", int(r.Number)))
		}
	}
	return why, nil
}

// open tells whether the buyer has said something that was not agreed on, or measured
// a shortage.
func (c Case) open() bool {
	if n := len(c.Entries); n > 0 {
		last := c.Entries[n-1]
		return last.Kind != Reply || last.Accepts != Yes
	}
	latest := c.Latest()
	return latest != nil && latest.Result.Finding != nil && latest.Result.Finding.Word == measure.Short
}

// closedSince tells whether a settlement was closed after the last word of a case.
func closedSince(settlements []Settlement, c Case) bool {
	last := c.Created
	if t := c.Latest(); t != nil {
		last = t.Created
	}
	if n := len(c.Entries); n > 0 && c.Entries[n-1].At.After(last) {
		last = c.Entries[n-1].At
	}
	for _, s := range settlements {
		if s.Closed() && s.Steps[len(s.Steps)-1].Created.After(last) {
			return true
		}
	}
	return false
}

// auditHolds holds back an order with an audit that is open, or was closed more lately
// than the receipts are kept.
func auditHolds(tx Tx, orderID string, k kept, today Date) ([]measure.Text, error) {
	audits, err := tx.AuditsOf(orderID)
	if err != nil {
		return nil, err
	}
	var why []measure.Text
	for _, a := range audits {
		if a.State != AuditClosed {
			why = append(why, measure.Say("audit %d is open", int(a.Number)))
			continue
		}
		closed := kept{}
		closed.until(dayIn(a.ClosedAt, k.zone), k.months)
		if !today.After(closed.last) {
			why = append(why, measure.Say("audit %d was closed, and is kept until %s", int(a.Number), closed.last.Text()))
		}
	}
	return why, nil
}
