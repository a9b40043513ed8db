package orders

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// An OrderStep is the one thing to do next about an order.
type OrderStep string

// The steps; the empty OrderStep is nothing to do.
const (
	StepSettle      OrderStep = "settle"       // make good what is missing
	StepMeasure     OrderStep = "measure"      // what was measured can't tell yet
	StepSetDay      OrderStep = "set day"      // say when it is delivered
	StepDeliver     OrderStep = "deliver"      // bring what is still due
	StepTakePayment OrderStep = "take payment" // take what the customer owes
	StepGiveBack    OrderStep = "give back"    // give back what the shop owes
)

// Due is what is ordered less what was delivered on the same basis, never below 0.
func (h History) Due() measure.Quantity {
	left := h.Order.Quantity
	for _, load := range h.Loads {
		if load.Delivered.Basis == left.Basis {
			left.Volume -= load.Delivered.Volume
		}
	}
	left.Volume = max(left.Volume, 0)
	return left
}

// ToSettle tells whether wood that was delivered was found missing and is not settled:
// nothing is agreed about it, or what was agreed is still to be done.
func (h History) ToSettle() bool {
	s := h.Settlement()
	return len(h.Loads) > 0 && (h.Order.Outcome == stack.Short && s == nil || s != nil && s.Open())
}

// CantTell tells whether wood that was delivered was measured, and it can't be told yet
// whether it is all there.
func (h History) CantTell() bool {
	return len(h.Loads) > 0 && h.Order.Outcome == stack.Unresolved && h.Settlement() == nil
}

// NextStep is the one thing to do next, the first that fits: what is missing goes before wood
// still to come, and that before money.
func (h History) NextStep() OrderStep {
	still := h.Order.State != Cancelled && h.Due().Volume > 0
	switch {
	case h.ToSettle():
		return StepSettle
	case h.CantTell():
		return StepMeasure
	case still && h.Order.Day.IsZero():
		return StepSetDay
	case still:
		return StepDeliver
	case h.Balance.Due.Minor > 0:
		return StepTakePayment
	case h.Balance.Back.Minor > 0:
		return StepGiveBack
	}
	return ""
}
