package main

import (
	"bytes"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os/exec"
	"path/filepath"
	"strconv"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A yardWay is the way from a phone to the built program: it can be cut, and it can end the
// program, as a power cut does, when the answer to the next form is on its way.
type yardWay struct {
	t        *testing.T
	bin, db  string
	address  string // of the program
	listener net.Listener
	running  *exec.Cmd
	doomed   atomic.Bool
	killed   chan struct{}
}

func newYard(t *testing.T) *yardWay {
	t.Helper()
	free, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	y := &yardWay{t: t, bin: buildProgram(t), db: filepath.Join(t.TempDir(), "shop.db"), address: free.Addr().String(), killed: make(chan struct{})}
	require.NoError(t, free.Close())
	y.listener, err = net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	t.Cleanup(func() { y.listener.Close() })
	go y.carry()
	return y
}

func (y *yardWay) base() string { return "http://" + y.listener.Addr().String() }

// start starts the program, with more flags, and waits until it answers.
func (y *yardWay) start(more ...string) {
	y.t.Helper()
	cmd := exec.CommandContext(y.t.Context(), y.bin, append([]string{"serve", "--db", y.db, "--listen", y.address}, more...)...)
	cmd.Dir = y.t.TempDir()
	y.run(cmd)
}

// run starts the program by a command and waits until it answers.
func (y *yardWay) run(cmd *exec.Cmd) {
	y.t.Helper()
	require.NoError(y.t, cmd.Start())
	y.running = cmd
	require.Eventually(y.t, func() bool {
		got, err := http.Get("http://" + y.address + "/healthz")
		if err != nil {
			return false
		}
		return got.Body.Close() == nil && got.StatusCode == http.StatusOK
	}, 20*time.Second, 20*time.Millisecond)
}

// stop ends the program as a power cut does.
func (y *yardWay) stop() {
	_ = y.running.Process.Kill()
	_ = y.running.Wait()
}

func (y *yardWay) carry() {
	for {
		phone, err := y.listener.Accept()
		if err != nil {
			return
		}
		server, err := net.Dial("tcp", y.address)
		if err != nil {
			phone.Close()
			continue
		}
		var form atomic.Bool
		go func() {
			defer server.Close()
			carryTo(server, phone, func(b []byte) bool {
				if bytes.HasPrefix(b, []byte("POST ")) || bytes.HasPrefix(b, []byte("GET ")) { // a body may come apart from its head
					form.Store(b[0] == 'P')
				}
				return true
			})
		}()
		go func() {
			defer phone.Close()
			carryTo(phone, server, func([]byte) bool {
				if !form.Load() || !y.doomed.CompareAndSwap(true, false) {
					return true
				}
				y.stop() // it answers only once all is written
				close(y.killed)
				return false
			})
		}()
	}
}

// carryTo copies until either side ends or a part isn't to go through.
func carryTo(to io.Writer, from io.Reader, through func([]byte) bool) {
	part := make([]byte, 1<<16)
	for {
		n, err := from.Read(part)
		if n > 0 && !through(part[:n]) || err != nil {
			return
		}
		if _, err := to.Write(part[:n]); err != nil {
			return
		}
	}
}

// ask sends JSON to the program, or asks for some where body is nil, and reads the answer.
func (y *yardWay) ask(path string, body map[string]any) (answer map[string]any) {
	y.t.Helper()
	method, sent := http.MethodGet, []byte(nil)
	if body != nil {
		method = http.MethodPost
		sent, _ = json.Marshal(body)
	}
	req, err := http.NewRequestWithContext(y.t.Context(), method, "http://"+y.address+path, bytes.NewReader(sent))
	require.NoError(y.t, err)
	req.Header.Set("Accept", "application/json")
	if body != nil {
		req.Header.Set("Content-Type", "application/json")
	}
	got, err := http.DefaultClient.Do(req)
	require.NoError(y.t, err)
	defer got.Body.Close()
	text, err := io.ReadAll(got.Body)
	require.NoError(y.t, err)
	require.Less(y.t, got.StatusCode, 300, "%s: %s", path, text)
	require.NoError(y.t, json.Unmarshal(text, &answer), "%s", text)
	return answer
}

// shop says whose shop it is.
func (y *yardWay) shop() {
	y.t.Helper()
	y.ask("/shop", map[string]any{"version": 1, "name": "Alder Lane Firewood", "address": "4 Alder Lane\nHartwell", "currency": "USD", "zone": "UTC"})
}

// order takes an order for today and gives its path.
func (y *yardWay) order() string {
	y.t.Helper()
	y.shop()
	r := map[string]any{"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak", "piece_length": "16 in", "price_per_cord": "280", "day": "today"}
	r["confirmed"] = y.ask("/orders/price", r)["confirmed"]
	return "/orders/" + y.ask("/orders", r)["id"].(string)
}

func (b *browser) open(path string) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, chromedp.Navigate(b.base+path)))
}

// waits until an expression, or what it promises, holds in the page.
func (b *browser) waits(expression string) {
	b.t.Helper()
	var err error
	for range 10 { // what waits in a page ends with it
		if _, err = chromedp.Run(b.ctx, chromedp.Poll[bool](expression, chromedp.WithPollingTimeout(4*time.Second))); err == nil {
			return
		}
	}
	require.NoError(b.t, err, expression)
}

// writes fills in fields by their ids and presses a form's main button.
func (b *browser) writes(action string, fields map[string]string) {
	b.t.Helper()
	form := `document.querySelector(` + strconv.Quote(`form[action="`+action+`"]`) + `)`
	for id, text := range fields {
		look[bool](b, form+`.elements.namedItem(`+strconv.Quote(id)+`).value = `+strconv.Quote(text)+`, true`)
	}
	look[bool](b, form+`.requestSubmit([...`+form+`.querySelectorAll("button")].find((e) => !e.hidden && !e.name && !e.hasAttribute("formaction"))), true`)
	b.waits(`location.pathname === "/outbox" && document.querySelector("#going li") !== null`)
}

// The program is killed once a form is saved and before its answer is out; with the
// signal gone a delivery and a payment are written; then all goes up, each once.
func TestAfterAPowerCutEverythingIsThereOnce(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	y.start()
	order := y.order()
	b := newBrowser(t, y.base())
	b.open("/")
	b.waits(`(async () => navigator.serviceWorker.controller && await caches.match("/offline") !== undefined)()`)
	b.open("/")
	b.waits(`(async () => { for (const p of ["", "/deliver", "/payments"]) if (!await caches.match("` + order + `" + p)) return false; return true; })()`)

	b.open(order + "/payments")
	y.doomed.Store(true)
	b.writes(order+"/payments", map[string]string{"paid": "100.00", "paid_by": "cash"})
	<-y.killed
	b.open(order + "/deliver")
	b.writes(order+"/deliver", nil)
	b.open(order + "/payments")
	b.writes(order+"/payments", map[string]string{"paid": "180.00", "paid_by": "cash"})
	assert.Equal(t, 3, look[int](b, `document.querySelectorAll("#going li").length`))

	y.start()
	defer y.stop()
	b.open("/outbox")
	b.waits(`document.getElementById("none").checkVisibility()`)
	var amounts []any
	for _, p := range y.ask(order+"/payments", nil)["payments"].([]any) {
		amounts = append(amounts, p.(map[string]any)["amount"])
	}
	assert.Len(t, amounts, 2, "%v", amounts)
	assert.Len(t, y.ask(order, nil)["receipts"], 1)
}
