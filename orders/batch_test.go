package orders_test

import (
	"encoding/json"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

func goodBatch() yard.BatchRequest {
	return yard.BatchRequest{
		Name: "north bay", Species: "red oak", Quantity: "2 cords", PieceLength: "16 in", Cut: "2025-01-12", Split: "2025-04-20",
		Origin: "Slate County, New York", Certificate: "HT-0417", Notes: "by the gate",
	}
}

func (y *sellerYard) putUp(change ...func(*yard.BatchRequest)) yard.Batch {
	y.t.Helper()
	r := goodBatch()
	for _, c := range change {
		c(&r)
	}
	b, err := y.AddBatch(y.ctx, y.act(), r)
	require.NoError(y.t, err)
	return b
}

func (y *sellerYard) batch(id string) yard.BatchHistory {
	y.t.Helper()
	h, err := y.Batch(y.ctx, owner, id)
	require.NoError(y.t, err)
	return h
}

func (y *sellerYard) left(id string) measure.Quantity {
	y.t.Helper()
	return y.batch(id).Left
}

func TestABatchHoldsWhatLoadsLeaveOfIt(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	require.Equal(t, cords(2, 1), b.Left)
	require.Equal(t, "2025-04-20", b.Split.String())
	require.True(t, b.Open())

	o := y.take(goodOrder())
	issued := y.deliver(o.ID, orders.LoadRequest{Delivered: "3/4 cord", Batch: b.ID})
	require.Equal(t, &yard.BatchFact{
		ID: b.ID, Name: "north bay", Species: "red oak", PieceLength: 16 * measure.Inch,
		Cut: b.Cut, Split: b.Split, Origin: "Slate County, New York", Certificate: "HT-0417",
	}, issued.Receipt.Facts.Batch)
	require.Equal(t, "HT-0417", issued.Receipt.Facts.Certificate)
	require.NotContains(t, string(issued.FactBytes), "by the gate", "notes stay inside")
	require.Equal(t, cords(5, 4), y.left(b.ID))

	y.deliver(o.ID, orders.LoadRequest{}) // of no batch
	h := y.batch(b.ID)
	require.Equal(t, cords(5, 4), h.Left)
	require.Equal(t, cords(3, 4), h.Drawn)
	require.Len(t, h.Loads, 1)
	require.EqualValues(t, 1, h.Loads[0].Receipt)
	require.Equal(t, o.Number, h.Loads[0].Order)

	history, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Equal(t, b.ID, history.Loads[0].Batch)
	require.Empty(t, history.Loads[1].Batch)
	require.Equal(t, []yard.BatchRef{{ID: b.ID, Name: "north bay"}}, history.Batches)

	all, err := y.Batches(y.ctx, driver)
	require.NoError(t, err)
	require.Equal(t, []yard.Batch{h.Batch}, all)
	y.noFaults()
}

func TestALoadIsRefusedThatItsBatchCannotGive(t *testing.T) {
	y := newYard(t)
	b := y.putUp(func(r *yard.BatchRequest) { r.Quantity = "1/2 cord" })
	loose := y.putUp(func(r *yard.BatchRequest) { r.Name, r.Quantity = "bin", "180 cu ft loose" })
	o := y.take(goodOrder())
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Batch: b.ID})
	require.Equal(t, map[string]string{"batch": "too-much"}, faults(t, err))
	require.ErrorContains(t, err, "the load is 1 cord, and 1/2 cord is left of north bay")
	require.ErrorContains(t, err, "a load of up to 1/2 cord, or another batch")
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: loose.ID})
	require.Equal(t, map[string]string{"batch": "other-basis"}, faults(t, err))
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Batch: newRequest()})
	require.Equal(t, map[string]string{"batch": "unknown"}, faults(t, err))

	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord", Batch: b.ID})
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID})
	require.Equal(t, map[string]string{"batch": "nothing-left"}, faults(t, err))
	_, err = y.EndBatch(y.ctx, y.act(), b.ID, yard.BatchEnd{Rest: "all gone"})
	require.NoError(t, err)
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID})
	require.Equal(t, map[string]string{"batch": "used-up"}, faults(t, err))
	require.Len(t, y.batch(b.ID).Loads, 1)
}

// Two processes race for the last half cord: one gets it.
func TestTheLastOfABatchIsDrawnOnce(t *testing.T) {
	y := newYard(t)
	b := y.putUp(func(r *yard.BatchRequest) { r.Quantity = "1/2 cord" })
	services := []*orders.Service{y.Service, y.open(), y.open()}
	errs := make([]error, 6)
	ids := make([]string, len(errs))
	for i := range ids {
		ids[i] = y.take(goodOrder()).ID
	}
	var wg sync.WaitGroup
	for i := range errs {
		wg.Go(func() {
			_, errs[i] = services[i%len(services)].Deliver(y.ctx, y.act(), ids[i], orders.LoadRequest{Delivered: "1/2 cord", Batch: b.ID})
		})
	}
	wg.Wait()
	got := 0
	for _, err := range errs {
		if err == nil {
			got++
			continue
		}
		require.Equal(t, map[string]string{"batch": "nothing-left"}, faults(t, err))
	}
	require.Equal(t, 1, got)
	require.Zero(t, y.left(b.ID).Volume)
	y.noFaults()
}

// A batch that is counted again while the receipt is painted moves no counter of
// papers, and is seen all the same.
func TestACountWhileAReceiptIsPaintedIsSeen(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	slow := &overtaken{times: 1}
	slow.by = func() {
		_, err := y.CountBatch(y.ctx, y.act(), b.ID, yard.BatchCount{Left: "1/4 cord", Reason: "a row was given away"})
		require.NoError(t, err)
	}
	_, err := y.openWith(slow).Deliver(y.ctx, y.act(), y.take(goodOrder()).ID, orders.LoadRequest{Batch: b.ID})
	require.Equal(t, map[string]string{"batch": "too-much"}, faults(t, err))
	require.Equal(t, cords(1, 4), y.left(b.ID))
}

func TestWhatIsWrittenDownOfABatchStays(t *testing.T) {
	y := newYard(t)
	b := y.putUp(func(r *yard.BatchRequest) { r.Cut, r.Split = "", "Not known" })
	require.True(t, b.Cut.IsZero())
	require.True(t, b.Split.IsZero())
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{Batch: b.ID})

	doing := y.act()
	count := yard.BatchCount{Left: "2 1/2 cords", On: "2026-03-09", Reason: "a row behind was missed", CountedBy: "Wren"}
	counted, err := y.CountBatch(y.ctx, doing, b.ID, count)
	require.NoError(t, err)
	require.Equal(t, cords(5, 2), counted.Left)
	require.Zero(t, counted.Drawn.Volume)
	again, err := y.CountBatch(y.ctx, doing, b.ID, count)
	require.NoError(t, err)
	require.Equal(t, counted, again)

	r := goodBatch()
	r.Reason, r.Version = "split date found in the diary", counted.Version()
	corrected, err := y.CorrectBatch(y.ctx, y.act(), b.ID, r)
	require.NoError(t, err)
	require.Equal(t, "2025-04-20", corrected.Split.String())
	require.True(t, corrected.First.Split.IsZero(), "what was said first stays")
	_, err = y.CorrectBatch(y.ctx, y.act(), b.ID, r)
	requireKind(t, act.Conflict, err)

	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{Batch: b.ID})
	require.Equal(t, cords(3, 2), y.left(b.ID), "drawn from what was counted")
	ended, err := y.EndBatch(y.ctx, y.act(), b.ID, yard.BatchEnd{Rest: "the rest went to the kiln"})
	require.NoError(t, err)
	require.False(t, ended.Open())
	_, err = y.EndBatch(y.ctx, y.act(), b.ID, yard.BatchEnd{Rest: "again"})
	requireKind(t, act.Conflict, err)
	taken := y.putUp()
	require.Equal(t, "north bay", taken.Name, "the name of a used-up batch is free")

	back, err := y.CountBatch(y.ctx, y.act(), b.ID, yard.BatchCount{Left: "1/3 cord", Reason: "some was left"})
	require.NoError(t, err)
	require.True(t, back.Open())
	var kinds []yard.BatchEntryKind
	for _, e := range back.Entries {
		kinds = append(kinds, e.Kind)
	}
	require.Equal(t, []yard.BatchEntryKind{yard.BatchRecounted, yard.BatchCorrected, yard.BatchUsedUp, yard.BatchRecounted}, kinds)
	require.Equal(t, "Wren", back.Entries[0].By)
	require.Equal(t, "Odell", back.Entries[1].By)
	f := mustReceipt(y, 1).Receipt.Facts
	require.True(t, f.Batch.Split.IsZero(), "a receipt stays as it was printed")
}

func TestABatchRefusesWhatItCannotHold(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	for name, row := range map[string]struct {
		change func(*yard.BatchRequest)
		want   map[string]string
	}{
		"nothing": {func(r *yard.BatchRequest) { *r = yard.BatchRequest{} },
			map[string]string{"name": "missing", "species": "missing", "piece_length": "missing", "quantity": "missing"}},
		"no legal quantity":     {func(r *yard.BatchRequest) { r.Quantity = "3 face cords" }, map[string]string{"quantity": "barred"}},
		"split before cut":      {func(r *yard.BatchRequest) { r.Split = "2025-01-11" }, map[string]string{"split": "too-early"}},
		"cut tomorrow":          {func(r *yard.BatchRequest) { r.Cut = "2026-03-10" }, map[string]string{"cut": "future"}},
		"no day":                {func(r *yard.BatchRequest) { r.Cut = "last spring" }, map[string]string{"cut": "not-a-date"}},
		"a name that is taken":  {func(r *yard.BatchRequest) { r.Name = "North Bay" }, map[string]string{"name": "taken"}},
		"a name not printed":    {func(r *yard.BatchRequest) { r.Name = "север" }, map[string]string{"name": "unprintable"}},
		"a barred name":         {func(r *yard.BatchRequest) { r.Name = "face cord corner" }, map[string]string{"name": "barred"}},
		"a barred certificate":  {func(r *yard.BatchRequest) { r.Certificate = "per face cord" }, map[string]string{"certificate": "barred"}},
		"a barred term in note": {func(r *yard.BatchRequest) { r.Notes = "makes 9 face cords" }, map[string]string{"notes": "barred"}},
	} {
		r := goodBatch()
		r.Name = "south bay"
		row.change(&r)
		_, err := y.AddBatch(y.ctx, y.act(), r)
		require.Equal(t, row.want, faults(t, err), name)
	}
	_, err := y.CountBatch(y.ctx, y.act(), b.ID, yard.BatchCount{Left: "50 cu ft loose"})
	require.Equal(t, map[string]string{"left": "other-basis", "reason": "missing"}, faults(t, err))
	_, err = y.CorrectBatch(y.ctx, y.act(), b.ID, func() yard.BatchRequest { r := goodBatch(); r.Version, r.Reason = 1, "x"; return r }())
	require.Equal(t, map[string]string{"name": "no-change"}, faults(t, err))
	_, err = y.AddBatch(y.ctx, act.Act{Actor: driver, Request: newRequest()}, goodBatch())
	requireKind(t, act.Forbidden, err)
	_, err = y.CountBatch(y.ctx, act.Act{Actor: auditor, Request: newRequest()}, b.ID, yard.BatchCount{})
	requireKind(t, act.Forbidden, err)
	_, err = y.Batch(y.ctx, owner, newRequest())
	requireKind(t, act.NotFound, err)
}

// A count of a day before a load was drawn would count its wood twice.
func TestACountIsOfWhatLiesThereNow(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	y.now = y.now.Add(48 * time.Hour)
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{Batch: b.ID})
	_, err := y.CountBatch(y.ctx, y.act(), b.ID, yard.BatchCount{Left: "2 cords", On: "2026-03-10", Reason: "counted"})
	require.Equal(t, map[string]string{"on": "too-early"}, faults(t, err))
}

// A void gives the wood back, a correction takes what it says; what left before the
// batch was last counted touches it no more.
func TestReceiptsThatEndGiveTheWoodBack(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{Batch: b.ID}) // 1
	require.Equal(t, cords(1, 1), y.left(b.ID))
	now := y.correct(1, func(r *orders.CorrectionRequest) { r.Reason, r.Delivered = "A row stayed on the truck", "3/4 cord" }) // 2
	require.Equal(t, "north bay", now.Receipt.Facts.Batch.Name)
	require.Equal(t, cords(5, 4), y.left(b.ID))
	_, err := y.Correct(y.ctx, y.act(), 2, y.correction(2, func(r *orders.CorrectionRequest) { r.Reason, r.Delivered = "More", "2 1/4 cords" }))
	require.Equal(t, map[string]string{"delivered": "too-much", "confirmed": "read-back"}, faults(t, err))
	require.ErrorContains(t, err, "2 cords is left of north bay, with what this receipt took")
	y.void(2, "Came back") // 3
	require.Equal(t, cords(2, 1), y.left(b.ID))
	require.Empty(t, y.batch(b.ID).Loads)

	y.deliver(o.ID, orders.LoadRequest{Batch: b.ID}) // 4
	_, err = y.CountBatch(y.ctx, y.act(), b.ID, yard.BatchCount{Left: "1 1/2 cords", Reason: "counted for the winter"})
	require.NoError(t, err)
	y.correct(4, func(r *orders.CorrectionRequest) { r.Reason, r.Delivered = "Less", "1/2 cord" }) // 5
	require.Equal(t, cords(3, 2), y.left(b.ID), "it left before the count")
	y.void(5, "Came back")
	require.Equal(t, cords(3, 2), y.left(b.ID), "it was not there when it was counted")
	y.noFaults()
}

// The newest readings count, of the order or of the batch.
func TestTheNewestReadingsStandOnTheReceipt(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	o := y.take(goodOrder())
	f := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID}).Receipt.Facts
	require.Nil(t, f.Moisture, "nothing was read")

	r := goodMoisture()
	r.On, r.ReadBy = "2026-03-05", "Pim"
	m, err := y.AddBatchMoisture(y.ctx, y.act(), b.ID, r)
	require.NoError(t, err)
	require.Equal(t, b.ID, m.BatchID)
	require.Empty(t, m.OrderID)
	f = y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID}).Receipt.Facts
	require.Equal(t, "Pim", f.Moisture.By)
	require.True(t, f.Moisture.OfBatch)
	require.Equal(t, wood.PinMeter, f.Moisture.Method)
	f = y.deliver(o.ID, orders.LoadRequest{Delivered: "1/8 cord"}).Receipt.Facts
	require.Nil(t, f.Moisture, "a load of no batch has no readings of one")

	r.On, r.ReadBy = "2026-03-07", "Wren"
	y.moisture(o.ID, r)
	f = y.deliver(o.ID, orders.LoadRequest{Delivered: "1/8 cord", Batch: b.ID}).Receipt.Facts
	require.Equal(t, "Wren", f.Moisture.By)
	require.False(t, f.Moisture.OfBatch)

	r.On, r.ReadBy, r.Readings = "2026-03-04", "Odell", "40\n41\n42\n43\n44"
	_, err = y.AddBatchMoisture(y.ctx, y.act(), b.ID, r) // written down later, of an earlier day
	require.NoError(t, err)
	f = y.deliver(o.ID, orders.LoadRequest{Delivered: "1/8 cord", Batch: b.ID}).Receipt.Facts
	require.Equal(t, "Wren", f.Moisture.By)
	require.Len(t, y.batch(b.ID).Moistures, 2)
	_, err = y.AddBatchMoisture(y.ctx, y.act(), newRequest(), r)
	requireKind(t, act.NotFound, err)
}

// Wood stated dry whose readings are above the limit leaves only after a yes to those
// very readings, and the receipt prints them.
func TestWoodStatedDryAgainstItsReadingsIsAskedBack(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	o := y.take(goodOrder())
	r := goodMoisture()
	r.Readings = "27\n28\n29\n28\n28"
	_, err := y.AddBatchMoisture(y.ctx, y.act(), b.ID, r)
	require.NoError(t, err)
	load := orders.LoadRequest{Delivered: "1/2 cord", Batch: b.ID}
	for _, yes := range []string{"", "yes", "27 % dry basis"} {
		load.Confirmed = yes
		_, err = y.Deliver(y.ctx, y.act(), o.ID, load)
		require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), yes)
		require.ErrorContains(t, err, "accepted: 28 % dry basis")
	}
	load.Confirmed = "28 % dry basis"
	f := y.deliver(o.ID, load).Receipt.Facts
	require.Equal(t, yard.Seasoned, f.Seasoning)
	require.Equal(t, "28 % dry basis", f.Moisture.Mean.String())
	require.Equal(t, wood.Above, f.Moisture.Verdict)

	green := goodOrder()
	green.Seasoning = "green"
	y.deliver(y.take(green).ID, orders.LoadRequest{Delivered: "1/2 cord", Batch: b.ID}) // says no more than is so
}

func TestWoodOfAnotherKindThanOrderedIsAskedBack(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	other := goodOrder()
	other.Species, other.PieceLength, other.Origin, other.Certificate = "white ash", "18 in", "Elm County, New York", "HT-1"
	o := y.take(other)
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Batch: b.ID})
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	require.ErrorContains(t, err, "accepted: red oak; 16 in; Slate County, New York; HT-0417")
	f := y.deliver(o.ID, orders.LoadRequest{Batch: b.ID, Confirmed: "red oak; 16 in; Slate County, New York; HT-0417"}).Receipt.Facts
	require.Equal(t, []string{"white ash", "Elm County, New York", "HT-1"}, []string{f.Species, f.Origin, f.Certificate}, "the order's go before")

	mixed := goodOrder()
	mixed.Species = "mixed hardwood" // may be red oak
	y.deliver(y.take(mixed).ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID})
}

// Minnesota asks where the wood was cut; the batch says it where the order does not.
func TestABatchSaysWhatTheOrderDoesNot(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	shop := goodShop()
	shop.RuleSet, shop.Version = "minnesota", 2
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	r := orderOf("64 cu ft stacked")
	r.Species = ""
	o := y.take(r)
	_, err = y.Deliver(y.ctx, y.act(), o.ID, measured())
	require.Equal(t, map[string]string{"order.origin": "missing", "order.species": "missing"}, faults(t, err))
	drawn := measured()
	drawn.Batch = b.ID
	f := y.deliver(o.ID, drawn).Receipt.Facts
	require.Equal(t, "Slate County, New York", f.Origin)
	require.Equal(t, "red oak", f.Species)
	require.Equal(t, "HT-0417", f.Certificate)
}

func TestAnOrderKeepsItsCertificate(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Certificate = "HT-9"
	o := y.take(r)
	require.Equal(t, "HT-9", o.Certificate)
	require.Equal(t, "HT-9", y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts.Certificate)
	r.Certificate = "a face cord"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"certificate": "barred"}, faults(t, err))
}

// A receipt as it was stored in format 2, with readings, reads as it did.
func TestAReceiptOfFormat2Reads(t *testing.T) {
	var f orders.Facts
	require.NoError(t, json.Unmarshal([]byte(`{"format":2,"number":7,"species":"Red oak","seasoning":"seasoned","moisture":{"mean":{"percent":16.4,"basis":"dry"},
		"wettest":{"percent":18,"basis":"dry"},"limit":{"percent":20,"basis":"dry"},"verdict":"below","pieces":8,"method":"pin meter","by":"Wren","on":"2026-03-07"}}`), &f))
	require.Nil(t, f.Batch)
	require.Empty(t, f.Certificate)
	require.False(t, f.Moisture.OfBatch)
	require.Equal(t, "16.4 % dry basis", f.Moisture.Mean.String())
}

// A correction that states wood dry against its readings is asked back too; what was
// answered for the former receipt is not asked again.
func TestACorrectionIsAskedBackToo(t *testing.T) {
	y := newYard(t)
	b := y.putUp()
	r := goodMoisture()
	r.Readings = "27\n28\n29\n28\n28"
	_, err := y.AddBatchMoisture(y.ctx, y.act(), b.ID, r)
	require.NoError(t, err)
	green := goodOrder()
	green.Seasoning = "green"
	y.deliver(y.take(green).ID, orders.LoadRequest{Delivered: "1/2 cord", Batch: b.ID})
	to := y.correction(1, func(r *orders.CorrectionRequest) { r.Reason, r.Seasoning = "misread", "seasoned" })
	_, err = y.Correct(y.ctx, y.act(), 1, to)
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	to.Confirmed = "28 % dry basis"
	_, err = y.Correct(y.ctx, y.act(), 1, to)
	require.NoError(t, err)
	y.correct(2, func(r *orders.CorrectionRequest) { r.Reason, r.Delivered = "less", "1/4 cord" })
}

// A seller who put up what came has no single species to name; only the forecast needs
// one of the table.
func TestABatchOfWoodThatIsNoSpecies(t *testing.T) {
	y := newYard(t)
	for name, row := range map[string]struct {
		species string
		planned bool
	}{"east": {"mixed hardwood", false}, "west": {"oak", true}, "south": {"red oak", true}} {
		r := goodBatch()
		r.Name, r.Species, r.Split = name, row.species, "2026-03-01"
		b, err := y.AddBatch(y.ctx, y.act(), r)
		require.NoError(t, err, name)
		require.Equal(t, row.species, b.Species)
		require.Equal(t, row.planned, b.Drying() != nil, name)
	}
}
