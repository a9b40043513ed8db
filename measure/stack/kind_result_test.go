package stack

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// resultsOfKinds measures the whole documents of every kind.
func resultsOfKinds(t *testing.T) map[string]Result {
	results := map[string]Result{}
	for name, doc := range kindTallies() {
		tally, err := ParseTally([]byte(doc))
		require.NoError(t, err, name)
		results[name] = measured(t, tally)
	}
	return results
}

// A result of any kind can be stored and read back as it was.
func TestKindResultsCanBeStored(t *testing.T) {
	for name, want := range resultsOfKinds(t) {
		stored, err := json.Marshal(want)
		require.NoError(t, err, name)
		var got Result
		require.NoError(t, json.Unmarshal(stored, &got), name)
		if len(want.Next) == 0 {
			want.Next, got.Next = nil, nil
		}
		assert.Equal(t, want, got, name)
	}
}

// The budget of any kind accounts for the whole of its doubt, and names no row.
func TestKindBudgetsAddUp(t *testing.T) {
	for name, r := range resultsOfKinds(t) {
		if name == "dried" {
			continue // rows
		}
		var shares float64
		for i, c := range r.Doubt {
			shares += c.Share
			assert.GreaterOrEqual(t, c.Standard, measure.Volume(0), name)
			assert.True(t, i == 0 || c.Standard <= r.Doubt[i-1].Standard, name)
			assert.Zero(t, c.Row, "%s: %s", name, c.Source)
			assert.NotContains(t, string(c.Source), " row", name)
		}
		assert.InDelta(t, 1, shares, 1e-9, name)
		assert.GreaterOrEqual(t, r.Coverage, 1.9599, name)
	}
}

// What the advice of any kind promises takes at least a hundredth off U, and
// stacking comes last.
func TestKindAdvice(t *testing.T) {
	for name, r := range resultsOfKinds(t) {
		for i, a := range r.Next {
			assert.NotEmpty(t, a.Text.Key, name)
			assert.Less(t, a.After, r.Expanded, "%s: %s", name, a.Code)
			assert.True(t, a.Code != "stack" || i == len(r.Next)-1, name)
		}
	}
}
