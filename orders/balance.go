package orders

import (
	"encoding/json"
	"fmt"
	"wellstowed/orders/money"
)

// A Ledger is what is asked for and paid on an order, as it lies in the store.
type Ledger struct {
	Receipts []StoredFacts // those that hold, in the order they were issued
	Paid     int64         // minor units: what its payments come to, the deposit not among them
}

// StoredFacts are the facts of a receipt as they were written.
type StoredFacts struct {
	Number int64
	Bytes  []byte
}

// A Balance is where the money of an order stands. Of Due, Ahead and Back at most
// one of Due and the others is above 0.
type Balance struct {
	Asked   money.Money `json:"asked"`   // by the receipts that hold
	Settled money.Money `json:"settled"` // given for wood that was missing
	Deposit money.Money `json:"deposit"` // the first payment, taken with the order
	Paid    money.Money `json:"paid"`    // since then, what was given back taken off
	Due     money.Money `json:"due"`     // that the customer still owes
	Ahead   money.Money `json:"ahead"`   // paid for wood that is still to come
	Back    money.Money `json:"back"`    // that the shop owes him
	ToCome  money.Money `json:"to_come"` // of the price, what no receipt has asked for yet
}

// asking is the part of a receipt's facts that says what it asks for.
type asking struct {
	Price   Price        `json:"price"`
	Settles *SettlesFact `json:"settles"`
}

// asked is what receipts ask for together, and what they give for missing wood.
func asked(receipts []StoredFacts, currency string) (sum, settled money.Money, err error) {
	sum, settled = money.Money{Currency: currency}, money.Money{Currency: currency}
	for _, r := range receipts {
		var a asking
		if err := json.Unmarshal(r.Bytes, &a); err != nil {
			return money.Money{}, money.Money{}, fmt.Errorf("facts of receipt %d: %w", r.Number, err)
		}
		sum = sum.Add(a.Price.Total())
		if a.Settles != nil {
			settled = settled.Add(a.Settles.Given)
		}
	}
	return sum, settled, nil
}

// strike is the one place where an order's balance is struck: what its receipts
// ask for, less what they give for missing wood, the deposit and the payments. Before
// all of the price is asked for, money beyond that is paid ahead.
func strike(o Order, a Ledger) (Balance, error) {
	currency := o.Price.Wood.Currency
	sum, settled, err := asked(a.Receipts, currency)
	if err != nil {
		return Balance{}, err
	}
	money := func(minor int64) money.Money { return money.Money{Minor: minor, Currency: currency} }
	b := Balance{Asked: sum, Settled: settled, Deposit: o.Deposit, Paid: money(a.Paid)}
	b.ToCome = money(max(o.Price.Total().Minor-b.Asked.Minor, 0))
	if o.State == Cancelled || o.State == Delivered || o.State == Measured {
		b.ToCome = money(0)
	}
	due := b.Asked.Minor - b.Settled.Minor - b.Deposit.Minor - b.Paid.Minor
	b.Due = money(max(due, 0))
	credit := max(-due, 0)
	b.Ahead = money(min(credit, b.ToCome.Minor))
	b.Back = money(credit - b.Ahead.Minor)
	return b, nil
}

// ledgers gives what is asked for and paid on orders, by their ids.
type ledgers interface {
	Ledgers(orderIDs []string) (map[string]Ledger, error)
}

// Balances strikes the balances of orders, by their ids.
func Balances(tx ledgers, orders []Order) (map[string]Balance, error) {
	ids := make([]string, len(orders))
	for i, o := range orders {
		ids[i] = o.ID
	}
	ledgers, err := tx.Ledgers(ids)
	if err != nil {
		return nil, err
	}
	all := make(map[string]Balance, len(orders))
	for _, o := range orders {
		if all[o.ID], err = strike(o, ledgers[o.ID]); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// owed is what an order owes once the facts of its next receipt are asked for.
func (d desk) owed(f Facts) money.Money {
	sum := f.Price.Total().Add(money.Money{Minor: -d.order.Deposit.Minor - d.paid().Minor})
	for _, other := range d.others(f.Of) {
		sum = sum.Add(other.Price.Total())
	}
	return sum
}

// paid is what was paid on the order, with what was given for missing wood.
func (d desk) paid() money.Money {
	sum := paid(d.payments, d.order.Price.Wood.Currency)
	for _, s := range d.settlements {
		for _, step := range s.Steps {
			sum = sum.Add(step.Given)
		}
	}
	return sum
}
