package storage_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

// What a winter's answer rests on, worked by hand: heat in thousands of Btu. The heat of
// oil, propane and gas (net of the furnace) is USDA Forest Products Laboratory's, fuel
// value sheet, 5th edition; the shares of appliances are from memory, heat a square foot
// and wood for a fire are common practice, no source.
func TestWinterFiguresByHand(t *testing.T) {
	thousand := func(h wood.Heat) float64 { return h.In(wood.MillionBtu) * 1000 }
	for _, row := range []struct {
		winter    storage.Winter
		low, high float64
		says      string
	}{
		{storage.Winter{Fuel: storage.Oil, Amount: 10_000}, 1150, 1150, "A gallon of oil gives the house 115,000 Btu."},
		{storage.Winter{Fuel: storage.Propane, Amount: 10_000}, 710, 710, "A gallon of propane gives the house 71,000 Btu."},
		{storage.Winter{Fuel: storage.NaturalGas, Amount: 10_000}, 820, 820, "A therm of gas gives the house 82,000 Btu."},
		{storage.Winter{Fuel: storage.Electricity, Amount: 10_000}, 34.12, 34.12, "A kWh is 3,412 Btu, all of it heat."},
		{storage.Winter{Fuel: storage.HeatPump, Amount: 10_000}, 68.24, 119.42, "A heat pump gives 2 to 3.5 kWh of heat for each kWh."},
		{storage.Winter{Fuel: storage.House, Floor: 100 * storage.SquareFoot, Climate: storage.Mild}, 500, 2000, "A winter takes 5 to 20 thousand Btu a square foot here, from well insulated to draughty."},
		{storage.Winter{Fuel: storage.House, Floor: 100 * storage.SquareFoot, Climate: storage.Moderate}, 1000, 3500, "A winter takes 10 to 35 thousand Btu a square foot here, from well insulated to draughty."},
		{storage.Winter{Fuel: storage.House, Floor: 100 * storage.SquareFoot, Climate: storage.Cold}, 2000, 5000, "A winter takes 20 to 50 thousand Btu a square foot here, from well insulated to draughty."},
		{storage.Winter{Fuel: storage.House, Floor: 100 * storage.SquareFoot, Climate: storage.VeryCold}, 3000, 7000, "A winter takes 30 to 70 thousand Btu a square foot here, from well insulated to draughty."},
		// a cord of any wood holds 12 to 31 million Btu, of which a fireplace gives 5 to 15 %
		{storage.Winter{Fuel: storage.WoodFuel, Amount: 1_000, Appliance: storage.Fireplace}, 600, 4650, "As much wood as last winter, burned in the same way."},
		{storage.Winter{Fuel: storage.Fires, Amount: 1_000}, 0, 0, "A fire of an evening takes 0.021237635 m³ to 0.042475270 m³ of ranked wood."},
	} {
		n := need(t, row.winter)
		require.InDelta(t, row.low, thousand(n.Heat.Low), 0.01, "%s", row.says)
		require.InDelta(t, row.high, thousand(n.Heat.High), 0.01, "%s", row.says)
		var first string
		for _, g := range n.Grounds {
			first += g.Text.String() + "\n"
		}
		if row.winter.Fuel != storage.Fires {
			require.Contains(t, first, row.says)
		}
	}
	require.InDelta(t, 0.75, need(t, storage.Winter{Fuel: storage.Fires, Amount: 1_000}).Wood.Low.In(measure.CubicFoot), 1e-9)
	require.InDelta(t, 1.5, need(t, storage.Winter{Fuel: storage.Fires, Amount: 1_000}).Wood.High.In(measure.CubicFoot), 1e-9)
}

// The same heat asks for as much more wood as an appliance gives less of it; what it gives
// is said.
func TestAppliancesByHand(t *testing.T) {
	for appliance, gives := range map[storage.Appliance][2]float64{
		storage.NewStove: {0.60, 0.80}, storage.OldStove: {0.40, 0.60}, storage.Furnace: {0.50, 0.75}, storage.Fireplace: {0.05, 0.15},
	} {
		n := need(t, storage.Winter{Fuel: storage.Oil, Amount: 100_000, Appliance: appliance, Wood: storage.HeavyHardwood, Share: 0.5})
		// 11.5 million Btu, half of it from wood of 22 to 31 million Btu a cord
		require.InEpsilon(t, 5.75/(31*gives[1]), n.Wood.Low.In(measure.Cord), 1e-5, appliance)
		require.InEpsilon(t, 5.75/(22*gives[0]), n.Wood.High.In(measure.Cord), 1e-5, appliance)
		var said []string
		for _, g := range n.Grounds {
			said = append(said, g.Text.String())
		}
		require.Contains(t, said, fmt.Sprintf("Of that, what burns it gives the house %.0f to %.0f %%.", 100*gives[0], 100*gives[1]))
		require.Contains(t, said, "Heat in a cord of this wood at 20 % dry basis: 22 to 31 million Btu.")
	}
}

// What a winter's answer leaves open is said where it is open, and only there.
func TestWinterNotes(t *testing.T) {
	const kind, band, summer = "Say which kind of wood", "A rough band", "A summer’s hot water"
	for _, row := range []struct {
		winter storage.Winter
		says   []string
	}{
		{storage.Winter{Fuel: storage.Oil, Amount: 1_000}, []string{kind, summer}},
		{storage.Winter{Fuel: storage.Oil, Amount: 1_000, Wood: storage.Softwood}, []string{summer}},
		{storage.Winter{Fuel: storage.House, Floor: storage.SquareFoot * 900, Climate: storage.Cold}, []string{kind, band, summer}},
		{storage.Winter{Fuel: storage.WoodFuel, Amount: 1_000}, nil},
		{storage.Winter{Fuel: storage.Fires, Amount: 1_000}, nil},
	} {
		var said string
		notes := need(t, row.winter).Notes
		for _, n := range notes {
			said += n.String() + "\n"
		}
		require.Len(t, notes, 1+len(row.says), "%s", said)
		require.Contains(t, said, "have the chimney swept")
		for _, says := range row.says {
			require.Contains(t, said, says)
		}
	}
}

// A winter that can't be reckoned is refused at each place that is wrong, and no other.
func TestWintersOutOfBounds(t *testing.T) {
	for _, row := range []struct {
		winter storage.Winter
		fields string
	}{
		{storage.Winter{Fuel: storage.Oil, Amount: 0, Share: 1}, "amount"},
		{storage.Winter{Fuel: storage.Oil, Amount: storage.MaxAmount*1000 + 1, Share: 1}, "amount"},
		{storage.Winter{Fuel: storage.Oil, Amount: storage.MaxAmount * 1000, Share: 1}, ""},
		{storage.Winter{Fuel: storage.House, Share: 1}, "floor"},
		{storage.Winter{Fuel: storage.Oil, Amount: 1, Share: 1.0001}, "share"},
		{storage.Winter{Fuel: storage.Oil, Amount: 1, Share: -0.5}, "share"},
		{storage.Winter{Fuel: storage.Oil, Amount: 1, Share: math.NaN()}, "share"},
		{storage.Winter{Fuel: storage.House, Share: 2}, "floor share"},
	} {
		_, err := row.winter.Plan()
		var faults measure.InputErrors
		errors.As(err, &faults)
		var fields []string
		for _, f := range faults {
			fields = append(fields, f.Field)
			require.NotEmpty(t, f.Accepts.Key)
		}
		require.Equal(t, row.fields, strings.Join(fields, " "), "%+v", row.winter)
	}
}

// What kinds of wood weigh, in lb/ft³ of solid wood green and at 20 %, rounded outward
// from USDA Forest Service, Research Note NRS-38 (2009); heat in million Btu a cord. Solid
// wood in a cord is 70 to 90 ft³ (extension tables of Missouri and Utah State).
func TestWeightsOfKindsByHand(t *testing.T) {
	for kind, w := range map[storage.WoodKind][7]float64{
		storage.HeavyHardwood: {54, 68, 40, 53, 22, 31, 70}, storage.LightHardwood: {41, 57, 24, 44, 14, 25, 80},
		storage.Softwood: {27, 55, 22, 43, 12, 25, 80}, storage.AnyWood: {27, 68, 22, 53, 12, 31, 75},
	} {
		green, dry := storage.Request{Volume: measure.Cord, Wood: kind}.Weights()
		require.InDelta(t, 70*w[0], green.Low.In(wood.Pound), 0.5, kind)
		require.InDelta(t, 90*w[1], green.High.In(wood.Pound), 0.5, kind)
		require.InDelta(t, 70*w[2], dry.Low.In(wood.Pound), 0.5, kind)
		require.InDelta(t, 90*w[3], dry.High.In(wood.Pound), 0.5, kind)
		require.InDelta(t, w[4], kind.Wood().Heat.Low.In(wood.MillionBtu), 1e-9, kind)
		require.InDelta(t, w[5], kind.Wood().Heat.High.In(wood.MillionBtu), 1e-9, kind)
		require.InDelta(t, w[6], kind.Wood().Moist.Percent(), 1e-9, kind)
		require.InDelta(t, 90*w[1]*1.15, kind.Wood().LoadWeight(measure.Cord).In(wood.Pound), 0.5, "bark and snow add 15 %: common practice, no source")
		// a row four feet high: 4 ft of it is 70/128 to 90/128 solid
		pressure := kind.Wood().GreenPressure(4 * measure.Foot)
		require.InDelta(t, 4*w[0]*70/128, pressure.Low.In(storage.PoundPerSquareFoot), 0.01, kind)
		require.InDelta(t, 4*w[1]*90/128, pressure.High.In(storage.PoundPerSquareFoot), 0.01, kind)
	}
}

// White ash weighs 50.0 lb/ft³ green and 43.3 at 20 % (USDA Forest Service, Research Note
// NRS-38); with basswood, 41.0 and 24.7, the range takes in both.
func TestWeightsOfNamedWood(t *testing.T) {
	ash, err := wood.ParseMixes("white ash")
	require.NoError(t, err)
	basswood, err := wood.ParseMixes("basswood")
	require.NoError(t, err)
	green, dry := storage.Request{Volume: measure.Cord, Species: ash}.Weights()
	require.InEpsilon(t, 70*50.0, green.Low.In(wood.Pound), 0.004)
	require.InEpsilon(t, 90*50.0, green.High.In(wood.Pound), 0.004)
	require.InEpsilon(t, 90*43.3, dry.High.In(wood.Pound), 0.004)
	green, dry = storage.Request{Volume: measure.Cord, Species: append(ash, basswood...)}.Weights()
	require.InEpsilon(t, 70*41.0, green.Low.In(wood.Pound), 0.004)
	require.InEpsilon(t, 90*50.0, green.High.In(wood.Pound), 0.004)
	require.InEpsilon(t, 70*24.7, dry.Low.In(wood.Pound), 0.004)
}

// Where the roof slopes each row stands under its own height, and a layout never reaches
// into the air above; under a roof that is level every row may be as high.
func TestRowsUnderASlopingRoof(t *testing.T) {
	place := storage.Place{Kind: storage.Shed, Width: 10 * measure.Foot, Depth: 6 * measure.Foot, Height: 5 * measure.Foot, Back: 8 * measure.Foot, Braced: true}
	for _, back := range []measure.Length{0, 4 * measure.Foot, 5 * measure.Foot, 8 * measure.Foot} {
		place.Back = back
		a, err := storage.Find(storage.Request{Volume: 4 * measure.Cord, PieceLength: 16 * measure.Inch, Place: place})
		require.NoError(t, err)
		for _, l := range a.Layouts {
			if l.Across {
				continue
			}
			heights := l.Heights
			if len(heights) == 0 {
				heights = []measure.Length{l.Height}
			}
			for i, h := range heights {
				at := back // the lowest place of the roof over the row, by hand
				if back == 0 || back > place.Height {
					at = place.Height
				}
				from := l.WallGap + measure.Length(i)*(16*measure.Inch+l.RowGap)
				if back > 0 {
					low := from
					if back > place.Height {
						low = from + 16*measure.Inch
					}
					at = back + measure.Length(float64(place.Height-back)*float64(low)/float64(place.Depth))
				}
				require.LessOrEqual(t, h+l.OffGround+storage.AirAbove, at+measure.Inch/1000, "back %s, row %d", back, i)
			}
			require.Equal(t, l.Volume, volumeOf(l), "back %s", back)
		}
	}
}

// volumeOf is what rows hold, by hand.
func volumeOf(l storage.Layout) measure.Volume {
	heights := l.Heights
	if len(heights) == 0 {
		for range l.Rows {
			heights = append(heights, l.Height)
		}
	}
	var sum measure.Volume
	for _, h := range heights {
		sum += measure.Volume(math.Round(l.RowLength.In(measure.Foot) * h.In(measure.Foot) * 16. / 12 * float64(measure.CubicFoot)))
	}
	return sum
}

// Wood that is too wet to be stacked so late is told, to the day.
func TestStackByHasADay(t *testing.T) {
	w := storage.Winter{Fuel: storage.WoodFuel, Amount: 1_000, Share: 1, Wood: storage.HeavyHardwood, Wanted: day(2027, time.October, 1)}
	by := need(t, w).Burns.StackBy
	for _, row := range []struct {
		today          time.Time
		tight, tooLate bool
	}{
		{by.Likely, false, false}, {by.Likely.AddDate(0, 0, 1), true, false}, {by.Latest, true, false}, {by.Latest.AddDate(0, 0, 1), true, true},
	} {
		w.Today = row.today
		b := need(t, w).Burns
		require.Equal(t, row.tight, b.Tight, "%s", row.today)
		require.Equal(t, row.tooLate, b.TooLate, "%s", row.today)
	}
}
