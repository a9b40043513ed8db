package web

import (
	"net"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
)

// Trust is a shop's own authority, which signs the name's certificate and which no phone
// knows.
type Trust struct {
	Certificate []byte // DER; nil: the name's certificate is one that phones know
	Fingerprint string // SHA-256, as phones show it
	Base        string // plain address where a phone gets it before it trusts: "http://yard.local:8444"
}

// A trustPage says how a phone learns to trust the shop's authority, and what that means.
type trustPage struct {
	page
	Trust
	Get     string // path of the certificate
	Name    string
	Address string // that the phone opens afterwards
	QR      shared // of the plain address, where it is read on another screen
}

// trusting are the two routes by which the authority is had.
func (s *Server) trusting(app *fiber.App) {
	headers := func(h fiber.Handler) fiber.Handler {
		return func(c *fiber.Ctx) error {
			setHeaders(c)
			return h(c)
		}
	}
	app.Get("/", headers(func(c *fiber.Ctx) error { return s.trustFrom(c, "/ca.crt", false) }))
	app.Get("/ca.crt", headers(s.trustFile))
	app.Get("/static/:name", headers(s.assetShow))
}

func (s *Server) trustShow(c *fiber.Ctx) error { return s.trustFrom(c, "/trust/ca.crt", true) }

func (s *Server) trustFrom(c *fiber.Ctx, get string, safe bool) error {
	p := trustPage{page: s.page(c, measure.Say("Let a phone trust this server"), ""), Trust: s.trust, Get: get, Address: s.base, Name: hostName(s.base[len("https://"):])}
	p.Bare = !safe
	if safe {
		p.QR = shared{Path: s.trust.Base, Link: s.trust.Base}
		var err error
		if p.QR.QR, err = drawQR(s.trust.Base, p.T("The link as a code for a phone’s camera")); err != nil {
			return err
		}
	}
	return s.render(c, "trust", p)
}

func (s *Server) trustFile(c *fiber.Ctx) error {
	c.Set(fiber.HeaderContentType, "application/x-x509-ca-cert")
	c.Set(fiber.HeaderContentDisposition, `attachment; filename="wellstowed-ca.crt"`)
	return c.Send(s.trust.Certificate)
}

// ServeTrust gives the shop's authority, and how to trust it, to phones that don't yet.
// That is all that is ever answered in the clear.
func (s *Server) ServeTrust(l net.Listener) error { return s.trustApp.Listener(l) }
