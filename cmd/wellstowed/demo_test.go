package main

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/cases"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// TestDemoShowsEveryState holds the scenario to what it is for: a dozen orders,
// every state an order can be in, and every finding on one basis.
func TestDemoShowsEveryState(t *testing.T) {
	path := filepath.Join(t.TempDir(), "demo.db")
	makeShop(t, path)
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	defer db.Close()
	painter, err := receipts.New()
	require.NoError(t, err)
	service := orders.New(db, painter, time.Now)
	listing, err := service.Orders(t.Context(), atTheTerminal(), 0, 100)
	require.NoError(t, err)
	require.Len(t, listing.Orders, 13)
	states, words := map[orders.State]bool{}, map[stack.Word]bool{}
	for _, o := range listing.Orders {
		states[o.State] = true
		words[o.Outcome] = true
	}
	for _, s := range []orders.State{orders.Taken, orders.PartLoad, orders.Delivered, orders.Measured, orders.Cancelled} {
		assert.True(t, states[s], "an order %s", s)
	}
	for _, w := range []stack.Word{stack.Short, stack.Unresolved, stack.NoShortage, stack.Full, stack.Expected} {
		assert.True(t, words[w], "a finding %s", w)
	}
}

// A buyer has measured, written and been answered, and may say whether he accepts it.
func TestDemoHasABuyersCase(t *testing.T) {
	path := filepath.Join(t.TempDir(), "demo.db")
	makeShop(t, path)
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	defer db.Close()
	painter, err := receipts.New()
	require.NoError(t, err)
	book := orders.New(db, painter, time.Now).Rules()
	file, err := cases.New(db.Cases(), book, painter, time.Now).CaseFile(t.Context(), atTheTerminal(), cases.Key{Receipt: 7})
	require.NoError(t, err)
	assert.Equal(t, stack.Short, file.Case.Latest().Result.Finding.Word)
	assert.Equal(t, cases.WeighAnswer, file.Step)
	assert.NotNil(t, file.Link)
}
