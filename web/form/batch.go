//go:build !wasm

package form

import (
	"wellstowed/orders/yard"
)

// Batch is what is said of a batch as a form to correct it.
func Batch(b yard.Batch) yard.BatchRequest {
	return yard.BatchRequest{
		Name: b.Name, Species: b.Species, PieceLength: length(b.PieceLength), Cut: b.Cut.String(), Split: b.Split.String(),
		Origin: b.Origin, Certificate: b.Certificate, Notes: b.Notes, Version: b.Version(),
	}
}
