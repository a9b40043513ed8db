package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

func need(t require.TestingT, w storage.Winter) storage.Need {
	if w.Share == 0 {
		w.Share = 1
	}
	n, err := w.Plan()
	require.NoError(t, err)
	return n
}

// A cord of air-dry hardwood is about 250 gallons of propane in usable heat:
// University of Missouri Extension, "Wood Fuel for Heating".
func TestACordIsAbout250GallonsOfPropane(t *testing.T) {
	n := need(t, storage.Winter{Fuel: storage.Propane, Amount: 250_000, Wood: storage.HeavyHardwood, Appliance: storage.NewStove})
	assert.InDelta(t, 17.75, n.Heat.Low.In(wood.MillionBtu), 0.01)
	assert.Less(t, n.Wood.Low, measure.Cord)
	assert.Greater(t, n.Wood.High, measure.Cord)
}

// Seasoned firewood gives 15.3 million Btu net a cord: USDA Forest Products
// Laboratory, fuel value sheet, 5th edition.
func TestASeasonedCordIsInsideItsRange(t *testing.T) {
	n := need(t, storage.Winter{Fuel: storage.WoodFuel, Amount: 1_000, Appliance: storage.NewStove})
	assert.Less(t, n.Heat.Low.In(wood.MillionBtu), 15.3)
	assert.Greater(t, n.Heat.High.In(wood.MillionBtu), 15.3)
	assert.Equal(t, measure.Cord, n.Wood.Low, "as much as last winter")
}

// A cord or more heats an average, well insulated house; a third of a cord is for
// occasional fires: common practice, no source.
func TestCommonPractice(t *testing.T) {
	house := need(t, storage.Winter{Fuel: storage.House, Floor: 1800 * storage.SquareFoot, Climate: storage.Moderate, Appliance: storage.NewStove, Wood: storage.HeavyHardwood})
	assert.Less(t, house.Wood.Low, measure.Cord)
	assert.Greater(t, house.Wood.High, measure.Cord)
	fires := need(t, storage.Winter{Fuel: storage.Fires, Amount: 40_000})
	assert.Less(t, fires.Wood.Low, measure.Cord/3)
	assert.Greater(t, fires.Wood.High, measure.Cord/3)
}

// 3 412 Btu in a kWh (NIST SP 811, Appendix B.8).
func TestElectricHeat(t *testing.T) {
	n := need(t, storage.Winter{Fuel: storage.Electricity, Amount: 1_000_000, Appliance: storage.NewStove})
	assert.InDelta(t, 3.412, n.Heat.Low.In(wood.MillionBtu), 0.001)
	pump := need(t, storage.Winter{Fuel: storage.HeatPump, Amount: 1_000_000, Appliance: storage.NewStove})
	assert.Equal(t, 2*n.Heat.Low, pump.Heat.Low)
}

func TestWinterProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := storage.Winter{
			Fuel:   rapid.SampledFrom(storage.Fuels()).Draw(t, "fuel"),
			Amount: rapid.Int64Range(1_000, 5_000_000).Draw(t, "amount"),
			Floor:  storage.Area(rapid.Int64Range(100, 9_000).Draw(t, "floor")) * storage.SquareFoot, Climate: rapid.SampledFrom(storage.Climates()).Draw(t, "climate"),
			Appliance: rapid.SampledFrom(storage.Appliances()).Draw(t, "appliance"),
			Wood:      rapid.SampledFrom(storage.WoodKinds()).Draw(t, "wood"),
			Share:     float64(rapid.IntRange(1, 100).Draw(t, "share")) / 100,
		}
		n := need(t, w)
		require.Positive(t, n.Wood.Low)
		require.LessOrEqual(t, n.Wood.Low, n.Wood.High)
		require.LessOrEqual(t, n.Heat.Low, n.Heat.High)
		require.NotEmpty(t, n.Grounds)
		for _, g := range n.Grounds {
			require.NotEmpty(t, g.Status, "every figure says how it is known")
			require.True(t, g.Source != "" || g.Status == storage.Practice || g.Status == storage.FromMemory || g.Status == storage.Derived)
		}
		more := w
		more.Amount, more.Floor = 2*w.Amount, 2*w.Floor
		require.InEpsilon(t, 2*float64(n.Wood.High), float64(need(t, more).Wood.High), 1e-6)
	})
}

func TestTypedWinter(t *testing.T) {
	good := storage.TypedWinter{Fuel: "oil", Amount: "600", Climate: "cold", Appliance: "new stove", Share: "50 %"}
	w, err := good.Read(storage.Units{})
	require.NoError(t, err)
	assert.Equal(t, int64(600_000), w.Amount)
	assert.InDelta(t, 0.5, w.Share, 1e-12)
	for field, bad := range map[string]func(*storage.TypedWinter){
		"fuel":      func(t *storage.TypedWinter) { t.Fuel = "peat" },
		"amount":    func(t *storage.TypedWinter) { t.Amount = "600 gallons or so" },
		"floor":     func(t *storage.TypedWinter) { t.Fuel = "house" },
		"climate":   func(t *storage.TypedWinter) { t.Climate = "" },
		"appliance": func(t *storage.TypedWinter) { t.Appliance = "campfire" },
		"share":     func(t *storage.TypedWinter) { t.Share = "120" },
	} {
		typed := good
		bad(&typed)
		_, err := typed.Read(storage.Units{})
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, field)
		require.Len(t, faults, 1, "%s: %v", field, faults)
		assert.Equal(t, field, faults[0].Field)
	}
	house := storage.TypedWinter{Fuel: "house", Floor: "1800 sq ft", Climate: "cold", Appliance: "old stove"}
	w, err = house.Read(storage.Units{})
	require.NoError(t, err)
	assert.Equal(t, 1800*storage.SquareFoot, w.Floor)
}
