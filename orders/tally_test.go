package orders_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestSaveTallyIssuesASheet(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	receipt := y.deliver(o.ID, orders.LoadRequest{})
	tried, result, err := y.TryTally(y.ctx, auditor, o.ID, cordTally())
	require.NoError(t, err)
	issued := y.measure(o.ID)

	s := issued.Sheet
	require.Equal(t, orders.SheetFormat, s.Format)
	require.EqualValues(t, 1, s.Number)
	require.Equal(t, y.now.UTC(), s.Issued)
	require.Equal(t, "Alder Bend Firewood", s.Vendor.Name)
	require.Equal(t, "Ada Quill", s.Purchaser.Name)
	require.Equal(t, o.Number, s.Order)
	require.Equal(t, []orders.ReceiptRef{{Number: 1, On: receipt.Receipt.Facts.DeliveredOn, Seal: receipt.Seal}}, s.Receipts)
	require.Equal(t, "Wren", s.ReadBy)
	require.EqualValues(t, "1 cord", s.Tally.Sold)
	require.EqualValues(t, "seller", s.Tally.By)
	require.Equal(t, 1, s.Tally.Look)
	require.Equal(t, result.Quantity, s.Result.Quantity)
	require.Equal(t, cords(1, 1), s.Result.Finding.Sold)
	require.Equal(t, stack.Seller, tried.By)

	var painted orders.Sheet
	require.NoError(t, json.Unmarshal(issued.PDF, &painted))
	require.Equal(t, s, painted)
	again, err := y.Sheet(y.ctx, driver, 1)
	require.NoError(t, err)
	require.Equal(t, issued, again)
	_, err = y.Sheet(y.ctx, owner, 2)
	requireKind(t, act.NotFound, err)
}

func TestASavedTallyMeasuresTheSameAgain(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.measure(o.ID)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Len(t, h.Tallies, 1)
	saved := h.Tallies[0]
	parsed, err := stack.ParseTally(saved.Document)
	require.NoError(t, err)
	result, err := stack.Measure(parsed)
	require.NoError(t, err)
	require.Equal(t, result.Quantity, saved.Result.Quantity)
	require.Equal(t, result.Expanded, saved.Result.Expanded)
	require.Equal(t, result.Finding.Word, saved.Result.Finding.Word)
	require.EqualValues(t, 1, saved.Sheet)
	require.Equal(t, "Wren", saved.By)
}

func TestLooksAreCounted(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	first := y.measure(o.ID)
	second := y.measure(o.ID)
	require.Equal(t, []int{1, 2}, []int{first.Sheet.Tally.Look, second.Sheet.Tally.Look})
	require.Equal(t, []float64{0.05, 0.0125}, []float64{first.Sheet.Result.Finding.Alpha, second.Sheet.Result.Finding.Alpha})
	require.Equal(t, 1, y.measure(y.take(goodOrder()).ID).Sheet.Tally.Look, "looks at another order were counted")
}

func TestSaveTallyRefuses(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	for _, row := range []struct {
		name, from, to string
		field          string
	}{
		{"another quantity", `"format": 1,`, `"format": 1, "sold": "2 cords",`, "sold"},
		{"a height without a unit", `"48 1/2 in"`, `48.5`, "stack.rows[1].heights[1]"},
		{"an unknown field", `"format": 1,`, `"format": 1, "weather": "dry",`, "weather"},
	} {
		doc := strings.Replace(string(cordTally()), row.from, row.to, 1)
		_, err := y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: []byte(doc), ReadBy: "Wren"})
		require.Contains(t, faults(t, err), row.field, row.name)
		_, _, err = y.TryTally(y.ctx, owner, o.ID, []byte(doc))
		require.Contains(t, faults(t, err), row.field, row.name)
	}
	_, err := y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: cordTally(), ReadBy: "Рен"})
	require.Equal(t, map[string]string{"read_by": "unprintable"}, faults(t, err))
	_, err = y.SaveTally(y.ctx, y.act(), "no-such-order", orders.TallyRequest{Document: cordTally()})
	requireKind(t, act.NotFound, err)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Empty(t, h.Tallies)
}

func TestASheetHoldsPlainQuantities(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity, r.Confirmed = "3 face cords", "1 cord"
	o := y.take(r)
	doc := strings.Replace(string(cordTally()), `"apart": "none"`, `"sold": "3 face cords of 16 in", "apart": "1 face cord of 16 in"`, 1)
	issued, err := y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: []byte(doc)})
	require.NoError(t, err)
	require.EqualValues(t, "1 cord", issued.Sheet.Tally.Sold)
	require.EqualValues(t, "1/3 cord", issued.Sheet.Tally.Apart)
	require.NotContains(t, strings.ToLower(string(issued.Bytes)), "face cord")
}

func TestASheetAsksForNamesThatCannotBePrinted(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.CustomerName = "Анна"
	o := y.take(r)
	tally := orders.TallyRequest{Document: cordTally()}
	_, err := y.SaveTally(y.ctx, y.act(), o.ID, tally)
	require.Equal(t, map[string]string{"print_name": "unprintable"}, faults(t, err))
	tally.PrintName = "Anna"
	issued, err := y.SaveTally(y.ctx, y.act(), o.ID, tally)
	require.NoError(t, err)
	require.Equal(t, "Anna", issued.Sheet.Purchaser.Name)
	require.Equal(t, "Odell", issued.Sheet.ReadBy, "who saves it has read, unless said otherwise")
}
