package orders

import (
	"context"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A CorrectionRequest is what a receipt should have said, as typed: all of it, what
// was right as well.
type CorrectionRequest struct {
	Reason           string `json:"reason"`
	Delivered        string `json:"delivered"`
	On               string `json:"on"` // "2006-01-02"
	Species          string `json:"species"`
	Origin           string `json:"origin"`
	PieceLength      string `json:"piece_length"`
	Seasoning        string `json:"seasoning"`
	PurchaserName    string `json:"purchaser_name"`
	PurchaserAddress string `json:"purchaser_address"`
	Certificate      string `json:"certificate"`
	Differs          string `json:"differs"`   // as in LoadRequest
	Confirmed        string `json:"confirmed"` // as in LoadRequest
	TicketRequest
}

// Correct ends a receipt by a new one that stands in its place, names it, and says
// what changed and why. Its price is what the load comes to as the order stands
// now. A changed name or address is the customer's from then on. It is Invalid with
// every fault, also when nothing differs, and Conflict where the receipt delivers
// no wood or no longer counts.
func (s *Service) Correct(ctx context.Context, by act.Act, number int64, r CorrectionRequest) (Issued, error) {
	w := act.Write{Verb: ReceiptCorrected, Subject: act.FormatNumber(number), May: act.ToDeliver, Content: r}
	return s.end(ctx, by, w, number, func(d desk) (paper, error) { return s.prepareCorrection(d, r) })
}

func (s *Service) prepareCorrection(d desk, r CorrectionRequest) (paper, error) {
	set, err := s.setOf(d.shop)
	if err != nil {
		return paper{}, err
	}
	old, err := d.ending()
	if err != nil {
		return paper{}, err
	}
	zone, err := time.LoadLocation(d.shop.Zone)
	if err != nil {
		return paper{}, err
	}
	facts := s.following(d, set, old.Facts)
	facts.Former = old.former(d.old.Seal)
	in := orderReader{service: s, typed: OrderRequest{Seasoning: r.Seasoning}, shop: d.shop, set: set}
	unplaced(&in.Fields, d.shop)
	in.corrected(&facts, d, r, act.DateOf(facts.Issued.In(zone)))
	replacing(&in.Fields, facts, d, set)
	facts.Answered = ask(&in.Fields, d.doubtsSince(facts, old.Facts, zone), r.Confirmed)
	facts.derive(d)
	now := Receipt{Facts: facts, Purchaser: in.purchaser(r)}
	now.Facts.Ticket, now.Measurer = s.ticket(&in.Fields, set, r.TicketRequest)
	now.Facts.Says = saysWith(set, facts)
	now.Purchaser.Phone = old.Purchaser.Phone
	if now.Purchaser != old.Purchaser {
		was := old.Purchaser
		now.WasPurchaser = &was
	}
	if now.Measurer != old.Measurer {
		was := old.Measurer
		now.WasMeasurer = &was
	}
	checkReceipt(&in.Fields, set, now)
	s.checkPrintable(&in.Fields, facts)
	in.hereNotThere()
	if len(in.Faults) == 0 && !now.differs() {
		in.Add("delivered", "unchanged", "", measure.Say("nothing differs from receipt %d", int(old.Facts.Number)),
			measure.Say("what was wrong, put right; or leave the receipt as it is"))
	}
	in.Hush(set)
	if err := in.Err(); err != nil {
		return paper{}, err
	}
	return s.paintReceipt(d, d.order.Customer.respelled(now), now)
}

// following is a copy of a receipt's facts as the next receipt of that order, in its
// place.
func (s *Service) following(d desk, set rules.Set, old Facts) Facts {
	next, facts := s.factsOf(d, set, s.now()), old
	facts.Format, facts.Number, facts.Issued, facts.Previous = next.Format, next.Number, next.Issued, next.Previous
	facts.Kind, facts.Of, facts.Handed = CorrectionReceipt, old.Number, nil
	facts.Language, facts.Paper, facts.Units, facts.Zone = next.Language, next.Paper, next.Units, next.Zone
	facts.RuleSet, facts.Model, facts.Layout, facts.Vendor, facts.VendorTax = next.RuleSet, next.Model, next.Layout, next.Vendor, next.VendorTax
	facts.Ordered = next.Ordered
	return facts
}

// corrected puts what was typed into the facts. A load that was filled to a line is said
// to be so only while its quantity stays.
func (in *orderReader) corrected(f *Facts, d desk, r CorrectionRequest, today act.Date) {
	before := f.Delivered
	f.PieceLength = in.Fields.PieceLength(in.set, d.shop.Units, r.PieceLength)
	if r.Delivered == "" {
		in.Missing("delivered", act.AcceptedQuantities())
	} else {
		f.Delivered = deliveredAs(&in.Fields, r.Delivered, d, in.set, f.PieceLength)
	}
	if f.Delivered != before {
		f.Body = nil
	}
	in.remeasured(f, before, in.printedLine("differs", r.Differs))
	if r.On == "" {
		in.Missing("on", measure.Say("the day it was delivered, such as %s", f.DeliveredOn.String()))
	} else {
		f.DeliveredOn = deliveredOn(&in.Fields, r.On, today)
	}
	f.Species = in.printedLine("species", r.Species)
	f.Origin = in.printedLine("origin", r.Origin)
	f.Certificate = in.printedLine("certificate", r.Certificate)
	f.Seasoning = in.seasoning()
	f.Reason = in.reason(r.Reason)
}

// remeasured keeps what the load was measured at before it was delivered while its
// quantity stays, or as long as that was short and no less is said to be delivered.
func (in *orderReader) remeasured(f *Facts, before measure.Quantity, why string) {
	if f.Measuring == nil || f.Measuring.Word != stack.Short {
		if f.Delivered != before {
			f.Measured, f.Measuring = nil, nil
		}
		noWhy(&in.Fields, why)
		return
	}
	was := *f.Measuring
	was.Why = ""
	f.Measuring = &was
	found := measure.Quantity{Volume: f.Ordered.Volume - was.Missing, Basis: f.Ordered.Basis}
	explained(&in.Fields, f, found, in.set, why)
	if !allOf(f.Delivered, found) {
		f.Measured, f.Measuring = nil, nil
	}
}

// purchaser reads how the purchaser is printed.
func (in *orderReader) purchaser(r CorrectionRequest) Party {
	name := in.Line("purchaser_name", r.PurchaserName)
	if strings.TrimSpace(r.PurchaserName) == "" {
		in.Missing("purchaser_name", measure.Say("the purchaser’s name"))
	}
	return Party{
		Name:    in.service.printable(&in.Fields, "purchaser_name", name),
		Address: in.service.printable(&in.Fields, "purchaser_address", in.Lines("purchaser_address", r.PurchaserAddress)),
	}
}

// hereNotThere names the fields of this form where a receipt's check names those of
// the order, which stays as it is.
func (in *orderReader) hereNotThere() {
	places := map[string]string{
		"order.customer_name": "purchaser_name", "order.customer_address": "purchaser_address",
		"print_name": "purchaser_name", "print_address": "purchaser_address",
	}
	seen := map[string]bool{}
	var kept []*measure.InputError
	for _, fault := range in.Faults {
		moved := *fault
		if here, found := places[moved.Field]; found {
			moved.Field = here
		} else if here, found := strings.CutPrefix(moved.Field, "order."); found && !strings.HasPrefix(here, "fees[") {
			moved.Field = here
		}
		if !seen[moved.Field] || moved.Field == "confirmed" {
			kept = append(kept, &moved)
		}
		seen[moved.Field] = true
	}
	in.Faults = kept
}

// differs tells whether a correction says anything else than its former receipt.
func (r Receipt) differs() bool {
	was := *r.Facts.Former
	is := *r.former(was.Seal)
	is.Issued = was.Issued
	return r.WasPurchaser != nil || r.WasMeasurer != nil || is != was
}

// respelled is the customer with the name and address that a correction changed.
func (c Customer) respelled(r Receipt) Customer {
	if r.WasPurchaser == nil {
		return c
	}
	name, address := &c.Name, &c.Address
	if c.PrintName != "" {
		name = &c.PrintName
	}
	if c.PrintAddress != "" {
		address = &c.PrintAddress
	}
	*name, *address = r.Purchaser.Name, r.Purchaser.Address
	return c
}
