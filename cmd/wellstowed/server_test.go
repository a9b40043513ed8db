package main

import (
	"os"
	"path/filepath"
	"strconv"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/postgres/servertest"
)

// Two programs serve one shop on a PostgreSQL server and issue receipts at once, one of them
// killed in between: numbers have no gap and none is given twice, all that was answered is
// there, and verify finds nothing wrong, in the file either that it is then copied to.
func TestTwoProgramsServeOneDatabase(t *testing.T) {
	t.Parallel()
	url := servertest.Start(t).Database(t)
	var yards [2]*doomedYard
	for i := range yards {
		y := &doomedYard{yardWay: newYard(t), witness: filepath.Join(t.TempDir(), "witness.txt")}
		y.db = url
		y.restart(-1)
		yards[i] = y
	}
	yards[0].shop()
	wanted := map[string]any{"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak", "piece_length": "16 in", "price_per_cord": "280"}
	wanted["confirmed"] = yards[0].ask("/orders/price", wanted)["confirmed"]
	var hands []*hand
	for _, y := range yards {
		y.wanted = wanted
		hands = append(hands, &hand{yard: y}, &hand{yard: y})
	}
	const deeds = 18 // of each hand: six orders, each handed over and paid
	yards[1].left.Store(11)
	work(t, hands, deeds)
	yards[1].stop()
	yards[1].restart(-1)
	work(t, hands, deeds)

	numbers := map[int]bool{}
	for _, h := range hands {
		require.Len(t, h.deeds, deeds)
		h.holds(0)
		for i := 1; i < deeds; i += 3 {
			numbers[int(h.deeds[i].answer["receipt"].(map[string]any)["facts"].(map[string]any)["number"].(float64))] = true
		}
	}
	for n := 1; n <= len(hands)*deeds/3; n++ {
		assert.True(t, numbers[n], "receipt %d", n)
	}
	for _, y := range yards {
		y.stop()
	}
	copied := filepath.Join(t.TempDir(), "copied.db")
	for _, args := range [][]string{{"verify", "--db", url}, {"copy", url, copied, "--witness", yards[0].witness}, {"verify", "--db", copied, "--seal", seal(hands[0])}} {
		r := program(t, "", args...)
		require.Equal(t, exitDone, r.code, r.out+r.err)
		assert.Contains(t, r.out, "agree")
	}
}

func work(t *testing.T, hands []*hand, most int) {
	t.Helper()
	var working sync.WaitGroup
	for _, h := range hands {
		working.Go(func() { h.work(most) })
	}
	working.Wait()
	for _, h := range hands {
		require.NoError(t, h.wrong)
	}
}

// seal is that of the first receipt of a hand, as verify takes it.
func seal(h *hand) string {
	issued := h.deeds[1].answer
	return strconv.Itoa(int(issued["receipt"].(map[string]any)["facts"].(map[string]any)["number"].(float64))) + ":" + issued["seal"].(string)
}

// The demonstration is copied to a server and back, and what is refused leaves all as it is.
func TestAShopIsCopiedToAServerAndBack(t *testing.T) {
	t.Parallel()
	url := servertest.Start(t).Database(t)
	path, back := filepath.Join(t.TempDir(), "shop.db"), filepath.Join(t.TempDir(), "back.db")
	makeShop(t, path)
	before, err := os.ReadFile(path)
	require.NoError(t, err)
	for _, row := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"copy", path, url}, exitDone, "all of it agrees"},
		{[]string{"copy", path, url}, exitRefused, "a database is there already"},
		{[]string{"copy", url, back}, exitDone, "all of it agrees"},
		{[]string{"copy", url, back}, exitRefused, "a database is there already"},
		{[]string{"copy", path, url + "&search_path=second"}, exitDone, "all of it agrees"},
		{[]string{"backup", "--db", url, "--to", t.TempDir()}, exitRefused, "pg_dump"},
		{[]string{"restore", "--from", path, "--db", url}, exitRefused, "pg_restore"},
		{[]string{"verify", "--db", back}, exitDone, "Numbers, stored bytes, chain and PDFs agree."},
	} {
		r := programAt(t, testNow(), row.args...)
		require.Equal(t, row.code, r.code, "%v: %s%s", row.args, r.out, r.err)
		assert.Contains(t, r.out+r.err, row.says)
	}
	for _, verb := range []string{"season", "customers", "board", "batches", "stowing", "prices"} {
		there, here := programAt(t, testNow(), verb, "--db", url), programAt(t, testNow(), verb, "--db", path)
		require.Equal(t, here.out, there.out, verb)
		require.Equal(t, exitDone, there.code, there.err)
	}
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, before, after, "what is copied stays as it is")
}
