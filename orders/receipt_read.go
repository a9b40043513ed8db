package orders

import (
	"context"
	"encoding/json"
	"fmt"
	"wellstowed/orders/act"
)

// Receipt gives an issued receipt with the bytes as they were written.
func (s *Service) Receipt(ctx context.Context, who act.Actor, number int64) (issued Issued, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Issued{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		issued, err = s.receipt(tx, number)
		return err
	})
	return issued, act.Fail(err)
}

func (s *Service) receipt(tx Tx, number int64) (Issued, error) {
	stored, err := tx.StoredReceipt(number)
	if err != nil {
		return Issued{}, err
	}
	receipt, err := stored.Decode()
	if err == nil && !stored.Erased.IsZero() {
		stored.PDF, err = s.printer.Receipt(receipt, stored.Seal)
	}
	return Issued{
		Receipt: receipt, OrderID: stored.OrderID, FactBytes: stored.FactBytes, Personal: stored.Personal,
		Salt: stored.Salt, Chain: stored.Chain, Seal: stored.Seal, PDF: stored.PDF,
		Ended: stored.Ended,
	}, err
}

// Decode reads the facts and, unless they were erased, the names.
func (r StoredReceipt) Decode() (Receipt, error) {
	var receipt Receipt
	var err error
	if receipt.Facts, err = r.Facts(); err != nil {
		return Receipt{}, err
	}
	if !r.Erased.IsZero() {
		receipt.Erased = act.DayIn(r.Erased, receipt.Facts.Zone)
		return receipt, nil
	}
	var p personal
	if err := json.Unmarshal(r.Personal, &p); err != nil {
		return Receipt{}, fmt.Errorf("purchaser of receipt %d: %w", r.Number, err)
	}
	receipt.Purchaser, receipt.WasPurchaser = p.Party, p.Was
	receipt.Measurer, receipt.WasMeasurer, receipt.Signature = p.Measurer, p.WasMeasurer, p.Signature
	return receipt, nil
}

// Facts reads what the receipt says.
func (r StoredReceipt) Facts() (f Facts, err error) {
	if err := json.Unmarshal(r.FactBytes, &f); err != nil {
		return Facts{}, fmt.Errorf("facts of receipt %d: %w", r.Number, err)
	}
	return f, nil
}
