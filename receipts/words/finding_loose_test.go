package words_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// A thrown load against a loose sale where no rule defines loose measure: nothing
// is converted, and nothing is called short.
func TestLooseAgainstALooseSale(t *testing.T) {
	tally, err := stack.ParseTally([]byte(`{"format":1,"sold":"180 cu ft loose","by":"buyer","apart":"none",
		"stack":{"kind":"heap","shape":"rounded","length":"14 ft","width":"9 ft","height":"4 ft","nominal":"16 in"}}`))
	require.NoError(t, err)
	r, err := stack.Measure(tally)
	require.NoError(t, err)
	p := words.New("en", act.Imperial)
	require.Equal(t, "Can’t be told until it’s stacked: 163.8 of 180 ft³ loose is here as it lies, give or take 40.4.", p.Finding(r))
	require.Regexp(t, `^Stack it in rows 48 in high`, p.Advice(stack.Buyer, r)[0], "the next step is the one that can settle it")
}
