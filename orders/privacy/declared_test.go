package privacy_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/cases"
	"wellstowed/orders/privacy"
)

func TestWhatIsErasedIsWhatFieldsDeclare(t *testing.T) {
	type inside struct {
		Phone string `json:"phone" names:"erased"`
	}
	type thing struct {
		inside
		GateCode string `json:"gate_code,omitempty" names:"erased"`
		Buyer    inside `json:"buyer" names:"erased"`
		Seller   inside `json:"seller" names:"seller"`
		Hidden   string `json:"-" names:"erased"`
		Wood     string `json:"wood" names:"sale"`
	}
	require.Equal(t, []string{"phone", "gate_code", "hidden"}, privacy.Columns[thing]())
	require.Equal(t, []string{"phone", "gate_code", "buyer"}, privacy.Members[thing]())
}

// What an order, its customer and a buyer's statement lose, in words of the database.
func TestWhatIsErasedOfAnOrder(t *testing.T) {
	require.Equal(t, []string{"notes"}, privacy.Columns[orders.Order]())
	require.Equal(t, []string{"name", "address", "phone", "print_name", "print_address"}, privacy.Columns[orders.Customer]())
	require.Equal(t, []string{"reference", "reason"}, privacy.Columns[orders.Payment]())
	require.ElementsMatch(t, []string{"customer_name", "customer_address", "customer_phone", "customer_id", "notes", "origin", "certificate", "other_fee_for", "tax_exempt", "confirmed"},
		privacy.Members[orders.OrderRequest]())
	require.Subset(t, []string{"wood", "seller", "buyer", "vehicle", "words"}, privacy.Members[cases.Statement]())
}
