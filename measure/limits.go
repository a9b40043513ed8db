package measure

// Limits of what a person may type. Going over one is an error that names it.
const (
	MaxText        = 500 // characters
	MaxPieceLength = 8 * Foot
	MaxQuantity    = 10_000 * Cord
)
