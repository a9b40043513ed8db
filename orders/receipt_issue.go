package orders

import (
	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/yard"
)

// paintReceipt hashes, chains, seals and paints a receipt, and gives what writes
// it, with its load where it hands one over.
func (s *Service) paintReceipt(d desk, customer Customer, r Receipt) (paper, error) {
	stored, err := sealReceipt(r)
	if err != nil {
		return paper{}, err
	}
	if stored.PDF, err = s.printer.Receipt(r, stored.Seal); err != nil {
		return paper{}, err
	}
	stored.PDFHash = ledger.Hash(stored.PDF)
	stored.OrderID = d.order.ID
	load, err := loadOf(d, r)
	if err != nil {
		return paper{}, err
	}
	write := func(tx Tx) error {
		if err := ledger.Take(tx, ReceiptNumbers, stored.Number); err != nil {
			return err
		}
		if err := keepSpelling(tx, d.order.Customer, customer); err != nil {
			return err
		}
		if err := tx.AddReceipt(stored); err != nil || load == nil {
			return err
		}
		return tx.AddLoad(*load)
	}
	return paper{Write: write, Number: stored.Number}, nil
}

// loadOf is the load that a receipt is of, nil where it is of none.
func loadOf(d desk, r Receipt) (*yard.Load, error) {
	if !r.Facts.Kind.HandsOver() {
		return nil, nil
	}
	load := yard.Load{
		OrderID: d.order.ID, Delivered: r.Facts.Delivered, On: r.Facts.DeliveredOn,
		Receipt: r.Facts.Number, Batch: r.Facts.BatchID(), Created: r.Facts.Issued,
	}
	var err error
	load.ID, err = act.NewID()
	return &load, err
}

// sealReceipt writes the bytes of a receipt, chains and seals them.
func sealReceipt(r Receipt) (StoredReceipt, error) {
	sealed, err := ledger.Close(r.Facts, personal{r.Purchaser, r.WasPurchaser, r.Measurer, r.WasMeasurer, r.Signature}, r.Facts.Previous)
	if err != nil {
		return StoredReceipt{}, err
	}
	s := StoredReceipt{Number: r.Facts.Number, Kind: r.Facts.Kind, Of: r.Facts.Of, Issued: r.Facts.Issued,
		FactBytes: sealed.Bytes, FactsHash: sealed.Hash, Personal: sealed.Personal, Salt: sealed.Salt, PersonalHash: sealed.PersonalHash,
		Chain: sealed.Chain}
	s.Seal, err = ledger.Seal(s.Chain)
	return s, err
}

// keepSpelling saves what was typed to be printed for a customer.
func keepSpelling(tx Tx, before, after Customer) error {
	if before == after {
		return nil
	}
	return tx.ChangeCustomer(after)
}

// Lacks tells whether the receipt lacks what a rule set requires, the field it is
// and where to fill it in. What is not asked of people is always there.
func (r Receipt) Lacks(code string) (field string, where measure.Text, lacks bool) {
	switch code {
	case "vendor-name":
		return "shop.name", measure.Say("the shop's name, in the shop's settings"), r.Facts.Vendor.Name == ""
	case "vendor-address":
		return "shop.address", measure.Say("the shop's address, in the shop's settings"), r.Facts.Vendor.Address == ""
	case "purchaser-name":
		return "order.customer_name", measure.Say("the customer's name, in the order"), r.Purchaser.Name == ""
	case "purchaser-address":
		return "order.customer_address", measure.Say("the customer's address, in the order"), r.Purchaser.Address == ""
	case "identity":
		return "order.species", measure.Say("the kind of wood, in the order"), r.Facts.Species == ""
	case "seasoning":
		return "order.seasoning", measure.Say("green, seasoned or kiln-dried, in the order"), r.Facts.Seasoning == ""
	case "origin":
		return "order.origin", measure.Say("the county and state the wood was cut in, in the order or of its batch"), r.Facts.Origin == ""
	case "price":
		return "order.price_per_cord", measure.Say("the price, in the order"), r.Facts.Price.Wood.Currency == ""
	}
	return r.lacksOfTicket(code)
}
