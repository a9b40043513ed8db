package store_test

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/store"
)

// Many shops are on one server, each a schema: each has its own numbers, and what one of them
// costs is said (with -v). WELLSTOWED_FULL makes it 200.
func TestManyShopsAreOnOneServer(t *testing.T) {
	n := 5
	if os.Getenv("WELLSTOWED_FULL") != "" {
		n = 200
	}
	server := servertest.Start(t)
	url := server.Database(t)
	raw := servertest.Raw(t, url)
	size := func() (bytes int64) {
		require.NoError(t, raw.QueryRow(`SELECT pg_database_size(current_database())`).Scan(&bytes))
		return bytes
	}
	before := size()
	var opening, writing []time.Duration
	shops := make([]*store.DB, n)
	for i := range shops {
		begun := time.Now()
		shops[i] = open(t, fmt.Sprintf("%s&search_path=shop%d", url, i))
		opening = append(opening, time.Since(begun))
	}
	for round := range 3 {
		for i, db := range shops {
			begun := time.Now()
			require.NoError(t, db.Write(context.Background(), func(tx orders.Tx) error {
				for range i%3 + 1 {
					if _, err := tx.NextNumber(orders.OrderNumbers); err != nil {
						return err
					}
				}
				return nil
			}))
			if round > 0 { // the first opens the connection
				writing = append(writing, time.Since(begun))
			}
		}
	}
	for i, db := range shops {
		read(t, db, func(tx allTx) error {
			last, err := tx.LastNumber(orders.OrderNumbers)
			require.EqualValues(t, 3*(i%3+1), last, "shop %d", i)
			return err
		})
	}
	var connections int
	require.NoError(t, raw.QueryRow(`SELECT count(*) FROM pg_stat_activity WHERE datname = current_database()`).Scan(&connections))
	slices.Sort(opening)
	slices.Sort(writing)
	t.Logf("%d shops: opened and made in %v each (median), the last of all in %v; a journaled write %v (median), %v (slowest of %d); %.1f MB a shop; %d connections",
		n, opening[n/2].Round(time.Millisecond), opening[n-1].Round(time.Millisecond), writing[len(writing)/2].Round(10*time.Microsecond), writing[len(writing)-1].Round(time.Millisecond), len(writing), float64(size()-before)/float64(n)/1e6, connections)
}
