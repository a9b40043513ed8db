package orders

import (
	"context"

	"wellstowed/orders/act"
	"wellstowed/orders/customers"
)

// A Customer is who an order is for, as it was taken. What is kept of the person now is the
// customers.Record.
type Customer struct {
	ID      string `json:"id"` // UUIDv7
	Version int64  `json:"version"`
	Name    string `json:"name" names:"erased"`
	Address string `json:"address" names:"erased"` // lines separated by \n
	Phone   string `json:"phone" names:"erased"`
	// PrintName and PrintAddress stand in on paper for a name or address in a
	// script that the receipt's font lacks; empty otherwise.
	PrintName    string `json:"print_name,omitempty" names:"erased"`
	PrintAddress string `json:"print_address,omitempty" names:"erased"`
	Record       string `json:"record,omitempty"` // id of what is kept of them; empty once erased
}

// A CustomerHistory is a customer with all of their orders.
type CustomerHistory struct {
	customers.Record
	Orders   []Order            `json:"orders_taken"` // newest first
	Balances map[string]Balance `json:"balances"`
	Others   []customers.Record `json:"-"` // those that may be the same customer first
}

// Usual is the order they would give again: the latest that wasn't cancelled; nil before
// the first.
func (h CustomerHistory) Usual() *Order {
	for i := range h.Orders {
		if h.Orders[i].State != Cancelled {
			return &h.Orders[i]
		}
	}
	return nil
}

// Customer gives a customer with all of their orders, and what is owed on each.
func (s *Service) Customer(ctx context.Context, who act.Actor, id string) (h CustomerHistory, err error) {
	if h.Record, h.Others, err = s.Customers.Show(ctx, who, id); err != nil {
		return h, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		if h.Orders, err = tx.CustomerOrders(id); err != nil {
			return err
		}
		h.Balances, err = Balances(tx, h.Orders)
		return err
	})
	return h, act.Fail(err)
}
