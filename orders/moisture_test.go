package orders_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

func goodMoisture() yard.MoistureRequest {
	return yard.MoistureRequest{
		Readings: "15\n16\n17\n18\n16", Basis: "dry", Method: "pin meter", FreshFace: "yes", Temperature: "60 F", ReadBy: "Wren",
	}
}

func (y *sellerYard) moisture(id string, r yard.MoistureRequest) yard.Moisture {
	y.t.Helper()
	m, err := y.AddMoisture(y.ctx, y.act(), id, r)
	require.NoError(y.t, err)
	return m
}

func TestMoistureIsSavedAndPrinted(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	m := y.moisture(o.ID, goodMoisture())
	require.Equal(t, wood.Below, m.Season.Verdict)
	require.Equal(t, act.Date{Year: 2026, Month: time.March, Day: 9}, m.On)
	require.Equal(t, "20 % dry basis", m.Season.Limit.String())

	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Equal(t, []yard.Moisture{m}, h.Moistures)

	f := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, orders.ReceiptFormat, f.Format)
	require.NotNil(t, f.Moisture)
	require.Equal(t, "16.4 % dry basis", f.Moisture.Mean.String())
	require.Equal(t, 5, f.Moisture.Pieces)
	require.Equal(t, "Wren", f.Moisture.By)
	require.Equal(t, m.On, f.Moisture.On)

	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, v.Faults)
}

func TestTheLatestReadingsArePrinted(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.moisture(o.ID, goodMoisture())
	later := goodMoisture()
	later.Readings, later.ReadBy = "30\n31\n32", "Pim"
	y.now = y.now.Add(time.Hour)
	y.moisture(o.ID, later)
	f := y.deliver(o.ID, orders.LoadRequest{Confirmed: "31 % dry basis"}).Receipt.Facts
	require.Equal(t, "Pim", f.Moisture.By)
	require.Equal(t, wood.Above, f.Moisture.Verdict)
}

// A receipt without readings says nothing of moisture, as those of format 1 do.
func TestAReceiptWithoutReadingsHasNoMoisture(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	issued := y.deliver(o.ID, orders.LoadRequest{})
	require.Nil(t, issued.Receipt.Facts.Moisture)
	require.NotContains(t, string(issued.FactBytes), "moisture")
	y.moisture(o.ID, goodMoisture())
	again, err := y.Receipt(y.ctx, owner, 1)
	require.NoError(t, err)
	require.Equal(t, issued, again, "what is read later changes no receipt")

	var old orders.Facts
	require.NoError(t, json.Unmarshal([]byte(`{"format": 1, "number": 3, "species": "Red oak"}`), &old))
	require.Nil(t, old.Moisture)
}

func TestMoistureOnceForARequest(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	act := y.act()
	first, err := y.AddMoisture(y.ctx, act, o.ID, goodMoisture())
	require.NoError(t, err)
	second, err := y.AddMoisture(y.ctx, act, o.ID, goodMoisture())
	require.NoError(t, err)
	require.Equal(t, first, second)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Len(t, h.Moistures, 1)
}

func TestMoistureRefuses(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	for name, row := range map[string]struct {
		change func(*yard.MoistureRequest)
		want   map[string]string
	}{
		"no basis":           {func(r *yard.MoistureRequest) { r.Basis = "" }, map[string]string{"basis": "no-basis"}},
		"no method":          {func(r *yard.MoistureRequest) { r.Method = "by ear" }, map[string]string{"method": "unknown"}},
		"face not said":      {func(r *yard.MoistureRequest) { r.FreshFace = "" }, map[string]string{"fresh_face": "unknown"}},
		"frozen":             {func(r *yard.MoistureRequest) { r.Temperature = "20 F" }, map[string]string{"temperature": "frozen"}},
		"no unit":            {func(r *yard.MoistureRequest) { r.Temperature = "20" }, map[string]string{"temperature": "not-a-temperature"}},
		"decimal comma":      {func(r *yard.MoistureRequest) { r.Readings = "18,5" }, map[string]string{"readings": "ambiguous"}},
		"nothing read":       {func(r *yard.MoistureRequest) { r.Readings = "" }, map[string]string{"readings": "missing"}},
		"limit has a basis":  {func(r *yard.MoistureRequest) { r.Limit = "20 %" }, map[string]string{"limit": "no-basis"}},
		"tomorrow":           {func(r *yard.MoistureRequest) { r.On = "2026-03-10" }, map[string]string{"on": "future"}},
		"a name not printed": {func(r *yard.MoistureRequest) { r.ReadBy = "Ольга" }, map[string]string{"read_by": "unprintable"}},
	} {
		r := goodMoisture()
		row.change(&r)
		_, err := y.AddMoisture(y.ctx, y.act(), o.ID, r)
		require.Equal(t, row.want, faults(t, err), name)
	}
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Empty(t, h.Moistures)

	_, err = y.AddMoisture(y.ctx, y.act(), newRequest(), goodMoisture())
	requireKind(t, act.NotFound, err)
	_, err = y.CancelOrder(y.ctx, y.act(), o.ID, o.Version)
	require.NoError(t, err)
	_, err = y.AddMoisture(y.ctx, y.act(), o.ID, goodMoisture())
	requireKind(t, act.Conflict, err)
}
