package orders_test

import (
	"encoding/json"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func (y *sellerYard) void(number int64, why string) orders.Issued {
	y.t.Helper()
	issued, err := y.Void(y.ctx, y.act(), number, orders.VoidRequest{Reason: why})
	require.NoError(y.t, err)
	return issued
}

func (y *sellerYard) correct(number int64, change func(*orders.CorrectionRequest)) orders.Issued {
	y.t.Helper()
	issued, err := y.Correct(y.ctx, y.act(), number, y.correction(number, change))
	require.NoError(y.t, err)
	return issued
}

// correction is the form of a receipt as it is prefilled, with a change.
func (y *sellerYard) correction(number int64, change func(*orders.CorrectionRequest)) orders.CorrectionRequest {
	y.t.Helper()
	old, err := y.Receipt(y.ctx, owner, number)
	require.NoError(y.t, err)
	f := old.Receipt.Facts
	r := orders.CorrectionRequest{
		Reason: "misread", Delivered: f.Delivered.Volume.String(), On: f.DeliveredOn.String(), Species: f.Species, Origin: f.Origin,
		PieceLength: f.PieceLength.String(), Seasoning: string(f.Seasoning), Certificate: f.Certificate,
		PurchaserName: old.Receipt.Purchaser.Name, PurchaserAddress: old.Receipt.Purchaser.Address,
	}
	change(&r)
	return r
}

func (y *sellerYard) history(id string) orders.History {
	y.t.Helper()
	h, err := y.History(y.ctx, owner, id)
	require.NoError(y.t, err)
	return h
}

func (y *sellerYard) noFaults() {
	y.t.Helper()
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(y.t, err)
	require.Empty(y.t, v.Faults)
	require.Empty(y.t, v.Altered)
}

// A void ends the receipt it names and leaves its bytes: the wood is due again, the
// order is open, and the next receipt asks for all of the price, fees and deposit.
func TestVoidMakesTheWoodDueAgain(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Deposit = "50"
	o := y.take(r)
	first := y.deliver(o.ID, orders.LoadRequest{})
	require.Equal(t, orders.Delivered, y.history(o.ID).Order.State)

	void := y.void(1, "The load came back")
	f := void.Receipt.Facts
	require.Equal(t, orders.VoidReceipt, f.Kind)
	require.EqualValues(t, 1, f.Of)
	require.Equal(t, "The load came back", f.Reason)
	require.Equal(t, measure.Quantity{}, f.Delivered, "it hands over nothing")
	require.Zero(t, f.Price.Total().Minor)
	require.Equal(t, first.Receipt.Facts.Delivered, f.Former.Delivered)
	require.Equal(t, first.Seal, f.Former.Seal)
	require.Equal(t, first.Receipt.Purchaser, void.Receipt.Purchaser)

	h := y.history(o.ID)
	require.Equal(t, orders.Taken, h.Order.State)
	require.Empty(t, h.Loads)
	old, err := y.Receipt(y.ctx, owner, 1)
	require.NoError(t, err)
	require.Equal(t, first.PDF, old.PDF)
	require.Equal(t, first.FactBytes, old.FactBytes)
	require.Equal(t, &orders.Ending{Number: 2, Kind: orders.VoidReceipt, Issued: f.Issued}, old.Ended)

	again := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, first.Receipt.Facts.Price, again.Price)
	require.Equal(t, first.Receipt.Facts.Deposit, again.Deposit)
	y.noFaults()
}

// An order all of whose receipts are void can be changed and cancelled again.
func TestAnOrderWithNothingButVoidReceiptsIsOpen(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{})
	y.void(1, "Taken to the wrong house")
	r := goodOrder()
	r.PricePerCord, r.Version = "290", o.Version
	changed, err := y.ChangeOrder(y.ctx, y.act(), o.ID, y.read(r))
	require.NoError(t, err)
	require.Equal(t, "315.00 USD", y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts.Price.Total().String())
	y.void(3, "Taken to the wrong house again")
	_, err = y.CancelOrder(y.ctx, y.act(), o.ID, changed.Version)
	require.NoError(t, err)
	y.noFaults()
}

func TestEndingAReceiptIsRefused(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord"})
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord"})
	y.correct(1, func(r *orders.CorrectionRequest) { r.Species = "Ash" })
	y.correct(3, func(r *orders.CorrectionRequest) { r.Species = "White ash" })
	y.void(2, "Never left the yard")

	for _, row := range []struct {
		number int64
		says   string
	}{
		{1, "receipt 1 was corrected already; receipt 4 counts now"},
		{3, "receipt 3 was corrected already; receipt 4 counts now"},
		{2, "receipt 2 no longer counts; receipt 5 says why"},
		{5, "receipt 5 makes receipt 2 void and delivers no wood"},
	} {
		_, err := y.Void(y.ctx, y.act(), row.number, orders.VoidRequest{Reason: "x"})
		requireKind(t, act.Conflict, err)
		require.Contains(t, err.Error(), row.says)
		_, err = y.Correct(y.ctx, y.act(), row.number, orders.CorrectionRequest{})
		requireKind(t, act.Conflict, err)
		require.Contains(t, err.Error(), row.says)
	}
	_, err := y.Void(y.ctx, y.act(), 99, orders.VoidRequest{Reason: "x"})
	requireKind(t, act.NotFound, err)
	_, err = y.Void(y.ctx, act.Act{Actor: auditor, Request: newRequest()}, 4, orders.VoidRequest{Reason: "x"})
	requireKind(t, act.Forbidden, err)
	_, err = y.Void(y.ctx, y.act(), 4, orders.VoidRequest{})
	require.Equal(t, map[string]string{"reason": "missing"}, faults(t, err))
	_, err = y.Void(y.ctx, y.act(), 4, orders.VoidRequest{Reason: "it was a face cord"})
	require.Equal(t, map[string]string{"reason": "barred"}, faults(t, err))
	_, err = y.Void(y.ctx, y.act(), 4, orders.VoidRequest{Reason: "дрова"})
	require.Equal(t, map[string]string{"reason": "unprintable"}, faults(t, err))
	require.Len(t, y.history(o.ID).Loads, 1)
	y.noFaults()
}

// Many who make one receipt void at once, over two processes, make one void.
func TestOneVoidOfManyAtOnce(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{})
	services := []*orders.Service{y.Service, y.open()}
	var wg sync.WaitGroup
	errs := make([]error, 12)
	for i := range errs {
		wg.Go(func() {
			_, errs[i] = services[i%2].Void(y.ctx, y.act(), 1, orders.VoidRequest{Reason: "The load came back"})
		})
	}
	wg.Wait()
	done := 0
	for _, err := range errs {
		if err == nil {
			done++
			continue
		}
		requireKind(t, act.Conflict, err)
	}
	require.Equal(t, 1, done)
	last, err := y.Receipt(y.ctx, owner, 2)
	require.NoError(t, err)
	require.Equal(t, orders.VoidReceipt, last.Receipt.Facts.Kind)
	y.noFaults()
}

// The same request again is answered with the same receipt; for another receipt it
// is a Conflict.
func TestAnEndingIsDoneOnceForARequest(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	y.deliver(o.ID, orders.LoadRequest{})
	doing := y.act()
	first, err := y.Void(y.ctx, doing, 1, orders.VoidRequest{Reason: "Returned"})
	require.NoError(t, err)
	again, err := y.Void(y.ctx, doing, 1, orders.VoidRequest{Reason: "Returned"})
	require.NoError(t, err)
	require.Equal(t, first.Seal, again.Seal)
	_, err = y.Void(y.ctx, doing, 2, orders.VoidRequest{Reason: "Returned"})
	requireKind(t, act.Conflict, err)
}

// A correction stands in the place of what it corrects: what changed and what was is
// on it, its price follows its load, and the customer's name with it.
func TestCorrectionStandsInPlace(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	first := y.deliver(o.ID, orders.LoadRequest{})
	now := y.correct(1, func(r *orders.CorrectionRequest) {
		r.Reason, r.Delivered, r.Species, r.PurchaserName = "The last row was not unloaded", "3/4 cord", "White oak", "Ada Quill-Marsh"
	})
	f := now.Receipt.Facts
	require.Equal(t, orders.CorrectionReceipt, f.Kind)
	require.Equal(t, cords(3, 4), f.Delivered)
	require.Equal(t, "235.00 USD", f.Price.Total().String()) // 210 and the delivery of 25
	require.Equal(t, "White oak", f.Species)
	require.Equal(t, "Red oak", f.Former.Species)
	require.Equal(t, cords(1, 1), f.Former.Delivered)
	require.Equal(t, "305.00 USD", f.Former.Total.String())
	require.Equal(t, "Ada Quill", now.Receipt.WasPurchaser.Name)
	require.NotContains(t, string(now.FactBytes), "Quill", "names can be erased, facts stay")

	h := y.history(o.ID)
	require.Equal(t, orders.PartLoad, h.Order.State)
	require.Len(t, h.Loads, 1)
	require.EqualValues(t, 2, h.Loads[0].Receipt)
	require.Equal(t, "Ada Quill-Marsh", h.Order.Customer.Name)
	require.Equal(t, first.FactBytes, mustReceipt(y, 1).FactBytes)

	rest := y.deliver(o.ID, orders.LoadRequest{})
	require.Equal(t, cords(1, 4), rest.Receipt.Facts.Delivered)
	require.Equal(t, "70.00 USD", rest.Receipt.Facts.Price.Total().String())
	sheet := y.measure(o.ID)
	require.Len(t, sheet.Sheet.Receipts, 2, "the sheet speaks of the receipts that count")
	require.EqualValues(t, 2, sheet.Sheet.Receipts[0].Number)
	y.noFaults()
}

func mustReceipt(y *sellerYard, number int64) orders.Issued {
	y.t.Helper()
	r, err := y.Receipt(y.ctx, owner, number)
	require.NoError(y.t, err)
	return r
}

// However receipts are corrected and made void, those that count sum to the price of
// what they say was delivered, up to what was ordered.
func TestReceiptsThatCountSumToThePrice(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.PricePerCord, r.Deposit = "100.01", "60"
	o := y.take(r)
	y.deliver(o.ID, orders.LoadRequest{Delivered: "3/4 cord"})       // 1
	y.deliverAnyway(o.ID, orders.LoadRequest{Delivered: "1/2 cord"}) // 2: a quarter of it free
	y.correct(1, func(r *orders.CorrectionRequest) { r.Delivered = "1/3 cord" })
	y.void(2, "Came back")
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/3 cord"})
	y.deliver(o.ID, orders.LoadRequest{})
	var wood, deposit, fees int64
	var priced measure.Volume
	for _, l := range y.history(o.ID).Loads {
		f := mustReceipt(y, l.Receipt).Receipt.Facts
		wood, deposit, fees = wood+f.Price.Wood.Minor, deposit+f.Deposit.Minor, fees+int64(len(f.Price.Fees))
		priced += f.Priced.Volume
	}
	require.EqualValues(t, 10001, wood)
	require.EqualValues(t, 6000, deposit)
	require.EqualValues(t, 1, fees)
	require.Equal(t, measure.Cord, priced)
	y.noFaults()
}

func TestCorrectionIsChecked(t *testing.T) {
	y := newYard(t)
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	_, err := y.Correct(y.ctx, y.act(), 1, y.correction(1, func(*orders.CorrectionRequest) {}))
	require.Equal(t, map[string]string{"delivered": "unchanged"}, faults(t, err))
	_, err = y.Correct(y.ctx, y.act(), 1, orders.CorrectionRequest{})
	require.Equal(t, map[string]string{
		"piece_length": "missing", "delivered": "missing", "on": "missing", "reason": "missing",
		"species": "missing", "purchaser_name": "missing", "purchaser_address": "missing",
	}, faults(t, err))
	_, err = y.Correct(y.ctx, y.act(), 1, y.correction(1, func(r *orders.CorrectionRequest) {
		r.Delivered, r.Species, r.On, r.Seasoning = "2 face cords", "a truckload of oak", "2026-03-20", "wet"
	}))
	require.Equal(t, map[string]string{"delivered": "barred", "species": "barred", "on": "future", "seasoning": "unknown"}, faults(t, err))
	require.EqualValues(t, 1, len(y.history(y.orderOf(1)).Loads))
}

func (y *sellerYard) orderOf(number int64) string { return mustReceipt(y, number).OrderID }

// What a rule set asks of receipts it asks of corrections: Minnesota's where the
// wood was cut.
func TestCorrectionsKeepTheRulesOfSale(t *testing.T) {
	y := newYard(t)
	shop := goodShop()
	shop.RuleSet, shop.Version = "minnesota", 2
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	r := orderOf("64 cu ft stacked")
	r.Origin = "Itasca County, Minnesota"
	y.deliver(y.take(r).ID, measured())
	_, err = y.Correct(y.ctx, y.act(), 1, y.correction(1, func(r *orders.CorrectionRequest) { r.Origin, r.Delivered = "", "64 cu ft stacked" }))
	require.Equal(t, map[string]string{"origin": "missing", "measured_by": "missing", "measured_by_address": "missing"}, faults(t, err))
	now, err := y.Correct(y.ctx, y.act(), 1, y.correction(1, func(r *orders.CorrectionRequest) {
		r.Delivered, r.TicketRequest = "64 cu ft stacked", measured().TicketRequest
		r.MeasurerName = "Wren Tully"
	}))
	require.NoError(t, err)
	require.Equal(t, "Wren Tully", now.Receipt.Measurer.Name)
	require.Equal(t, "Nora Feld", now.Receipt.WasMeasurer.Name)
}

// A receipt from before there were kinds reads as a delivery's own.
func TestReceiptsOfOldReadAsDeliveries(t *testing.T) {
	var f orders.Facts
	require.NoError(t, json.Unmarshal([]byte(`{"format": 2, "number": 1}`), &f))
	require.Equal(t, orders.DeliveryReceipt, f.Kind)
	require.True(t, f.Kind.HandsOver())
}
