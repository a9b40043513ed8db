package wood

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// meter is a reading of a freshly split face of wood in a room.
func meter(t testing.TB) Reading {
	t.Helper()
	room, err := Celsius(20)
	require.NoError(t, err)
	return Reading{Method: PinMeter, FreshFace: true, Temperature: &room}
}

func judged(t testing.TB, text string, like Reading) Season {
	t.Helper()
	readings, err := ParseReadings(text, like, Dry)
	require.NoError(t, err)
	s, err := Judge(readings, ReadyToBurn())
	require.NoError(t, err)
	return s
}

func TestReadingsByHand(t *testing.T) {
	// Mean 16.5, standard deviation 1.291, t(3) = 2.353: 18.02, and 2 for the meter.
	s := judged(t, "15\n16\n17\n18", meter(t))
	assert.InDelta(t, 16.5, s.Mean.Percent(), 1e-9)
	assert.InDelta(t, 1.291, s.Spread, 0.001)
	assert.InDelta(t, 20.02, s.Bound.Percent(), 0.005)
	assert.InDelta(t, 2, s.Accuracy, 1e-9)
	assert.Equal(t, Neither, s.Verdict, "four pieces are too few")
	assert.Equal(t, 1, s.More)
	assert.Equal(t, 18.0, s.Wettest.Percent())

	s = judged(t, "15\n16\n17\n18\n16", meter(t))
	assert.Equal(t, Below, s.Verdict)
	assert.Zero(t, s.More)

	s = judged(t, "24\n26\n25\n27\n24", meter(t))
	assert.Equal(t, Above, s.Verdict)
	assert.Less(t, s.Bound.Percent(), s.Mean.Percent())
	assert.Greater(t, s.Bound.Percent(), 20.0)
}

func TestMorePiecesAreAsked(t *testing.T) {
	exact := meter(t)
	exact.Accuracy = new(Points)
	*exact.Accuracy = 100 // a tenth of a point
	s := judged(t, "14\n22\n19\n17\n22", exact)
	assert.Equal(t, Neither, s.Verdict)
	require.Positive(t, s.More)
	// The same pieces over again, as many as asked for, lie a little closer
	// together and settle it.
	var all []string
	for i := range 5 + s.More + 1 {
		all = append(all, []string{"14", "22", "19", "17", "22"}[i%5])
	}
	assert.Equal(t, Below, judged(t, strings.Join(all, "\n"), exact).Verdict)
	assert.Zero(t, judged(t, "14\n22\n19\n17\n22", meter(t)).More, "more pieces don’t make a meter better")

	s = judged(t, "19.9\n22\n18\n21\n19", exact)
	assert.Zero(t, s.More, "the mean lies on the limit")
	assert.Contains(t, s.Notes[1].String(), "too near")
}

func TestSeveralReadingsOfAPieceAreOne(t *testing.T) {
	s := judged(t, "15 17\n16\n17 17 17\n18; 19 %, 16", meter(t))
	assert.Equal(t, 6, s.Pieces)
	assert.Equal(t, 9, s.Readings)
	assert.InDelta(t, (16.0+16+17+18+19+16)/6, s.Mean.Percent(), 0.001)
}

func TestOldFacesCannotShowDryWood(t *testing.T) {
	old := meter(t)
	old.FreshFace = false
	s := judged(t, "12\n12\n13\n12\n12\n13", old)
	assert.Equal(t, Neither, s.Verdict)
	assert.Contains(t, s.Notes[0].String(), "freshly split face")
	assert.Equal(t, Above, judged(t, "30\n31\n30\n32\n31", old).Verdict, "they can show wet wood")
}

func TestColdWoodWidensTheBound(t *testing.T) {
	cold := meter(t)
	five, err := Celsius(5)
	require.NoError(t, err)
	cold.Temperature = &five
	warm, chilled := judged(t, "15\n16\n17\n18\n16", meter(t)), judged(t, "15\n16\n17\n18\n16", cold)
	// 0.2 points for each of 15 degrees.
	assert.InDelta(t, warm.Bound.Percent()+3, chilled.Bound.Percent(), 0.001)
	assert.Equal(t, Neither, chilled.Verdict)
}

// Wood whose temperature was not read may be just above freezing, 20 degrees below what
// meters are set at: 4 points.
func TestWoodOfAnUnknownTemperatureMayBeCold(t *testing.T) {
	unread := meter(t)
	unread.Temperature = nil
	s := judged(t, "15\n16\n17\n18\n16", unread)
	assert.InDelta(t, judged(t, "15\n16\n17\n18\n16", meter(t)).Bound.Percent()+4, s.Bound.Percent(), 0.001)
	assert.Equal(t, Neither, s.Verdict)
	assert.Contains(t, s.Notes[0].String(), "temperature was not read")
	assert.Equal(t, Below, judged(t, "11\n12\n12\n11\n12", unread).Verdict, "and still dry enough")
}

// A meter's own accuracy takes the place of the usual one, and what its manual adds for
// the species moves every reading.
func TestAMetersOwnFigures(t *testing.T) {
	read := func(accuracy, correction string) Season {
		like := meter(t)
		if accuracy != "" {
			p, err := ParseAccuracy(accuracy)
			require.NoError(t, err)
			like.Accuracy = &p
		}
		if correction != "" {
			p, err := ParseCorrection(correction)
			require.NoError(t, err)
			like.Correction = &p
		}
		return judged(t, "16\n17\n18\n17\n17", like)
	}
	usual, own := read("", ""), read("± 0.5 %", "")
	assert.InDelta(t, usual.Bound.Percent()-1.5, own.Bound.Percent(), 0.001)
	added := read("0.5", "+1.5")
	assert.InDelta(t, usual.Mean.Percent()+1.5, added.Mean.Percent(), 0.001)
	assert.Equal(t, Below, own.Verdict)
	assert.Equal(t, Below, added.Verdict)
	assert.Equal(t, Neither, read("", "+1.5").Verdict)
	assert.InDelta(t, 16.5, read("0.5", "-0.5").Mean.Percent(), 0.001)
	assert.NotContains(t, fmt.Sprint(read("0.5", "0").Notes), "species")

	// on the wet basis a point is more the wetter the wood is: 20 wet is 25 dry, 22 is 28.2
	readings, err := ParseReadings("20\n20\n20\n20\n20", meter(t), Wet)
	require.NoError(t, err)
	s, err := Judge(readings, ReadyToBurn())
	require.NoError(t, err)
	assert.InDelta(t, 3.205, s.Accuracy, 0.001)

	for _, bad := range []string{"", "x", "-1", "0", "11", "1 %%", "NaN", "1e1", "± -1"} {
		_, err := ParseAccuracy(bad)
		assert.Error(t, err, bad)
	}
	for _, bad := range []string{"", "x", "±1", "+11", "--1", "1,5"} {
		_, err := ParseCorrection(bad)
		assert.Error(t, err, bad)
	}
}

// A meter that reads as low as its accuracy lets it, on cold wood that reads low as well,
// makes wood that lies on the limit look dry no more often than one time in twenty.
func TestNoMeterWithinItsAccuracyCallsWetWoodDry(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for _, celsius := range []float64{1, 5, 20, 30} {
		temperature, err := Celsius(celsius)
		require.NoError(t, err)
		dry := 0
		const runs = 4_000
		for range runs {
			bias := 2 * (2*random.Float64() - 1)
			if random.IntN(2) == 0 {
				bias = -2 // the worst that is within it
			}
			readings := make([]Reading, 8)
			for i := range readings {
				seen := 20 + 3*random.NormFloat64() + bias - 0.15*max(0, 20-celsius)
				readings[i] = Reading{Moisture: fromDry(seen), Method: PinMeter, FreshFace: true, Temperature: &temperature, Piece: i + 1}
			}
			s, err := Judge(readings, ReadyToBurn())
			require.NoError(t, err)
			if s.Verdict == Below {
				dry++
			}
		}
		assert.Less(t, float64(dry)/runs, 0.055, "%v °C", celsius)
	}
}

func TestFrozenWoodIsRefused(t *testing.T) {
	frozen := meter(t)
	ice := Temperature(-1000)
	frozen.Temperature = &ice
	readings, err := ParseReadings("15\n16", frozen, Dry)
	require.NoError(t, err)
	_, err = Judge(readings, ReadyToBurn())
	assert.ErrorContains(t, err, "frozen wood can’t be read with a meter")
	for i := range readings {
		readings[i].Method = OvenDrying
	}
	_, err = Judge(readings, ReadyToBurn())
	assert.NoError(t, err, "an oven thaws it")
}

func TestWetBasisReadingsMeetADryLimit(t *testing.T) {
	readings, err := ParseReadings("20\n20\n20\n20\n20", meter(t), Wet)
	require.NoError(t, err)
	s, err := Judge(readings, ReadyToBurn())
	require.NoError(t, err)
	assert.Equal(t, 25.0, s.Mean.Percent())
	assert.Equal(t, Above, s.Verdict)
}

func TestParseReadingsRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"18,5": "comma may be a decimal", "": "no reading", "\n ; ,": "no reading", "wet": "this isn’t a moisture", "18 x": "this isn’t a moisture",
		strings.Repeat("18\n", MaxReadings+1): "more than 500 readings",
	} {
		_, err := ParseReadings(text, meter(t), Dry)
		assert.ErrorContains(t, err, want)
	}
	_, err := ParseReadings("18", meter(t), "")
	assert.ErrorContains(t, err, "measured against")
	_, err = Judge(nil, ReadyToBurn())
	assert.ErrorContains(t, err, "no reading")
}

func FuzzParseReadings(f *testing.F) {
	for _, s := range []string{"18.5\n19", "18 19; 20", "18, 19", "18,19", "%", "\xff\n1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		readings, err := ParseReadings(s, Reading{Method: OvenDrying}, Dry)
		if err != nil {
			return
		}
		season, err := Judge(readings, ReadyToBurn())
		if err != nil || season.Mean.Percent() < season.Driest.Percent()-0.001 || season.Mean.Percent() > season.Wettest.Percent()+0.001 {
			t.Fatalf("%q: %+v %v", s, season, err)
		}
	})
}

// Wood whose mean lies on the limit is called below it no more often than one time
// in twenty, and above it no more often: the bound is what it says.
func TestBoundHolds(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	const runs = 20_000
	counts := map[Verdict]int{}
	for range runs {
		readings := make([]Reading, 8)
		for i := range readings {
			readings[i] = Reading{Moisture: fromDry(20 + 3*random.NormFloat64()), Method: OvenDrying, Piece: i + 1}
		}
		s, err := Judge(readings, ReadyToBurn())
		require.NoError(t, err)
		counts[s.Verdict]++
	}
	assert.InDelta(t, 0.05, float64(counts[Below])/runs, 0.006)
	assert.InDelta(t, 0.05, float64(counts[Above])/runs, 0.006)
}

func TestVerdictTurnsAboutTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var readings, mirrored []Reading
		for i, x := range rapid.SliceOfN(rapid.Float64Range(-3, 3), 8, 8).Draw(t, "pieces") {
			readings = append(readings, Reading{Moisture: fromDry(20 + x), Method: OvenDrying, Piece: i + 1})
			mirrored = append(mirrored, Reading{Moisture: fromDry(20 - x), Method: OvenDrying, Piece: i + 1})
		}
		a, errA := Judge(readings, ReadyToBurn())
		b, errB := Judge(mirrored, ReadyToBurn())
		if errA != nil || errB != nil || (a.Verdict == Below) != (b.Verdict == Above) {
			t.Fatalf("%+v\n%+v", a, b)
		}
	})
}

func TestStudent95(t *testing.T) {
	// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, from memory.
	for degrees, want := range map[int]float64{1: 6.314, 4: 2.132, 9: 1.833, 30: 1.697, 40: 1.684, 60: 1.671, 100: 1.660} {
		assert.InDelta(t, want, student95(degrees), 0.0006, degrees)
	}
	assert.True(t, math.IsInf(student95(0), 1))
}
