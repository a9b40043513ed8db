package orders_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
)

// holds is what stands in the shop: of each order its receipts and payments.
func (y *sellerYard) holds() (said string) {
	y.t.Helper()
	list, err := y.Orders(y.ctx, owner, 0, 100)
	require.NoError(y.t, err)
	for _, o := range list.Orders {
		h := y.history(o.ID)
		said += fmt.Sprintf("%d %s: %d receipts, %d payments\n", o.Number, o.State, len(h.Receipts), len(h.Payments))
	}
	return said
}

// spoiled is a log that was cut, of which a stretch was zeroed, or one bit flipped.
func spoiled(log []byte, random *rand.Rand) (spoilt []byte, how string) {
	at := random.IntN(len(log))
	spoilt = slices.Clone(log)
	switch random.IntN(3) {
	case 0:
		return spoilt[:at], fmt.Sprintf("cut at %d of %d", at, len(log))
	case 1:
		end := min(len(log), at+1+random.IntN(3*4096))
		clear(spoilt[at:end])
		return spoilt, fmt.Sprintf("zeroed from %d to %d of %d", at, end, len(log))
	}
	spoilt[at] ^= 1 << random.IntN(8)
	return spoilt, fmt.Sprintf("a bit flipped at %d of %d", at, len(log))
}

// Of a shop whose log was cut, zeroed or flipped after a crash everything up to some write
// is there, whole, and nothing after it: the file agrees with itself, and the witness names
// the papers that are gone.
func TestOfASpoiltLogWhatIsLeftIsWhole(t *testing.T) {
	servertest.FileOnly(t)
	t.Parallel()
	y := newYard(t)
	file := witness.At(filepath.Join(t.TempDir(), "witness.txt"))
	_, err := file.Begin()
	require.NoError(t, err)
	db, err := store.Open(y.ctx, y.path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	y.Service = orders.New(db, paperless{}, func() time.Time { return y.now }, orders.WitnessedBy(file))
	states := []string{y.holds()}
	note := func() { states = append(states, y.holds()) }
	for range 4 {
		o := y.take(goodOrder())
		note()
		y.deliver(o.ID, orders.LoadRequest{})
		note()
		y.pay(o.ID, orders.PaymentRequest{Amount: "5", Method: "cash"})
		note()
	}
	content, err := os.ReadFile(y.path)
	require.NoError(t, err)
	log, err := os.ReadFile(y.path + "-wal")
	require.NoError(t, err)
	random := rand.New(rand.NewPCG(20261128, 1))
	lost := 0
	for range 60 {
		spoilt, how := spoiled(log, random)
		left := &sellerYard{t: t, ctx: y.ctx, now: y.now, path: filepath.Join(t.TempDir(), "shop.db")}
		require.NoError(t, os.WriteFile(left.path, content, 0o600))
		require.NoError(t, os.WriteFile(left.path+"-wal", spoilt, 0o600))
		left.Service = left.open()
		upTo := slices.Index(states, left.holds())
		require.NotEqual(t, -1, upTo, "%s: half a write is there:\n%s", how, left.holds())
		left.noFaults()
		if upTo >= len(states)-2 { // the last paper is there
			continue
		}
		lost++
		require.NotEmpty(t, left.faultsBy(nil, file), "%s: papers are gone, and the witness didn’t say so", how)
	}
	require.Greater(t, lost, 20, "most spoilt logs lose something")
}
