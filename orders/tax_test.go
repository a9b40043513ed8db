package orders_test

import (
	"encoding/json"
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// charging is a yard whose shop charges what r says.
func charging(t *testing.T, r orders.ChargesRequest) *sellerYard {
	t.Helper()
	y := newYard(t)
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(t, err)
	r.Version = shop.Version
	_, err = y.ChangeCharges(y.ctx, y.act(), r)
	require.NoError(t, err)
	return y
}

func salesTax() orders.ChargesRequest {
	return orders.ChargesRequest{TaxName: "Sales tax", TaxRate: "5.5 %", TaxWood: "yes", TaxDelivery: "yes"}
}

// plainOrder is wood for a sum and no fees.
func plainOrder(quantity, total string) orders.OrderRequest {
	r := goodOrder()
	r.Quantity, r.PricePerCord, r.PriceTotal, r.DeliveryFee = quantity, "", total, ""
	return r
}

func TestParseDistance(t *testing.T) {
	for _, row := range []struct {
		text  string
		units act.Units
		want  measure.Length
	}{
		{"12.5", act.Imperial, orders.Mile * 25 / 2}, {"12.5 mi", act.Metric, orders.Mile * 25 / 2},
		{"20", act.Metric, 20 * orders.Kilometre}, {"20,25 km", act.Imperial, orders.Kilometre * 81 / 4}, {"0", act.Imperial, 0},
		{"3 Miles", act.Imperial, 3 * orders.Mile}, {"5000", act.Imperial, 5000 * orders.Mile},
	} {
		got, err := orders.ParseDistance(row.text, row.units)
		require.NoError(t, err, row.text)
		require.Equal(t, row.want, got, row.text)
		back, err := orders.ParseDistance(orders.FormatDistance(got, row.units), row.units)
		require.NoError(t, err)
		require.Equal(t, got, back, "written as %s", orders.FormatDistance(got, row.units))
	}
	for text, code := range map[string]string{
		"": "not-a-distance", "-1": "not-a-distance", "1e2": "not-a-distance", "5 ft": "unknown-unit", "5000.01": "too-large", "1.234": "not-a-distance",
	} {
		_, err := orders.ParseDistance(text, act.Imperial)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, text)
		require.Equal(t, code, fault.Code, text)
	}
}

// Tax is rounded once, on the whole sum it is on, half away from zero.
func TestTaxRoundsOnceHalfAwayFromZero(t *testing.T) {
	for _, row := range []struct{ rate, total, tax, because string }{
		{"5.5 %", "280", "15.40", "whole"},
		{"5 %", "0.10", "0.01", "half a cent rounds away from zero"},
		{"5 %", "0.30", "0.02", "a cent and a half rounds away from zero, not to even"},
		{"5 %", "0.50", "0.03", "two and a half, not to even"},
		{"5.5 %", "0.09", "0.00", "0.495 of a cent rounds down"},
		{"8.875 %", "100.01", "8.88", "8.8758875 rounds up"},
		{"0.0001 %", "10000000", "10.00", "the finest rate is exact"},
	} {
		charges := salesTax()
		charges.TaxRate = row.rate
		y := charging(t, charges)
		o, err := y.ReadBack(y.ctx, owner, plainOrder("1 cord", row.total))
		if row.total == "10000000" { // with its tax it is more than an amount may be
			require.Equal(t, map[string]string{"price_per_cord": "too-large"}, faults(t, err))
		} else {
			require.NoError(t, err, row.because)
		}
		require.Equal(t, row.tax, o.Order.Price.Tax.Amount.Amount(), row.because)
	}
}

// Two fees of half a cent of tax each are taxed together: one cent, not two.
func TestTaxIsOnTheSumNotOnItsParts(t *testing.T) {
	charges := salesTax()
	charges.TaxRate = "5 %"
	y := charging(t, charges)
	r := plainOrder("1 cord", "0.10")
	r.DeliveryFee, r.StackingFee = "0.10", "7"
	o := y.take(r)
	require.Equal(t, "0.20", o.Price.Tax.Taxable.Amount(), "stacking is not taxed")
	require.Equal(t, "0.01", o.Price.Tax.Amount.Amount())
	require.Equal(t, "7.21", o.Price.Total().Amount())
}

// Whatever the loads, the receipts' taxes and totals sum to the order's.
func TestTaxesOfPartLoadsSumToTheWhole(t *testing.T) {
	for _, loads := range [][]string{{"1/3 cord", "1/3 cord", "1/3 cord"}, {"1/8 cord", "1/2 cord", "3/8 cord"}, {"0.9 cord", "0.2 cord"}} {
		y := charging(t, salesTax())
		r := plainOrder("1 cord", "100.01")
		r.DeliveryFee = "10.01"
		o := y.take(r)
		sum, tax := money.Money{}, money.Money{}
		for _, v := range loads {
			f := y.deliverAnyway(o.ID, orders.LoadRequest{Delivered: v}).Receipt.Facts
			sum, tax = sum.Add(f.Price.Total()), tax.Add(f.Price.Tax.Amount)
		}
		require.Equal(t, o.Price.Tax.Amount, tax, "%v", loads)
		require.Equal(t, o.Price.Total(), sum, "%v", loads)
		require.Equal(t, o.Price.Total(), y.history(o.ID).Balance.Due, "%v", loads)
	}
}

func TestAnExemptOrderSaysWhy(t *testing.T) {
	y := charging(t, salesTax())
	r := plainOrder("1 cord", "280")
	r.TaxExempt = "heating a home"
	o := y.take(r)
	require.Zero(t, o.Price.Tax.Amount.Minor)
	f := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, "heating a home", f.Price.Tax.Exempt)
	require.Equal(t, "280.00", f.Price.Total().Amount())
}

// A price agreed before the tax was changed stays as it was agreed.
func TestOrdersKeepTheTaxTheyWereTakenWith(t *testing.T) {
	y := charging(t, salesTax())
	o := y.take(plainOrder("1 cord", "280"))
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(t, err)
	_, err = y.ChangeCharges(y.ctx, y.act(), orders.ChargesRequest{Version: shop.Version})
	require.NoError(t, err)
	require.Equal(t, "15.40", y.history(o.ID).Order.Price.Tax.Amount.Amount())
	require.Nil(t, y.take(plainOrder("1 cord", "280")).Price.Tax)
}

// Facts from before there was tax read as they did.
func TestReceiptsWithoutTaxReadAsBefore(t *testing.T) {
	var p orders.Price
	require.NoError(t, json.Unmarshal([]byte(`{"per_cord":{"minor":28000,"currency":"USD"},"wood":{"minor":28000,"currency":"USD"},
		"fees":[{"kind":"delivery","amount":{"minor":2500,"currency":"USD"}}]}`), &p))
	require.Equal(t, "305.00", p.Total().Amount())
	require.Nil(t, p.Tax)
	y := newYard(t)
	facts := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}).FactBytes
	require.NotContains(t, string(facts), `"tax"`)
	require.NotContains(t, string(facts), `"paid"`)
}

func TestDistanceIsChargedBeyondWhatIsFree(t *testing.T) {
	y := charging(t, orders.ChargesRequest{DistanceRate: "2.25", FreeDistance: "10"})
	for _, row := range []struct{ distance, fee, because string }{
		{"", "0", "not said"}, {"10", "0", "free"}, {"9.99", "0", "free"}, {"12", "4.50", "two miles"},
		{"10.02", "0.05", "0.045 rounds away from zero"}, {"11.5", "3.38", "3.375 rounds away from zero"}, {"20 km", "5.46", "2.4274 miles at 2.25"},
	} {
		r := plainOrder("1 cord", "280")
		r.Distance = row.distance
		o := y.take(r)
		want := "280.00"
		if row.fee != "0" {
			require.Len(t, o.Price.Fees, 1, row.because)
			require.Equal(t, row.fee, o.Price.Fees[0].Amount.Amount(), row.because)
			continue
		}
		require.Equal(t, want, o.Price.Total().Amount(), row.because)
	}
}

// The charge for less than a full load is asked about, never added by itself.
func TestTheChargeForLessThanAFullLoadIsAskedAbout(t *testing.T) {
	y := charging(t, orders.ChargesRequest{FullLoad: "1 cord", HalfLoadFee: "40"})
	require.Empty(t, y.take(plainOrder("1 cord", "280")).Price.Fees, "a full load")
	r := plainOrder("1/2 cord", "150")
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	require.Equal(t, map[string]string{"half_load": "read-back"}, faults(t, err))
	require.Contains(t, err.Error(), "40.00 USD")
	r.HalfLoad = "no"
	require.Empty(t, y.take(r).Price.Fees)
	r.HalfLoad = "yes"
	require.Equal(t, "190.00", y.take(r).Price.Total().Amount())
}

func TestChargesFaults(t *testing.T) {
	y := newYard(t)
	_, err := y.ChangeCharges(y.ctx, y.act(), orders.ChargesRequest{
		DistanceRate: "x", FreeDistance: "5 ft", FullLoad: "a face cord", HalfLoadFee: "5", TaxName: "Tax", TaxRate: "200", Version: 2})
	require.Equal(t, map[string]string{"distance_rate": "not-an-amount", "free_distance": "unknown-unit", "full_load": "barred",
		"tax_rate": "too-large", "tax_wood": "missing"}, faults(t, err))
	_, err = y.ChangeCharges(y.ctx, y.act(), orders.ChargesRequest{HalfLoadFee: "5", TaxRate: "5", TaxWood: "yes", Version: 2})
	require.Equal(t, map[string]string{"full_load": "missing", "tax_name": "missing"}, faults(t, err))
	_, err = y.ChangeCharges(y.ctx, y.act(), orders.ChargesRequest{Version: 1})
	requireKind(t, act.Conflict, err)
}

func FuzzParseDistance(f *testing.F) {
	for _, seed := range []string{"12.5", "12.5 mi", "20 km", "1,234 mi", "-4", "1e3", "", "5000.01", "NaN km"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, units := range []act.Units{act.Imperial, act.Metric} {
			d, err := orders.ParseDistance(text, units)
			var in *measure.InputError
			if err != nil {
				if !errors.As(err, &in) || in.Code == "" || in.Accepts.Key == "" {
					t.Fatalf("%#v isn't an error a person can act on", err)
				}
				continue
			}
			if back, err := orders.ParseDistance(orders.FormatDistance(d, units), units); err != nil || back != d {
				t.Fatalf("%q is %s, and that is %d, %v", text, orders.FormatDistance(d, units), back, err)
			}
		}
	})
}
