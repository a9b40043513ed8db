package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"
)

// A deed is a write that a hand asked the program for.
type deed struct {
	path    string
	body    map[string]any
	request string         // its id, the same when it is sent again
	answer  map[string]any // nil before it was answered
}

// A hand takes orders, hands over the wood of each and takes its money, one deed after
// another, and sends again what was not answered.
type hand struct {
	yard  *doomedYard
	deeds []*deed
	order string // path of the last one
	wrong error
}

// A doomedYard is a program that is killed as soon as so many writes have been answered.
type doomedYard struct {
	*yardWay
	witness string
	wanted  map[string]any // the order that each customer places, as it was read back
	left    atomic.Int64
	client  *http.Client
}

// restart starts the program anew, to be killed after so many answers.
func (y *doomedYard) restart(answers int64) {
	y.t.Helper()
	y.left.Store(answers)
	y.client = &http.Client{Transport: &http.Transport{}}
	y.start("--witness", y.witness)
}

// work does deeds until the program is gone, or until most are answered.
func (h *hand) work(most int) {
	for {
		if len(h.deeds) == 0 || h.deeds[len(h.deeds)-1].answer != nil {
			if len(h.deeds) == most {
				return
			}
			h.deeds = append(h.deeds, h.next())
		}
		if !h.send(h.deeds[len(h.deeds)-1]) {
			return
		}
	}
}

func (h *hand) next() *deed {
	d := &deed{request: uuid.Must(uuid.NewV7()).String()}
	switch len(h.deeds) % 3 {
	case 0:
		d.path, d.body = "/orders", h.yard.wanted
	case 1:
		h.order = "/orders/" + h.deeds[len(h.deeds)-1].answer["id"].(string)
		d.path, d.body = h.order+"/deliver", map[string]any{}
	default:
		d.path, d.body = h.order+"/payments", map[string]any{"paid": "280", "paid_by": "cash"}
	}
	return d
}

// send tells whether the program answered.
func (h *hand) send(d *deed) bool {
	sent, err := json.Marshal(d.body)
	if err != nil {
		h.wrong = err
		return false
	}
	req, err := http.NewRequestWithContext(h.yard.t.Context(), http.MethodPost, "http://"+h.yard.address+d.path, bytes.NewReader(sent))
	if err != nil {
		h.wrong = err
		return false
	}
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Accept", "application/json")
	req.Header.Set("Idempotency-Key", d.request)
	got, err := h.yard.client.Do(req)
	if err != nil {
		return false
	}
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	if err != nil {
		return false
	}
	if got.StatusCode >= http.StatusMultipleChoices {
		h.wrong = fmt.Errorf("%s: %d %s", d.path, got.StatusCode, text)
		return false
	}
	if h.wrong = json.Unmarshal(text, &d.answer); h.wrong != nil {
		return false
	}
	if h.yard.left.Add(-1) == 0 {
		_ = h.yard.running.Process.Kill()
	}
	return true
}

// holds asks for what became of the deeds from one on: each that was answered is there,
// once and as it was answered.
func (h *hand) holds(from int) {
	t := h.yard.t
	t.Helper()
	for i, d := range h.deeds {
		if i < from || d.answer == nil {
			continue
		}
		switch i % 3 {
		case 0:
			path := "/orders/" + d.answer["id"].(string)
			require.Equal(t, d.answer["number"], h.yard.ask(path, nil)["order"].(map[string]any)["number"])
		case 1:
			facts := d.answer["receipt"].(map[string]any)["facts"].(map[string]any)
			held := h.yard.ask(fmt.Sprintf("/receipts/%v", facts["number"]), nil)
			require.Equal(t, d.answer["receipt"], held["receipt"])
			require.Equal(t, d.answer["seal"], held["seal"])
		default:
			paid := h.yard.ask(d.path, nil)["payments"].([]any)
			require.Len(t, paid, 1)
			require.Equal(t, d.answer["id"], paid[0].(map[string]any)["id"])
		}
	}
}

// kills is how often the program is killed.
func kills() int {
	if os.Getenv("WELLSTOWED_FULL") != "" {
		return 10000
	}
	return 30
}

// The program is killed while several hands write at once, again and again, and sometimes
// while it starts: each write that was answered is there afterwards as it was answered, one
// that was not is done once when it is sent again, and verify finds nothing wrong.
func TestWhatWasAnsweredOutlivesEveryKill(t *testing.T) {
	t.Parallel()
	const hands, killsPerShop = 4, 250
	for done := 0; done < kills(); done += killsPerShop {
		y := &doomedYard{yardWay: newYard(t), witness: filepath.Join(t.TempDir(), "witness.txt")}
		y.restart(-1)
		y.shop()
		y.wanted = map[string]any{"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak", "piece_length": "16 in", "price_per_cord": "280"}
		y.wanted["confirmed"] = y.ask("/orders/price", y.wanted)["confirmed"]
		y.stop()
		all := make([]*hand, hands)
		for i := range all {
			all[i] = &hand{yard: y}
		}
		random := rand.New(rand.NewPCG(uint64(done), 9))
		for range min(killsPerShop, kills()-done) {
			if random.IntN(5) == 0 {
				y.killedAtStart()
			}
			y.round(all, 1+random.Int64N(24))
		}
		y.restart(-1)
		y.settle(all)
		y.stop()
		v := program(t, "", "verify", "--db", y.db, "--witness", y.witness)
		require.Equal(t, exitDone, v.code, v.out+v.err)
	}
}

// killedAtStart kills the program as soon as it is started.
func (y *doomedYard) killedAtStart() {
	y.t.Helper()
	cmd := exec.CommandContext(y.t.Context(), y.bin, "serve", "--db", y.db, "--listen", y.address, "--witness", y.witness)
	require.NoError(y.t, cmd.Start())
	y.running = cmd
	y.stop()
}

// round lets all hands work until the program is killed, starts it again and holds what was
// answered meanwhile.
func (y *doomedYard) round(all []*hand, answers int64) {
	y.t.Helper()
	from := make([]int, len(all))
	y.restart(answers)
	var working sync.WaitGroup
	for i, h := range all {
		from[i] = max(0, len(h.deeds)-1)
		working.Go(func() { h.work(-1) })
	}
	working.Wait()
	y.stop()
	y.restart(-1)
	for i, h := range all {
		require.NoError(y.t, h.wrong)
		h.holds(from[i])
	}
	y.stop()
}

// settle lets each hand end its last order, and holds that there is nothing besides.
func (y *doomedYard) settle(all []*hand) {
	y.t.Helper()
	taken := 0.0
	for _, h := range all {
		h.work((len(h.deeds) + 2) / 3 * 3)
		require.NoError(y.t, h.wrong)
		h.holds(0)
		taken += float64(len(h.deeds) / 3)
	}
	newest := y.ask("/orders", nil)["orders"].([]any)[0].(map[string]any)
	require.Equal(y.t, taken, newest["number"], "an order that nobody took, or took twice")
}
