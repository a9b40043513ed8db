package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/audits"
)

// A draw is kept once for a request, in order, under the lot's name.
func TestDrawsOfALotAreKept(t *testing.T) {
	y := newYard(t)
	act := y.auditing()
	r := audits.LotDrawRequest{Lot: "Corner Store, rack", Size: "30"}
	one, err := y.DrawLot(y.ctx, act, r)
	require.NoError(t, err)
	again, err := y.DrawLot(y.ctx, act, r)
	require.NoError(t, err)
	assert.Equal(t, one, again, "the same request is one draw")
	y.now = y.now.Add(time.Minute)
	two, err := y.DrawLot(y.ctx, y.auditing(), audits.LotDrawRequest{Lot: " corner store,  RACK", Size: "30", Seed: "18446744073709551615"})
	require.NoError(t, err)
	require.Len(t, two, 2)
	assert.Equal(t, one[0], two[0])
	assert.Equal(t, uint64(1<<64-1), two[1].Seed)
	assert.True(t, two[1].Typed)
	other, err := y.LotDraws(y.ctx, auditor, "another")
	require.NoError(t, err)
	assert.Empty(t, other)
	_, err = y.DrawLot(y.ctx, y.auditing(), audits.LotDrawRequest{Size: "0", Seed: "x"})
	assert.Equal(t, map[string]string{"lot": "missing", "lot_size": "out-of-range", "seed": "not-a-number"}, faults(t, err))
}
