//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/orders/money"
)

// Money words an amount with its currency: "$1,280.00", "CAD 280.00".
func (p *Printer) Money(m money.Money) string {
	amount, sign := m.Amount(), ""
	if m.Minor < 0 {
		amount, sign = strings.TrimPrefix(amount, "-"), "-"
	}
	whole, minor, hasMinor := strings.Cut(amount, ".")
	if n, err := strconv.ParseUint(whole, 10, 64); err == nil {
		whole = p.text.Sprintf("%d", n) // in groups of three
	}
	if hasMinor {
		whole += "." + minor
	}
	return sign + currencyMark(m.Currency) + whole
}

// currencyMark is what stands before an amount: a sign only where it names one
// currency to those who use it.
func currencyMark(code string) string {
	switch code {
	case "":
		return ""
	case "USD":
		return "$"
	case "EUR":
		return "€"
	case "GBP":
		return "£"
	}
	return code + " "
}
