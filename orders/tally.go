package orders

import (
	"context"
	"encoding/json"
	"errors"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// SaveTally measures a tally of an order's wood, saves it and issues its
// measurement sheet in one act. The document is completed: sold is the order's
// quantity, look counts the tallies of this order, and by is the seller unless
// given. It is Invalid with measure's faults by their places in the document.
func (s *Service) SaveTally(ctx context.Context, by act.Act, orderID string, r TallyRequest) (IssuedSheet, error) {
	if r.ReadBy == "" {
		r.ReadBy = by.Actor.Person
	}
	e := issuing{Write: act.Write{Verb: TallySaved, Subject: orderID, May: act.ToTally, Content: r}, order: orderID}
	return issue(ctx, s, by, e, func(d desk) (paper, error) { return s.prepareSheet(d, r) }, (*Service).sheet)
}

// TryTally measures as SaveTally would and saves nothing.
func (s *Service) TryTally(ctx context.Context, who act.Actor, orderID string, doc []byte) (stack.Tally, stack.Result, error) {
	if err := act.Allow(who, act.ToTally); err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	d, set, err := s.deskToMeasure(ctx, orderID)
	if err != nil {
		return stack.Tally{}, stack.Result{}, act.Fail(err)
	}
	m, err := measureOn(d, set, doc)
	return m.Tally, m.Result, act.Fail(err)
}

// deskToMeasure reads what a tally of an order is compared with, and under which rules.
func (s *Service) deskToMeasure(ctx context.Context, orderID string) (d desk, set rules.Set, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		d, err = readDesk(tx, orderID, "")
		return err
	})
	if err == nil {
		set, err = s.setOf(d.shop)
	}
	return d, set, err
}

// A Measurement is a document as completed and what it came to.
type Measurement struct {
	Document stack.Document
	Bytes    []byte
	Tally    stack.Tally
	Result   stack.Result
}

// Answered is the refusal of a tally that asks what nobody has answered; nil where it
// asks nothing.
func (m Measurement) Answered() error {
	var f act.Fields
	for _, q := range m.Result.Questions {
		if !q.Confirmed {
			f.Add(q.Field, Asked, "", q.Text, measure.Say("another reading, or “%s” under “confirmed” where it is as typed", q.Key))
		}
	}
	return f.Err()
}

// Asked is the code of a fault that a yes answers.
const Asked = "asked"

// measureOn completes a document for the order on the desk and measures it.
func measureOn(d desk, set rules.Set, doc []byte) (m Measurement, err error) {
	if d.order.State == Cancelled {
		return Measurement{}, act.NewConflict("order %d is cancelled; there is nothing of it to measure", int(d.order.Number))
	}
	h := Sale{Units: d.shop.Units, Sold: d.order.Quantity, Piece: d.order.PieceLength, cord: cordOf(set, d.shop.Units, d.order), Check: len(d.tallies) + 1, Species: d.order.Species}
	return h.Measure(set, doc)
}

// A Sale is what a tally is compared with, and whose tally it is.
type Sale struct {
	Units act.Units
	Sold  measure.Quantity
	Piece measure.Length
	cord  *CordFact // what the cords were that it was sold in, where that hangs on the wood
	Check int
	By    stack.Party // empty: as the document says, else the seller
	Used  bool        // it is said elsewhere that some was used, moved or mixed since

	Species string // that were sold, in words
}

// mostShrinkage is the table's shrinkage of the species sold, in percent of the green
// volume; 0 where they are not one that the table has.
func mostShrinkage(species string) float64 {
	one, err := wood.Find(species)
	if err != nil {
		return 0
	}
	return one.Shrinkage
}

// Measure completes a document and measures it. Its faults are of Kind Invalid, by their places
// in the document.
func (h Sale) Measure(set rules.Set, doc []byte) (m Measurement, err error) {
	typed, err := h.parse(set, doc)
	if err != nil {
		return Measurement{}, RefuseTally(set, err)
	}
	if h.Sold.Volume == 0 && typed.Sold != nil {
		return Measurement{}, act.NewInvalid("sold", "no-measure", "", measure.Say("the words it was sold in name no measure"), measure.Say("nothing"))
	}
	if typed.Sold != nil && typed.Sold.Quantity != h.Sold {
		return Measurement{}, act.NewInvalid("sold", "other-quantity", "",
			measure.Say("it is %s, and %s was sold", typed.Sold.Quantity, h.Sold),
			measure.Say("%s, or nothing", act.Spell(set, h.Units, h.Sold)))
	}
	if err := m.complete(h, set, doc, typed); err != nil {
		return Measurement{}, err
	}
	var f act.Fields
	if err := BarredInTally(&f, set, m.Bytes); err != nil {
		return Measurement{}, err
	}
	if err := f.Err(); err != nil {
		return Measurement{}, err
	}
	if m.Tally, err = stack.ParseTally(m.Bytes); err != nil {
		return Measurement{}, RefuseTally(set, err)
	}
	m.Tally.Used, m.Tally.MostShrinkage = h.Used, mostShrinkage(h.Species)
	if h.Used && m.Tally.Apart.Answered && m.Tally.Apart.Quantity.Volume == 0 {
		return Measurement{}, act.NewInvalid("apart", "contradicts", "none", measure.Say("it says none, and under what an office would ask it says that some was used, moved or mixed since"),
			measure.Say("how much that is, or nothing where it isn’t known; or that answer changed"))
	}
	if m.Result, err = stack.Measure(m.Tally); err != nil {
		return Measurement{}, RefuseTally(set, err)
	}
	return m, nil
}

// parse reads a document as typed. One that says how much stands elsewhere may leave
// out what that is a part of: it is what was sold.
func (h Sale) parse(set rules.Set, doc []byte) (stack.Tally, error) {
	typed, err := stack.ParseTally(doc)
	var faults measure.InputErrors
	if !errors.As(err, &faults) || !slices.ContainsFunc(faults, func(e *measure.InputError) bool { return e.Code == "needs-sold" }) {
		return typed, err
	}
	if h.Sold.Volume == 0 {
		return typed, measure.InputErrors{{Field: "apart", Code: "needs-sold", Reason: measure.Say("the words it was sold in name no measure that this could be a part of"), Accepts: measure.Say("“none”, or nothing")}}
	}
	var members map[string]json.RawMessage
	if err := json.Unmarshal(doc, &members); err != nil {
		return typed, err
	}
	if members["sold"], err = json.Marshal(act.Spell(set, h.Units, h.Sold)); err != nil {
		return typed, err
	}
	if doc, err = json.Marshal(members); err != nil {
		return typed, err
	}
	return stack.ParseTally(doc)
}

// refuseTally turns measure's faults into an Invalid *Error.
func RefuseTally(set rules.Set, err error) error {
	var f act.Fields
	if other := f.Inputs(err); other != nil {
		return other
	}
	f.Hush(set)
	return f.Err()
}

// complete sets what the sale says: sold, whoever typed it, the look, and what its
// rules define a loose cord as, which nobody types. Sold and apart are in plain
// quantities, since the document is printed. Wood in a container is compared with
// none that was sold otherwise, nor the other way, and no wood is compared with words
// that name no measure: it is measured, and no more.
func (m *Measurement) complete(h Sale, set rules.Set, doc []byte, typed stack.Tally) (err error) {
	apart := typed.Apart
	if err := json.Unmarshal(doc, &m.Document); err != nil {
		return err
	}
	m.Document.Sold = stack.Reading(act.Spell(set, h.Units, h.Sold))
	if h.Sold.Volume == 0 || (h.Sold.Basis == measure.Container) != (typed.Stack.Basis() == measure.Container) {
		m.Document.Sold = ""
	}
	m.Document.Look = h.Check
	switch {
	case h.By != "":
		m.Document.By = stack.Reading(h.By)
	case m.Document.By == "":
		m.Document.By = stack.Reading(stack.Seller)
	}
	if apart.Quantity.Volume > 0 {
		said, err := set.Terms(h.Piece).ParseQuantity(string(m.Document.Apart))
		if err != nil {
			var f act.Fields
			f.Parsed("apart", err)
			return f.Err()
		}
		m.Document.Apart = stack.Reading(act.Spell(set, h.Units, said.Quantity))
	}
	m.Document.LooseCord = ""
	if v := h.looseCord(set); v > 0 {
		m.Document.LooseCord = stack.Reading(measure.Quantity{Volume: v}.WithoutCords(h.Units == act.Metric))
	}
	m.Bytes, err = ledger.Lasting(m.Document)
	return err
}

// looseCord is what the rules take a loose cord of the wood for; 0 where they define
// none, or the wood was not sold loose.
func (h Sale) looseCord(set rules.Set) measure.Volume {
	if h.Sold.Basis != measure.Loose {
		return 0
	}
	if h.cord != nil {
		return h.cord.Cord
	}
	m, _ := set.CordOf(measure.Loose, h.Piece, "")
	return m.Volume.Volume
}
