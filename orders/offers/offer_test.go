package offers_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/offers"
)

func TestOffersArePricedByTheCord(t *testing.T) {
	for _, row := range []struct{ offer, low, high, species string }{
		{"1 cord oak, $280", "280.00 USD", "280.00 USD", "oak"},
		{"two cords of red oak for $560", "280.00 USD", "280.00 USD", "red oak"},
		{"face cord of 16 inch oak, $120", "360.00 USD", "360.00 USD", "oak"},       // 16 in of 48
		{"face cord of ash, $120", "240.00 USD", "480.00 USD", "ash"},               // 24 and 12 in of 48
		{"oak, $250 a cord", "250.00 USD", "250.00 USD", "oak"},                     // for one unit
		{"2 cords oak at $250 a cord", "250.00 USD", "250.00 USD", "oak"},           // for one unit, not for both
		{"128 cu ft loose beech, 200 dollars", "277.78 USD", "344.83 USD", "beech"}, // 200 / 0.72 and / 0.58
		{"1 cord oak, $280 plus $20 delivery", "300.00 USD", "300.00 USD", "oak"},
	} {
		all, err := offers.Compare(row.offer, "USD")
		require.NoError(t, err, row.offer)
		require.Nil(t, all[0].Fault, "%s: %v", row.offer, all[0].Fault)
		low, high := all[0].Per(measure.Cord)
		assert.Equal(t, row.low, low.String(), row.offer)
		assert.Equal(t, row.high, high.String(), row.offer)
		assert.Equal(t, row.species, all[0].Species, row.offer)
	}
}

// 2 m³ thrown make 1.16 to 1.44 m³ stacked; a cord is 3.62 m³ of it.
func TestMetresAndPickups(t *testing.T) {
	all, err := offers.Compare("2 m³ loose birch, €150\npickup load, $90\n\n3 m3 beech, 200 €", "CAD")
	require.NoError(t, err)
	require.Len(t, all, 3)
	for _, o := range all {
		require.Nil(t, o.Fault, "%s: %v", o.Text, o.Fault)
		low, high := o.Per(measure.Cord)
		assert.Less(t, low.Minor, high.Minor, o.Text)
		assert.NotEmpty(t, o.Why, o.Text)
	}
	low, high := all[0].Per(measure.CubicMetre)
	assert.Equal(t, "104.17 EUR", low.String(), "150 / 1.44")
	assert.Equal(t, "129.31 EUR", high.String(), "150 / 1.16")
	assert.Equal(t, "CAD", all[1].Price.Currency, "a dollar is one of the country’s own")
	_, _, known := all[1].PerHeat(wood.MillionBtu)
	assert.False(t, known, "nobody says which wood it is")
	assert.NotEmpty(t, all[1].Ask)
	low, high = all[2].Per(measure.CubicMetre)
	assert.Equal(t, "66.67 EUR", low.String(), "stacked")
	assert.Equal(t, "114.94 EUR", high.String(), "or thrown: 200 / 1.74")
}

// A cord of red oak at 20 % moisture has about 22 million Btu by common practice, no source:
// at $280 some 13 dollars a million.
func TestHeatIsPricedAsARange(t *testing.T) {
	all, err := offers.Compare("1 cord red oak, $280\n1 cord balsam poplar, $280\n1 cord oak, $280", "USD")
	require.NoError(t, err)
	low, high, known := all[0].PerHeat(wood.MillionBtu)
	require.True(t, known)
	assert.Less(t, low.Minor, int64(1300))
	assert.Greater(t, high.Minor, int64(1300))
	poplar, _, known := all[1].PerHeat(wood.MillionBtu)
	require.True(t, known)
	assert.Greater(t, poplar.Minor, low.Minor, "light wood gives less heat for the same room")
	any, most, known := all[2].PerHeat(wood.MillionBtu)
	require.True(t, known)
	assert.LessOrEqual(t, any.Minor, low.Minor)
	assert.GreaterOrEqual(t, most.Minor, high.Minor)
}

func TestOffersThatCantBeComparedSaySo(t *testing.T) {
	for _, row := range []struct{ offer, code string }{
		{"1 cord oak", "no-price"},
		{"1 cord oak, $0", "no-price"},
		{"1 cord oak, $280 or $300", "two-prices"},
		{"a truckload of oak, $200", ""},
		{"oak, $200", ""},
		{"1,234 cu ft oak, $200", ""},
		{"$", "no-price"},
	} {
		all, err := offers.Compare(row.offer, "USD")
		require.NoError(t, err, row.offer)
		require.NotNil(t, all[0].Fault, row.offer)
		assert.NotEmpty(t, all[0].Fault.Reason.Key, row.offer)
		if row.code != "" {
			assert.Equal(t, row.code, all[0].Fault.Code, row.offer)
		}
	}
	_, err := offers.Compare(" \n ", "USD")
	assert.Equal(t, act.Invalid, act.KindOf(err))
}

func TestTheCheapestIsSaidOnlyWhereRangesDontOverlap(t *testing.T) {
	cheapest := func(text string) int {
		all, err := offers.Compare(text, "USD")
		require.NoError(t, err)
		return offers.Cheapest(all)
	}
	assert.Equal(t, 1, cheapest("1 cord oak, $300\n1 cord oak, $280"))
	assert.Equal(t, -1, cheapest("1 cord oak, $300\nface cord of oak, $100"))
	assert.Equal(t, -1, cheapest("1 cord oak, $300\n1 cord oak, €280"))
	assert.Equal(t, -1, cheapest("1 cord oak, $300"))
	assert.Equal(t, 0, cheapest("1 cord oak, $200\nface cord of oak, $120\na truckload, $10"))
}

func FuzzCompareOffers(f *testing.F) {
	for _, text := range []string{"face cord of 16 inch oak, $120", "2 m³ loose birch, €150", "pickup load, $90", "oak at 250 dollars a cord", "$1 a 1"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		all, err := offers.Compare(text, "USD")
		if err != nil {
			return
		}
		for _, o := range all {
			if o.Fault != nil {
				continue
			}
			low, high := o.Per(measure.Cord)
			if o.Ranked.Low <= 0 || o.Ranked.High < o.Ranked.Low || low.Minor > high.Minor || low.Minor < 0 {
				t.Fatalf("%q: %+v, %s to %s", o.Text, o.Ranked, low, high)
			}
			if low, high, known := o.PerHeat(wood.MillionBtu); known && (low.Minor > high.Minor || low.Minor < 0) {
				t.Fatalf("%q: %s to %s", o.Text, low, high)
			}
		}
	})
}
