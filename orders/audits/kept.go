package audits

import (
	"wellstowed/measure"
	"wellstowed/orders/act"
)

// Reasons say why the names of an order are kept for now: an audit of it is open, or
// was closed fewer months before today, in a zone, than its receipts are kept.
func Reasons(tx Tx, orderID, zone string, months int, today act.Date) ([]measure.Text, error) {
	audits, err := tx.AuditsOf(orderID)
	if err != nil {
		return nil, err
	}
	var why []measure.Text
	for _, a := range audits {
		if a.State != Closed {
			why = append(why, measure.Say("audit %d is open", int(a.Number)))
			continue
		}
		last := act.DateOf(act.DayIn(a.ClosedAt, zone).Midnight().AddDate(0, months, 0))
		if !today.After(last) {
			why = append(why, measure.Say("audit %d was closed, and is kept until %s", int(a.Number), last.Text()))
		}
	}
	return why, nil
}
