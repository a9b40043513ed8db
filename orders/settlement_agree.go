package orders

import (
	"context"
	"errors"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// Settle writes down what is owed of an order's delivery, and how it was agreed with
// the buyer to make it good. It is Invalid with all faults; Conflict where nothing
// was delivered, and where the latest settlement is not named.
func (s *Service) Settle(ctx context.Context, by act.Act, orderID string, r SettleRequest) (Settlement, error) {
	w := act.Write{Verb: SettlementAgreed, Subject: orderID, May: act.ToDeliver, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		settled, err := s.readSettlement(tx, orderID, r)
		if err != nil {
			return "", err
		}
		settled.By = by.Actor.Person
		return settled.ID, tx.AddSettlement(settled)
	}, func(tx Tx, id string) (Settlement, error) { return findSettlement(tx, orderID, id) })
}

func findSettlement(tx Tx, orderID, id string) (Settlement, error) {
	all, err := tx.Settlements(orderID)
	for _, s := range all {
		if s.ID == id {
			return s, nil
		}
	}
	if err == nil {
		err = &act.Error{Kind: act.NotFound, Message: measure.Say("that settlement isn’t here")}
	}
	return Settlement{}, err
}

// readSettlement makes a settlement of what was typed.
func (s *Service) readSettlement(tx Tx, orderID string, r SettleRequest) (Settlement, error) {
	o, err := tx.Order(orderID)
	if err := errors.Join(err, o.named()); err != nil {
		return Settlement{}, err
	}
	loads, err := tx.Loads(orderID)
	if err != nil {
		return Settlement{}, err
	}
	if len(loads) == 0 {
		return Settlement{}, act.NewConflict("nothing of order %d was delivered, so nothing of it is owed", int(o.Number))
	}
	tallies, err := tx.Tallies(orderID)
	if err != nil {
		return Settlement{}, err
	}
	before, err := s.replaced(tx, o, r)
	if err != nil {
		return Settlement{}, err
	}
	shop, today, err := s.shopToday(tx)
	if err != nil {
		return Settlement{}, err
	}
	set, err := s.setOf(shop)
	if err != nil {
		return Settlement{}, err
	}
	in := orderReader{service: s, shop: shop, set: set}
	settled := Settlement{OrderID: orderID, Receipt: loads[len(loads)-1].Receipt, Choice: SettleBy(r.Choice), AgreedHow: AgreedHow(r.AgreedHow),
		Replaces: r.Replaces, Created: s.now(), Steps: []SettlementStep{}}
	settled.Owed, settled.Sheet = in.owed(o, tallies, before, r.Owed)
	in.chosen(&settled, r, today)
	in.Hush(set)
	if err := in.Err(); err != nil {
		return Settlement{}, err
	}
	settled.Pieces, settled.Worth = piecesOf(o, tallies, settled.Owed), worthOf(o, settled.Owed.Volume)
	settled.ID, err = act.NewID()
	return settled, err
}

// replaced is the latest settlement of the order, which the request must name; nil
// without one.
func (s *Service) replaced(tx Tx, o Order, r SettleRequest) (*Settlement, error) {
	all, err := tx.Settlements(o.ID)
	if err != nil {
		return nil, err
	}
	if len(all) == 0 && r.Replaces == "" {
		return nil, nil
	}
	if len(all) == 0 || all[len(all)-1].ID != r.Replaces {
		return nil, act.NewConflict("another settlement of order %d was recorded; look at it, and write a new one in its place if it does not hold", int(o.Number))
	}
	return &all[len(all)-1], nil
}

// owed reads how much is owed; empty is what the latest finding says is missing.
func (in *orderReader) owed(o Order, tallies []Tally, before *Settlement, text string) (measure.Quantity, int64) {
	short, sheet := shortBy(tallies)
	owed := measure.Quantity{Volume: short, Basis: o.Quantity.Basis}
	if before != nil {
		owed, sheet = before.Left(), before.Sheet
	}
	if text == "" {
		if owed.Volume <= 0 {
			in.Missing("owed", measure.Say("how much is owed, such as 10 cu ft: no result says that any is missing"))
		}
		return owed, sheet
	}
	said := in.SaidUnder(in.set, in.shop.Units, "owed", text, o.PieceLength)
	switch q := said.Quantity; {
	case q.Volume == 0:
	case said.Barred != "":
		in.Add("owed", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", q), measure.Say("%s", act.Spell(in.set, in.shop.Units, q)))
	case q.Basis != o.Quantity.Basis:
		in.Add("owed", "other-basis", text, measure.Say("it is %s wood, and what was ordered is %s", measure.Say(string(q.Basis)), measure.Say(string(o.Quantity.Basis))),
			measure.Say("a quantity of %s wood", measure.Say(string(o.Quantity.Basis))))
	case q.Volume > o.Quantity.Volume:
		in.Add("owed", "too-large", text, measure.Say("it is more than was ordered"), measure.Say("up to %s", o.Quantity))
	}
	return said.Quantity, sheet
}

// chosen reads what was chosen, and when and how the buyer agreed.
func (in *orderReader) chosen(to *Settlement, r SettleRequest, today act.Date) {
	if to.Choice != SettleWood && to.Choice != SettleMoney {
		in.Add("choice", "unknown", r.Choice, measure.Say("it is not said what it is made good with"), measure.Say("wood or money"))
	}
	if to.AgreedHow != ByWord && to.AgreedHow != InWriting {
		in.Add("agreed_how", "unknown", r.AgreedHow, measure.Say("it is not said how the buyer agreed"), measure.Say("spoken or in writing"))
	}
	to.AgreedOn = today
	if r.AgreedOn != "" {
		on, err := act.ParseDate(r.AgreedOn)
		if in.Parsed("agreed_on", err) && on.After(today) {
			in.Add("agreed_on", "future", r.AgreedOn, measure.Say("it is later than today"), measure.Say("a day up to %s", today.String()))
		}
		to.AgreedOn = on
	}
	to.Reason = in.printedLine("settle_reason", r.Reason)
}
