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
	assert.Regexp(t, `^\d\d\.\d % of the give or take is one constant: how tightly the wood is stowed\. It comes from this program’s own simulation of stacks, good to a factor of 1\.5; no published source\. `, near[0])
	assert.Regexp(t, `taken as 1\.2 % of the volume, and “short” stands up to 1\.\d %\. That is within the factor: the word rests on this constant\.$`, near[0])
	far := limits(`"42 in"`)
	require.Len(t, far, 1)
	assert.NotContains(t, far[0], "rests on")
	assert.Regexp(t, `stands up to [2-9]\.\d %\.$`, far[0])
}
