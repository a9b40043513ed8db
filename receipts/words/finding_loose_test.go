package words_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

// A thrown load against a loose sale where no rule defines loose measure: nothing
// is converted, and nothing is called short.
func TestLooseAgainstALooseSale(t *testing.T) {
	tally, err := measure.ParseTally([]byte(`{"format":1,"sold":"180 cu ft loose","by":"buyer","apart":"none",
		"stack":{"kind":"heap","shape":"rounded","length":"14 ft","width":"9 ft","height":"4 ft","nominal":"16 in"}}`))
	require.NoError(t, err)
	r, err := measure.Measure(tally)
	require.NoError(t, err)
	p := words.New("en", orders.Imperial)
	require.Equal(t, "As expected: 180 ft³ loose was sold, and 163.8 ft³ was measured, give or take 40.4 ft³.", p.Finding(r))
	require.Equal(t, []string{"No rule of this sale says how loose wood is measured: this can show neither short nor full. Rank it, then measure."},
		p.Advice(measure.Buyer, r))
}
