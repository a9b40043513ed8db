package receipts

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	spans "wellstowed/orders/day"
	"wellstowed/orders/road"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// sampleRoad is a day with a trip of two stops, one of them with all that may be said of it.
func sampleRoad() road.Day {
	on := act.Date{Year: 2026, Month: time.November, Day: 28}
	cord := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	half := cord
	half.Volume /= 2
	order := func(number int64, name, address string) orders.Order {
		return orders.Order{Number: number, Customer: orders.Customer{Name: name, Address: address, Phone: "555-010" + fmt.Sprint(number)}, Species: "red oak",
			PieceLength: 16 * measure.Inch, Seasoning: yard.Seasoned, Quantity: cord, Notes: "Stack by the east wall",
			Day: spans.Span{From: on, To: on, Hours: spans.Hours{Part: spans.Morning}}}
	}
	first := road.Drop{Stop: orders.Stop{Order: order(1, "Ida Thornquist", "4 Mill Lane\nRoxbury, VT 05669"), Due: cord}, Wood: cord, Weight: 2 * wood.Tonne, Share: 0.5,
		Collect: usd(34000), Access: "Gate is 9 ft wide\nBack in past the shed", Stacking: "Two rows", Place: "44.0,-72.0"}
	second := road.Drop{Stop: orders.Stop{Order: order(2, "Bo Lund", "31 Quarry Row\nSlate"), Due: half}, Wood: half, Weight: wood.Tonne, Share: 0.25, Collect: usd(0)}
	second.Order.Species, second.Order.Notes, second.Order.Day = "sugar maple", "Call before", spans.Span{}
	body := yard.Body{Quantity: measure.Quantity{Volume: 2 * measure.Cord, Basis: measure.Ranked}}
	return road.Day{On: on, Today: on, Yard: "44.0,-72.1", Trips: []road.Trip{{Number: 3, Round: 2, Driver: "Wren", Drops: []road.Drop{first, second},
		Vehicle: road.Vehicle{Name: "red truck", Body: &body, Limit: storage.Limit{Gross: 9 * wood.Tonne, Scale: 4 * wood.Tonne}},
		Share:   0.75, Weight: 3 * wood.Tonne, Way: 12 * 1609 * measure.Metre, Unplaced: 1}}}
}

// Everything that a driver needs of a trip stands on its run sheet, on every paper and in both
// systems of units, under rules with cords and without.
func TestEveryFactStandsOnARunSheet(t *testing.T) {
	p := plainPainter(t)
	for _, set := range []string{"us-model", "massachusetts", "england"} {
		onEveryPaper(func(units act.Units, paper orders.Paper) {
			d := sampleRoad()
			rules, err := p.rules.Get(set)
			require.NoError(t, err)
			print := words.New("en", units).SoldIn(rules.SoldIn(units == act.Metric))
			pdf, err := p.RunSheets(d, orders.Shop{Name: "Hollow Road Firewood", Paper: paper, Units: units, Language: "en", RuleSet: set})
			require.NoError(t, err)
			trip := d.Trips[0]
			says := func(texts ...string) mention {
				return mention{least: true, says: func(any) []string { return texts }}
			}
			used := map[string]bool{}
			mentions := map[string]mention{
				"Trip.Number": says(print.Trip(trip)), "Trip.Vehicle": says(print.Trip(trip), print.TripLoad(trip)), "Trip.Round": never("the trip of the day has its number"),
				"Trip.Driver": {least: true, say: func(any) string { return "Wren" }}, "Trip.Share": says(print.TripLoad(trip)), "Trip.Weight": says(print.TripLoad(trip)),
				"Trip.Way": says(print.TripWay(trip, true)), "Trip.Unplaced": says(print.TripWay(trip, true)),
				"Trip.Drops.*":             never("of the order and its customer, what is named below stands"),
				"Trip.Drops.Wood":          {least: true},
				"Trip.Drops.Access":        {},
				"Trip.Drops.Stacking":      {},
				"Trip.Drops.Collect":       says(print.DropMoney(trip.Drops[0]), print.DropMoney(trip.Drops[1])),
				"Trip.Drops.Order.Species": {least: true}, "Trip.Drops.Order.PieceLength": {least: true},
				"Trip.Drops.Order.Notes": {}, "Trip.Drops.Order.Customer.Name": {least: true}, "Trip.Drops.Order.Customer.Address": {}, "Trip.Drops.Order.Customer.Phone": {},
				"Trip.Drops.Order.Day": says("in the morning"),
			}
			consult(t, fmt.Sprintf("run sheet under %s, %s", set, units), p, pdf, print, "UTC", mentions, trip, used)
			allUsed(t, mentions, used)
			again, err := p.RunSheets(d, orders.Shop{Name: "Hollow Road Firewood", Paper: paper, Units: units, Language: "en", RuleSet: set})
			require.NoError(t, err)
			require.Equal(t, pdf, again, "the same bytes each time")
		})
	}
}

func TestARunSheetRefusesWhatItMayNotPrint(t *testing.T) {
	shop := orders.Shop{Name: "Hollow Road Firewood", Paper: orders.Letter, Units: act.Imperial, Language: "en", RuleSet: "us-model"}
	for field, change := range map[string]func(*road.Drop){
		"access":        func(d *road.Drop) { d.Access = "two face cords by the gate" },
		"notes":         func(d *road.Drop) { d.Order.Notes = "a face cord, he calls it" },
		"customer.name": func(d *road.Drop) { d.Order.Customer.Name = "木村" },
	} {
		d := sampleRoad()
		change(&d.Trips[0].Drops[0])
		_, err := plainPainter(t).RunSheets(d, shop)
		var e *act.Error
		require.ErrorAs(t, err, &e, field)
		require.Equal(t, field, e.Fields[0].Field)
	}
	d := sampleRoad()
	d.Trips[0].Drops[0].Order.Customer.Name, d.Trips[0].Drops[0].Order.Customer.PrintName = "木村", "Kimura"
	pdf, err := plainPainter(t).RunSheets(d, shop)
	require.NoError(t, err)
	require.Contains(t, textOf(t, pdf), "Kimura")
}

// A day with many stops goes on overleaf, each stop whole.
func TestManyStopsGoOnOverleaf(t *testing.T) {
	d := sampleRoad()
	one := d.Trips[0].Drops[0]
	for range 12 {
		d.Trips[0].Drops = append(d.Trips[0].Drops, one)
	}
	pdf, err := plainPainter(t).RunSheets(d, orders.Shop{Name: "Hollow Road Firewood", Paper: orders.A4, Units: act.Metric, Language: "en", RuleSet: "us-model"})
	require.NoError(t, err)
	require.Contains(t, textOf(t, pdf), "page 4 of")
}
