package main

import (
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"time"

	"github.com/google/uuid"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/people"
	"wellstowed/orders/prices"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
	"wellstowed/receipts"
	"wellstowed/web/form"
)

// The demonstration is an invented business in an invented valley.
//
//go:embed demo.json
var demoScenario []byte

// A demo is the scenario as data.
type demo struct {
	Shop   orders.ShopRequest `json:"shop"`
	Bodies []yard.BodyRequest `json:"bodies"`
	// Vehicles name their beds as Bodies do.
	Vehicles []road.VehicleRequest `json:"vehicles"`
	Batches  []demoBatch           `json:"batches"`
	Orders   []demoOrder           `json:"orders"`
	Audits   []demoAudit           `json:"audits"`
	Waiting  []orders.WishRequest  `json:"waiting"`
	Prices   []prices.Request      `json:"prices"`
}

// A demoOrder is one order and what became of it, in days before today.
type demoOrder struct {
	DaysAgo int                 `json:"days_ago"`
	Order   orders.OrderRequest `json:"order"`
	// Charges are what the shop charges from this order on.
	Charges *orders.ChargesRequest `json:"charges"`
	// RuleSet is what the shop sold under while this order was dealt with; empty: as
	// it does now.
	RuleSet string `json:"rule_set"`
	// Moistures are read before anything is delivered.
	Moistures  []demoMoisture  `json:"moistures"`
	Loads      []demoLoad      `json:"loads"`
	Payments   []demoPayment   `json:"payments"` // after the loads
	Tallies    []demoTally     `json:"tallies"`
	Settlement *demoSettlement `json:"settlement"` // after all orders
	Cancel     bool            `json:"cancel"`
}

type demoLoad struct {
	DaysAgo int                `json:"days_ago"`
	Load    orders.LoadRequest `json:"load"`
	From    string             `json:"from"` // name of the batch it was drawn from
	// Correction is what its receipt should have said, if anything.
	Correction *demoCorrection `json:"correction"`
	Case       *demoCase       `json:"case"` // what its buyer has to say, if anything
}

// A demoCase is what the buyer measured, and what both said.
type demoCase struct {
	DaysAgo  int             `json:"days_ago"`
	Document json.RawMessage `json:"document"`
	Entries  []demoEntry     `json:"entries"`
}

type demoEntry struct {
	DaysAgo int `json:"days_ago"`
	cases.EntryRequest
}

type demoCorrection struct {
	DaysAgo int `json:"days_ago"`
	// Change is the part of an orders.CorrectionRequest that differs.
	Change json.RawMessage `json:"change"`
}

type demoMoisture struct {
	DaysAgo int                  `json:"days_ago"`
	Request yard.MoistureRequest `json:"readings"`
}

type demoPayment struct {
	DaysAgo int                   `json:"days_ago"`
	Payment orders.PaymentRequest `json:"payment"`
}

// A demoSettlement is what was agreed on a shortage, and the load that made it good.
type demoSettlement struct {
	DaysAgo int                  `json:"days_ago"`
	Agree   orders.SettleRequest `json:"agree"`
	Bring   orders.BringRequest  `json:"bring"`
}

type demoTally struct {
	DaysAgo  int             `json:"days_ago"`
	ReadBy   string          `json:"read_by"`
	Document json.RawMessage `json:"document"`
}

// seedPeople adds the demonstration's people.
func seedPeople(ctx context.Context, s *people.Service) error {
	for _, r := range []people.PersonRequest{
		{Name: "Rosalind Pike", Role: "owner"}, {Name: "Tam Birch", Role: "driver"}, {Name: "Iris Low", Role: "auditor"},
	} {
		by := act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}
		if _, err := s.AddPerson(ctx, by, r); err != nil {
			return err
		}
	}
	return nil
}

// seedDemo fills an empty database through the same doors a person uses, on a
// clock set back so that the orders lie days apart.
func seedDemo(ctx context.Context, db *store.DB, painter *receipts.Painter, now time.Time) error {
	var d demo
	if err := json.Unmarshal(demoScenario, &d); err != nil {
		return fmt.Errorf("demo.json: %w", err)
	}
	return d.seed(ctx, db, painter, now)
}

func (d demo) seed(ctx context.Context, db *store.DB, painter *receipts.Painter, now time.Time) error {
	s := seeder{ctx: ctx, batches: map[string]string{}, start: now.UTC().Truncate(24 * time.Hour).Add(13 * time.Hour)}
	clock := func() time.Time { return s.now }
	s.service = orders.New(db, painter, clock)
	s.cases = cases.New(db.Cases(), s.service.Rules(), painter, clock)
	s.audits = audits.New(db.Audits(), s.service.Rules(), painter, clock)
	s.at(30)
	shop, err := s.service.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	d.Shop.Version = shop.Version
	if _, err := s.service.ChangeShop(ctx, s.act(), d.Shop); err != nil {
		return err
	}
	for _, b := range d.Bodies {
		if _, err := s.service.AddBody(ctx, s.act(), b); err != nil {
			return fmt.Errorf("demo.json: body %s: %w", b.Name, err)
		}
	}
	for _, b := range d.Batches {
		if err := s.putUp(b); err != nil {
			return err
		}
	}
	for i, o := range d.Orders {
		if err := s.orderUnder(o, d.Shop); err != nil {
			return fmt.Errorf("demo.json: order %d: %w", i+1, err)
		}
	}
	s.at(3)
	for _, w := range d.Waiting {
		if _, err := s.service.Wait(s.ctx, s.act(), w); err != nil {
			return fmt.Errorf("demo.json: waiting: %w", err)
		}
	}
	for _, r := range d.Prices {
		if _, err := s.service.Prices.Set(s.ctx, s.act(), r); err != nil {
			return fmt.Errorf("demo.json: prices: %w", err)
		}
	}
	for _, settle := range s.settling {
		if err := settle(); err != nil {
			return fmt.Errorf("demo.json: settlement: %w", err)
		}
	}
	for i, a := range d.Audits {
		if err := s.audit(a); err != nil {
			return fmt.Errorf("demo.json: audit %d: %w", i+1, err)
		}
	}
	if err := s.catchUp(0); err != nil {
		return err
	}
	return s.onTheRoad(road.New(db.Road(), painter, clock), d.Vehicles)
}

type seeder struct {
	settling []func() error // after all orders, so that their receipts come last
	ctx      context.Context
	service  *orders.Service
	cases    *cases.Service
	audits   *audits.Service
	start    time.Time
	now      time.Time
	batches  map[string]string // ids by name
	events   []demoEvent       // of batches, to come
}

// at sets the clock to early afternoon some days ago.
func (s *seeder) at(daysAgo int) { s.now = s.start.AddDate(0, 0, -daysAgo) }

// act is the program's own; its orders lie days apart in no order, and their days are
// meant.
func (s *seeder) act() act.Act {
	return act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String(), Clock: s.now.Format(time.DateOnly)}
}

// charge sets what the shop charges from now on, if anything is said of it.
func (s *seeder) charge(r *orders.ChargesRequest) error {
	if r == nil {
		return nil
	}
	shop, err := s.service.Shop(s.ctx, atTheTerminal())
	if err != nil {
		return err
	}
	charges := *r
	charges.Version = shop.Version
	_, err = s.service.ChangeCharges(s.ctx, s.act(), charges)
	return err
}

// orderUnder takes an order under the rules of its time.
func (s *seeder) orderUnder(d demoOrder, shop orders.ShopRequest) error {
	if d.RuleSet == "" {
		return s.order(d)
	}
	s.at(d.DaysAgo)
	if err := s.sellUnder(d.RuleSet, shop); err != nil {
		return err
	}
	if err := s.order(d); err != nil {
		return err
	}
	return s.sellUnder(shop.RuleSet, shop)
}

func (s *seeder) sellUnder(code string, r orders.ShopRequest) error {
	now, err := s.service.Shop(s.ctx, atTheTerminal())
	if err != nil {
		return err
	}
	r.Version, r.RuleSet = now.Version, code
	_, err = s.service.ChangeShop(s.ctx, s.act(), r)
	return err
}

func (s *seeder) order(d demoOrder) error {
	s.at(d.DaysAgo)
	if err := s.charge(d.Charges); err != nil {
		return err
	}
	read, err := s.service.ReadBack(s.ctx, atTheTerminal(), d.Order)
	if err != nil {
		return err
	}
	d.Order.Confirmed = read.Confirm
	o, err := s.service.TakeOrder(s.ctx, s.act(), d.Order)
	if err != nil {
		return err
	}
	for _, m := range d.Moistures {
		s.at(m.DaysAgo)
		if _, err := s.service.AddMoisture(s.ctx, s.act(), o.ID, m.Request); err != nil {
			return err
		}
	}
	for _, l := range d.Loads {
		load, err := s.load(l)
		if err != nil {
			return err
		}
		issued, err := s.service.Deliver(s.ctx, s.act(), o.ID, load)
		if err != nil {
			return err
		}
		if err := s.correct(issued.Receipt, l.Correction); err != nil {
			return err
		}
		if err := s.buyersCase(issued.Receipt.Facts.Number, l.Case); err != nil {
			return err
		}
	}
	for _, p := range d.Payments {
		s.at(p.DaysAgo)
		if _, err := s.service.AddPayment(s.ctx, s.act(), o.ID, p.Payment); err != nil {
			return err
		}
	}
	for _, t := range d.Tallies {
		s.at(t.DaysAgo)
		r := orders.TallyRequest{Document: t.Document, ReadBy: t.ReadBy}
		if _, err := s.service.SaveTally(s.ctx, s.act(), o.ID, r); err != nil {
			return err
		}
	}
	if d.Settlement != nil {
		s.settling = append(s.settling, func() error { return s.settle(o.ID, *d.Settlement) })
	}
	if d.Cancel {
		_, err = s.service.CancelOrder(s.ctx, s.act(), o.ID, o.Version)
	}
	return err
}

// buyersCase lets the buyer of a receipt measure and write, and the seller answer.
func (s *seeder) buyersCase(receipt int64, d *demoCase) error {
	if d == nil {
		return nil
	}
	s.at(d.DaysAgo)
	code, err := s.cases.MakeLink(s.ctx, s.act(), receipt)
	if err != nil {
		return err
	}
	buyer, seller := cases.Key{Code: code}, cases.Key{Receipt: receipt}
	if _, err := s.cases.SaveCaseTally(s.ctx, s.act(), buyer, orders.TallyRequest{Document: d.Document}); err != nil {
		return err
	}
	for _, e := range d.Entries {
		s.at(e.DaysAgo)
		key := buyer
		if cases.EntryKind(e.Kind) == cases.Answer {
			key = seller
		}
		if _, err := s.cases.AddEntry(s.ctx, s.act(), key, e.EntryRequest); err != nil {
			return err
		}
	}
	return nil
}

// correct corrects a receipt where something on it was wrong.
func (s *seeder) correct(r orders.Receipt, d *demoCorrection) error {
	if d == nil {
		return nil
	}
	set, err := s.service.Rules().Get(r.Facts.RuleSet.Code)
	if err != nil {
		return err
	}
	request := form.Correction(r, set.Spell(r.Facts.Delivered, r.Facts.Units == act.Metric))
	if err := json.Unmarshal(d.Change, &request); err != nil {
		return err
	}
	s.at(d.DaysAgo)
	_, err = s.service.Correct(s.ctx, s.act(), r.Facts.Number, request)
	return err
}

func (s *seeder) settle(orderID string, d demoSettlement) error {
	s.at(d.DaysAgo)
	if _, err := s.service.Settle(s.ctx, s.act(), orderID, d.Agree); err != nil {
		return err
	}
	_, err := s.service.Bring(s.ctx, s.act(), orderID, d.Bring)
	return err
}
