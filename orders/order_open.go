package orders

import "wellstowed/measure"

// OpenReasons say why the names of an order are kept for now: wood to come, money owed,
// something to be made good.
func OpenReasons(tx Tx, o Order, filed []StoredReceipt) (why []measure.Text, err error) {
	for _, reason := range []func(Tx, Order, []StoredReceipt) ([]measure.Text, error){openOrderHolds, moneyHolds, settlementHolds} {
		more, err := reason(tx, o, filed)
		if err != nil {
			return nil, err
		}
		why = append(why, more...)
	}
	return why, nil
}

// openOrderHolds holds back an order with wood still to come.
func openOrderHolds(_ Tx, o Order, _ []StoredReceipt) ([]measure.Text, error) {
	if o.State == Taken || o.State == PartLoad {
		return []measure.Text{measure.Say("wood of order %d is still to be delivered; cancel what is left of it if it never will be", int(o.Number))}, nil
	}
	return nil, nil
}

// moneyHolds holds back an order on which money is owed, either way.
func moneyHolds(tx Tx, o Order, _ []StoredReceipt) ([]measure.Text, error) {
	all, err := Balances(tx, []Order{o})
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
