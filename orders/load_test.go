package orders_test

import (
	"encoding/json"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestDeliverIssuesAReceipt(t *testing.T) {
	y := newYard(t)
	y.now = time.Date(2026, 3, 10, 2, 30, 0, 0, time.UTC) // still the 9th in New York
	r := goodOrder()
	r.Deposit = "50"
	o := y.take(r)
	issued := y.deliver(o.ID, orders.LoadRequest{})

	f := issued.Receipt.Facts
	require.Equal(t, orders.ReceiptFormat, f.Format)
	require.EqualValues(t, 1, f.Number)
	require.Equal(t, y.now, f.Issued)
	require.Equal(t, "2026-03-09", f.DeliveredOn.String())
	require.Equal(t, "us-model", f.RuleSet.Code)
	require.Equal(t, stack.ModelNumber, f.Model)
	require.Equal(t, 1, f.Layout)
	require.Equal(t, orders.Party{Name: "Alder Bend Firewood", Address: "2 Kiln Road\nAlder Bend", Phone: "555-0100"}, f.Vendor)
	require.Equal(t, orders.Party{Name: "Ada Quill", Address: "7 Ferry Lane\nAlder Bend"}, issued.Receipt.Purchaser)
	require.Equal(t, o.Number, f.Order)
	require.Equal(t, []measure.Quantity{cords(1, 1), cords(1, 1), cords(1, 1)}, []measure.Quantity{f.Ordered, f.Delivered, f.Priced})
	require.Nil(t, f.Measured)
	require.Equal(t, "Red oak", f.Species)
	require.Equal(t, o.Price, f.Price)
	require.Equal(t, "50.00 USD", f.Deposit.String())
	require.NotNil(t, f.Storage)
	require.Empty(t, f.Previous)
	require.Regexp(t, `^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$`, issued.Seal)
	require.Len(t, issued.Salt, 16)

	var painted struct {
		Receipt orders.Receipt
		Seal    string
	}
	require.NoError(t, json.Unmarshal(issued.PDF, &painted))
	require.Equal(t, issued.Receipt, painted.Receipt, "the stored receipt is not the painted one")
	require.Equal(t, issued.Seal, painted.Seal)

	again, err := y.Receipt(y.ctx, driver, 1)
	require.NoError(t, err)
	require.Equal(t, issued, again)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Len(t, h.Loads, 1)
	require.Equal(t, cords(1, 1), h.Loads[0].Delivered)
	require.EqualValues(t, 1, h.Loads[0].Receipt)
	require.Equal(t, f.DeliveredOn, h.Loads[0].On)

	_, err = y.Receipt(y.ctx, owner, 2)
	requireKind(t, act.NotFound, err)
}

func TestPartLoadsFollowOneAnother(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	first := y.deliverAnyway(o.ID, orders.LoadRequest{Delivered: "1/3 cord", On: "2026-03-08"})
	second := y.deliver(o.ID, orders.LoadRequest{})
	require.Equal(t, cords(1, 3), first.Receipt.Facts.Delivered)
	require.Equal(t, "2026-03-08", first.Receipt.Facts.DeliveredOn.String())
	require.Equal(t, cords(2, 3), second.Receipt.Facts.Delivered)
	require.Equal(t, cords(2, 3), second.Receipt.Facts.Priced)
	require.Equal(t, first.Chain, second.Receipt.Facts.Previous)
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"delivered": "nothing-due"}, faults(t, err))
}

func TestDeliverRefuses(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	for _, row := range []struct {
		name string
		r    orders.LoadRequest
		want map[string]string
	}{
		{"later than tomorrow", orders.LoadRequest{On: "2026-03-11"}, map[string]string{"on": "future"}},
		{"no day", orders.LoadRequest{On: "9 March"}, map[string]string{"on": "not-a-date"}},
		{"loose wood, which the model law does not let be sold", orders.LoadRequest{Delivered: "180 cu ft loose"}, map[string]string{"delivered": "basis-not-sold"}},
		{"no legal quantity", orders.LoadRequest{Delivered: "a face cord"}, map[string]string{"delivered": "barred"}},
	} {
		_, err := y.Deliver(y.ctx, y.act(), o.ID, row.r)
		require.Equal(t, row.want, faults(t, err), row.name)
	}
	y.deliver(o.ID, orders.LoadRequest{On: "2026-03-10"}) // tomorrow is taken
	_, err := y.Deliver(y.ctx, y.act(), "no-such-order", orders.LoadRequest{})
	requireKind(t, act.NotFound, err)
}

func TestAReceiptNamesAllThatIsMissing(t *testing.T) {
	y := bareYard(t)
	_, err := y.ChangeShop(y.ctx, y.act(), orders.ShopRequest{Zone: "America/New_York", Currency: "USD", Version: 1})
	require.NoError(t, err)
	r := goodOrder()
	r.CustomerAddress, r.Species = "", ""
	o := y.take(r)
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{
		"shop.name": "missing", "shop.address": "missing", "customer_address": "missing", "order.species": "missing",
	}, faults(t, err))
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Empty(t, h.Loads)
}

func TestNamesThatCannotBePrintedAreAskedFor(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.CustomerName, r.CustomerAddress = "Анна Quill", "улица 7"
	o := y.take(r)
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"print_name": "unprintable", "print_address": "unprintable"}, faults(t, err))
	require.Contains(t, err.Error(), "А н н а")

	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{PrintName: "Аnna", PrintAddress: "7 Ulitsa"})
	require.Equal(t, map[string]string{"print_name": "unprintable"}, faults(t, err))

	issued := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord", PrintName: "Anna Quill", PrintAddress: "7 Ulitsa"})
	require.Equal(t, orders.Party{Name: "Anna Quill", Address: "7 Ulitsa"}, issued.Receipt.Purchaser)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Equal(t, "Анна Quill", h.Order.Customer.Name)
	require.Equal(t, "Anna Quill", h.Order.Customer.PrintName)

	issued = y.deliver(o.ID, orders.LoadRequest{}) // the spelling was kept
	require.Equal(t, "Anna Quill", issued.Receipt.Purchaser.Name)
}

func TestAVolumeMeasuredBeforeLeavingIsOnTheReceipt(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	sheet := y.measure(o.ID)
	issued := y.deliver(o.ID, orders.LoadRequest{})
	require.NotNil(t, issued.Receipt.Facts.Measured)
	require.Equal(t, sheet.Sheet.Result.Quantity, *issued.Receipt.Facts.Measured)

	o = y.take(goodOrder())
	y.measure(o.ID)
	part := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	require.Nil(t, part.Receipt.Facts.Measured, "a part load carries the measure of the whole")
}

func TestManyDeliverAtOnceWithoutGapOrDouble(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	const many, processes = 50, 10
	services := []*orders.Service{y.Service}
	for len(services) < processes {
		services = append(services, y.open())
	}
	ids := make([]string, many)
	for i := range ids {
		ids[i] = y.take(goodOrder()).ID
	}
	numbers := make([]int64, many)
	var wg sync.WaitGroup
	for i := range many {
		wg.Go(func() {
			issued, err := services[i%processes].Deliver(y.ctx, y.act(), ids[i], orders.LoadRequest{})
			if err != nil {
				t.Errorf("delivery %d: %v", i, err)
				return
			}
			numbers[i] = issued.Receipt.Facts.Number
		})
	}
	wg.Wait()
	seen := map[int64]bool{}
	for _, n := range numbers {
		seen[n] = true
	}
	for n := int64(1); n <= many; n++ {
		require.True(t, seen[n], "no receipt %d", n)
	}
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, v.Faults)
	require.Equal(t, many, v.Receipts)
}

func TestOneOrderDeliveredTwiceAtOnceIsDeliveredOnce(t *testing.T) {
	y := newYard(t)
	other := y.open()
	o := y.take(goodOrder())
	errs := make([]error, 2)
	var wg sync.WaitGroup
	for i, service := range []*orders.Service{y.Service, other} {
		wg.Go(func() { _, errs[i] = service.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{}) })
	}
	wg.Wait()
	if errs[0] != nil {
		errs[0], errs[1] = errs[1], errs[0]
	}
	require.NoError(t, errs[0])
	require.Equal(t, map[string]string{"delivered": "nothing-due"}, faults(t, errs[1]))
}

// overtaken is a printer that is so slow that another process issues a receipt
// while it paints, some times over.
type overtaken struct {
	paperless
	times int
	by    func()
}

func (p *overtaken) Receipt(r orders.Receipt, seal string) ([]byte, error) {
	if p.times > 0 {
		p.times--
		p.by()
	}
	return p.paperless.Receipt(r, seal)
}

// A process that is overtaken at every try still issues in the end.
func TestDeliverIsNotKeptOutByOthers(t *testing.T) {
	y := newYard(t)
	slow := &overtaken{times: 5}
	slow.by = func() { y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}) }
	issued, err := y.openWith(slow).Deliver(y.ctx, y.act(), y.take(goodOrder()).ID, orders.LoadRequest{})
	require.NoError(t, err)
	require.EqualValues(t, 6, issued.Receipt.Facts.Number)
	require.Zero(t, slow.times)
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, v.Faults)
}

func TestOneRequestSentTwiceAtOnceIsOneLoad(t *testing.T) {
	y := newYard(t)
	services := []*orders.Service{y.Service, y.open()}
	o := y.take(goodOrder())
	act := y.act()
	issued := make([]orders.Issued, 4)
	var wg sync.WaitGroup
	for i := range issued {
		wg.Go(func() {
			var err error
			if issued[i], err = services[i%2].Deliver(y.ctx, act, o.ID, orders.LoadRequest{Delivered: "1/4 cord"}); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
	for _, other := range issued {
		require.Equal(t, issued[0], other)
	}
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Len(t, h.Loads, 1)
}

// Where wood can stand is on the receipt that hands over stacked wood, and on no other: loose
// wood has no size to stand in, and a correction or a void brings no wood.
func TestOnlyStackedWoodHandedOverHasAPlaceToStand(t *testing.T) {
	y := yardUnder(t, "maine", "imperial")
	for said, stands := range map[string]bool{"64 cu ft stacked": true, "180 cu ft loose": false} {
		issued := y.deliver(y.take(orderOf(said)).ID, orders.LoadRequest{})
		require.Equal(t, stands, issued.Receipt.Facts.Storage != nil, said)
		ended := y.void(issued.Receipt.Facts.Number, "The load came back")
		require.Nil(t, ended.Receipt.Facts.Storage, said)
	}
}
