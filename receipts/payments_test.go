package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// samplePayments is an order asked 450, with a deposit, a cheque taken back, and cash.
func samplePayments() orders.History {
	day := act.Date{Year: 2026, Month: time.March, Day: 12}
	return orders.History{
		Order: orders.Order{Number: 31, Customer: orders.Customer{Name: "Ida Thornquist", Address: "4 Mill Lane\nRoxbury, VT 05669"}},
		Payments: []orders.Payment{
			{ID: "a", Amount: usd(15000), Method: orders.Cheque, Reference: "1042", On: day},
			{ID: "b", Amount: usd(-15000), Method: orders.Cheque, Reference: "1042", On: day, Reverses: "a", Reason: "it came back unpaid"},
			{ID: "c", Amount: usd(20000), Method: orders.Cash, On: day},
		},
		Balance: orders.Balance{Asked: usd(45000), Settled: usd(2667), Deposit: usd(10000), Paid: usd(20000), Due: usd(12333)},
	}
}

func TestPaymentsOnAnOrder(t *testing.T) {
	shop := orders.Shop{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield, VT 05663", Language: "en", RuleSet: "us-model"}
	day := act.Date{Year: 2026, Month: time.March, Day: 14}
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		shop.Paper = paper
		one, err := newPainter(t).Payments(samplePayments(), shop, day)
		require.NoError(t, err)
		again, err := newPainter(t).Payments(samplePayments(), shop, day)
		require.NoError(t, err)
		require.Equal(t, one, again, "the same bytes each time")
		text := textOf(t, one)
		for _, want := range []string{"Ida Thornquist", "$450.00", "$26.67", "cheque 1042: counter-entry: it came back unpaid", "$200.00", "$300.00", "Due from the customer", "$123.33", "not a delivery ticket"} {
			require.Contains(t, text, want)
		}
	}
	plain := plainPainter(t)
	pdf, err := plain.Payments(samplePayments(), shop, day)
	require.NoError(t, err)
	large := matching(readPDF(t, plain, pdf), `^\$123\.33$`)
	require.Len(t, large, 2, "the balance, first and in the account")
	require.Equal(t, verdictFace().size, large[0].size)
	barred := samplePayments()
	barred.Payments[1].Reason = "paid for a face cord"
	_, err = newPainter(t).Payments(barred, shop, day)
	require.Error(t, err, "the law bars the term on paper")
}
