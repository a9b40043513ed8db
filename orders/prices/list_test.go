package prices

import (
	"math/big"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

var today = act.Date{Year: 2026, Month: time.November, Day: 28}

func dollars(n int64) money.Money { return money.Money{Minor: n * 100, Currency: "USD"} }

func cords(n, of int64) measure.Quantity {
	return measure.Quantity{Volume: measure.Cord * measure.Volume(n) / measure.Volume(of), Basis: measure.Ranked}
}

// oakList is a list as a seller has it.
func oakList() List {
	lines := []Line{
		{ID: "any", Item: Item{Kind: Wood, Per: cords(1, 1)}, Price: dollars(240)},
		{ID: "oak", Item: Item{Kind: Wood, Species: "Oak", Per: cords(1, 1)}, Price: dollars(300)},
		{ID: "half-oak", Item: Item{Kind: Wood, Species: "oak", Per: cords(1, 2)}, Price: dollars(170)},
		{ID: "dry-oak", Item: Item{Kind: Wood, Species: "oak", Seasoning: yard.Seasoned, Per: cords(1, 1)}, Price: dollars(360)},
		{ID: "short-oak", Item: Item{Kind: Wood, Species: "oak", PieceLength: 12 * measure.Inch, Per: cords(1, 1)}, Price: dollars(390)},
		{ID: "white", Item: Item{Kind: Wood, Species: "white oak", Per: cords(1, 1)}, Price: dollars(320)},
		{ID: "near", Item: Item{Kind: Delivery, Place: "Corinth and Topsham"}, Price: dollars(0)},
		{ID: "stacking", Item: Item{Kind: Stacking, Per: cords(1, 1)}, Price: dollars(60)},
		{ID: "least", Item: Item{Kind: Least, Per: cords(1, 2)}},
	}
	for i := range lines {
		lines[i].From = today
	}
	return On(lines, today, "USD")
}

func TestTheLineThatSaysMostOfTheWoodGivesItsPrice(t *testing.T) {
	list := oakList()
	for _, row := range []struct {
		species   string
		length    measure.Length
		seasoning yard.Seasoning
		quantity  measure.Quantity
		line      string
		price     money.Money
	}{
		{"oak", 16 * measure.Inch, "", cords(2, 1), "oak", dollars(600)},
		{"Red  OAK", 16 * measure.Inch, "", cords(2, 1), "oak", dollars(600)},
		{"white oak", 16 * measure.Inch, yard.Seasoned, cords(1, 1), "white", dollars(320)},
		{"red oak", 16 * measure.Inch, yard.Seasoned, cords(3, 2), "dry-oak", dollars(540)},
		{"red oak", 12 * measure.Inch, yard.Seasoned, cords(1, 1), "short-oak", dollars(390)},
		{"oak", 16 * measure.Inch, "", cords(1, 2), "half-oak", dollars(170)},
		{"oak", 16 * measure.Inch, "", cords(3, 4), "half-oak", dollars(255)},
		{"oak", 16 * measure.Inch, "", cords(1, 4), "half-oak", dollars(85)},
		{"cloak", 16 * measure.Inch, "", cords(1, 1), "any", dollars(240)},
		{"", 16 * measure.Inch, "", cords(1, 3), "any", dollars(80)},
		{"red oak 60 %; white oak", 16 * measure.Inch, "", cords(1, 1), "any", dollars(240)},
	} {
		l, found := list.Wood(Item{Kind: Wood, Species: row.species, PieceLength: row.length, Seasoning: row.seasoning, Per: row.quantity})
		require.True(t, found, row.species)
		assert.Equal(t, row.line, l.ID, "%s, %s", row.species, row.quantity)
		assert.Equal(t, row.price, l.Of(row.quantity.Volume), "%s, %s", row.species, row.quantity)
	}
	_, found := list.Wood(Item{Kind: Wood, Per: measure.Quantity{Volume: measure.Cord, Basis: measure.Loose}})
	assert.False(t, found, "loose wood has no price by the stacked cord")
}

func TestAPriceIsFromADayOn(t *testing.T) {
	item := Item{Kind: Wood, Species: "ash", Per: cords(1, 1)}
	all := []Line{
		{ID: "a", Item: item, Price: dollars(250), From: today.AddDays(-30)},
		{ID: "b", Item: item, Price: dollars(280), From: today.AddDays(10)},
		{ID: "c", Item: item, Price: dollars(290), From: today.AddDays(10)}, // written later for the same day
		{ID: "d", Item: item, Ended: true, From: today.AddDays(40)},
		{ID: "e", Item: item, Price: money.Money{Minor: 1, Currency: "CAD"}, From: today.AddDays(-1)},
	}
	on := func(days int) (money.Money, List) {
		list := On(all, today.AddDays(days), "USD")
		l, _ := list.Wood(item)
		return l.Price, list
	}
	now, list := on(0)
	assert.Equal(t, dollars(250), now)
	require.Len(t, list.Coming, 2, "of one day the last that was written")
	assert.Equal(t, "c", list.Coming[0].ID)
	before, _ := on(-31)
	assert.Zero(t, before, "not offered yet")
	later, list := on(10)
	assert.Equal(t, dollars(290), later)
	assert.Len(t, list.Past, 3)
	gone, list := on(40)
	assert.Zero(t, gone)
	assert.Empty(t, list.Lines)
	assert.Len(t, list.Past, 5, "nothing that was written down is lost")
}

// Whatever the amounts, a price is the exact product rounded once, half up, and never less
// for more of the same line; worked out here in fractions.
func TestPricesAreExact(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for range 20000 {
		l := Line{Item: Item{Per: measure.Quantity{Volume: 1 + measure.Volume(random.Int64N(int64(10*measure.Cord)))}}, Price: money.Money{Minor: random.Int64N(1_000_000), Currency: "USD"}}
		v := measure.Volume(random.Int64N(int64(20 * measure.Cord)))
		exact := new(big.Rat).Mul(big.NewRat(l.Price.Minor, 1), big.NewRat(int64(v), int64(l.Per.Volume)))
		exact.Add(exact, big.NewRat(1, 2))
		want := new(big.Int).Quo(exact.Num(), exact.Denom())
		if !want.IsInt64() || want.Int64() > 1<<52 {
			continue
		}
		require.Equal(t, want.Int64(), l.Of(v).Minor, "%d for %d of %d", l.Price.Minor, v, l.Per.Volume)
		require.GreaterOrEqual(t, l.Of(v+measure.Cord/128).Minor, l.Of(v).Minor)
		require.Equal(t, l.Price, l.Of(l.Per.Volume), "as much as it is for costs just that")
	}
}

// A price that is to come and is taken back leaves what holds now, and is listed no more; taken
// back where nothing holds before it, nothing is.
func TestAComingPriceIsTakenBack(t *testing.T) {
	oak := Item{Kind: Wood, Species: "oak"}
	today, later := act.Date{Year: 2026, Month: 11, Day: 20}, act.Date{Year: 2027, Month: 1, Day: 1}
	usd := func(n int64) money.Money { return money.Money{Minor: n, Currency: "USD"} }
	all := []Line{
		{ID: "1", Item: oak, Price: usd(30000), From: today}, {ID: "2", Item: oak, Price: usd(35000), From: later},
		{ID: "3", Item: oak, Price: usd(30000), From: later}, // what End writes down
		{ID: "4", Item: Item{Kind: Wood, Species: "ash"}, Price: usd(1), From: later}, {ID: "5", Item: Item{Kind: Wood, Species: "ash"}, From: later, Ended: true},
	}
	assert.Empty(t, On(all, today, "USD").Coming)
	then := On(all, later.AddDays(3), "USD")
	require.Len(t, then.Lines, 1)
	assert.Equal(t, usd(30000), then.Lines[0].Price)
	assert.Len(t, On(all[:2], today, "USD").Coming, 1)
}
