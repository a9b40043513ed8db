package orders

import (
	"context"
	"encoding/json"
	"errors"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A LoadTally is a second load as it was measured: the readings as completed, and
// what they came to, held against what was still owed.
type LoadTally struct {
	Document json.RawMessage `json:"document" names:"sale"` // a stack.Document
	Result   stack.Result    `json:"result" names:"program"`
}

// An Outcome is what a second load of a settlement would do.
type Outcome struct {
	Brought measure.Quantity // as measured, with what is said to be elsewhere
	Left    measure.Quantity // still owed after it; nothing where the finding shows no shortage
	// OtherBasis tells that the load is not of the basis owed, so it settles nothing.
	OtherBasis bool
}

// Measured is what a load does that was measured against what is left. No shortage
// is left where the finding shows none, though the figure be a little less; where it
// is short, or the readings can't tell, the difference of the figures is still owed.
func (s Settlement) Measured(r stack.Result) Outcome {
	owed := s.Left()
	out := Outcome{Brought: r.Quantity, Left: owed, OtherBasis: r.Quantity.Basis != owed.Basis}
	if out.OtherBasis || r.Finding == nil {
		return out
	}
	out.Brought.Volume += r.Finding.Sold.Volume - r.Finding.Due
	if w := r.Finding.Word; w == stack.Short || w == stack.Unresolved {
		out.Left.Volume = max(owed.Volume-out.Brought.Volume, 0)
	} else {
		out.Left.Volume = 0
	}
	return out
}

// TryBrought measures a second load as Bring would and saves nothing. It is Conflict
// where no settlement in wood is open.
func (s *Service) TryBrought(ctx context.Context, who act.Actor, orderID string, doc []byte) (stack.Tally, stack.Result, error) {
	if err := act.Allow(who, act.ToDeliver); err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	d, set, err := s.deskToMeasure(ctx, orderID)
	if err != nil {
		return stack.Tally{}, stack.Result{}, act.Fail(err)
	}
	owed, err := d.openSettlement(SettleWood)
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	m, err := d.saleOwed(set, owed).Measure(set, doc)
	return m.Tally, m.Result, act.Fail(err)
}

// heldOwed is what the tally of a second load is held against: what is still owed.
func (d desk) saleOwed(set rules.Set, s Settlement) Sale {
	return Sale{Units: d.shop.Units, Sold: s.Left(), Piece: d.order.PieceLength, cord: cordOf(set, d.shop.Units, d.order), Check: 1, Species: d.order.Species}
}

// tallied measures a tally of the load, and says what it does to what is owed.
func (c *closing) tallied(document string) Outcome {
	m, err := c.desk.saleOwed(c.set, c.settlement).Measure(c.set, []byte(document))
	if err == nil {
		err = m.Answered()
	}
	var known *act.Error
	switch {
	case err == nil:
		c.facts.Settles.Tallied = true
		c.facts.Settles.Tally = &LoadTally{Document: m.Bytes, Result: m.Result}
		return c.settlement.Measured(m.Result)
	case errors.As(err, &known) && known.Kind == act.Invalid:
		c.Faults = append(c.Faults, known.Fields...)
	default:
		c.Parsed("tally", err)
	}
	return Outcome{}
}
