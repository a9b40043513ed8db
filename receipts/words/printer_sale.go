//go:build !wasm

package words

import (
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

func init() {
	wordSale = func(p *Printer, arg any) any {
		switch v := arg.(type) {
		case money.Money:
			return p.Money(v)
		case act.Date:
			return p.Date(v)
		}
		return arg
	}
}
