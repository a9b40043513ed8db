// Package measure holds lengths, volumes and quantities of wood, reads them as people
// type them, and says what of that was not understood. What is said to a person is a
// Text here, worded at the edge. The packages below it, and all others, build on these;
// nothing of measure does input or output or reads a clock.
package measure

// Limits of what a person may type. Going over one is an error that names it.
const (
	MaxText        = 500 // characters
	MaxPieceLength = 8 * Foot
	MaxQuantity    = 10_000 * Cord
)
