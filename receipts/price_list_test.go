package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
	"wellstowed/orders/yard"
)

func samplePrices() prices.List {
	day := act.Date{Year: 2026, Month: time.November, Day: 28}
	cord := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	half := measure.Quantity{Volume: measure.Cord / 2, Basis: measure.Ranked}
	lines := []prices.Line{
		{ID: "1", Item: prices.Item{Kind: prices.Wood, Species: "red oak", PieceLength: 16 * measure.Inch, Seasoning: yard.Seasoned, Per: cord}, Price: usd(36000)},
		{ID: "2", Item: prices.Item{Kind: prices.Wood, Species: "red oak", PieceLength: 16 * measure.Inch, Seasoning: yard.Seasoned, Per: half}, Price: usd(19500)},
		{ID: "3", Item: prices.Item{Kind: prices.Wood, Per: cord}, Price: usd(28000)},
		{ID: "4", Item: prices.Item{Kind: prices.Delivery, Place: "Hollow Road and Mill Lane"}},
		{ID: "5", Item: prices.Item{Kind: prices.Delivery, Place: "Northfield"}, Price: usd(4000)},
		{ID: "6", Item: prices.Item{Kind: prices.Stacking, Per: cord}, Price: usd(6000)},
		{ID: "7", Item: prices.Item{Kind: prices.Least, Per: half}},
	}
	for i := range lines {
		lines[i].From = day
	}
	return prices.On(lines, day, "USD")
}

func TestPriceListOnPaper(t *testing.T) {
	shop := orders.Shop{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield, VT 05663", Language: "en", RuleSet: "us-model",
		Charges: orders.Charges{Distance: usd(200), Per: orders.Mile, Free: 10 * orders.Mile, HalfLoad: usd(2500), FullLoad: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}}}
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		shop.Paper = paper
		one, err := newPainter(t).PriceList(samplePrices(), shop)
		require.NoError(t, err)
		again, err := newPainter(t).PriceList(samplePrices(), shop)
		require.NoError(t, err)
		require.Equal(t, one, again, "the same bytes each time")
		text := textOf(t, one)
		for _, want := range []string{"28 November 2026", "Red oak, 16 in, seasoned", "$360.00 per cord", "$195.00 for 1/2 cord", "Any wood", "$280.00 per cord",
			"Hollow Road and Mill Lane", "free", "$40.00", "$60.00 per cord", "Least order", "$2.00 a mile beyond the first 10 mi", "not a delivery ticket"} {
			require.Contains(t, text, want)
		}
	}
	barred := samplePrices()
	barred.Lines[0].Species = "a face cord of oak"
	_, err := newPainter(t).PriceList(barred, shop)
	require.Error(t, err, "the law bars the term on paper")
}

// As many lines as a seller has still go on one page.
func TestAPriceListIsOnePage(t *testing.T) {
	shop := orders.Shop{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield, VT 05663", Language: "en", RuleSet: "us-model"}
	list := samplePrices()
	for _, l := range list.Of(prices.Wood) {
		for range 6 {
			list.Lines = append(list.Lines, l)
		}
	}
	pdf, err := newPainter(t).PriceList(list, shop)
	require.NoError(t, err)
	require.Contains(t, string(pdf), "/Count 1\n")
}
