package receipts

import (
	"fmt"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
	"wellstowed/receipts/words"
)

// saidOn are texts that stand on a paper, as often as they must and maybe more often.
func saidOn(texts func() []string) map[string]mention {
	return map[string]mention{"formFacts.Texts": {least: true, says: func(any) []string { return texts() }}}
}

// Each line of a price list with what it asks, what is charged besides, and the day stand on
// it, and each payment with its sum, the balance and whose it is on a statement of money,
// under every rule set and in both systems of units.
func TestEveryLineStandsOnAPriceListAndAStatementOfMoney(t *testing.T) {
	p := plainPainter(t)
	day := act.Date{Year: 2026, Month: time.November, Day: 28}
	underAll(t, func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
		shop := orders.Shop{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield", Phone: "555-0190", Language: "en", RuleSet: set.Code, Paper: paper, Units: units,
			Charges: orders.Charges{Distance: usd(200), Per: orders.Mile, Free: 10 * orders.Mile}}
		print := words.New("en", units).SoldIn(set.Unit)
		list := samplePrices()
		pdf, err := p.PriceList(list, shop)
		require.NoError(t, err)
		lines := func() []string {
			texts := append(print.ChargesBeside(shop.Charges), shop.Name, shop.Phone, print.Date(day), list.Lines[3].Place)
			for _, l := range list.Lines {
				texts = append(texts, print.OfferedFirst(l), print.Asked(l))
			}
			return texts
		}
		consult(t, fmt.Sprintf("price list under %s, %s", set.Code, units), p, pdf, print, "UTC", saidOn(lines), formFacts{}, map[string]bool{})

		paid := samplePayments()
		pdf, err = p.Payments(paid, shop, day)
		require.NoError(t, err)
		sums := func() []string {
			name, due := print.BalanceOf(paid.Balance)
			texts := []string{shop.Name, shop.Phone, paid.Order.Customer.Name, "Mill Lane", print.Date(day), name, print.Money(due), print.Money(paid.Balance.Asked),
				print.Money(paid.Balance.Settled), print.Money(paid.Balance.Deposit)}
			for _, m := range paid.Payments {
				texts = append(texts, print.PaymentLine(m, paid.Payments), print.Money(m.Amount))
			}
			return texts
		}
		consult(t, fmt.Sprintf("payments under %s, %s", set.Code, units), p, pdf, print, "UTC", saidOn(sums), formFacts{}, map[string]bool{})
	})
	for _, of := range []struct {
		of     reflect.Type
		fields int
	}{{reflect.TypeFor[prices.Item](), 6}, {reflect.TypeFor[orders.Balance](), 8}} {
		require.Equal(t, of.fields, of.of.NumField(), "%s: say here where a new field is printed", of.of)
	}
}
