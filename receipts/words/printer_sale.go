//go:build !wasm

package words

import "wellstowed/orders"

func init() {
	wordSale = func(p *Printer, arg any) any {
		switch v := arg.(type) {
		case orders.Money:
			return p.Money(v)
		case orders.Date:
			return p.Date(v)
		}
		return arg
	}
}
