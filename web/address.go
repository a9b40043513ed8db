package web

import (
	"net/netip"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"
)

// address is where a request comes from: the other end of the connection, or, where that
// is a proxy this server stands behind, the last address on its list that is none.
func (s *Server) address(c *fiber.Ctx) string {
	near := remote(c)
	if !s.proxied(near) {
		return near.String()
	}
	far := near
	for _, text := range slices.Backward(strings.Split(c.Get(fiber.HeaderXForwardedFor), ",")) {
		a, err := netip.ParseAddr(strings.TrimSpace(text))
		if err != nil {
			break
		}
		if far = a.Unmap(); !s.proxied(far) {
			break
		}
	}
	return far.String()
}

// remote is the other end of the connection.
func remote(c *fiber.Ctx) netip.Addr {
	a, _ := netip.AddrFromSlice(c.Context().RemoteIP())
	return a.Unmap()
}

func (s *Server) proxied(a netip.Addr) bool {
	return slices.ContainsFunc(s.proxies, func(p netip.Prefix) bool { return p.Contains(a) })
}

// throughProxy refuses what went around the proxy that this server stands behind, or
// reached that without TLS.
func (s *Server) throughProxy(c *fiber.Ctx) error {
	if len(s.proxies) == 0 {
		return nil
	}
	if !s.proxied(remote(c)) || c.Get(fiber.HeaderXForwardedProto) != "https" {
		return errHost
	}
	return nil
}
