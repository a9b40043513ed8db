// Package money holds amounts and rates exactly: whole minor units of one currency and
// millionths. It reads them as people type them and rounds once, half away from zero.
package money

import (
	"fmt"
	"math/big"

	"golang.org/x/text/currency"

	"wellstowed/measure"
)

// Money is an amount in minor units (cents) of a currency named by its ISO 4217
// code. One shop keeps one currency. The zero Money is nothing of no currency and
// adds to any.
type Money struct {
	Minor    int64  `json:"minor"`
	Currency string `json:"currency"`
}

// Amount writes m exactly, without its currency: "280.00", or "280" in a currency
// without minor units. Parse reads it back.
func (m Money) Amount() string {
	sign, minor := "", uint64(m.Minor)
	if m.Minor < 0 {
		sign, minor = "-", -minor
	}
	digits := minorDigits(m.Currency)
	if digits == 0 {
		return fmt.Sprintf("%s%d", sign, minor)
	}
	unit := power10(digits)
	return fmt.Sprintf("%s%d.%0*d", sign, minor/unit, digits, minor%unit)
}

// String writes m exactly, with its currency: "280.00 USD". Parse reads it
// back.
func (m Money) String() string {
	if m.Currency == "" {
		return m.Amount()
	}
	return m.Amount() + " " + m.Currency
}

// Add is m + o. It panics on two currencies, since a shop keeps one.
func (m Money) Add(o Money) Money {
	switch {
	case m.Currency == "":
		m.Currency = o.Currency
	case o.Currency != "" && o.Currency != m.Currency:
		panic("money: " + m.Currency + " added to " + o.Currency)
	}
	m.Minor += o.Minor
	return m
}

// ForVolume is the price of v at m for each per, which is > 0: m·v/per, computed
// exactly and rounded once, half away from zero. Amounts that Parse reads,
// times quantities that measure reads, fit.
func (m Money) ForVolume(v, per measure.Volume) Money { return m.Times(int64(v), int64(per)) }

// Times is m·n/per, computed exactly and rounded once, half away from zero; per > 0.
func (m Money) Times(n, per int64) Money {
	num := new(big.Int).Mul(big.NewInt(m.Minor), big.NewInt(n))
	sign := int64(num.Sign())
	num.Abs(num).Lsh(num, 1).Add(num, big.NewInt(per))
	num.Quo(num, new(big.Int).Lsh(big.NewInt(per), 1))
	return Money{Minor: sign * num.Int64(), Currency: m.Currency}
}

// minorDigits is how many decimals the currency has: 2 where it is not known.
func minorDigits(code string) int {
	unit, err := currency.ParseISO(code)
	if err != nil {
		return 2
	}
	digits, _ := currency.Standard.Rounding(unit)
	return digits
}

func power10(n int) uint64 {
	p := uint64(1)
	for range n {
		p *= 10
	}
	return p
}
