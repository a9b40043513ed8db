package orders

import (
	"context"
	"encoding/json"
	"errors"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// SaveTally measures a tally of an order's wood, saves it and issues its
// measurement sheet in one act. The document is completed: sold is the order's
// quantity, look counts the tallies of this order, and by is the seller unless
// given. It is Invalid with measure's faults by their places in the document.
func (s *Service) SaveTally(ctx context.Context, by Act, orderID string, r TallyRequest) (IssuedSheet, error) {
	if r.ReadBy == "" {
		r.ReadBy = by.Actor.Person
	}
	e := errand{Write: act.Write{Verb: TallySaved, Subject: orderID, May: toTally, Content: r}, order: orderID}
	return issue(ctx, s, by, e, func(d desk) (paper, error) { return s.prepareSheet(d, r) }, (*Service).sheet)
}

// TryTally measures as SaveTally would and saves nothing.
func (s *Service) TryTally(ctx context.Context, who Actor, orderID string, doc []byte) (measure.Tally, measure.Result, error) {
	if err := allow(who, toTally); err != nil {
		return measure.Tally{}, measure.Result{}, err
	}
	d, set, err := s.deskToMeasure(ctx, orderID)
	if err != nil {
		return measure.Tally{}, measure.Result{}, fail(err)
	}
	m, err := measureOn(d, set, doc)
	return m.tally, m.result, fail(err)
}

// deskToMeasure reads what a tally of an order is held against, and under which rules.
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

// A measuring is a document as completed and what it came to.
type measuring struct {
	document measure.Document
	bytes    []byte
	tally    measure.Tally
	result   measure.Result
}

// answered is the refusal of a tally that asks what nobody has answered; nil where it
// asks nothing.
func (m measuring) answered() error {
	var f fields
	for _, q := range m.result.Questions {
		if !q.Confirmed {
			f.add(q.Field, Asked, "", q.Text, measure.Say("another reading, or “%s” under “confirmed” where it is as typed", q.Key))
		}
	}
	return f.err()
}

// Asked is the code of a fault that a yes answers.
const Asked = "asked"

// measureOn completes a document for the order on the desk and measures it.
func measureOn(d desk, set rules.Set, doc []byte) (m measuring, err error) {
	if d.order.State == Cancelled {
		return measuring{}, conflict("order %d is cancelled; there is nothing of it to measure", int(d.order.Number))
	}
	h := held{units: d.shop.Units, sold: d.order.Quantity, piece: d.order.PieceLength, cord: cordOf(set, d.shop.Units, d.order), look: len(d.tallies) + 1, species: d.order.Species}
	return h.measure(set, doc)
}

// held is what a tally is held against, and whose it is.
type held struct {
	units Units
	sold  measure.Quantity
	piece measure.Length
	cord  *CordFact // what the cords were that it was sold in, where that hangs on the wood
	look  int
	by    measure.Party // empty: as the document says, else the seller
	used  bool          // it is said elsewhere that some was used, moved or mixed since

	species string // that were sold, in words
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

// measure completes a document and measures it.
func (h held) measure(set rules.Set, doc []byte) (m measuring, err error) {
	typed, err := h.parse(set, doc)
	if err != nil {
		return measuring{}, refuseTally(set, err)
	}
	if h.sold.Volume == 0 && typed.Sold != nil {
		return measuring{}, invalid("sold", "no-measure", "", measure.Say("the words it was sold in name no measure"), measure.Say("nothing"))
	}
	if typed.Sold != nil && typed.Sold.Quantity != h.sold {
		return measuring{}, invalid("sold", "other-quantity", "",
			measure.Say("it is %s, and %s was sold", typed.Sold.Quantity, h.sold),
			measure.Say("%s, or nothing", spell(set, h.units, h.sold)))
	}
	if err := m.complete(h, set, doc, typed); err != nil {
		return measuring{}, err
	}
	var f fields
	if err := f.barredInTally(set, m.bytes); err != nil {
		return measuring{}, err
	}
	if err := f.err(); err != nil {
		return measuring{}, err
	}
	if m.tally, err = measure.ParseTally(m.bytes); err != nil {
		return measuring{}, refuseTally(set, err)
	}
	m.tally.Used, m.tally.MostShrinkage = h.used, mostShrinkage(h.species)
	if h.used && m.tally.Apart.Answered && m.tally.Apart.Quantity.Volume == 0 {
		return measuring{}, invalid("apart", "contradicts", "none", measure.Say("it says none, and under what an office would ask it says that some was used, moved or mixed since"),
			measure.Say("how much that is, or nothing where it isn’t known; or that answer changed"))
	}
	if m.result, err = measure.Measure(m.tally); err != nil {
		return measuring{}, refuseTally(set, err)
	}
	return m, nil
}

// parse reads a document as typed. One that says how much stands elsewhere may leave
// out what that is a part of: it is what was sold.
func (h held) parse(set rules.Set, doc []byte) (measure.Tally, error) {
	typed, err := measure.ParseTally(doc)
	var faults measure.InputErrors
	if !errors.As(err, &faults) || !slices.ContainsFunc(faults, func(e *measure.InputError) bool { return e.Code == "needs-sold" }) {
		return typed, err
	}
	if h.sold.Volume == 0 {
		return typed, measure.InputErrors{{Field: "apart", Code: "needs-sold", Reason: measure.Say("the words it was sold in name no measure that this could be a part of"), Accepts: measure.Say("“none”, or nothing")}}
	}
	var members map[string]json.RawMessage
	if err := json.Unmarshal(doc, &members); err != nil {
		return typed, err
	}
	if members["sold"], err = json.Marshal(spell(set, h.units, h.sold)); err != nil {
		return typed, err
	}
	if doc, err = json.Marshal(members); err != nil {
		return typed, err
	}
	return measure.ParseTally(doc)
}

// refuseTally turns measure's faults into an Invalid *Error.
func refuseTally(set rules.Set, err error) error {
	var f fields
	if other := f.inputs(err); other != nil {
		return other
	}
	f.hush(set)
	return f.err()
}

// complete sets what the sale says: sold, whoever typed it, the look, and what its
// rules define a loose cord as, which nobody types. Sold and apart are in plain
// quantities, since the document is printed. Wood in a container is held against
// none that was sold otherwise, nor the other way, and no wood is held against words
// that name no measure: it is measured, and no more.
func (m *measuring) complete(h held, set rules.Set, doc []byte, typed measure.Tally) (err error) {
	apart := typed.Apart
	if err := json.Unmarshal(doc, &m.document); err != nil {
		return err
	}
	m.document.Sold = measure.Reading(spell(set, h.units, h.sold))
	if h.sold.Volume == 0 || (h.sold.Basis == measure.Container) != (typed.Stack.Basis() == measure.Container) {
		m.document.Sold = ""
	}
	m.document.Look = h.look
	switch {
	case h.by != "":
		m.document.By = measure.Reading(h.by)
	case m.document.By == "":
		m.document.By = measure.Reading(measure.Seller)
	}
	if apart.Quantity.Volume > 0 {
		said, err := set.Terms(h.piece).ParseQuantity(string(m.document.Apart))
		if err != nil {
			var f fields
			f.parsed("apart", err)
			return f.err()
		}
		m.document.Apart = measure.Reading(spell(set, h.units, said.Quantity))
	}
	m.document.LooseCord = ""
	if v := h.looseCord(set); v > 0 {
		m.document.LooseCord = measure.Reading(measure.Quantity{Volume: v}.WithoutCords(h.units == Metric))
	}
	m.bytes, err = ledger.Lasting(m.document)
	return err
}

// looseCord is what the rules take a loose cord of the wood for; 0 where they define
// none, or the wood was not sold loose.
func (h held) looseCord(set rules.Set) measure.Volume {
	if h.sold.Basis != measure.Loose {
		return 0
	}
	if h.cord != nil {
		return h.cord.Cord
	}
	m, _ := set.CordOf(measure.Loose, h.piece, "")
	return m.Volume.Volume
}
