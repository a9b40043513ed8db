package orders

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"wellstowed/orders/act"
	"wellstowed/orders/customers"
)

// A Whose is what an order is found by.
type Whose struct {
	OrderID              string
	Name, Address, Phone string
	Receipts             []int64
}

// leastFound is how few letters or figures find an order.
const leastFound = 2

// FindOrders gives the orders of which every word of a text is part of the customer's name,
// address or telephone number, or is the number of a receipt, the newest first and at most
// 50. Capitals make no difference, and neither do the marks in a telephone number.
func (s *Service) FindOrders(ctx context.Context, who act.Actor, text string) (list Listing, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Listing{}, err
	}
	words := strings.Fields(strings.ToLower(text))
	if len(strings.Join(words, "")) < leastFound && !isNumber(text) {
		return Listing{}, nil
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		all, err := tx.Whose()
		if err != nil {
			return err
		}
		for _, w := range all {
			if len(list.Orders) == usualPage || !w.holds(words) {
				continue
			}
			o, err := tx.Order(w.OrderID)
			if err != nil {
				return err
			}
			list.Orders = append(list.Orders, o)
		}
		list.Balances, err = Balances(tx, list.Orders)
		return err
	})
	return list, act.Fail(err)
}

func isNumber(text string) bool {
	_, err := strconv.ParseInt(strings.TrimSpace(text), 10, 64)
	return err == nil
}

// holds tells whether each word finds the order.
func (w Whose) holds(words []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool {
		return !customers.Finds(word, w.Name, w.Address, w.Phone) && !w.hasReceipt(word)
	})
}

func (w Whose) hasReceipt(word string) bool {
	n, err := strconv.ParseInt(word, 10, 64)
	return err == nil && slices.Contains(w.Receipts, n)
}
