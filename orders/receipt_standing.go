package orders

import (
	"slices"
	"wellstowed/orders/act"
)

// standingFacts are the facts of an order's receipts whose loads count, in order.
func standingFacts(stored []StoredReceipt) ([]Facts, error) {
	var standing []Facts
	for _, r := range stored {
		if r.Ended != nil || !r.Kind.HandsOver() {
			continue
		}
		f, err := r.Facts()
		if err != nil {
			return nil, err
		}
		standing = append(standing, f)
	}
	return standing, nil
}

// receiptLines are the receipts of an order as its history names them, in order.
func receiptLines(tx Tx, orderID string) ([]ReceiptLine, error) {
	stored, err := tx.OrderReceipts(orderID)
	if err != nil {
		return nil, err
	}
	lines := make([]ReceiptLine, len(stored))
	for i, r := range stored {
		f, err := r.Facts()
		if err != nil {
			return nil, err
		}
		lines[i] = ReceiptLine{
			Number: r.Number, Kind: r.Kind, Of: r.Of, Issued: r.Issued, Delivered: f.Delivered, On: f.DeliveredOn, Reason: f.Reason, Ended: r.Ended,
			InPart: f.Settles != nil && !f.Settles.Closes,
		}
	}
	return lines, nil
}

// others are the standing receipts but for the one of that number, which the next
// receipt stands in place of; 0 for none.
func (d desk) others(of int64) []Facts {
	return slices.DeleteFunc(slices.Clone(d.standing), func(f Facts) bool { return f.Number == of })
}

// ending is the receipt that the desk's paper is to end. It is Conflict where that
// one delivers no wood or no longer counts, and names the one that does.
func (d desk) ending() (Receipt, error) {
	old := int(d.old.Number)
	if d.old.Ended != nil {
		return Receipt{}, d.endedAlready()
	}
	switch d.old.Kind {
	case DeliveryReceipt, CorrectionReceipt:
		return d.old.Decode()
	case VoidReceipt:
		return Receipt{}, act.NewConflict("receipt %d makes receipt %d void and delivers no wood; it stays as it is", old, int(d.old.Of))
	}
	return Receipt{}, act.NewConflict("receipt %d delivers no wood; only a receipt for a load can be corrected or made void", old)
}

// endedAlready says what became of a receipt that no longer counts: it follows the
// corrections to the last.
func (d desk) endedAlready() error {
	last := *d.old.Ended
	for last.Kind == CorrectionReceipt {
		next := slices.IndexFunc(d.filed, func(r StoredReceipt) bool { return r.Number == last.Number })
		if next < 0 || d.filed[next].Ended == nil {
			return act.NewConflict("receipt %d was corrected already; receipt %d counts now", int(d.old.Number), int(last.Number))
		}
		last = *d.filed[next].Ended
	}
	return act.NewConflict("receipt %d no longer counts; receipt %d says why", int(d.old.Number), int(last.Number))
}

// former is what a receipt said, for the one that ends it.
func (r Receipt) former(seal string) *Former {
	f := r.Facts
	return &Former{
		Issued: f.Issued, Seal: seal, DeliveredOn: f.DeliveredOn, Delivered: f.Delivered, Priced: f.Priced,
		Species: f.Species, Origin: f.Origin, PieceLength: f.PieceLength, Seasoning: f.Seasoning,
		Total: f.Price.Total(), Deposit: f.Deposit, Ticket: f.Ticket, Certificate: f.Certificate,
	}
}
