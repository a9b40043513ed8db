package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/store"
)

// yardUnder opens a shop that sells under a rule set.
func yardUnder(t *testing.T, code, units string) *yard {
	t.Helper()
	y := bareYard(t)
	shop := goodShop()
	shop.RuleSet, shop.Units = code, units
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	return y
}

func orderOf(quantity string) orders.OrderRequest {
	r := goodOrder()
	r.Quantity, r.PricePerCord, r.PriceTotal = quantity, "", "300"
	return r
}

// fieldOf gives the fault of one field.
func fieldOf(t *testing.T, err error, name string) *measure.InputError {
	t.Helper()
	require.Contains(t, faults(t, err), name)
	var e *orders.Error
	require.ErrorAs(t, err, &e)
	for _, f := range e.Fields {
		if f.Field == name {
			return f
		}
	}
	return nil
}

// Massachusetts General Laws, chapter 94, section 298: cubic feet and cubic metres
// alone.
func TestMassachusettsReadsCordsBackInCubicFeet(t *testing.T) {
	y := yardUnder(t, "massachusetts", "imperial")
	r := orderOf("2/3 cord")
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	asked := fieldOf(t, err, "confirmed")
	assert.Equal(t, "read-back", asked.Code)
	assert.Equal(t, "85.3 cu ft stacked", asked.Accepts.String())
	r.Confirmed = "2/3 cord"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, "read-back", fieldOf(t, err, "confirmed").Code, "not confirmed in the barred unit")
	r.Confirmed = asked.Accepts.String()
	o := y.take(r)
	assert.Equal(t, "85.3 cu ft stacked", o.Quantity.WithoutCords(false), "what was agreed is what is kept")
	assert.Equal(t, "2/3 cord", o.Words, "the words stay inside")

	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/3 cord"})
	assert.Equal(t, "42.7 cu ft stacked", fieldOf(t, err, "delivered").Accepts.String())
	f := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	assert.Equal(t, rules.CubicFoot, f.RuleSet.Unit)
	sheet := y.measure(o.ID)
	assert.EqualValues(t, "85.3 cu ft stacked", sheet.Sheet.Tally.Sold)
	assert.Equal(t, f.RuleSet, sheet.Sheet.RuleSet)

	by := orderOf("64 cu ft stacked")
	by.PriceTotal, by.PricePerUnit = "", "2.45"
	p := y.take(by).Price
	assert.Equal(t, "156.80 USD", p.Wood.String(), "64 × 2.45")
	assert.Equal(t, rules.CubicFoot, p.Unit)
	half := y.deliver(y.take(by).ID, orders.LoadRequest{Delivered: "32 cu ft"}).Receipt.Facts.Price
	assert.Equal(t, "78.40 USD", half.Wood.String())
	assert.Equal(t, p.PerUnit, half.PerUnit)

	priced := goodOrder()
	priced.Quantity = "64 cu ft"
	_, err = y.TakeOrder(y.ctx, y.act(), priced)
	assert.Equal(t, map[string]string{"price_total": "unit-not-sold"}, faults(t, err))
}

// Maine Revised Statutes, title 10, section 2302, as the Maine Forest Service
// restates it: 180 cubic feet at 12 and 16 in, 195 at 24 in.
func TestMaineTakesLooseCords(t *testing.T) {
	y := yardUnder(t, "maine", "imperial")
	for piece, feet := range map[string]measure.Volume{"12 in": 180, "16 in": 180, "24 in": 195} {
		r := orderOf("2 loose cords")
		r.PieceLength = piece
		want := measure.Quantity{Volume: 2 * feet * measure.CubicFoot, Basis: measure.Loose}
		o := y.take(r)
		assert.Equal(t, want, o.Quantity, piece)
		assert.EqualValues(t, measure.Quantity{Volume: feet * measure.CubicFoot}.WithoutCords(false), y.measure(o.ID).Sheet.Tally.LooseCord, piece)
	}
	r := orderOf("1 loose cord")
	r.PieceLength = "20 in"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	fault := fieldOf(t, err, "quantity")
	assert.Equal(t, "needs-rule-set", fault.Code)
	assert.Contains(t, fault.Reason.String(), "and these are 20 in")

	_, err = y.TakeOrder(y.ctx, y.act(), orderOf("64 cu ft"))
	fault = fieldOf(t, err, "quantity")
	assert.Equal(t, "basis-unsaid", fault.Code)
	assert.Contains(t, fault.Reason.String(), "stacked or loose?")
	y.take(orderOf("64 cu ft loose"))
	y.take(orderOf("1 cord"))

	o := orderOf("1 cord")
	o.Seasoning = ""
	_, err = y.Deliver(y.ctx, y.act(), y.take(o).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"order.seasoning": "missing"}, faults(t, err))
}

func TestALooseCordElsewhere(t *testing.T) {
	for code, says := range map[string]string{
		"us-model": "define no loose measure",
		// Minnesota Statutes, section 239.33
		"minnesota": "of sawed wood, and as 175 cu ft of sawed and split wood",
	} {
		_, err := yardUnder(t, code, "imperial").TakeOrder(t.Context(), orders.Act{Actor: owner, Request: newRequest()}, orderOf("1 loose cord"))
		assert.Contains(t, fieldOf(t, err, "quantity").Reason.String(), says, code)
	}
}

// EN ISO 17225-5, from memory: at retail it is said whether wood is stacked or loose.
func TestEuropeAsksStackedOrLoose(t *testing.T) {
	y := yardUnder(t, "europe", "metric")
	_, err := y.TakeOrder(y.ctx, y.act(), orderOf("3.6 m³"))
	assert.Equal(t, "basis-unsaid", fieldOf(t, err, "quantity").Code)
	assert.Equal(t, measure.Loose, y.take(orderOf("3.6 m³ loose")).Quantity.Basis)
	f := y.deliver(y.take(orderOf("3.6 m³ stacked")).ID, orders.LoadRequest{}).Receipt.Facts
	assert.Equal(t, rules.CubicMetre, f.RuleSet.Unit)
	assert.Equal(t, measure.Ranked, f.Delivered.Basis)
}

// Minnesota Statutes, section 239.092: the county and state the wood was cut in.
func TestMinnesotaAsksWhereTheWoodWasCut(t *testing.T) {
	y := yardUnder(t, "minnesota", "imperial")
	r := orderOf("1 cord")
	_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"order.origin": "missing"}, faults(t, err))
	r.Origin = "Slate County, Minnesota"
	f := y.deliver(y.take(r).ID, orders.LoadRequest{}).Receipt.Facts
	assert.Equal(t, "Slate County, Minnesota", f.Origin)
	r.Origin = "two face cords from Slate County"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, map[string]string{"origin": "barred"}, faults(t, err))
}

// A metric shop under the model law quotes by the cubic metre, and may by the cord.
func TestAMetricShopMayPriceByTheCordWhereTheRulesDo(t *testing.T) {
	y := yardUnder(t, "us-model", "metric")
	assert.Equal(t, "280.00 USD", y.take(goodOrder()).Price.PerCord.String())
	r := orderOf("2 m³ stacked")
	r.PriceTotal, r.PricePerUnit = "", "75"
	assert.Equal(t, "150.00 USD", y.take(r).Price.Wood.String())
}

func TestReceiptsStayUnderTheRulesTheyWereIssuedUnder(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	before := y.deliver(o.ID, orders.LoadRequest{})
	shop := goodShop()
	shop.Version, shop.RuleSet = 2, "massachusetts"
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	after, err := y.Receipt(y.ctx, owner, 1)
	require.NoError(t, err)
	assert.Equal(t, before, after)
	assert.Equal(t, rules.Cord, after.Receipt.Facts.RuleSet.Unit)
}

const ownSet = `{"code": "valley", "name": "The valley's ordinance", "edition": "2", "date": "2026-02-01", "extends": "us-model",
 "source": "made up", "status": "read", "barred": [{"name": "barrow", "source": "made up", "status": "read"}]}`

func TestASetOfTheShopsOwn(t *testing.T) {
	y := bareYard(t)
	built, err := rules.BuiltIn()
	require.NoError(t, err)
	book, err := built.With([]byte(ownSet))
	require.NoError(t, err)
	db, err := store.Open(y.ctx, y.path)
	require.NoError(t, err)
	defer db.Close()
	service := orders.New(db, paperless{}, func() time.Time { return y.now }, orders.UnderRules(book))
	shop := goodShop()
	shop.RuleSet = "valley"
	_, err = service.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	r := goodOrder()
	r.Species = "a barrow of oak"
	_, err = service.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, map[string]string{"species": "barred"}, faults(t, err))

	_, err = y.TakeOrder(y.ctx, y.act(), goodOrder())
	requireKind(t, orders.Conflict, err)
	assert.ErrorContains(t, err, "valley", "a program started without the file says which set it lacks")
}
