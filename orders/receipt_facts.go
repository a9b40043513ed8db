package orders

import (
	"slices"
	"strconv"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// factsOf gives the facts of the next receipt that do not depend on what was typed
// for the load.
func (s *Service) factsOf(d desk, set rules.Set, now time.Time) Facts {
	return Facts{
		Format: ReceiptFormat, Number: d.receipts + 1, Issued: now,
		Language: d.shop.Language, Paper: d.shop.Paper, Units: d.shop.Units, Zone: d.shop.Zone,
		RuleSet: RuleSetOf(set, d.shop.Units),
		Model:   stack.ModelNumber, Layout: s.printer.Layout(),
		Vendor: d.shop.vendor(), VendorTax: d.shop.TaxNumber, Order: d.order.Number,
		Ordered: d.order.Quantity, Cord: cordOf(set, d.shop.Units, d.order),
		Species: d.order.Species, Origin: d.order.Origin, Certificate: d.order.Certificate, PieceLength: d.order.PieceLength, Seasoning: d.order.Seasoning,
		Moisture: yard.FactOf(d.readings()),
		Previous: d.chain,
	}
}

// readings are those of the order, and of the batch that the load is drawn from.
func (d desk) readings() []yard.Moisture {
	if d.batch == nil {
		return d.moist
	}
	return append(slices.Clone(d.moist), d.batch.Moistures...)
}

// derive adds what follows from the load: its share of the price, and how ranked wood
// may be stored, where a plan can be made for its piece length. A correction plans no
// room anew.
func (f *Facts) derive(d desk) {
	b := billOf(d.order, d.others(f.Of), f.Delivered.Volume, d.paid())
	f.Priced = measure.Quantity{Volume: b.priced, Basis: d.order.Quantity.Basis}
	f.Price, f.Deposit, f.Paid, f.Owed = b.price, b.deposit, money.Money{}, money.Money{}
	if b.paid.Minor > 0 {
		f.Paid = b.paid
	}
	if owed := d.owed(*f); owed.Minor > f.Balance().Minor {
		f.Owed = owed
	}
	f.Storage = nil
	if f.Kind != DeliveryReceipt || f.Delivered.Basis != measure.Ranked {
		return
	}
	if plan, err := storage.AlongWall(f.Delivered.Volume, f.PieceLength); err == nil {
		f.Storage = &plan
	}
}

// checkReceipt notes what the rule set requires and the receipt lacks, and terms
// that may not be on it.
func checkReceipt(f *act.Fields, set rules.Set, r Receipt) {
	for _, required := range set.Required {
		if field, where, lacks := r.Lacks(required.Code); lacks && r.asks(required) {
			f.Missing(field, where)
		}
	}
	checkMoving(f, set, r)
	checkSeasoned(f, set, r.Facts)
	barredInParties(f, set, r.Facts.Vendor, r.Purchaser)
	if b := r.Facts.Body; b != nil {
		f.BarredInName(set, "body", b.Name+"\n"+b.Line+"\n"+b.By)
	}
	if m := r.Facts.Moisture; m != nil {
		f.BarredInName(set, "moisture", m.By)
	}
	f.Barred(set, "order.species", r.Facts.Species)
	f.Barred(set, "order.origin", r.Facts.Origin)
	f.Barred(set, "order.certificate", r.Facts.Certificate)
	if b := r.Facts.Batch; b != nil {
		f.BarredInName(set, "batch", b.Name)
		f.Barred(set, "batch", b.Species)
	}
	for i, line := range r.Facts.Price.Fees {
		f.Barred(set, "order.fees["+strconv.Itoa(i)+"]", line.Words)
	}
}

// barredInParties notes barred terms in the names and addresses on a paper.
func barredInParties(f *act.Fields, set rules.Set, vendor, purchaser Party) {
	for _, p := range []struct{ field, text string }{
		{"shop.name", vendor.Name}, {"shop.address", vendor.Address}, {"shop.phone", vendor.Phone},
		{"print_name", purchaser.Name}, {"print_address", purchaser.Address},
	} {
		f.BarredInName(set, p.field, p.text)
	}
}

// checkPrintable notes what of the shop and the order cannot be printed; the
// purchaser is checked where spellings are.
func (s *Service) checkPrintable(f *act.Fields, facts Facts) {
	s.printable(f, "shop.name", facts.Vendor.Name)
	s.printable(f, "shop.address", facts.Vendor.Address)
	s.printable(f, "shop.phone", facts.Vendor.Phone)
	s.printable(f, "order.species", facts.Species)
	s.printable(f, "order.origin", facts.Origin)
	s.printable(f, "order.certificate", facts.Certificate)
	if b := facts.Batch; b != nil {
		s.printable(f, "batch", b.Name+b.Species)
	}
	for i, line := range facts.Price.Fees {
		s.printable(f, "order.fees["+strconv.Itoa(i)+"]", line.Words)
	}
}
