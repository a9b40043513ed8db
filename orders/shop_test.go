package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestANewDatabaseIsAShop(t *testing.T) {
	y := bareYard(t)
	require.NoError(t, y.Ready(y.ctx))
	shop, err := y.Shop(y.ctx, driver)
	require.NoError(t, err)
	require.Equal(t, orders.Shop{
		Version: 1, Currency: "USD", Zone: "UTC", Paper: orders.Letter, Units: act.Imperial, Language: "en", RuleSet: "us-model",
	}, shop)
}

func TestChangeShop(t *testing.T) {
	y := bareYard(t)
	saved, err := y.ChangeShop(y.ctx, y.act(), goodShop())
	require.NoError(t, err)
	read, err := y.Shop(y.ctx, owner)
	require.NoError(t, err)
	require.Equal(t, saved, read)
	require.Equal(t, "Alder Bend Firewood", read.Name)
	require.EqualValues(t, 2, read.Version)

	_, err = y.ChangeShop(y.ctx, y.act(), goodShop())
	requireKind(t, act.Conflict, err) // the version is old
}

func TestChangeShopNamesEveryFault(t *testing.T) {
	y := bareYard(t)
	_, err := y.ChangeShop(y.ctx, y.act(), orders.ShopRequest{
		Name: "Дрова", Address: "a\x00b", Currency: "BUCKS", Zone: "Local", Paper: "a5", Units: "cubits", Version: 1,
	})
	require.Equal(t, map[string]string{
		"name": "unprintable", "address": "bad-text", "currency": "unknown", "zone": "unknown", "paper": "unknown", "units": "unknown",
	}, faults(t, err))
}

// Nobody sells in UTC and dollars without having said so: a new shop says its zone and
// currency before anything is sold, and so does one that was kept from before it was asked.
func TestAShopSaysItsZoneAndCurrency(t *testing.T) {
	y := bareYard(t)
	unsaid := goodShop()
	unsaid.Zone, unsaid.Currency = "", ""
	_, err := y.ChangeShop(y.ctx, y.act(), unsaid)
	require.Equal(t, map[string]string{"zone": "missing", "currency": "missing"}, faults(t, err))
	_, err = y.TakeOrder(y.ctx, y.act(), goodOrder())
	require.Equal(t, map[string]string{"shop.zone": "missing"}, faults(t, err))
	shop, err := y.ChangeShop(y.ctx, y.act(), goodShop())
	require.NoError(t, err)
	require.True(t, shop.Located)
	o := y.take(goodOrder())
	later := goodShop()
	later.Zone, later.Currency, later.Version = "", "", shop.Version
	shop, err = y.ChangeShop(y.ctx, y.act(), later)
	require.NoError(t, err, "once said, they stay where they are left empty")
	require.Equal(t, "America/New_York", shop.Zone)

	// A shop in UTC with orders, from before it was asked.
	y.tamper(`UPDATE shop SET located = 0, zone = 'UTC'`)
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"shop.zone": "missing"}, faults(t, err))
	later.Zone, later.Currency, later.Version = "UTC", "USD", shop.Version
	_, err = y.ChangeShop(y.ctx, y.act(), later)
	require.NoError(t, err, "UTC can be meant")
	y.deliver(o.ID, orders.LoadRequest{})
}

func TestCurrencyIsFixedOnceOrdersArePriced(t *testing.T) {
	y := newYard(t)
	y.take(goodOrder())
	r := goodShop()
	r.Version, r.Currency = 2, "EUR"
	_, err := y.ChangeShop(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"currency": "fixed"}, faults(t, err))
}

func TestRolesMayWhatTheTableSays(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	as := func(who act.Actor) act.Act { return act.Act{Actor: who, Request: newRequest()} }
	tries := []struct {
		name            string
		try             func(who act.Actor) error
		driver, auditor bool
	}{
		{"read a shop", func(who act.Actor) error { _, err := y.Shop(y.ctx, who); return err }, true, true},
		{"list orders", func(who act.Actor) error { _, err := y.Orders(y.ctx, who, 0, 0); return err }, true, true},
		{"verify", func(who act.Actor) error { _, err := y.Verify(y.ctx, who, nil); return err }, true, true},
		{"try a tally", func(who act.Actor) error { _, _, err := y.TryTally(y.ctx, who, o.ID, cordTally()); return err }, true, true},
		{"save a tally", func(who act.Actor) error {
			_, err := y.SaveTally(y.ctx, as(who), o.ID, orders.TallyRequest{Document: cordTally()})
			return err
		}, true, true},
		{"deliver", func(who act.Actor) error {
			_, err := y.Deliver(y.ctx, as(who), o.ID, orders.LoadRequest{Delivered: "1/4 cord"})
			return err
		}, true, false},
		{"make a receipt void", func(who act.Actor) error {
			_, err := y.Void(y.ctx, as(who), 1, orders.VoidRequest{Reason: "The load came back"})
			return err
		}, false, false},
		{"take an order", func(who act.Actor) error { _, err := y.TakeOrder(y.ctx, as(who), goodOrder()); return err }, false, false},
		{"change an order", func(who act.Actor) error { _, err := y.ChangeOrder(y.ctx, as(who), o.ID, goodOrder()); return err }, false, false},
		{"cancel an order", func(who act.Actor) error { _, err := y.CancelOrder(y.ctx, as(who), o.ID, 1); return err }, false, false},
		{"change the shop", func(who act.Actor) error { _, err := y.ChangeShop(y.ctx, as(who), goodShop()); return err }, false, false},
	}
	for _, row := range tries {
		for who, may := range map[act.Actor]bool{driver: row.driver, auditor: row.auditor, {Role: "stranger"}: false} {
			err := row.try(who)
			if may {
				require.NoError(t, err, "%s as %s", row.name, who.Role)
			} else {
				require.Equal(t, act.Forbidden, act.KindOf(err), "%s as %s", row.name, who.Role)
			}
		}
	}
}
