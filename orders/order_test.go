package orders_test

import (
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

func TestTakeOrder(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity, r.Deposit, r.Notes = "1 1/2 cords", "100", "gate code\non the left"
	r.OtherFee, r.OtherFeeFor = "12.50", "carrying to the shed"
	o := y.take(r)

	require.EqualValues(t, 1, o.Number)
	require.EqualValues(t, 1, o.Version)
	require.Equal(t, orders.Taken, o.State)
	require.Equal(t, "Ada Quill", o.Customer.Name)
	require.Equal(t, cords(3, 2), o.Quantity)
	require.Equal(t, 16*measure.Inch, o.PieceLength)
	require.Equal(t, yard.Seasoned, o.Seasoning)
	require.Equal(t, "280.00 USD", o.Price.PerCord.String())
	require.Equal(t, "420.00 USD", o.Price.Wood.String())
	require.Equal(t, "457.50 USD", o.Price.Total().String())
	require.Equal(t, "100.00 USD", o.Deposit.String())
	require.Equal(t, "gate code\non the left", o.Notes)
	require.Equal(t, y.now.UTC(), o.Created)

	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Equal(t, o, h.Order)
}

func TestTakeOrderForASumAgreed(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.PricePerCord, r.PriceTotal, r.DeliveryFee = "", "500", "0"
	o := y.take(r)
	require.Equal(t, money.Money{}, o.Price.PerCord)
	require.Equal(t, "500.00 USD", o.Price.Total().String())
	require.Empty(t, o.Price.Fees)
}

func TestTakeOrderNamesEveryFault(t *testing.T) {
	y := newYard(t)
	for _, row := range []struct {
		name   string
		change func(*orders.OrderRequest)
		want   map[string]string
	}{
		{"nothing typed", func(r *orders.OrderRequest) { *r = orders.OrderRequest{} }, map[string]string{
			"customer_name": "missing", "quantity": "missing", "piece_length": "missing", "price_per_cord": "missing"}},
		{"blank name", func(r *orders.OrderRequest) { r.CustomerName = "  " }, map[string]string{"customer_name": "missing"}},
		{"two prices", func(r *orders.OrderRequest) { r.PriceTotal = "500" }, map[string]string{"price_total": "one-only"}},
		{"bad amounts", func(r *orders.OrderRequest) { r.PricePerCord, r.DeliveryFee, r.StackingFee = "-1", "1e3", "1,234" },
			map[string]string{"price_per_cord": "negative", "delivery_fee": "not-an-amount", "stacking_fee": "ambiguous"}},
		{"a fee for nothing said", func(r *orders.OrderRequest) { r.OtherFee = "5" }, map[string]string{"other_fee_for": "missing"}},
		{"something for no fee", func(r *orders.OrderRequest) { r.OtherFeeFor = "tolls" }, map[string]string{"other_fee": "missing"}},
		{"deposit above the price", func(r *orders.OrderRequest) { r.Deposit = "305.01" }, map[string]string{"deposit": "too-large"}},
		{"a whole beyond the largest", func(r *orders.OrderRequest) { r.Quantity, r.PricePerCord = "10000 cords", "9999999" },
			map[string]string{"price_per_cord": "too-large"}},
		{"too long", func(r *orders.OrderRequest) { r.Species = strings.Repeat("o", 501) }, map[string]string{"species": "too-long"}},
		{"control character", func(r *orders.OrderRequest) { r.CustomerPhone = "1\x07" }, map[string]string{"customer_phone": "bad-text"}},
		{"a line end in a line", func(r *orders.OrderRequest) { r.CustomerName = "Ada\nQuill" }, map[string]string{"customer_name": "bad-text"}},
		{"writing turned round", func(r *orders.OrderRequest) { r.Notes = "a\u202eb" }, map[string]string{"notes": "bad-text"}},
		{"bytes that are no text", func(r *orders.OrderRequest) { r.Notes = "a\xff" }, map[string]string{"notes": "bad-text"}},
		{"species that cannot be printed", func(r *orders.OrderRequest) { r.Species = "дуб" }, map[string]string{"species": "unprintable"}},
		{"unknown seasoning", func(r *orders.OrderRequest) { r.Seasoning = "damp" }, map[string]string{"seasoning": "unknown"}},
		{"pieces of no length", func(r *orders.OrderRequest) { r.PieceLength = "0" }, map[string]string{"piece_length": "out-of-range"}},
		{"pieces too long", func(r *orders.OrderRequest) { r.PieceLength = "9 ft" }, map[string]string{"piece_length": "out-of-range"}},
	} {
		r := goodOrder()
		row.change(&r)
		_, err := y.TakeOrder(y.ctx, y.act(), r)
		require.Equal(t, row.want, faults(t, err), row.name)
	}
	page, err := y.Orders(y.ctx, owner, 0, 0)
	require.NoError(t, err)
	require.Empty(t, page.Orders, "a refused order was saved")
	require.EqualValues(t, 1, y.take(goodOrder()).Number, "a refused order took a number")
}

func TestTextIsKeptTidy(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.CustomerName, r.CustomerAddress = "  Zoe\u0308 Quill ", "1 Lane\r\nAlder Bend\r\n"
	o := y.take(r)
	require.Equal(t, "Zoë Quill", o.Customer.Name)
	require.Equal(t, "1 Lane\nAlder Bend", o.Customer.Address)
}

func TestWordsThatAreNoLegalQuantityAreReadBack(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity = "two face cords"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	require.NotContains(t, err.Error(), "face cord")
	require.Contains(t, err.Error(), "186.67 USD") // 280 × 2/3, rounded
	var e *act.Error
	require.ErrorAs(t, err, &e)

	r.Confirmed = "1/2 cord"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), "another quantity was confirmed")

	r.Confirmed = e.Fields[0].Accepts.String()
	o := y.take(r)
	require.Equal(t, cords(2, 3), o.Quantity)
	require.Equal(t, "two face cords", o.Words)
	require.Equal(t, "186.67 USD", o.Price.Wood.String())

	r.Confirmed, r.Notes, r.Version = "", "ring first", o.Version
	_, err = y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err, "words confirmed before are asked for again")
}

func TestBarredTermsAreKeptOffPaper(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Species, r.OtherFee, r.OtherFeeFor, r.Notes = "oak by the rick", "5", "a face cord more", "Face-Cord buyer"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"species": "barred", "other_fee_for": "barred", "notes": "barred"}, faults(t, err))
	require.NotContains(t, err.Error(), "face cord")

	r = goodOrder()
	r.Quantity = "a face cord or so"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	require.Contains(t, faults(t, err), "quantity")
	require.NotContains(t, err.Error(), r.Quantity, "a fault repeats a barred term")

	shop := goodShop()
	shop.Version, shop.Name = 2, "Face Cord Firewood"
	_, err = y.ChangeShop(y.ctx, y.act(), shop)
	require.Equal(t, map[string]string{"name": "barred"}, faults(t, err))
}

func TestRickMayHaveAName(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.CustomerName, r.CustomerAddress, r.Notes = "Rick Marsh", "3 Pile Hill", "leave it by the old pile"
	require.Equal(t, "Rick Marsh", y.deliver(y.take(r).ID, orders.LoadRequest{}).Receipt.Purchaser.Name)
}

func TestChangeOrder(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.now = y.now.Add(time.Hour)
	r := goodOrder()
	r.CustomerName, r.Quantity, r.Species, r.Notes, r.Seasoning, r.Version = "Ada Marsh", "2 cords", "", "", "", 1
	_, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), "another quantity, another price")
	r = y.read(r)
	changed, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
	require.Equal(t, cords(2, 1), changed.Quantity)
	require.Equal(t, "Ada Marsh", changed.Customer.Name)
	require.Equal(t, o.Customer.ID, changed.Customer.ID)
	require.Empty(t, changed.Species, "an emptied field was kept")
	require.Empty(t, changed.Seasoning)
	require.EqualValues(t, 2, changed.Version)
	require.Equal(t, o.Number, changed.Number)
	require.Equal(t, o.Created, changed.Created)
	require.Equal(t, y.now.UTC(), changed.Changed)

	_, err = y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	requireKind(t, act.Conflict, err) // the version is old
	_, err = y.ChangeOrder(y.ctx, y.act(), "no-such-order", r)
	requireKind(t, act.NotFound, err)
}

func TestAnOrderStaysOnceItsReceiptIsOut(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	r := goodOrder()
	r.Version = 1
	_, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	requireKind(t, act.Conflict, err)
	require.Contains(t, err.Error(), "a receipt is out")
	_, err = y.CancelOrder(y.ctx, y.act(), o.ID, 1)
	requireKind(t, act.Conflict, err)
}

func TestAMeasuredQuantityStays(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.measure(o.ID)
	r := goodOrder()
	r.Version, r.Quantity = 1, "2 cords"
	_, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	requireKind(t, act.Conflict, err)
	r.Quantity, r.Notes = "1 cord", "ring first"
	_, err = y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
}

func TestCancelOrder(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.CancelOrder(y.ctx, y.act(), o.ID, 7)
	requireKind(t, act.Conflict, err)
	cancelled, err := y.CancelOrder(y.ctx, y.act(), o.ID, 1)
	require.NoError(t, err)
	require.Equal(t, orders.Cancelled, cancelled.State)
	require.EqualValues(t, 2, cancelled.Version)
	require.Equal(t, o.Price, cancelled.Price)

	r := goodOrder()
	r.Version = 2
	_, err = y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	requireKind(t, act.Conflict, err)
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	requireKind(t, act.Conflict, err)
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: cordTally()})
	requireKind(t, act.Conflict, err)
}

func TestOfTwoPeopleSavingOneOrderOneIsTold(t *testing.T) {
	y := newYard(t)
	other := y.open()
	o := y.take(goodOrder())
	errs := make([]error, 2)
	var wg sync.WaitGroup
	for i, service := range []*orders.Service{y.Service, other} {
		wg.Go(func() {
			r := goodOrder()
			r.Version, r.Notes = o.Version, fmt.Sprint("from person ", i)
			_, errs[i] = service.ChangeOrder(y.ctx, y.act(), o.ID, r)
		})
	}
	wg.Wait()
	if errs[0] != nil {
		errs[0], errs[1] = errs[1], errs[0]
	}
	require.NoError(t, errs[0])
	requireKind(t, act.Conflict, errs[1])
}

func TestOrdersAreListedByKey(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	const many = 1000
	for range many {
		y.take(goodOrder())
	}
	seen, pages := int64(many), 0
	for before := int64(0); ; pages++ {
		page, err := y.Orders(y.ctx, owner, before, 150)
		require.NoError(t, err)
		for _, o := range page.Orders {
			require.Equal(t, seen, o.Number)
			require.Equal(t, "Ada Quill", o.Customer.Name)
			seen--
		}
		if before = page.Next; before == 0 {
			break
		}
	}
	require.Zero(t, seen)
	require.Equal(t, 6, pages) // of 7, the last not counted

	page, err := y.Orders(y.ctx, owner, 0, 1_000_000)
	require.NoError(t, err)
	require.Len(t, page.Orders, 200)
}

func TestStateFollowsWhatHappened(t *testing.T) {
	y := newYard(t)
	state := func(want orders.State, outcome stack.Word) {
		t.Helper()
		page, err := y.Orders(y.ctx, owner, 0, 0)
		require.NoError(t, err)
		require.Equal(t, want, page.Orders[0].State)
		require.Equal(t, outcome, page.Orders[0].Outcome)
	}
	o := y.take(goodOrder())
	state(orders.Taken, "")
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/3 cord"})
	state(orders.PartLoad, "")
	y.deliver(o.ID, orders.LoadRequest{})
	state(orders.Delivered, "")
	sheet := y.measure(o.ID)
	state(orders.Measured, sheet.Sheet.Result.Finding.Word)
}

func TestTheSameRequestIsOneAct(t *testing.T) {
	y := newYard(t)
	doing := y.act()
	first, err := y.takeAs(doing, goodOrder())
	require.NoError(t, err)
	again, err := y.takeAs(doing, goodOrder())
	require.NoError(t, err)
	require.Equal(t, first, again)
	other := goodOrder()
	other.Quantity = "2 cords"
	_, err = y.TakeOrder(y.ctx, doing, other)
	requireKind(t, act.Conflict, err) // an id used for another content
	var refused *act.Error
	require.ErrorAs(t, err, &refused)
	require.Equal(t, first, refused.Saved.Thing)

	doing = y.act()
	issued, err := y.Deliver(y.ctx, doing, first.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	require.NoError(t, err)
	doing.Request = strings.ToUpper(doing.Request)
	repeated, err := y.Deliver(y.ctx, doing, first.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	require.NoError(t, err)
	require.Equal(t, issued, repeated)

	h, err := y.History(y.ctx, owner, first.ID)
	require.NoError(t, err)
	require.Len(t, h.Loads, 1)

	_, err = y.CancelOrder(y.ctx, doing, first.ID, 1)
	requireKind(t, act.Conflict, err) // an id used for another verb
	second := y.take(goodOrder())
	_, err = y.Deliver(y.ctx, doing, second.ID, orders.LoadRequest{})
	requireKind(t, act.Conflict, err) // an id used for another order

	_, err = y.TakeOrder(y.ctx, act.Act{Actor: owner, Request: "again"}, goodOrder())
	require.Equal(t, map[string]string{"request": "not-a-uuid"}, faults(t, err))
}

func TestARefusedRequestMayBeRepeated(t *testing.T) {
	y := newYard(t)
	act := y.act()
	_, err := y.TakeOrder(y.ctx, act, orders.OrderRequest{})
	require.Error(t, err)
	_, err = y.takeAs(act, goodOrder())
	require.NoError(t, err)
}
