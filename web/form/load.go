//go:build !wasm

package form

import "wellstowed/orders"

// Load is the form to deliver what is still due of an order on a day.
func Load(o orders.Order, due, on string) orders.LoadRequest {
	return orders.LoadRequest{
		Delivered: due, On: on,
		PrintName: o.Customer.PrintName, PrintAddress: o.Customer.PrintAddress,
	}
}
