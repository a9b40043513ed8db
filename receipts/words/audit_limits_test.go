package words_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// The constant that carries most of the give or take is named among what limits a result,
// with where it comes from and how large it could be before the word falls; and whoever
// is further from the limit reads that the word doesn't rest on it.
func TestTheConstantThatAResultRestsOnIsNamed(t *testing.T) {
	p := words.New("en", act.Imperial)
	limits := func(height string) []string {
		tally, err := stack.ParseTally([]byte(fmt.Sprintf(`{"format":2,"sold":"1 cord","by":"buyer","apart":"none","look":1,
			"tape":"1/2 in","tape_made":"steel","rounded":"nearest","top":"straightedge","stowed":"checked",
			"stack":{"kind":"rows","pieces":["16 in","16 in","16 in","15.5 in","16.5 in","16 in","16 in","16 in"],
			"rows":[{"length":"24 ft","heights":[%[1]s,%[1]s,%[1]s,%[1]s,%[1]s,%[1]s],"ends":[{"kind":"upright"},{"kind":"upright"}]}]}}`, height)))
		require.NoError(t, err)
		r, err := stack.Measure(tally)
		require.NoError(t, err)
		require.Equal(t, stack.Short, r.Finding.Word)
		return p.AuditLimits(r, nil)
	}
	near := limits(`"46.5 in"`)
	require.Len(t, near, 1)
	assert.Regexp(t, `^Most of the give or take \(\d\d\.\d %\) is one figure that wasn’t measured here: how tightly people stow wood\. It comes from this program’s own simulation of stacks, no published source, and may be 1\.5 times too small\. `, near[0])
	assert.Regexp(t, `“Short” was said with 1\.2 % of the volume; it would still be said with 1\.\d %\. If the figure is that much too small, this wood isn’t shown to be short\.$`, near[0])
	far := limits(`"42 in"`)
	require.Len(t, far, 1)
	assert.NotContains(t, far[0], "isn’t shown to be short")
	assert.Regexp(t, `it would still be said with [2-9]\.\d %\.$`, far[0])
}
