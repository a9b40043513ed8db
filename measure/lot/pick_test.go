package lot

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestPickIsAnOrderedSampleWithoutReplacement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lot := rapid.IntRange(1, 400).Draw(t, "lot")
		n := rapid.IntRange(1, lot).Draw(t, "n")
		seed := rapid.Uint64().Draw(t, "seed")
		picks := Pick(lot, n, seed)
		require.Len(t, picks, n)
		for i, p := range picks {
			require.True(t, 1 <= p && p <= lot)
			require.True(t, i == 0 || picks[i-1] < p, "each once, in rising order")
		}
		require.Equal(t, picks, Pick(lot, n, seed), "the same seed draws the same")
		require.Subset(t, Pick(lot, lot, seed), picks)
	})
}

func TestPickAtTheEdges(t *testing.T) {
	assert.Empty(t, Pick(0, 3, 1))
	assert.Empty(t, Pick(MaxLotSize+1, 3, 1))
	assert.Empty(t, Pick(5, 0, 1))
	assert.Equal(t, []int{1, 2, 3}, Pick(3, 9, 1))
}

// Each package of 10 is drawn in about 3 of 10 draws of 3: 2000 seeds, a bound of
// five standard deviations, always the same seeds.
func TestPickFavoursNoPackage(t *testing.T) {
	const draws = 2000
	var count [11]int
	for seed := range uint64(draws) {
		for _, p := range Pick(10, 3, seed) {
			count[p]++
		}
	}
	for p := 1; p <= 10; p++ {
		assert.InDelta(t, 0.3*draws, count[p], 5*20.5, "package %d", p)
	}
}

// pcgInPython is the draw as Pick's comment states it, written apart from Go.
const pcgInPython = `
import json, sys
lot, n, seed = map(int, sys.argv[1:])
M64, M128 = (1 << 64) - 1, (1 << 128) - 1
mul = 2549297995355413924 << 64 | 4865540595714422341
inc = 6364136223846793005 << 64 | 1442695040888963407
state = seed << 64
keys = []
for number in range(1, lot + 1):
    state = (state * mul + inc) & M128
    hi, lo = state >> 64, state & M64
    hi ^= hi >> 32
    hi = hi * 0xda942042e4dd58b5 & M64
    hi ^= hi >> 48
    hi = hi * (lo | 1) & M64
    keys.append((hi, number))
print(json.dumps(sorted(number for _, number in sorted(keys)[:n])))
`

func TestPickCanBeRepeatedOutsideGo(t *testing.T) {
	for _, row := range []struct {
		lot, n int
		seed   uint64
	}{{30, 12, 12345}, {250, 12, 0}, {3200, 24, 1<<64 - 1}} {
		out := python(t, pcgInPython, fmt.Sprint(row.lot), fmt.Sprint(row.n), fmt.Sprint(row.seed))
		var want []int
		require.NoError(t, json.Unmarshal(out, &want))
		assert.Equal(t, want, Pick(row.lot, row.n, row.seed))
	}
}

// python runs a program; without Python the test is skipped, but not where the
// checks run for all.
func python(t *testing.T, program string, args ...string) []byte {
	t.Helper()
	path, err := exec.LookPath("python3")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3 is not installed")
		}
		t.Skip("python3 is not installed: not compared with it")
	}
	out, err := exec.Command(path, append([]string{"-c", program}, args...)...).Output()
	require.NoError(t, err)
	return out
}
