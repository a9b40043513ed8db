package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// Title 6 NYCRR section 192.5, as others restate it: untreated wood goes no more than 50
// miles, and its origin is stated; treated wood has its certificate.
func TestNewYorkAsksHowTheWoodMayBeMoved(t *testing.T) {
	y := yardUnder(t, "new-york", "imperial")
	r := orderOf("64 cu ft stacked")
	load := orders.LoadRequest{TicketRequest: orders.TicketRequest{StackSize: "12 ft × 4 ft × 16 in", DriedFor: "14 months", DriedHow: "split, top covered"}}
	r.Origin = "Slate County, New York"
	_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, load)
	assert.Equal(t, map[string]string{"moving": "missing"}, faults(t, err))
	load.Moving = "by boat"
	_, err = y.Deliver(y.ctx, y.act(), y.take(r).ID, load)
	assert.Equal(t, "unknown", faults(t, err)["moving"])
	load.Moving = "treated"
	_, err = y.Deliver(y.ctx, y.act(), y.take(r).ID, load)
	assert.Equal(t, map[string]string{"order.certificate": "missing"}, faults(t, err))
	load.Moving = "near"
	f := y.deliver(y.take(r).ID, load).Receipt.Facts
	assert.Contains(t, f.Ticket.MovingSays, "50 miles")
	load.DriedHow, load.DriedFor = "", ""
	_, err = y.Deliver(y.ctx, y.act(), y.take(r).ID, load)
	assert.Equal(t, map[string]string{"dried_for": "missing", "dried_how": "missing"}, faults(t, err), "seasoned says how long and in what manner")
	r.Seasoning = "green"
	y.deliver(y.take(r).ID, load)
}

// Connecticut General Statutes, section 43-27: seasoned is air-dried for 6 months.
func TestConnecticutTakesSeasonedForATime(t *testing.T) {
	y := yardUnder(t, "connecticut", "imperial")
	r := orderOf("1 cord")
	dried := func(text string) orders.LoadRequest {
		return orders.LoadRequest{TicketRequest: orders.TicketRequest{DriedFor: text}}
	}
	for text, code := range map[string]string{"": "missing", "a long time": "missing", "5 months": "too-short"} {
		_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, dried(text))
		assert.Equal(t, map[string]string{"dried_for": code}, faults(t, err), text)
	}
	for _, text := range []string{"6 months", "about 14 months", "1 year"} {
		y.deliver(y.take(r).ID, dried(text))
	}
	r.Seasoning = "green"
	y.deliver(y.take(r).ID, orders.LoadRequest{})
}

// SI 2020/1095: the statutory notice goes with 2 m³ or more, a certificate with less.
func TestEnglandsNoticeGoesWithLargerLoads(t *testing.T) {
	y := yardUnder(t, "england", "metric")
	_, err := y.Deliver(y.ctx, y.act(), y.take(orderOf("1.99 m³ loose")).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"moisture_certificate": "missing"}, faults(t, err))
	small := y.deliver(y.take(orderOf("1.99 m³ loose")).ID, orders.LoadRequest{TicketRequest: orders.TicketRequest{MoistureCertificate: "R2R-1"}})
	assert.Empty(t, small.Receipt.Facts.Says)
	large := y.deliver(y.take(orderOf("2 m³ loose")).ID, orders.LoadRequest{})
	require.Len(t, large.Receipt.Facts.Says, 1)
	assert.Contains(t, large.Receipt.Facts.Says[0].Words, "Dry it in a sunny, well-aired space for at least two years")
}
