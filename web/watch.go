package web

import (
	"bufio"
	"cmp"
	"crypto/rand"
	"encoding/hex"
	"fmt"
	"io"
	"log/slog"
	"maps"
	"net"
	"net/http"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/gofiber/fiber/v2"
)

// requestIDHeader names an answer; the log names it alike.
const requestIDHeader = "X-Request-Id"

// bounds are the bounds of the histogram of how long answers took, in seconds.
var bounds = [...]float64{.005, .01, .025, .05, .1, .25, .5, 1, 2.5, 10}

// A sort of answer is what they are counted by: a route's pattern and never its address,
// which may name a person or hold a code.
type sortOfAnswer struct {
	method, route string
	status        int
}

// timed is how many answers of a sort there were, and how long they took.
type timed struct {
	count   uint64
	seconds float64
	within  [len(bounds)]uint64 // of each bound
}

// A watch counts what is answered, for whoever keeps the machine.
type watch struct {
	mu      sync.Mutex
	answers map[sortOfAnswer]*timed
}

func (w *watch) note(of sortOfAnswer, took time.Duration) {
	w.mu.Lock()
	defer w.mu.Unlock()
	t := w.answers[of]
	if t == nil {
		t = &timed{}
		w.answers[of] = t
	}
	t.count++
	t.seconds += took.Seconds()
	for i, bound := range bounds {
		if took.Seconds() <= bound {
			t.within[i]++
		}
	}
}

// watched names each request, counts its answer and, where that is asked for, logs it.
func (s *Server) watched(r route) fiber.Handler {
	return func(c *fiber.Ctx) error {
		id := make([]byte, 8)
		_, _ = rand.Read(id) // it never fails
		c.Set(requestIDHeader, hex.EncodeToString(id))
		began := time.Now()
		err := c.Next()
		if err != nil { // a panic that was caught: what is sent for it is what counts
			err = s.fail(c, err)
		}
		took, status := time.Since(began), c.Response().StatusCode()
		s.watch.note(sortOfAnswer{r.method, r.path, status}, took)
		if s.logRequests {
			s.log.InfoContext(c.UserContext(), "answered", "request", requestID(c), "method", r.method, "route", r.path, "status", status,
				"ms", took.Milliseconds(), "bytes", len(c.Response().Body()))
		}
		return err
	}
}

// requestID is the name of the request that is being answered.
func requestID(c *fiber.Ctx) string { return c.GetRespHeader(requestIDHeader) }

// ServeMetrics tells what was answered, in the OpenMetrics text format, to whoever keeps
// the machine; it runs until the listener is closed.
func (s *Server) ServeMetrics(l net.Listener) error {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /metrics", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/openmetrics-text; version=1.0.0; charset=utf-8")
		ready := 1
		if err := s.service.Ready(r.Context()); err != nil {
			ready = 0
		}
		out := bufio.NewWriter(w)
		s.watch.write(out, ready)
		if err := out.Flush(); err != nil {
			s.log.Log(r.Context(), slog.LevelDebug, "metrics not taken", "error", err)
		}
	})
	server := &http.Server{Handler: mux, ReadTimeout: readTimeout, WriteTimeout: writeTimeout}
	return server.Serve(l)
}

// write gives the counts as OpenMetrics 1.0 has them, in an order that stays.
func (w *watch) write(out io.Writer, ready int) {
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	gauge := func(name, unit, help string, value any) {
		fmt.Fprintf(out, "# TYPE %s gauge\n", name)
		if unit != "" {
			fmt.Fprintf(out, "# UNIT %s %s\n", name, unit)
		}
		fmt.Fprintf(out, "# HELP %s %s\n%s %v\n", name, help, name, value)
	}
	gauge("wellstowed_ready", "", "Whether orders can be read and written: 1, else 0.", ready)
	gauge("wellstowed_memory_bytes", "bytes", "Memory that the program holds of the system.", memory.Sys)
	gauge("wellstowed_goroutines", "", "Goroutines at this moment.", runtime.NumGoroutine())
	const name = "wellstowed_answer_seconds"
	fmt.Fprintf(out, "# TYPE %s histogram\n# UNIT %s seconds\n# HELP %s How long answers took, by the route's pattern.\n", name, name, name)
	w.mu.Lock()
	defer w.mu.Unlock()
	for _, of := range slices.SortedFunc(maps.Keys(w.answers), func(a, b sortOfAnswer) int {
		return cmp.Or(cmp.Compare(a.route, b.route), cmp.Compare(a.method, b.method), cmp.Compare(a.status, b.status))
	}) {
		t := w.answers[of]
		labels := fmt.Sprintf(`method="%s",route="%s",status="%d"`, of.method, of.route, of.status)
		for i, bound := range bounds {
			fmt.Fprintf(out, "%s_bucket{%s,le=\"%s\"} %d\n", name, labels, strconv.FormatFloat(bound, 'f', -1, 64), t.within[i])
		}
		fmt.Fprintf(out, "%s_bucket{%s,le=\"+Inf\"} %d\n%s_count{%s} %d\n%s_sum{%s} %v\n", name, labels, t.count, name, labels, t.count, name, labels, t.seconds)
	}
	fmt.Fprint(out, "# EOF\n")
}
