package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestOrdersAreFoundByWhoseTheyAre(t *testing.T) {
	y := newYard(t)
	take := func(name, address, phone string) orders.Order {
		r := goodOrder()
		r.CustomerName, r.CustomerAddress, r.CustomerPhone = name, address, phone
		return y.take(r)
	}
	ada := take("Ada Quill", "7 Ferry Lane\nAlder Bend", "(555) 010-0123")
	olga := take("Ольга Береза", "Ferry Road 9", "+1 555 010 0999")
	take("Bo Lund", "12 Mill Road", "")
	y.deliver(ada.ID, orders.LoadRequest{})
	for text, want := range map[string][]int64{
		"ada": {1}, "QUILL": {1}, "ферry": nil, "берез": {2}, "ferry": {2, 1}, "ferry 9": {2}, "ferry lane": {1}, "0100123": {1}, "555-010": {2, 1},
		"1": {3, 2, 1}, "12 mill": {3}, "a": nil, "": nil, "%": nil, "nobody": nil,
	} {
		list, err := y.FindOrders(y.ctx, owner, text)
		require.NoError(t, err, text)
		var found []int64
		for _, o := range list.Orders {
			found = append(found, o.Number)
			assert.Contains(t, list.Balances, o.ID)
		}
		assert.Equal(t, want, found, text)
	}
	assert.NotEmpty(t, olga.ID)
	_, err := y.FindOrders(y.ctx, act.Actor{Role: act.Buyer}, "ada")
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}

func TestAnOrderIsFoundByItsReceipt(t *testing.T) {
	y := newYard(t)
	var last orders.Order
	for range 3 {
		r := goodOrder()
		r.CustomerAddress = "Alder Bend"
		last = y.take(r)
		y.deliver(last.ID, orders.LoadRequest{})
	}
	list, err := y.FindOrders(y.ctx, owner, "3")
	require.NoError(t, err)
	require.Len(t, list.Orders, 1)
	assert.Equal(t, last.ID, list.Orders[0].ID)
}
