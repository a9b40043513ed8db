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

// haul is a cord of heavy hardwood in a bed of 8 × 5 ft and 20 in.
func haul(l storage.Limit) storage.Haul {
	return storage.Haul{
		Volume: measure.Cord, PieceLength: 16 * measure.Inch, Wood: storage.HeavyHardwood,
		Bed:   storage.Bed{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Sides: 20 * measure.Inch},
		Limit: l,
	}
}

// An 8 ft × 5.5 ft bed of 20 in is 73.3 ft³ level; arithmetic.
func TestBedVolume(t *testing.T) {
	b := storage.Bed{Length: 8 * measure.Foot, Width: 66 * measure.Inch, Sides: 20 * measure.Inch}
	assert.InDelta(t, 73.333, b.Volume().In(measure.CubicFoot), 0.001)
	b.Wells = storage.Wells{Count: 2, Length: 36 * measure.Inch, Width: 8 * measure.Inch, Height: 8 * measure.Inch}
	assert.InDelta(t, 73.333-2*36*8*8/1728.0, b.Volume().In(measure.CubicFoot), 0.001)
}

func TestWeightDecidesForALightPickup(t *testing.T) {
	p, err := haul(storage.Limit{Placard: 1500 * wood.Pound, People: 180 * wood.Pound}).Plan()
	require.NoError(t, err)
	assert.Equal(t, 1320*wood.Pound, p.Carries)
	assert.Equal(t, storage.ByPlacard, p.By)
	assert.Equal(t, "weight", p.Decides)
	// 68 lb/ft³ × 90 ft³ × 1.15 is 7 038 lb a cord; 7 038 / 1 320 is 5.33, so 6.
	assert.Equal(t, 6, p.Trips)
	assert.Equal(t, 2, p.ByVolume, "128 / 66.7 ft³")
	assert.InDelta(t, 1320, p.Heavy.In(wood.Pound), 0.01, "a load is as heavy as is allowed")
}

// The lowest figure on a vehicle's papers decides what it may carry, whichever it is.
func TestTheLowestFigureDecides(t *testing.T) {
	const lb = wood.Pound
	for _, c := range []struct {
		limit storage.Limit
		want  wood.Mass
		by    storage.LimitKind
	}{
		{storage.Limit{Placard: 1500 * lb, People: 300 * lb}, 1200 * lb, storage.ByPlacard},
		{storage.Limit{Gross: 9000 * lb, Scale: 6000 * lb}, 3000 * lb, storage.ByGross},
		{storage.Limit{Registered: 8000 * lb, Scale: 6000 * lb}, 2000 * lb, storage.ByRegistered},
		{storage.Limit{Gross: 9000 * lb, Registered: 8000 * lb, Scale: 6000 * lb}, 2000 * lb, storage.ByRegistered},
		{storage.Limit{Gross: 7000 * lb, Registered: 8000 * lb, Scale: 6000 * lb}, 1000 * lb, storage.ByGross},
		{storage.Limit{Placard: 1500 * lb, People: 300 * lb, Gross: 7000 * lb, Scale: 6000 * lb}, 1000 * lb, storage.ByGross},
		{storage.Limit{Placard: 1500 * lb, People: 300 * lb, Gross: 9000 * lb, Scale: 6000 * lb}, 1200 * lb, storage.ByPlacard},
		{storage.Limit{Gross: 5000 * lb, Scale: 6000 * lb}, -1000 * lb, storage.ByGross},
	} {
		got, by := c.limit.Carries()
		assert.Equal(t, c.want, got, "%+v", c.limit)
		assert.Equal(t, c.by, by, "%+v", c.limit)
	}
}

func TestVolumeDecidesForATruck(t *testing.T) {
	p, err := haul(storage.Limit{Gross: 26000 * wood.Pound, Registered: 24000 * wood.Pound, Scale: 12000 * wood.Pound}).Plan()
	require.NoError(t, err)
	assert.Equal(t, storage.ByRegistered, p.By, "the lower of the two")
	assert.Equal(t, 12000*wood.Pound, p.Carries)
	assert.Equal(t, "volume", p.Decides)
	assert.Equal(t, 2, p.Trips)
}

func TestThrownWoodTakesMoreTrips(t *testing.T) {
	h := haul(storage.Limit{Gross: 26000 * wood.Pound, Scale: 12000 * wood.Pound})
	h.Thrown = true
	p, err := h.Plan()
	require.NoError(t, err)
	assert.InDelta(t, 0.60*p.Bed.In(measure.CubicFoot), p.Room.In(measure.CubicFoot), 0.001)
	assert.Equal(t, 4, p.Trips, "128 / 40 ft³")
}

func TestThereIsNoDefaultPayload(t *testing.T) {
	for name, row := range map[string]struct {
		limit storage.Limit
		field string
	}{
		"nothing given":       {storage.Limit{}, "placard"},
		"people left out":     {storage.Limit{Placard: 1500 * wood.Pound}, "people"},
		"scale left out":      {storage.Limit{Gross: 9000 * wood.Pound}, "scale"},
		"no rating":           {storage.Limit{Scale: 5000 * wood.Pound}, "gross"},
		"people outweigh it":  {storage.Limit{Placard: 300 * wood.Pound, People: 400 * wood.Pound}, "placard"},
		"too heavy as it is":  {storage.Limit{Gross: 5000 * wood.Pound, Scale: 5000 * wood.Pound}, "scale"},
		"registered too low":  {storage.Limit{Gross: 9000 * wood.Pound, Registered: 4000 * wood.Pound, Scale: 5000 * wood.Pound}, "scale"},
		"placard beats rated": {storage.Limit{Placard: 100 * wood.Pound, People: 180 * wood.Pound, Gross: 9000 * wood.Pound, Scale: 5000 * wood.Pound}, "placard"},
	} {
		_, err := haul(row.limit).Plan()
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, name)
		assert.Equal(t, row.field, faults[0].Field, name)
	}
}

func TestTripsProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lb := func(name string, low, high int64) wood.Mass {
			return wood.Mass(rapid.Int64Range(low, high).Draw(t, name)) * wood.Pound
		}
		h := haul(storage.Limit{Placard: lb("placard", 800, 3000), People: lb("people", 100, 700)})
		h.Volume = measure.Volume(rapid.Int64Range(int64(measure.CubicFoot), int64(10*measure.Cord)).Draw(t, "volume"))
		h.Thrown = rapid.Bool().Draw(t, "thrown")
		h.Wood = rapid.SampledFrom(storage.WoodKinds()).Draw(t, "wood")
		p, err := h.Plan()
		require.NoError(t, err)
		require.LessOrEqual(t, p.Heavy, p.Carries+1, "never above the limit")
		require.LessOrEqual(t, p.Load, p.Room)
		require.GreaterOrEqual(t, float64(p.Trips)*float64(p.Load), float64(h.Volume)*(1-1e-9)-1, "all of it is carried")
		require.Equal(t, max(p.ByVolume, p.ByWeight), p.Trips)
	})
}

func TestTypedHaul(t *testing.T) {
	typed := storage.TypedHaul{Quantity: "1 cord", PieceLength: "16", Loaded: "ranked", BedLength: "8", BedWidth: "5", BedSides: "20", Placard: "1500", People: "180"}
	u := storage.Units{Long: measure.Foot, Small: measure.Inch, Mass: wood.Pound}
	h, err := typed.Read(u)
	require.NoError(t, err)
	assert.Equal(t, 1500*wood.Pound, h.Limit.Placard)
	for text, code := range map[string]string{
		"1,500 lb": "ambiguous", "-3 lb": "negative", "1e3 lb": "exponent", "NaN": "not-a-number", "3 stone": "unknown-unit", "0 lb": "not-positive", "9999999999 lb": "too-large", "99999 tons": "too-large",
	} {
		typed.Placard = text
		_, err := typed.Read(u)
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, text)
		assert.Equal(t, "placard", faults[0].Field, text)
		assert.Equal(t, code, faults[0].Code, text)
	}
}
