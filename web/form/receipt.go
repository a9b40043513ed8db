package form

import "wellstowed/orders"

// Correction is a receipt as a form to correct it, all as it was printed; the
// quantity is spelled by the page.
func Correction(r orders.Receipt, delivered string) orders.CorrectionRequest {
	f := r.Facts
	return orders.CorrectionRequest{
		Delivered: delivered, On: f.DeliveredOn.String(), Species: f.Species, Origin: f.Origin,
		PieceLength: length(f.PieceLength), Seasoning: string(f.Seasoning),
		PurchaserName: r.Purchaser.Name, PurchaserAddress: r.Purchaser.Address,
	}
}
