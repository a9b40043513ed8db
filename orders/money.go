package orders

// Money is an amount in minor units (cents) of a currency named by its ISO 4217
// code. One shop keeps one currency. The zero Money is nothing of no currency and
// adds to any.
type Money struct {
	Minor    int64  `json:"minor"`
	Currency string `json:"currency"`
}
