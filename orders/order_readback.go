package orders

import (
	"context"
	"errors"
	"slices"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
	"wellstowed/orders/ledger"
	"wellstowed/orders/money"
	"wellstowed/orders/promise"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// A ReadBack is an order as it would be taken, to be said to the customer.
type ReadBack struct {
	Order Order `json:"order"`
	// Line is what was understood of its line.
	Line spoken.Line `json:"line"`
	// Why says what was understood by words that could be taken otherwise, or that name
	// no legal quantity; it repeats no such words. It is empty for any others.
	Why measure.Text `json:"why,omitzero"`
	// Unusual says what is far from the shop's other orders; for the seller, not to be
	// said to the customer.
	Unusual []measure.Text `json:"unusual,omitempty"`
	// Promise is whether it can be promised by the shop's batches, nil where it keeps none;
	// for the seller too.
	Promise *promise.Answer `json:"promise,omitempty"`
	// Confirm is what OrderRequest.Confirmed must hold for the order to be taken so;
	// empty where something is wrong. It is another where anything of the order is.
	Confirm string `json:"confirmed,omitempty"`
}

// ReadBack reads an order as it would be taken, and keeps nothing. Beside an error
// it gives the order as far as it was read.
func (s *Service) ReadBack(ctx context.Context, who act.Actor, r OrderRequest) (b ReadBack, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return ReadBack{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		in, err := s.readOrder(tx, &b.Order, r)
		if in != nil {
			b.Why, b.Line = in.understood(b.Order), in.line
			var broken error
			if b.Promise, broken = in.promise(tx, b.Order); broken != nil {
				return broken
			}
		}
		if err == nil {
			b.Confirm, err = in.confirmation(b.Order)
		}
		if err == nil {
			b.Unusual, err = in.unusual(tx, b.Order)
		}
		return err
	})
	return b, act.Fail(err)
}

// Heard reads an order's line as ReadBack does, and gives beside it only what has to be asked
// about the line; it keeps nothing.
func (s *Service) Heard(ctx context.Context, who act.Actor, r OrderRequest) (ReadBack, []*measure.InputError, error) {
	b, err := s.ReadBack(ctx, who, r)
	var known *act.Error
	if err == nil || !errors.As(err, &known) || known.Kind != act.Invalid {
		return b, nil, err
	}
	var asked []*measure.InputError
	for _, f := range known.Fields {
		if f.Field == "quantity" || slices.ContainsFunc(b.Line.Questions, func(q *measure.InputError) bool { return q.Field == f.Field && q.Code == f.Code }) {
			asked = append(asked, f)
		}
	}
	return b, asked, nil
}

// agreed asks for the order to be read back, unless what was confirmed is what it says
// now.
func (in *orderReader) agreed(tx Tx, o Order) error {
	confirm, err := in.confirmation(o)
	if err != nil || in.typed.Confirmed == confirm {
		return err
	}
	reason := measure.Say("read back to the customer: %s for %s, %s in all", o.Quantity, o.Price.Wood, o.Price.Total())
	if why := in.understood(o); why.Key != "" {
		reason = measure.Say("%s; %s", reason, why)
	}
	odd, err := in.unusual(tx, o)
	if err != nil {
		return err
	}
	for _, text := range odd {
		reason = measure.Say("%s; %s", reason, text)
	}
	return &act.Error{Kind: act.Invalid, Message: measure.Say("read the order back to the customer before it is taken"), Fields: []*measure.InputError{
		{Field: "confirmed", Code: "read-back", Reason: reason, Accepts: measure.Say("%s", confirm)},
	}}
}

// confirmation names what is agreed to: the quantity and the total, to be read, and a
// code of all that is said to the customer.
func (in *orderReader) confirmation(o Order) (string, error) {
	b, err := ledger.Canonical(struct {
		Name, Address   string
		Quantity        measure.Quantity
		Species, Origin string
		Certificate     string
		PieceLength     measure.Length
		Seasoning       yard.Seasoning
		Split           spoken.SplitSize
		Stacking        spoken.Stack
		Price           Price
		Distance        measure.Length
		Deposit         money.Money
		Notes           string
		Day             day.Span
	}{o.Customer.Name, o.Customer.Address, o.Quantity, o.Species, o.Origin, o.Certificate, o.PieceLength, o.Seasoning, o.Split, o.Stacking, o.Price, o.Distance, o.Deposit, o.Notes, o.Day})
	if err != nil {
		return "", err
	}
	code, err := ledger.Seal(ledger.Hash(b))
	if err != nil {
		return "", err
	}
	return act.Spell(in.set, in.shop.Units, o.Quantity) + ", " + o.Price.Total().String() + ", " + code, nil
}

// understood says what a quantity's words were taken for, where they name no legal
// quantity, are cords whose size depends on the wood, or are the sides of a stack; else
// the empty text. It repeats no words.
func (in *orderReader) understood(o Order) measure.Text {
	said := in.said
	switch {
	case said.Quantity.Volume == 0:
		return measure.Text{}
	case in.line.Load != nil && in.line.Load.Count == 1:
		return measure.Say("%s, filled to %s, holds %s", in.line.Load.Bed.Name, in.line.Load.Bed.Line, said.Quantity)
	case in.line.Load != nil:
		return measure.Say("%d times %s, filled to %s, is %s", in.line.Load.Count, in.line.Load.Bed.Name, in.line.Load.Bed.Line, said.Quantity)
	case said.Barred != "":
		return in.set.WhyReadBack(said)
	case act.Prepared(in.set, said):
		m, _ := in.set.CordOf(said.Quantity.Basis, o.PieceLength, said.Preparation) // it gave the words their size
		return measure.Say("a cord of %s is %s here (%s); that is %s", measure.Say(m.Of), said.Cord, m.Source, said.Quantity)
	case said.Sides != [3]measure.Length{}:
		return measure.Say("a stack %s by %s by %s holds %s", said.Sides[0], said.Sides[1], said.Sides[2], said.Quantity)
	}
	return measure.Text{}
}
