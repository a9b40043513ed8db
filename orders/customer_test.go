package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
)

// takeOf takes an order of somebody.
func (y *sellerYard) takeOf(name, address, phone string, more ...func(*orders.OrderRequest)) orders.Order {
	y.t.Helper()
	r := goodOrder()
	r.CustomerName, r.CustomerAddress, r.CustomerPhone = name, address, phone
	for _, change := range more {
		change(&r)
	}
	return y.take(r)
}

func (y *sellerYard) customer(id string) orders.CustomerHistory {
	y.t.Helper()
	h, err := y.Customer(y.ctx, owner, id)
	require.NoError(y.t, err)
	return h
}

func (y *sellerYard) customers() []customers.Record {
	y.t.Helper()
	all, err := y.Customers.List(y.ctx, owner, "")
	require.NoError(y.t, err)
	return all
}

func TestTwoOrdersOfOneCustomerAreOneCustomers(t *testing.T) {
	y := newYard(t)
	first := y.takeOf("Ada Quill", "7 Ferry Lane\nAlder Bend", "555 0123")
	second := y.takeOf("ada  quill", "", "555-0123")
	other := y.takeOf("Ada Quill", "40 Kiln Road", "555 0999")
	assert.Equal(t, first.Customer.Record, second.Customer.Record)
	assert.NotEqual(t, first.Customer.Record, other.Customer.Record, "another telephone number")
	h := y.customer(first.Customer.Record)
	require.Len(t, h.Orders, 2)
	assert.Equal(t, []int64{2, 1}, []int64{h.Orders[0].Number, h.Orders[1].Number})
	assert.Equal(t, "7 Ferry Lane\nAlder Bend", h.Address, "an order without an address takes none away")
	assert.Equal(t, 2, h.Record.Orders)
	assert.Equal(t, second.ID, h.Usual().ID)
	_, err := y.CancelOrder(y.ctx, y.act(), second.ID, 1)
	require.NoError(t, err)
	h = y.customer(first.Customer.Record)
	assert.Equal(t, first.ID, h.Usual().ID, "who cancelled an order doesn’t usually take it")
}

func TestPickedCustomerMayMove(t *testing.T) {
	y := newYard(t)
	first := y.takeOf("Ada Quill", "7 Ferry Lane", "555 0123")
	moved := y.takeOf("Ada Quill", "12 Mill Road", "555 0777", func(r *orders.OrderRequest) { r.CustomerID = first.Customer.Record })
	assert.Equal(t, first.Customer.Record, moved.Customer.Record)
	h := y.customer(moved.Customer.Record)
	assert.Equal(t, [3]string{"Ada Quill", "12 Mill Road", "555 0777"}, [3]string{h.Name, h.Address, h.Phone})
	assert.Equal(t, "7 Ferry Lane", h.Orders[1].Customer.Address, "the order stays as it was taken")

	r := goodOrder()
	r.CustomerID = "0190a000-0000-7000-8000-000000000000"
	_, err := y.takeAs(y.act(), r)
	require.ErrorContains(t, err, "customer_id")
	require.Equal(t, act.Invalid, act.KindOf(err))
}

// Another name typed over that of a picked customer renames nobody: it is asked who it is.
func TestAnotherNameOverAPickedCustomerIsAskedAbout(t *testing.T) {
	y := newYard(t)
	first := y.takeOf("Ada Quill", "7 Ferry Lane", "555 0123")
	r := goodOrder()
	r.CustomerID, r.CustomerName, r.CustomerAddress, r.CustomerPhone = first.Customer.Record, "Bram Moss", "7 Ferry Lane", "555 0123"
	_, err := y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"customer_name": "somebody-else"}, faults(t, err))
	choices := fieldOf(t, err, "customer_name").Choices
	require.Equal(t, "Ada Quill", choices[0].Value)
	require.Equal(t, "customer_id", choices[1].Field)
	r.CustomerID = choices[1].Value
	other := y.take(r)
	assert.NotEqual(t, first.Customer.Record, other.Customer.Record)
	assert.Equal(t, "Ada Quill", y.customer(first.Customer.Record).Name)
	r.CustomerID, r.CustomerName = first.Customer.Record, " ada  quill"
	assert.Equal(t, first.Customer.Record, y.take(r).Customer.Record, "the same name, spaced otherwise")
}

func TestChangingWhatIsKeptOfACustomer(t *testing.T) {
	y := newYard(t)
	o := y.takeOf("Ada Quill", "7 Ferry Lane", "555 0123")
	id := o.Customer.Record
	r := customers.Request{Name: "Ada Quill", Address: "7 Ferry Lane", Phone: "555 0123", Access: "Gate is 9 ft wide", Stacking: "two rows", Place: "44.0512, -72.2034", Version: 1}
	kept, err := y.Customers.Change(y.ctx, act.Act{Actor: driver, Request: newRequest()}, id, r)
	require.NoError(t, err, "who drives writes down how to get in")
	assert.Equal(t, "44.051200,-72.203400", kept.Place)
	_, err = y.Customers.Change(y.ctx, y.act(), id, r)
	assert.Equal(t, act.Conflict, act.KindOf(err), "it was changed since")
	for field, wrong := range map[string]customers.Request{"name": {Version: 2}, "place": {Name: "Ada", Place: "by the shed", Version: 2}} {
		_, err = y.Customers.Change(y.ctx, y.act(), id, wrong)
		require.ErrorContains(t, err, field)
		require.Equal(t, act.Invalid, act.KindOf(err))
	}
	assert.Equal(t, "Gate is 9 ft wide", y.customer(id).Access)
}

func TestTwoRecordsOfOnePersonBecomeOne(t *testing.T) {
	y := newYard(t)
	ada := y.takeOf("Ada Quill", "7 Ferry Lane", "")
	a := y.takeOf("A. Quill", "7 Ferry Lane", "555 0123")
	bo := y.takeOf("Bo Lund", "12 Mill Road", "555 0888")
	h := y.customer(ada.Customer.Record)
	require.Len(t, h.Others, 2)
	assert.Equal(t, "A. Quill", h.Others[0].Name, "who lives at the same place is offered first")
	by := y.act()
	merged, err := y.Customers.Merge(y.ctx, by, ada.Customer.Record, customers.MergeRequest{From: a.Customer.Record})
	require.NoError(t, err)
	assert.Equal(t, [3]any{"Ada Quill", "555 0123", 2}, [3]any{merged.Name, merged.Phone, merged.Orders})
	again, err := y.Customers.Merge(y.ctx, by, ada.Customer.Record, customers.MergeRequest{From: a.Customer.Record})
	require.NoError(t, err, "the same request twice is one act")
	assert.Equal(t, merged, again)
	_, err = y.Customer(y.ctx, owner, a.Customer.Record)
	assert.Equal(t, act.NotFound, act.KindOf(err))
	assert.Len(t, y.customers(), 2)
	for _, from := range []string{"", ada.Customer.Record} {
		_, err = y.Customers.Merge(y.ctx, y.act(), ada.Customer.Record, customers.MergeRequest{From: from})
		assert.Equal(t, act.Invalid, act.KindOf(err))
	}
	_, err = y.Customers.Merge(y.ctx, act.Act{Actor: driver, Request: newRequest()}, ada.Customer.Record, customers.MergeRequest{From: bo.Customer.Record})
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}

func TestErasingNamesTakesTheCustomerToo(t *testing.T) {
	y := newYard(t)
	named := namedOrder()
	first, second := y.take(named), y.take(named)
	id := first.Customer.Record
	require.Equal(t, id, second.Customer.Record)
	_, err := y.Customers.Change(y.ctx, y.act(), id, customers.Request{Name: named.CustomerName, Address: named.CustomerAddress, Phone: named.CustomerPhone,
		Access: "Ask Zephyrine’s cousin at Quillon Mews", Version: 1})
	require.NoError(t, err)
	_, err = y.CancelOrder(y.ctx, y.act(), first.ID, 1)
	require.NoError(t, err)
	y.now = y.now.AddDate(0, 1, 1)
	y.eraseAll("1")
	h := y.customer(id)
	require.Len(t, h.Orders, 1, "the order whose names are erased leads to nobody")
	assert.Equal(t, second.ID, h.Orders[0].ID)
	assert.NotEmpty(t, h.Access, "the other order still needs it")
	_, err = y.CancelOrder(y.ctx, y.act(), second.ID, 1)
	require.NoError(t, err)
	y.now = y.now.AddDate(0, 1, 1)
	y.eraseAll("1")
	assert.Empty(t, y.customers())
	assert.Empty(t, y.leftovers(), "no name is left in the file")
	y.noFaults()
}

func TestCustomersFromAList(t *testing.T) {
	y := newYard(t)
	y.takeOf("Ada Quill", "7 Ferry Lane", "555 0123")
	list := "Name,Address,Phone,How to get in\nAda Quill,,555-0123,\nBo Lund,12 Mill Road,,Gate at the back\nbo lund,12 mill road,,\n,9 Kiln Road,,\n"
	plan, err := y.Customers.DryRun(y.ctx, owner, []byte(list))
	require.NoError(t, err)
	require.Len(t, plan.New, 1)
	require.Len(t, plan.Known, 2)
	require.Len(t, plan.Wrong, 1)
	assert.Equal(t, 5, plan.Wrong[0].Number)
	assert.Len(t, y.customers(), 1, "nothing is kept by a dry run")
	_, err = y.Customers.Import(y.ctx, y.act(), customers.ImportRequest{List: list})
	require.ErrorContains(t, err, "line 5: name: nothing was filled in")
	assert.Len(t, y.customers(), 1, "where a line is not understood none is kept")

	good := "Name,Address,Phone,How to get in\nAda Quill,,555-0123,\nBo Lund,12 Mill Road,,Gate at the back\n"
	by := y.act()
	for range 2 {
		_, err = y.Customers.Import(y.ctx, by, customers.ImportRequest{List: good})
		require.NoError(t, err)
	}
	require.Len(t, y.customers(), 2)
	bo := y.customers()[1]
	assert.Equal(t, "Gate at the back", bo.Access)
	assert.Equal(t, bo.ID, y.takeOf("Bo Lund", "12 Mill Road", "").Customer.Record, "his first order is his")
	assert.Equal(t, act.Conflict, act.KindOf(y.Customers.Drop(y.ctx, y.act(), bo.ID)), "who has orders isn’t forgotten")
	kept, err := y.Customers.Add(y.ctx, y.act(), customers.Request{Name: "Ira Fenn"})
	require.NoError(t, err)
	require.NoError(t, y.Customers.Drop(y.ctx, y.act(), kept.ID))
	assert.Len(t, y.customers(), 2)
}
