package orders_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// bareOrder says nothing of the wood but in the words of its quantity.
func bareOrder(quantity string) orders.OrderRequest {
	r := goodOrder()
	r.Quantity, r.Species, r.PieceLength, r.Seasoning, r.DeliveryFee = quantity, "", "", "", ""
	r.UsualLength = "16 in"
	return r
}

func TestWordsOnTheWoodGoToTheirFields(t *testing.T) {
	y := newYard(t)
	for _, row := range []struct {
		words, species, notes string
		seasoning             yard.Seasoning
		piece                 measure.Length
		quantity              measure.Quantity
	}{
		{"1 cord of oak", "oak", "", "", 16 * measure.Inch, cords(1, 1)},
		{"1 cord 12\"", "", "", "", 12 * measure.Inch, cords(1, 1)},
		{"2 cords seasoned oak 18 inch", "oak", "", yard.Seasoned, 18 * measure.Inch, cords(2, 1)},
		{"2 cords seasoned red oak 18 inch split small, stacked, leave the gate shut, ring first", "red oak", "leave the gate shut\nring first", yard.Seasoned, 18 * measure.Inch, cords(2, 1)},
		{"a full cord of kiln dried sugar maple", "sugar maple", "", yard.KilnDried, 16 * measure.Inch, cords(1, 1)},
		{"cord and a half of maple", "maple", "", "", 16 * measure.Inch, cords(3, 2)},
		{"a couple of cords, green, mixed hardwood", "mixed hardwood", "", yard.Green, 16 * measure.Inch, cords(2, 1)},
		{"1 cord oak and red maple", "oak and red maple", "", "", 16 * measure.Inch, cords(1, 1)},
		{"1 cord oak/ash", "oak/ash", "", "", 16 * measure.Inch, cords(1, 1)},
		{"1 cord, no bark please", "", "no bark please", "", 16 * measure.Inch, cords(1, 1)},
		{"two face cords of oak, 16 inch", "oak", "", "", 16 * measure.Inch, cords(2, 3)},
		{"1 cord of banana", "", "banana", "", 16 * measure.Inch, cords(1, 1)},
		{"4 x 4 x 8", "", "", "", 16 * measure.Inch, cords(1, 1)},
		{"a 1/2 cord of seasoned firewood", "", "", yard.Seasoned, 16 * measure.Inch, cords(1, 2)},
	} {
		o := y.take(bareOrder(row.words))
		assert.Equal(t, row.species, o.Species, row.words)
		assert.Equal(t, row.notes, o.Notes, row.words)
		assert.Equal(t, row.seasoning, o.Seasoning, row.words)
		assert.Equal(t, row.piece, o.PieceLength, row.words)
		assert.Equal(t, row.quantity, o.Quantity, row.words)
		assert.Contains(t, row.words, o.Words, "what is kept as said is how much")
	}
}

func TestWordsAndFieldsThatDifferAreAskedAbout(t *testing.T) {
	y := newYard(t)
	for _, row := range []struct {
		words  string
		change func(*orders.OrderRequest)
		want   map[string]string
	}{
		{"1 cord of oak", func(r *orders.OrderRequest) { r.Species = "ash" }, map[string]string{"species": "conflict"}},
		{"1 cord of oak", func(r *orders.OrderRequest) { r.Species = "Red Oak" }, map[string]string{}},
		{"1 cord 12 in", func(r *orders.OrderRequest) { r.PieceLength = "16 in" }, map[string]string{"piece_length": "conflict"}},
		{"1 cord 16 in", func(r *orders.OrderRequest) { r.PieceLength = "16" }, map[string]string{}},
		{"a face cord of 24 in", func(r *orders.OrderRequest) { r.PieceLength = "16 in" }, map[string]string{"piece_length": "conflict"}},
		{"1 cord seasoned", func(r *orders.OrderRequest) { r.Seasoning = "green" }, map[string]string{"seasoning": "conflict"}},
		{"1 cord green or seasoned", nil, map[string]string{"seasoning": "conflict"}},
		{"1 cord dry oak", nil, map[string]string{"seasoning": "unclear"}},
		{"1 cord dry oak", func(r *orders.OrderRequest) { r.Seasoning = "seasoned" }, map[string]string{}},
		{"1 cord green, seasoned", nil, map[string]string{"seasoning": "conflict"}},
		{"1 cord oak, ash", nil, map[string]string{"species": "two-species"}},
		{"1 cord green ash", nil, map[string]string{"species": "ambiguous"}},
		{"1 cord green ash", func(r *orders.OrderRequest) { r.Species = "green ash" }, map[string]string{}},
		{"1 cord", func(r *orders.OrderRequest) { r.UsualLength = "" }, map[string]string{"piece_length": "missing"}},
		{"1 cord oak", func(r *orders.OrderRequest) { r.UsualLength = "9 ft" }, map[string]string{"usual_length": "out-of-range"}},
		{"1 cord of a face cord", nil, map[string]string{"quantity": "two-quantities"}},
		{"1 cord, 5 June", func(r *orders.OrderRequest) { r.Day = "6 June" }, map[string]string{"day": "conflict"}},
		{"1 cord, 12/5", nil, map[string]string{"day": "ambiguous"}},
		{"1 cord, 12/5", func(r *orders.OrderRequest) { r.Day = "5 June" }, map[string]string{}},
		{"1 cord split small", func(r *orders.OrderRequest) { r.Split = "large" }, map[string]string{"split": "conflict"}},
		{"1 cord, stacked", func(r *orders.OrderRequest) { r.Stacking = "no" }, map[string]string{"stacking": "conflict"}},
		{"1 cord", func(r *orders.OrderRequest) { r.Stacking = "maybe" }, map[string]string{"stacking": "unknown"}},
	} {
		r := bareOrder(row.words)
		if row.change != nil {
			row.change(&r)
		}
		_, err := y.ReadBack(y.ctx, owner, r)
		if len(row.want) == 0 {
			require.NoError(t, err, row.words)
			continue
		}
		require.Equal(t, row.want, faults(t, err), row.words)
	}
}

// A note from the words is written once, however often the order is saved.
func TestWordsAreNotedOnce(t *testing.T) {
	y := newYard(t)
	r := bareOrder("1 cord of oak")
	r.Quantity = "1 cord oak, ring twice"
	o := y.take(r)
	r.Notes, r.Version = o.Notes, o.Version
	changed, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
	require.Equal(t, "ring twice", changed.Notes)
}

// Each thing that was said to the customer is asked about again where it is another
// when the order is taken, and what was confirmed takes no other order.
func TestAChangedFieldIsReadBackAgain(t *testing.T) {
	y := newYard(t)
	read := y.read(goodOrder())
	require.NotEmpty(t, read.Confirmed)
	_, err := y.TakeOrder(y.ctx, y.act(), goodOrder())
	asked := fieldOf(t, err, "confirmed")
	require.Equal(t, "read-back", asked.Code)
	require.Equal(t, "read back to the customer: 1 cord for 280.00 USD, 305.00 USD in all", asked.Reason.String())
	require.Equal(t, read.Confirmed, asked.Accepts.String())
	for name, change := range map[string]func(*orders.OrderRequest){
		"quantity": func(r *orders.OrderRequest) { r.Quantity = "2 cords" }, "price": func(r *orders.OrderRequest) { r.PricePerCord = "280.01" },
		"fee": func(r *orders.OrderRequest) { r.DeliveryFee = "26" }, "name": func(r *orders.OrderRequest) { r.CustomerName = "Bo Lund" },
		"address": func(r *orders.OrderRequest) { r.CustomerAddress = "8 Ferry Lane" }, "species": func(r *orders.OrderRequest) { r.Species = "ash" },
		"piece": func(r *orders.OrderRequest) { r.PieceLength = "18 in" }, "seasoning": func(r *orders.OrderRequest) { r.Seasoning = "green" },
		"deposit": func(r *orders.OrderRequest) { r.Deposit = "5" }, "notes": func(r *orders.OrderRequest) { r.Notes = "ring" },
	} {
		r := read
		change(&r)
		_, err := y.TakeOrder(y.ctx, y.act(), r)
		require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), name)
	}
	page, err := y.Orders(y.ctx, owner, 0, 0)
	require.NoError(t, err)
	require.Empty(t, page.Orders)
	o, err := y.TakeOrder(y.ctx, y.act(), read)
	require.NoError(t, err)
	require.Equal(t, "305.00 USD", o.Price.Total().String())
}

// A change that leaves quantity and total as they were asks nothing.
func TestAChangeOfTheAddressIsNotReadBack(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	r := goodOrder()
	r.CustomerAddress, r.Version = "8 Ferry Lane", o.Version
	_, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
}

// A point before three digits is asked about under rules that are metric alone, and
// nowhere else.
func TestAPointBeforeThreeDigits(t *testing.T) {
	y := yardUnder(t, "europe", "metric")
	_, err := y.ReadBack(y.ctx, owner, orderOf("1.234 m³ stacked"))
	require.Equal(t, map[string]string{"quantity": "ambiguous"}, faults(t, err))
	r := orderOf("2 m³ stacked")
	r.PieceLength = "1.234 m"
	_, err = y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"piece_length": "ambiguous"}, faults(t, err))
	o := y.take(orderOf("1.2340 m³ stacked"))
	require.Equal(t, measure.Volume(1_234)*measure.Litre, o.Quantity.Volume)
	require.Equal(t, "1.2340 m³ stacked", o.Quantity.WithoutCords(true), "what the program writes is read back by it")

	y = yardUnder(t, "canada", "metric")
	o = y.take(orderOf("1.234 m³ stacked"))
	require.Equal(t, measure.Volume(1_234)*measure.Litre, o.Quantity.Volume)
}

// Where only how much is asked, words on the wood are not passed over.
func TestWordsOnTheWoodAreNotPassedOver(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/2 cord of ash"})
	require.Equal(t, map[string]string{"delivered": "not-asked"}, faults(t, err))
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/2 cord, 24 in"})
	require.Equal(t, map[string]string{"delivered": "two-lengths"}, faults(t, err))
	_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "1/2 cord, 16 in"})
	require.NoError(t, err)
}

// What a line says goes to the order's fields and comes back from the file; a load is what
// the bed that was taped holds, and is read back.
func TestALineIsTakenApart(t *testing.T) {
	y := newYard(t)
	o := y.take(bareOrder("2 cords seasoned oak 16 inch, split small, stacked, 5 June in the morning, ring first"))
	kept, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	assert.Equal(t, spoken.SmallSplit, kept.Order.Split)
	assert.Equal(t, spoken.Stacked, kept.Order.Stacking)
	assert.Equal(t, "5 June", strings.TrimSuffix(kept.Order.Day.From.Text().String(), " 2026"))
	assert.Equal(t, "morning", kept.Order.Day.Part)
	assert.Equal(t, "ring first", kept.Order.Notes)

	_, err = y.ReadBack(y.ctx, owner, bareOrder("a truckload of oak"))
	require.Equal(t, map[string]string{"quantity": "no-bed"}, faults(t, err))
	_, err = y.AddBody(y.ctx, y.act(), yard.BodyRequest{Name: "red truck", Line: "top board", Arrangement: "ranked", Length: "8", Width: "4", Height: "24"})
	require.NoError(t, err)
	back, err := y.ReadBack(y.ctx, owner, bareOrder("two truckloads of oak"))
	require.NoError(t, err)
	assert.Equal(t, cords(1, 1), back.Order.Quantity, "8 ft by 4 ft by 2 ft, twice")
	assert.Equal(t, "2 times red truck, filled to top board, is 1 cord", back.Why.String())
}
