package receipts

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

const sealText = "ABCD-EFGH-JKMN"

func newPainter(t testing.TB) *Painter {
	t.Helper()
	p, err := New()
	require.NoError(t, err)
	return p
}

func usd(cents int64) money.Money { return money.Money{Minor: cents, Currency: "USD"} }

func ranked(v measure.Volume) measure.Quantity {
	return measure.Quantity{Volume: v, Basis: measure.Ranked}
}

// sampleReceipt is an invented delivery: 1 1/3 cords ordered, 1 cord delivered.
func sampleReceipt(paper orders.Paper) orders.Receipt {
	return orders.Receipt{
		Facts: orders.Facts{
			Format: orders.ReceiptFormat, Number: 12, Issued: time.Date(2026, 3, 9, 19, 5, 0, 0, time.UTC),
			Language: "en", Paper: paper, Units: act.Imperial, Zone: "America/New_York",
			RuleSet: orders.RuleSet{Code: "model", Name: "Model method-of-sale regulation", Edition: "2016"},
			Model:   1, Layout: 1,
			Vendor: orders.Party{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield, VT 05663", Phone: "802 555 0142"},
			Order:  31, DeliveredOn: act.Date{Year: 2026, Month: time.March, Day: 9},
			Ordered: ranked(measure.Cord * 4 / 3), Delivered: ranked(measure.Cord), Priced: ranked(measure.Cord),
			Species: "Sugar maple and red oak, mixed", PieceLength: 16 * measure.Inch, Seasoning: yard.Seasoned,
			Price: orders.Price{PerCord: usd(32000), Wood: usd(32000), Fees: []orders.PriceLine{
				{Kind: orders.DeliveryLine, Amount: usd(4500)}, {Kind: orders.StackingLine, Amount: usd(6000)},
			}},
			Deposit: usd(10000),
			Storage: samplePlan(),
		},
		Purchaser: orders.Party{Name: "Ida Thornquist", Address: "4 Mill Lane\nRoxbury, VT 05669", Phone: "802 555 0177"},
	}
}

func samplePlan() *storage.Plan {
	plan, err := storage.AlongWall(measure.Cord, 16*measure.Inch)
	if err != nil {
		panic(err) // a cord of 16 in wood has a plan
	}
	return &plan
}

// shortTally is the first worked example of the measuring model, rounded to the nearest.
const shortTally = `{"format": 2, "sold": "1 cord", "by": "buyer", "apart": "none", "look": 1,
 "tape": "1/4 in", "rounded": "nearest", "top": "straightedge", "stowed": "checked", "condition": "seasoned",
 "stack": {"kind": "rows",
  "pieces": ["16 in","15 1/2 in","16 1/4 in","15 3/4 in","16 1/2 in","15 1/4 in","16 in","15 3/4 in","16 1/4 in","15 1/2 in"],
  "rows": [{"length": "96 in", "heights": ["48 in","47 in","48 1/2 in","46 1/2 in","47 1/2 in"]},
   {"length": "95 in", "heights": ["47 in","48 in","46 in","47 1/2 in","46 1/2 in"]},
   {"length": "96 1/2 in", "heights": ["46 1/2 in","45 in","46 in","44 1/2 in","45 in"]}]}}`

// unsettledTally is the second worked example: every kind of end but one, a void,
// positions, and a row of another piece length.
const unsettledTally = `{"format": 1, "sold": "1 cord", "by": "inspector", "apart": "none", "look": 1,
 "tape": "1/2 in", "top": "by eye", "raised": "4 in",
 "stack": {"kind": "rows", "pieces": ["17 1/2 in","18 in","18 1/2 in","17 3/4 in","18 1/4 in","18 in"],
  "rows": [{"length": "120 in", "heights": ["52 in","54 in","53 in","50 in","47 in"],
    "positions": ["6 in","30 in","60 in","90 in","114 in"],
    "ends": [{"kind": "shouldered", "drop": "8 in", "over": "10 in"}, {"kind": "tapered", "over": "20 in"}],
    "voids": [{"width": "12 in", "height": "6 in"}]},
   {"length": "116 in", "heights": ["50 in","51 1/2 in"], "nominal": "18 in",
    "ends": [{"kind": "cribbed", "over": "18 in"}, {"kind": "upright"}]}]}}`

func sampleSheet(t testing.TB, paper orders.Paper, doc string) orders.Sheet {
	t.Helper()
	var d stack.Document
	require.NoError(t, json.Unmarshal([]byte(doc), &d))
	tally, err := stack.ParseTally([]byte(doc))
	require.NoError(t, err)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	r := sampleReceipt(paper)
	return orders.Sheet{
		Format: orders.SheetFormat, Number: 7, Issued: time.Date(2026, 3, 14, 15, 40, 0, 0, time.UTC), Language: "en",
		Paper: paper, Units: act.Imperial, Zone: "America/New_York", Model: 1, Layout: 1,
		Vendor: r.Facts.Vendor, Purchaser: r.Purchaser, Order: 31,
		Receipts: []orders.ReceiptRef{{Number: 12, On: act.Date{Year: 2026, Month: time.March, Day: 9}, Seal: sealText}},
		ReadBy:   "Ida Thornquist", Tally: d, Result: result,
	}
}
