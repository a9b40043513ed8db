package orders

import (
	"time"
	"wellstowed/orders/act"
)

// MoneyStore keeps what is asked for, paid and settled on orders.
type MoneyStore interface {
	PaymentStore
	SettlementStore
	WishStore
	// Ledgers are what is asked for and paid on orders, by their ids.
	Ledgers(orderIDs []string) (map[string]Ledger, error)
}

// PaymentStore keeps payments; they are only added to.
type PaymentStore interface {
	Payment(id string) (Payment, error)
	// Payments are those of an order, in the order they were written down.
	Payments(orderID string) ([]Payment, error)
	AddPayment(p Payment) error
	// ReceiveCopy marks the signed copy of a voucher as received.
	ReceiveCopy(paymentID string, on act.Date, by string, at time.Time) error
}

// SettlementStore keeps settlements and what is done about them; both are only added
// to.
type SettlementStore interface {
	// Settlements are those of an order with their steps, oldest first.
	Settlements(orderID string) ([]Settlement, error)
	AddSettlement(s Settlement) error
	// AddSettlementStep adds a step whose receipt is there.
	AddSettlementStep(settlementID string, step SettlementStep) error
}

// The verbs that write of money.
const (
	PaymentAdded    act.Verb = "add payment"
	PaymentReversed act.Verb = "reverse payment"
	CopyReceived    act.Verb = "receive signed copy"

	SettlementAgreed act.Verb = "agree settlement"
	WoodBrought      act.Verb = "bring wood owed"
	MoneyGiven       act.Verb = "give money owed"
)
