package proof

import (
	"slices"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
)

// A naming is the photos that a sheet names, as it says them.
type naming struct {
	orderID string
	facts   []photos.Fact
}

// naming notes the photos that a sheet names, unless they were erased.
func (v *verifier) naming(s orders.StoredSheet, sheet orders.Sheet) {
	if s.Erased.IsZero() && len(sheet.Photos) > 0 {
		v.named[s.Number] = naming{s.OrderID, sheet.Photos}
	}
}

// orderPhotos holds the photos of orders against their hashes, and those that sheets name
// against the sheets.
func (v *verifier) orderPhotos(tx Tx) error {
	all, err := tx.AllOrderPhotos()
	if err != nil {
		v.fault("photos of orders: their stored data cannot be read")
		return nil
	}
	kept := map[int64][]photos.Kept{}
	for _, k := range all {
		kept[k.Sheet] = append(kept[k.Sheet], k)
		if err := v.orderPhoto(tx, k); err != nil {
			return err
		}
	}
	delete(kept, 0) // that no sheet names
	for n, of := range kept {
		if !v.names(n, of) {
			v.fault("sheet %d: the photos kept with it are not those it names", int(n))
		}
		delete(v.named, n)
	}
	for n := range v.named {
		v.fault("sheet %d: the photos it names are missing", int(n))
	}
	return nil
}

func (v *verifier) orderPhoto(tx Tx, k photos.Kept) error {
	original, err := tx.OrderPhotoBytes(k.OrderID, k.ID, true)
	if err != nil {
		return err
	}
	if ledger.Hash(original) == k.SHA256 {
		return nil
	}
	order, err := tx.Photographed(k.OrderID)
	if err != nil && act.KindOf(err) != act.NotFound {
		return err
	}
	v.fault("order %d: a photo is not the one that was kept", int(order.Number))
	return nil
}

// names tells whether a sheet names these photos of its order.
func (v *verifier) names(sheet int64, all []photos.Kept) bool {
	named := v.named[sheet]
	facts := make([]photos.Fact, len(all))
	for i, k := range all {
		if k.OrderID != named.orderID {
			return false
		}
		facts[i] = k.Fact()
	}
	return slices.Equal(facts, named.facts)
}
