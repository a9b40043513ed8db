//go:build !wasm

package form

import (
	"strconv"

	"wellstowed/orders"
)

// Correction is a receipt as a form to correct it, all as it was printed; the
// quantity is spelled by the page.
func Correction(r orders.Receipt, delivered string) orders.CorrectionRequest {
	f := r.Facts
	return orders.CorrectionRequest{
		Delivered: delivered, On: f.DeliveredOn.String(), Species: f.Species, Origin: f.Origin,
		PieceLength: length(f.PieceLength), Seasoning: string(f.Seasoning),
		PurchaserName: r.Purchaser.Name, PurchaserAddress: r.Purchaser.Address,
		Certificate: f.Certificate, TicketRequest: ticket(r),
	}
}

// ticket is what only some rules of sale ask of a receipt, as it was printed.
func ticket(r orders.Receipt) orders.TicketRequest {
	t := r.Facts.Ticket
	typed := orders.TicketRequest{
		MeasurerName: r.Measurer.Name, MeasurerAddress: r.Measurer.Address, StackSize: t.StackSize,
		DriedFor: t.DriedFor, DriedHow: t.DriedHow, MoistureCertificate: t.MoistureCertificate, Moving: t.Moving,
	}
	if t.Witnessed {
		typed.Witnessed = "yes"
	}
	if t.Packages > 0 {
		typed.PackageCount = strconv.Itoa(t.Packages)
	}
	return typed
}
