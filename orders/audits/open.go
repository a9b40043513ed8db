package audits

import (
	"cmp"
	"context"
	"strconv"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A Request opens an audit, as typed: of a delivery with a receipt here, where
// Receipt is given, else of a load with no order.
type Request struct {
	Auditor  string `json:"auditor"`  // name of who audits
	Capacity string `json:"capacity"` // "volunteer" or "official"
	Office   string `json:"office"`   // of an official
	Badge    string `json:"badge"`    // badge or commission number of an official
	Receipt  string `json:"receipt"`  // number; empty for a load with no order
	Place    string `json:"place"`    // where the wood stands; empty: at the purchaser's address

	SellerName    string `json:"seller_name"`
	SellerAddress string `json:"seller_address"`
	SellerPhone   string `json:"seller_phone"`
	BuyerName     string `json:"buyer_name"`
	BuyerAddress  string `json:"buyer_address"`
	Quantity      string `json:"quantity"` // as it was sold, in words
	// Confirmed is the quantity as read back, where the words name no legal one.
	Confirmed   string `json:"confirmed"`
	PieceLength string `json:"piece_length"` // as said when it was sold; empty where nothing was
	Species     string `json:"species"`
	Seasoning   string `json:"seasoning"`
	DeliveredOn string `json:"delivered_on"` // "2006-01-02"
	// Zone is the IANA time zone that its times are said in; empty: the shop's. It must be
	// said where nobody has said in which zone the shop is.
	Zone string `json:"zone"`
}

// OpenAudit opens an audit and gives it the next case number. It is Invalid with all
// faults, and Conflict for a receipt that no load came with.
func (s *Service) OpenAudit(ctx context.Context, by act.Act, r Request) (Audit, error) {
	w := act.Write{Verb: Opened, May: act.ToAudit, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		opened, err := s.readAudit(tx, by.Actor, r)
		if err != nil {
			return "", err
		}
		if opened.Number, err = tx.NextNumber(Numbers); err != nil {
			return "", err
		}
		return opened.ID, tx.AddAudit(opened)
	}, s.audit)
}

// A reader reads what was typed of one audit.
type reader struct {
	act.Fields
	service *Service
	d       desk
}

// text reads one line that will be printed.
func (in *reader) text(field, typed string) string {
	text := in.Printable(in.service.printer, field, in.Line(field, typed))
	in.BarredInName(in.d.set, field, text)
	return text
}

// longText reads lines that will be printed.
func (in *reader) longText(field, typed string) string {
	text := in.Printable(in.service.printer, field, in.Lines(field, typed))
	in.BarredInName(in.d.set, field, text)
	return text
}

// needed is text that must be filled in.
func (in *reader) needed(field, typed string, accepts measure.Text) string {
	faults := len(in.Faults)
	text := in.text(field, typed)
	if text == "" && len(in.Faults) == faults {
		in.Missing(field, accepts)
	}
	return text
}

// oneOf reads a choice.
func (in *reader) oneOf(field, typed string, accepts measure.Text, choices ...string) string {
	for _, c := range choices {
		if typed == c {
			return c
		}
	}
	if typed == "" {
		in.Missing(field, accepts)
	} else {
		in.Add(field, "unknown", "", measure.Say("it is none of the choices"), accepts)
	}
	return ""
}

// count reads a whole number from low to high.
func (in *reader) count(field, typed string, low, high int) int {
	accepts := measure.Say("a whole number from %d to %d", low, high)
	if typed == "" {
		in.Missing(field, accepts)
		return 0
	}
	n, err := strconv.Atoi(typed)
	if err != nil {
		in.Add(field, "not-a-number", typed, measure.Say("it isn’t a whole number"), accepts)
		return 0
	}
	if n < low || n > high {
		in.Add(field, "out-of-range", typed, measure.Say("it is out of range"), accepts)
	}
	return n
}

// done gives all faults, barred terms hushed.
func (in *reader) done() error {
	in.Hush(in.d.set)
	return in.Err()
}

func (s *Service) readAudit(tx Tx, who act.Actor, r Request) (a Audit, err error) {
	in := reader{service: s}
	in.d.now = s.acts.Now()
	if in.d.shop, err = tx.Shop(); err != nil {
		return Audit{}, err
	}
	zone := in.zone(r.Zone)
	if in.d.zone, err = time.LoadLocation(in.d.shop.Zone); err != nil {
		return Audit{}, err
	}
	if in.d.set, err = act.RulesOf(s.book, in.d.shop.RuleSet); err != nil {
		return Audit{}, err
	}
	a = Audit{Version: 1, State: Open, Opened: in.d.now, Subject: Subject{Zone: zone}}
	if r.Auditor == "" {
		r.Auditor = who.Person
	}
	a.OpenedBy = in.needed("auditor", r.Auditor, measure.Say("the name of who audits"))
	a.Capacity = in.capacity(r)
	if r.Receipt != "" {
		err = in.deliveryOf(tx, &a.Subject, r)
	} else {
		in.loadOf(&a.Subject, r)
	}
	if err != nil {
		return Audit{}, err
	}
	if err := in.done(); err != nil {
		return Audit{}, err
	}
	a.ID, err = act.NewID()
	return a, err
}

// zone reads the zone of an audit's times, which is the shop's where it isn't said; where
// nobody said that either it is missing.
func (in *reader) zone(typed string) string {
	accepts := measure.Say("a large city in the time zone of where the wood is, such as America/New_York; times are read and printed in it")
	if typed == "" {
		if !in.d.shop.Located {
			in.Missing("zone", accepts)
		}
		return ""
	}
	if _, err := time.LoadLocation(typed); err != nil || typed == "Local" {
		in.Add("zone", "unknown", typed, measure.Say("that isn’t the name of a time zone"), accepts)
		return ""
	}
	in.d.shop.Zone = typed
	return typed
}

func (in *reader) capacity(r Request) Capacity {
	accepts := measure.Say("volunteer or official")
	if in.oneOf("capacity", r.Capacity, accepts, "volunteer", "official") != "official" {
		return Capacity{}
	}
	return Capacity{
		Official: true,
		Office:   in.needed("office", r.Office, measure.Say("the office that the official acts for")),
		Badge:    in.needed("badge", r.Badge, measure.Say("the number of the badge or commission")),
	}
}

// deliveryOf takes the subject from a receipt. The rules it was issued under govern.
func (in *reader) deliveryOf(tx Tx, s *Subject, r Request) error {
	number, err := strconv.ParseInt(r.Receipt, 10, 64)
	if err != nil || number < 1 {
		in.Add("receipt", "not-a-number", r.Receipt, measure.Say("it isn’t a number of a receipt"), measure.Say("a number such as 12, or nothing"))
		return nil
	}
	stored, err := tx.StoredReceipt(number)
	if act.KindOf(err) == act.NotFound {
		in.Add("receipt", "unknown", r.Receipt, measure.Say("that receipt isn’t here"), measure.Say("the number of a receipt, or nothing"))
		return nil
	}
	if err != nil {
		return err
	}
	receipt, err := stored.Decode()
	if err != nil {
		return err
	}
	f := receipt.Facts
	if f.Kind == orders.VoidReceipt || f.Kind == orders.SettlementReceipt || f.Delivered.Volume <= 0 {
		return act.NewConflict("no load came with receipt %d; name the receipt that was delivered with the wood", int(number))
	}
	if in.d.set, err = in.service.book.Get(f.RuleSet.Code); err != nil {
		return act.NewConflict("the rules of sale %s, which receipt %d was issued under, are not among those the program was started with: start it with their file", f.RuleSet.Code, int(number))
	}
	*s = Subject{
		Receipt: orders.ReceiptRef{Number: number, On: f.DeliveredOn, Seal: stored.Seal}, OrderID: stored.OrderID, Order: f.Order,
		Vendor: f.Vendor, Purchaser: receipt.Purchaser, RuleSet: f.RuleSet, Ordered: &f.Ordered, Sold: f.Delivered,
		PieceLength: f.PieceLength, Species: f.Species, Seasoning: f.Seasoning, DeliveredOn: f.DeliveredOn,
	}
	for _, required := range in.d.set.Required {
		if _, _, lacks := receipt.Lacks(required.Code); !lacks {
			s.TicketHas = append(s.TicketHas, required.Code)
		}
	}
	if s.Place = in.longText("place", r.Place); s.Place == "" {
		s.Place = receipt.Purchaser.Address
	}
	if s.Place == "" {
		in.Missing("place", measure.Say("where the wood is"))
	}
	return nil
}

// loadOf reads a load with no order. The shop's rules govern it.
func (in *reader) loadOf(s *Subject, r Request) {
	s.RuleSet = orders.RuleSetOf(in.d.set, in.d.shop.Units)
	s.Vendor = orders.Party{
		Name:    in.needed("seller_name", r.SellerName, measure.Say("the seller's name")),
		Address: in.longText("seller_address", r.SellerAddress), Phone: in.text("seller_phone", r.SellerPhone),
	}
	s.Purchaser = orders.Party{Name: in.text("buyer_name", r.BuyerName), Address: in.longText("buyer_address", r.BuyerAddress)}
	s.PieceLength = in.PieceOf(in.d.set, in.d.shop.Units, "piece_length", r.PieceLength)
	var said measure.Said
	if r.Quantity == "" {
		in.Missing("quantity", act.AcceptedQuantities())
	} else if said = in.SaidWith(in.d.set, in.d.shop.Units, "quantity", r.Quantity, s.PieceLength); said.Quantity.Volume > 0 {
		s.Sold = said.Quantity
		if said.Barred != "" {
			orders.ConfirmReading(&in.Fields, in.d.set, in.d.shop.Units, r.Confirmed, said, money.Money{})
		}
	}
	s.PieceLength = cmp.Or(s.PieceLength, said.PieceLength)
	s.Species = in.text("species", orders.WoodOf(&in.Fields, "species", r.Species, said.Rest))
	in.Barred(in.d.set, "species", s.Species)
	switch s.Seasoning = yard.Seasoning(r.Seasoning); s.Seasoning {
	case "", yard.Green, yard.Seasoned, yard.KilnDried:
	default:
		in.Add("seasoning", "unknown", "", measure.Say("no such statement is known"), measure.Say("green, seasoned or kiln-dried, or nothing"))
	}
	if r.DeliveredOn == "" {
		in.Missing("delivered_on", measure.Say("the day it was delivered"))
	} else {
		on, err := act.ParseDate(r.DeliveredOn)
		if in.Parsed("delivered_on", err) && on.After(act.DateOf(in.d.now.In(in.d.zone))) {
			in.Add("delivered_on", "future", r.DeliveredOn, measure.Say("it is later than today"), measure.Say("a day that has passed"))
		}
		s.DeliveredOn = on
	}
	faults := len(in.Faults)
	if s.Place = in.longText("place", r.Place); s.Place == "" && len(in.Faults) == faults {
		in.Missing("place", measure.Say("where the wood is"))
	}
}
