package orders_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/store"
)

// yardUnder opens a shop that sells under a rule set.
func yardUnder(t *testing.T, code, units string) *sellerYard {
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
	var e *act.Error
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
	assert.True(t, strings.HasPrefix(asked.Accepts.String(), "85.3 cu ft stacked, 325.00 USD, "), asked.Accepts.String())
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

	o := orderOf("1 cord") // green or dry is advised, and part of what the wood is
	o.Seasoning = ""
	y.deliver(y.take(o).ID, orders.LoadRequest{})
	o.Species = ""
	_, err = y.Deliver(y.ctx, y.act(), y.take(o).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"order.species": "missing"}, faults(t, err))
}

func TestNoLooseCordWhereTheRulesDefineNone(t *testing.T) {
	y := yardUnder(t, "us-model", "imperial")
	_, err := y.TakeOrder(y.ctx, y.act(), orderOf("1 loose cord"))
	assert.Contains(t, fieldOf(t, err, "quantity").Reason.String(), "define no loose measure")
}

// NIST Handbook 130, section 2.4.3: by the cord and the cubic metre, both stacked.
func TestLooseWoodIsRefusedWhereOnlyStackedIsSold(t *testing.T) {
	y := yardUnder(t, "us-model", "imperial")
	for _, words := range []string{"180 cu ft loose", "180 cubic feet thrown", "5 m³ loose"} {
		_, err := y.TakeOrder(y.ctx, y.act(), orderOf(words))
		fault := fieldOf(t, err, "quantity")
		assert.Equal(t, "basis-not-sold", fault.Code, words)
		assert.Equal(t, words, fault.Got)
		assert.Contains(t, fault.Reason.String(), "section 2.4.3", "which rule")
		assert.Contains(t, fault.Accepts.String(), "once stacked", "what to plan with")
	}
	o := y.take(orderOf("1 cord"))
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "180 cu ft thrown"})
	assert.Equal(t, "basis-not-sold", fieldOf(t, err, "delivered").Code)
}

// An order of loose wood stays when the shop's rules change to some that sell only
// stacked wood: it is not handed over so, it can be changed, and nothing is lost.
func TestLooseOrdersUnderNewRules(t *testing.T) {
	y := yardUnder(t, "maine", "imperial")
	o, part := y.take(orderOf("180 cu ft loose")), y.take(orderOf("2 loose cords"))
	half := y.deliver(part.ID, orders.LoadRequest{Delivered: "180 cu ft loose"})
	shop := goodShop()
	shop.RuleSet, shop.Version = "us-model", 2
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)

	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"order.quantity": "basis-not-sold"}, faults(t, err))
	kept := y.history(o.ID).Order
	assert.Equal(t, o, kept, "nothing of it is changed")
	_, err = y.Deliver(y.ctx, y.act(), part.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"shop.rule_set": "basis-not-sold"}, faults(t, err), "an order with a receipt stays as it is")
	same, err := y.Receipt(y.ctx, owner, half.Receipt.Facts.Number)
	require.NoError(t, err)
	assert.Equal(t, half, same)

	r := orderOf("1 cord")
	r.Version = o.Version
	changed, err := y.ChangeOrder(y.ctx, y.act(), o.ID, y.read(r))
	require.NoError(t, err)
	assert.Equal(t, measure.Ranked, y.deliver(changed.ID, orders.LoadRequest{}).Receipt.Facts.Delivered.Basis)

	shop.RuleSet, shop.Version = "maine", 3
	_, err = y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	y.deliver(part.ID, orders.LoadRequest{}) // under the rules it was taken under
}

// Minnesota Statutes, section 239.33: a cord is 110 cubic feet ranked and 160 loose of
// sawed wood, 120 and 175 of wood that is split as well, 128 in 4 foot lengths.
func TestMinnesotaAsksHowTheWoodIsPrepared(t *testing.T) {
	y := yardUnder(t, "minnesota", "imperial")
	r := orderOf("1 cord")
	r.Origin = "Slate County, Minnesota"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	asked := fieldOf(t, err, "quantity")
	assert.Equal(t, "preparation-unsaid", asked.Code)
	assert.Contains(t, asked.Accepts.String(), "“sawed” or “sawed and split”")

	for words, want := range map[string]struct {
		feet  measure.Volume
		basis measure.Basis
	}{
		"1 cord sawed": {110, measure.Ranked}, "1 cord of sawed and split wood": {120, measure.Ranked},
		"2 cords cut and split": {240, measure.Ranked}, "1 loose cord, sawed": {160, measure.Loose}, "1 cord thrown, sawed and split": {175, measure.Loose},
	} {
		r.Quantity, r.Confirmed = words, ""
		_, err = y.TakeOrder(y.ctx, y.act(), r)
		read := fieldOf(t, err, "confirmed")
		assert.Equal(t, "read-back", read.Code, words)
		assert.Contains(t, read.Reason.String(), "Minnesota Statutes, section 239.33", words)
		q := measure.Quantity{Volume: want.feet * measure.CubicFoot, Basis: want.basis}
		assert.True(t, strings.HasPrefix(read.Accepts.String(), q.WithoutCords(false)+", "), "cubic feet, which nobody misreads: %s", read.Accepts)
		r.Confirmed = read.Accepts.String()
		o := y.take(r)
		assert.Equal(t, q, o.Quantity, words)
		require.NotNil(t, y.history(o.ID).Cord, words)
		f := y.deliver(o.ID, measured()).Receipt.Facts
		require.NotNil(t, f.Cord, words)
		assert.Equal(t, "Minnesota Statutes, section 239.33", f.Cord.Source)
		assert.Equal(t, rules.CubicFoot, f.RuleSet.Unit)
		sheet := y.measure(o.ID).Sheet
		assert.EqualValues(t, q.WithoutCords(false), sheet.Tally.Sold)
		if want.basis == measure.Loose {
			assert.EqualValues(t, measure.Quantity{Volume: want.feet * measure.CubicFoot}.WithoutCords(false), sheet.Tally.LooseCord)
		}
	}

	r.Quantity, r.Confirmed = "1 cord sawed and split", "15/16 cord"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, "read-back", fieldOf(t, err, "confirmed").Code, "a cord confirms no cord")
	r.Confirmed, r.PriceTotal, r.PricePerCord = "120 cu ft", "", "280"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, map[string]string{"price_total": "unit-not-sold"}, faults(t, err), "a price by which cord?")

	plain := orderOf("128 cu ft")
	plain.Origin = r.Origin
	_, err = y.TakeOrder(y.ctx, y.act(), plain)
	assert.Equal(t, map[string]string{"quantity": "basis-unsaid"}, faults(t, err), "cubic feet are sold stacked and loose")
	plain.Quantity = "128 cu ft stacked"
	o := y.take(plain)
	assert.Nil(t, y.deliver(o.ID, measured()).Receipt.Facts.Cord, "said in cubic feet")
	long := orderOf("1 cord")
	long.PieceLength, long.Confirmed = "48 in", "128 cu ft"
	assert.Equal(t, measure.Cord, y.take(long).Quantity.Volume, "4 foot lengths are not asked")

	doc := `{"format":1,"sold":"128 cu ft","apart":"1/4 cord","stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":["4 ft","4 ft","4 ft"]}]}}`
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: []byte(doc), ReadBy: "Ada Quill"})
	assert.Equal(t, map[string]string{"apart": "preparation-unsaid"}, faults(t, err), "nor is what stands elsewhere guessed")
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

// measured is a load whose receipt says who measured it, as Minnesota asks.
func measured() orders.LoadRequest {
	return orders.LoadRequest{TicketRequest: orders.TicketRequest{MeasurerName: "Nora Feld", MeasurerAddress: "1 Mill Road, Slate, MN 55000"}}
}

// Minnesota Statutes, section 239.092: the county and state the wood was cut in.
func TestMinnesotaAsksWhereTheWoodWasCut(t *testing.T) {
	y := yardUnder(t, "minnesota", "imperial")
	r := orderOf("64 cu ft stacked")
	_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, measured())
	assert.Equal(t, map[string]string{"order.origin": "missing"}, faults(t, err))
	r.Origin = "Slate County, Minnesota"
	f := y.deliver(y.take(r).ID, measured()).Receipt.Facts
	assert.Equal(t, "Slate County, Minnesota", f.Origin)
}

// Minnesota Statutes, section 239.092(a)(1): the person who weighed or measured, and not
// the vendor, unless seller and buyer both witnessed it.
func TestMinnesotaNamesWhoMeasured(t *testing.T) {
	y := yardUnder(t, "minnesota", "imperial")
	r := orderOf("64 cu ft stacked")
	r.Origin = "Slate County, Minnesota"
	_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"measured_by": "missing", "measured_by_address": "missing"}, faults(t, err))
	half := measured()
	half.MeasurerAddress = ""
	_, err = y.Deliver(y.ctx, y.act(), y.take(r).ID, half)
	assert.Equal(t, map[string]string{"measured_by_address": "missing"}, faults(t, err))

	issued := y.deliver(y.take(r).ID, measured())
	assert.Equal(t, orders.Party{Name: "Nora Feld", Address: "1 Mill Road, Slate, MN 55000"}, issued.Receipt.Measurer)
	assert.Contains(t, string(issued.Personal), "Nora Feld", "in the part that can be erased")
	assert.NotContains(t, string(issued.FactBytes), "Nora Feld")

	seen := y.deliver(y.take(r).ID, orders.LoadRequest{TicketRequest: orders.TicketRequest{Witnessed: "yes"}})
	assert.True(t, seen.Receipt.Facts.Ticket.Witnessed)
	assert.Empty(t, seen.Receipt.Measurer.Name)

	firm := goodShop()
	firm.RuleSet, firm.Version, firm.Name, firm.Address = "minnesota", 2, "", ""
	_, err = y.ChangeShop(y.ctx, y.act(), firm)
	require.NoError(t, err)
	y.deliver(y.take(r).ID, measured()) // the law does not ask who sells
}

// Minnesota Department of Commerce, leaflet on measuring firewood: these terms have no
// definition in law, and are not barred.
func TestATermWithoutASizeIsReadBackByName(t *testing.T) {
	for code, says := range map[string]string{
		"minnesota": "a face cord has no size in law here (Minnesota Department of Commerce",
		// Maine Revised Statutes, title 10, section 2302(1)(B)
		"maine": "a face cord is defined here (Maine Revised Statutes, title 10, section 2302(1)(B)",
	} {
		y := yardUnder(t, code, "imperial")
		r := orderOf("two face cords of 16 inch")
		r.Origin = "Slate County, Minnesota"
		r.Notes = "she calls it a face cord" // a word that is not barred may be written down
		_, err := y.TakeOrder(y.ctx, y.act(), r)
		read := fieldOf(t, err, "confirmed")
		assert.Contains(t, read.Reason.String(), says, code)
		r.Confirmed = read.Accepts.String()
		o := y.take(r)
		assert.InDelta(t, 2.0/3, o.Quantity.Volume.In(measure.Cord), 0.001, code)
	}
}

// Maine Revised Statutes, title 10, section 2624: on sales of more than 20 dollars.
func TestMaineAsksForATicketAboveTwentyDollars(t *testing.T) {
	y := yardUnder(t, "maine", "imperial")
	r := orderOf("1/8 cord")
	r.CustomerAddress, r.PricePerCord, r.PriceTotal, r.DeliveryFee, r.Deposit = "", "", "20", "", ""
	y.deliver(y.take(r).ID, orders.LoadRequest{})
	r.PriceTotal = "20.01"
	_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, orders.LoadRequest{})
	assert.Equal(t, map[string]string{"customer_address": "missing"}, faults(t, err))
}

// Massachusetts General Laws, chapter 94, section 298.
func TestKindlingIsNotSoldAsFirewood(t *testing.T) {
	y := yardUnder(t, "massachusetts", "imperial")
	r := orderOf("64 cu ft")
	r.PieceLength = "8 in"
	_, err := y.TakeOrder(y.ctx, y.act(), r)
	assert.Equal(t, map[string]string{"piece_length": "not-firewood"}, faults(t, err))
	assert.Contains(t, fieldOf(t, err, "piece_length").Reason.String(), "bushel")
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
	requireKind(t, act.Conflict, err)
	assert.ErrorContains(t, err, "valley", "a program started without the file says which set it lacks")
}
