package wood

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Newcombe, Statistics in Medicine 17 (1998), table I, Wilson's score interval without
// continuity correction; from memory.
func TestWilsonAgainstNewcombe(t *testing.T) {
	for _, tt := range []struct {
		k, n      int
		low, high float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}} {
		low, high := wilson(tt.k, tt.n)
		assert.InDelta(t, tt.low, low, 5e-5, "%d of %d", tt.k, tt.n)
		assert.InDelta(t, tt.high, high, 5e-5, "%d of %d", tt.k, tt.n)
	}
}

// By hand, z = 1.96: 14 of 20 is 0.7 with 0.481 to 0.855. Against 60 % ± 10 points
// that is not settled.
func TestHoldShares(t *testing.T) {
	held := func(mix, count string, limit float64) Shares {
		stated, err := ParseStated(mix)
		require.NoError(t, err)
		counted, err := ParseCounted(count)
		require.NoError(t, err)
		return HoldShares(stated, counted, limit)
	}
	s := held("60 % oak, 40 % maple", "oak 14, maple 6", 0.1)
	assert.Equal(t, ShareNotSettled, s.Word)
	assert.Zero(t, s.Enough, "70 % lies on the edge of 60 % ± 10 points: no count settles it")
	near := held("60 % oak, 40 % maple", "oak 13, maple 7", 0.1)
	require.Equal(t, ShareNotSettled, near.Word)
	assert.Positive(t, near.Enough)
	share := int(0.65*float64(near.Enough) + 0.5)
	assert.Equal(t, ShareWithin, held("60 % oak, 40 % maple", fmt.Sprintf("oak %d, maple %d", share, near.Enough-share), 0.1).Word)
	assert.InDelta(t, 0.481, s.Parts[0].Low, 5e-4)
	assert.InDelta(t, 0.855, s.Parts[0].High, 5e-4)
	assert.Equal(t, ShareWithin, held("60 % oak, 40 % maple", "600 oaks and 400 maple", 0.1).Word)
	assert.Equal(t, ShareOutside, held("60 % oak, 40 % maple", "oak 20, maple 80", 0.1).Word)
	assert.Equal(t, ShareNoLimit, held("60 % oak, 40 % maple", "oak 20, maple 80", 0).Word)

	s = held("50 % hickory / 50 % mixed softwood", "hickory 300; poplar 300", 0.1)
	require.Len(t, s.Parts, 3)
	assert.Equal(t, ShareHeld{Name: "poplar", Pieces: 300, Share: 0.5, Low: s.Parts[2].Low, High: s.Parts[2].High, Word: ShareOutside}, s.Parts[2])
	assert.Zero(t, s.Parts[1].Pieces, "stated, but not seen")
	assert.Equal(t, ShareOutside, s.Word)
}

// The shares seen add to one, and each lies in its interval.
func TestSharesHeldAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := rapid.IntRange(1, 500).Draw(t, "a"), rapid.IntRange(0, 500).Draw(t, "b"), rapid.IntRange(0, 500).Draw(t, "c")
		s := HoldShares([]Stated{{"oak", 0.6}, {"maple", 0.4}}, []Counted{{"oak", a}, {"maple", b}, {"ash", c}}, 0.1)
		sum := 0.0
		for _, p := range s.Parts {
			sum += p.Share
			require.LessOrEqual(t, p.Low, p.Share)
			require.GreaterOrEqual(t, p.High, p.Share)
		}
		require.InDelta(t, 1, sum, 1e-12)
	})
}

func TestParseStatedRefuses(t *testing.T) {
	for text, says := range map[string]string{
		"":                           "no species was named",
		"oak, maple":                 "a species with a share",
		"60 % oak, 30 % maple":       "add up to 90 %, not 100",
		"60 % oak, 40 % oaks":        "twice",
		"0 % oak, 100 % maple":       "more than 0",
		"60 % 12, 40 % maple":        "a name of a species",
		"60 % oak, maple":            "a species with a share",
		"130 % oak, 10 % maple":      "at most 100 %",
		"50 % oak 50 % maple, 5 % a": "a name of a species",
	} {
		_, err := ParseStated(text)
		assert.ErrorContains(t, err, says, text)
	}
	for text, says := range map[string]string{
		"oak": "a species with a number", "oak 0": "no piece was counted", "oak 3, oak 4": "twice", "oak 999999": "more than 100000",
	} {
		_, err := ParseCounted(text)
		assert.ErrorContains(t, err, says, text)
	}
	whole, err := ParseStated("100 % oak")
	require.NoError(t, err, "one species may be all of it")
	assert.Len(t, whole, 1)
	third, err := ParseStated("33.3 % oak, 33.3 % ash and 33.3 % elm")
	require.NoError(t, err)
	assert.Len(t, third, 3)
}

// FuzzShares: whatever is typed is refused in words or adds up.
func FuzzShares(f *testing.F) {
	for _, seed := range []string{"60 % oak, 40 % maple", "oak 14, maple 6", "14 pieces of oak; 6 maple", "100%oak", "% % %", "a 1"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if stated, err := ParseStated(s); err == nil {
			sum := 0.0
			for _, p := range stated {
				sum += p.Share
			}
			require.InDelta(t, 1, sum, 0.0011)
		} else {
			require.NotEmpty(t, err.Error())
		}
		if counted, err := ParseCounted(s); err == nil {
			require.Positive(t, HoldShares(nil, counted, 0.1).Pieces)
		}
	})
}
