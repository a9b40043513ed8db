//go:build !wasm

package form

import "wellstowed/orders"

// Batch is what is said of a batch as a form to correct it.
func Batch(b orders.Batch) orders.BatchRequest {
	return orders.BatchRequest{
		Name: b.Name, Species: b.Species, PieceLength: length(b.PieceLength), Cut: b.Cut.String(), Split: b.Split.String(),
		Origin: b.Origin, Certificate: b.Certificate, Notes: b.Notes, Version: b.Version(),
	}
}
