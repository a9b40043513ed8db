package books

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

func shopsBooks() accounts.Books {
	usd := func(minor int64) money.Money { return money.Money{Minor: minor, Currency: "USD"} }
	o := orders.Order{
		ID: "o1", Number: 7, Customer: orders.Customer{Name: "=cmd|' /C calc'!A0", Address: "7 Ferry Lane\nAlder Bend", Phone: "+1 555 0123"}, Words: "1 cord",
		Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, PieceLength: 16 * measure.Inch, State: orders.Taken,
		Price:   orders.Price{Wood: usd(28000), Fees: []orders.PriceLine{{Kind: orders.DeliveryLine, Amount: usd(2500)}}},
		Created: time.Date(2026, 3, 1, 3, 0, 0, 0, time.UTC),
	}
	return accounts.Books{
		Zone: "America/New_York", Orders: []orders.Order{o}, Balances: map[string]orders.Balance{"o1": {Due: usd(30500)}},
		Loads:     []accounts.SoldLoad{{Load: yard.Load{Receipt: 1, Delivered: o.Quantity, On: act.Date{Year: 2026, Month: 3, Day: 2}}, OrderNumber: 7, Customer: o.Customer.Name}},
		Payments:  []orders.Payment{{OrderID: "o1", Amount: usd(-1250), Method: "cash", On: act.Date{Year: 2026, Month: 3, Day: 3}}},
		Of:        map[string]orders.Order{"o1": o},
		Receipts:  []orders.StoredReceipt{{Number: 1, FactBytes: []byte(`{"number":1,"order":7,"price":{"wood":{"minor":28000,"currency":"USD"},"fees":[]},"delivered_on":"2026-03-02"}`)}},
		Customers: []customers.Record{{Name: "Ada \"Q\" Quill", Access: "Gate,\n9 ft"}},
	}
}

// Every file is read back by the standard library's reader of RFC 4180, and no cell of it
// is a formula.
func TestBooksAreReadBackAndHoldNoFormula(t *testing.T) {
	var out, again bytes.Buffer
	require.NoError(t, Zip(&out, shopsBooks()))
	require.NoError(t, Zip(&again, shopsBooks()))
	assert.Equal(t, out.Bytes(), again.Bytes())
	z, err := zip.NewReader(bytes.NewReader(out.Bytes()), int64(out.Len()))
	require.NoError(t, err)
	read := map[string][][]string{}
	for _, f := range z.File {
		r, err := f.Open()
		require.NoError(t, err)
		content, err := io.ReadAll(r)
		require.NoError(t, err)
		lines, err := csv.NewReader(bytes.NewReader(content)).ReadAll() // also: every line as long as the first
		require.NoError(t, err, f.Name)
		read[f.Name] = lines
		for _, line := range lines[1:] {
			for _, cell := range line {
				assert.NotRegexp(t, `^[=+@\t\r]|^-[^0-9]`, cell, f.Name)
			}
		}
	}
	require.Len(t, read, 5)
	order := read["orders.csv"][1]
	assert.Equal(t, []string{"7", "2026-02-28"}, order[:2], "the day is the shop’s, not Greenwich’s")
	assert.Equal(t, "'=cmd|' /C calc'!A0", order[3])
	assert.Equal(t, []string{"128", "3.625", "ranked"}, order[7:10])
	assert.Equal(t, []string{"USD", "280.00", "25.00", "0.00", "305.00", "0.00", "305.00"}, order[13:20])
	assert.Equal(t, "-12.50", read["payments.csv"][1][4], "money stays a number")
	assert.Equal(t, []string{"1", "delivery", "", "7"}, read["receipts.csv"][1][:4])
	assert.Equal(t, "Gate,\n9 ft", read["customers.csv"][1][3])
}
