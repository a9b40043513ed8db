package web

import (
	"net"
	"sync"

	"github.com/valyala/fasthttp"
)

// A silentSet holds the connections that were opened and have sent nothing yet, as
// browsers open them ahead of need. Stopping closes them, since the server would wait
// for their first byte.
type silentSet struct {
	mu    sync.Mutex
	conns map[net.Conn]struct{}
}

// note follows a connection's state, as the server tells it.
func (s *silentSet) note(c net.Conn, state fasthttp.ConnState) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if state == fasthttp.StateNew {
		s.conns[c] = struct{}{}
		return
	}
	delete(s.conns, c)
}

// close closes them. A connection that has begun to send is never among them.
func (s *silentSet) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for c := range s.conns {
		c.Close()
	}
}
