package storage_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

func cordOf(kind storage.WoodKind, dried storage.Dried) storage.Cargo {
	return storage.Cargo{Wood: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, PieceLength: 16 * measure.Inch, Kind: kind, Dried: dried}
}

// The densities are those of the kinds: 68 lb/ft³ fresh and 53 at 20 % for heavy hardwood; 90 ft³
// solid in a cord, 15 % for bark and snow: 7 038 lb, 5 485.5 and, at 30 %, 5 942.6 lb.
func TestWhatACordWeighsOnAVehicle(t *testing.T) {
	for dried, pounds := range map[storage.Dried]float64{storage.Fresh: 7038, storage.AirDried: 5942.6, storage.KilnHot: 5485.5} {
		assert.InDelta(t, pounds, cordOf(storage.HeavyHardwood, dried).Heaviest().In(wood.Pound), 0.1, dried)
	}
	oak, err := wood.ParseMixes("red oak")
	require.NoError(t, err)
	named := cordOf(storage.AnyWood, storage.Fresh)
	named.Species = oak
	assert.Less(t, named.Heaviest(), cordOf(storage.AnyWood, storage.Fresh).Heaviest(), "what is known to be no heavier")
	thrown := cordOf(storage.HeavyHardwood, storage.Fresh)
	thrown.Wood.Basis = measure.Loose
	assert.InDelta(t, 0.72*7038, thrown.Heaviest().In(wood.Pound), 0.1, "of 16 in, thrown makes 0.72 ranked at the most")
}

// A ranked cord thrown into a bed takes 128 / 0.60 ft³; 100 ft³ loose, ranked, at most 72.
func TestRoomOnAnotherBasis(t *testing.T) {
	c := cordOf(storage.AnyWood, storage.Fresh)
	bed := func(feet int64, b measure.Basis) measure.Quantity {
		return measure.Quantity{Volume: measure.Volume(feet) * measure.CubicFoot, Basis: b}
	}
	assert.InDelta(t, 1, c.Share(bed(128, measure.Ranked)), 1e-12)
	assert.InDelta(t, 128/0.60/256, c.Share(bed(256, measure.Loose)), 1e-12)
	c.Wood = bed(100, measure.Loose)
	assert.InDelta(t, 0.5, c.Share(bed(200, measure.Loose)), 1e-12)
	assert.InDelta(t, 0.72, c.Share(bed(100, measure.Ranked)), 1e-12)
	assert.True(t, math.IsInf(c.Share(measure.Quantity{}), 1))
}

func TestTwiceTheWoodTwiceTheLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := cordOf(rapid.SampledFrom(storage.WoodKinds()).Draw(t, "kind"), rapid.SampledFrom([]storage.Dried{storage.Fresh, storage.AirDried, storage.KilnHot}).Draw(t, "dried"))
		c.Wood.Basis = rapid.SampledFrom([]measure.Basis{measure.Ranked, measure.Loose}).Draw(t, "basis")
		c.Wood.Volume = measure.Volume(rapid.Int64Range(1, 8).Draw(t, "eighths")) * measure.Cord / 8
		double := c
		double.Wood.Volume *= 2
		require.InDelta(t, 2, double.Heaviest().In(c.Heaviest()), 1e-6)
		bed := measure.Quantity{Volume: measure.Cord, Basis: measure.Loose}
		require.InDelta(t, 2*c.Share(bed), double.Share(bed), 1e-9)
	})
}
