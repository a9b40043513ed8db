package cases

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Reasons say why the names of an order are kept for now: its buyer has said or measured something that was
// never settled.
func Reasons(tx Tx, o orders.Order, filed []orders.StoredReceipt) ([]measure.Text, error) {
	settlements, err := tx.Settlements(o.ID)
	if err != nil {
		return nil, err
	}
	var why []measure.Text
	for _, r := range filed {
		c, err := tx.CaseOf(r.Number)
		if act.KindOf(err) == act.NotFound {
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
	return latest != nil && latest.Result.Finding != nil && latest.Result.Finding.Word == stack.Short
}

// closedSince tells whether a settlement was closed after the last word of a case.
func closedSince(settlements []orders.Settlement, c Case) bool {
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
