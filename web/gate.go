package web

import (
	"context"
	"mime"
	"net"
	"strings"
	"unicode/utf8"

	"github.com/gofiber/fiber/v2"
	"github.com/gofiber/fiber/v2/middleware/compress"
	"github.com/gofiber/fiber/v2/middleware/recover"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// gate is what every request passes before its handler: it is named and counted, a panic
// is caught, and what is sent back is compressed for whoever takes it so.
func (s *Server) gate(r route) []fiber.Handler {
	guard := func(c *fiber.Ctx) error {
		ctx, cancel := context.WithTimeout(c.UserContext(), workTimeout)
		defer cancel()
		c.SetUserContext(ctx)
		setHeaders(c)
		if s.secure {
			c.Set(fiber.HeaderStrictTransportSecurity, "max-age=31536000")
		}
		err := s.admit(c, r)
		if err == nil {
			err = r.handler(c)
		}
		if err != nil {
			return s.fail(c, err) // while the context still holds
		}
		return nil
	}
	return []fiber.Handler{s.watched(r), recover.New(), compress.New(), guard}
}

// admit checks what the headers say (the name asked for, how often, from where) before
// it reads any body; then the body's size and kind, for a form its token, and the role.
func (s *Server) admit(c *fiber.Ctx, r route) error {
	if err := s.throughProxy(c); err != nil {
		return err
	}
	if !s.hosts[hostName(string(c.Request().Host()))] {
		return errHost
	}
	if err := s.mayAsk(c); err != nil {
		return err
	}
	if err := s.fromHere(c); err != nil {
		return err
	}
	if r.takesFiles() {
		if err := s.meet(c); err != nil {
			return err
		}
		if err := s.admitRole(c, r); err != nil { // before megabytes are read
			return err
		}
	}
	if err := readBody(c, r); err != nil {
		return err
	}
	if err := s.admitBody(c, r); err != nil {
		return err
	}
	return s.admitPerson(c, r)
}

// admitPerson checks the role, for which a form may say who sends it.
func (s *Server) admitPerson(c *fiber.Ctx, r route) error {
	if r.may == nil {
		return nil // nobody is looked up for a page that is anybody's
	}
	if err := s.meet(c); err != nil {
		return err
	}
	if r.method == fiber.MethodPost {
		if err := s.provenAgain(c); err != nil {
			return err
		}
	}
	return s.admitRole(c, r)
}

func (s *Server) admitRole(c *fiber.Ctx, r route) error {
	switch who := s.actor(c); {
	case r.allowed(who):
		return s.mayAskAs(c, who)
	case who.Role == "":
		return &act.Error{Kind: act.Unknown}
	}
	return &act.Error{Kind: act.Forbidden}
}

// admitBody checks the kind of what is sent and, for a form, its token.
func (s *Server) admitBody(c *fiber.Ctx, r route) error {
	if r.method != fiber.MethodPost {
		return nil
	}
	if c.Get(fiber.HeaderContentEncoding) != "" {
		return fiber.ErrUnsupportedMediaType
	}
	if fromProgram(c) && !sentJSON(c) {
		return fiber.ErrUnsupportedMediaType
	}
	switch contentType(c) {
	case fiber.MIMEApplicationJSON:
		// A page of another site cannot send this without asking first, and
		// that question is never granted.
		if !utf8.Valid(c.Request().Body()) {
			return badBody(measure.Say("The text is not UTF-8."))
		}
		return nil
	case fiber.MIMEMultipartForm:
		if !r.takesFiles() {
			return fiber.ErrUnsupportedMediaType
		}
		if !s.tokenHolds(c) {
			return errToken
		}
		return nil
	case fiber.MIMEApplicationForm:
		if r.csrf && !s.tokenHolds(c) {
			return errToken
		}
		return nil
	}
	return fiber.ErrUnsupportedMediaType
}

func contentType(c *fiber.Ctx) string {
	kind, _, err := mime.ParseMediaType(c.Get(fiber.HeaderContentType))
	if err != nil {
		return ""
	}
	return kind
}

// hostSet holds the names answered to. Checking them keeps a foreign name that
// was pointed at this machine from reading its pages.
func hostSet(names []string) map[string]bool {
	if len(names) == 0 {
		names = []string{"localhost", "127.0.0.1", "::1"}
	}
	set := map[string]bool{}
	for _, name := range names {
		set[strings.ToLower(name)] = true
	}
	return set
}

// hostName is a Host header without its port and brackets.
func hostName(host string) string {
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	return strings.ToLower(strings.Trim(host, "[]"))
}

const contentPolicy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; " +
	"connect-src 'self'; manifest-src 'self'; worker-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"

func setHeaders(c *fiber.Ctx) {
	c.Set(fiber.HeaderContentSecurityPolicy, contentPolicy)
	c.Set(fiber.HeaderXContentTypeOptions, "nosniff")
	c.Set(fiber.HeaderXFrameOptions, "DENY")
	c.Set(fiber.HeaderReferrerPolicy, "same-origin")
	c.Set("Cross-Origin-Opener-Policy", "same-origin")
	c.Set("Cross-Origin-Resource-Policy", "same-origin")
	c.Set(fiber.HeaderPermissionsPolicy, "camera=(), geolocation=(self), microphone=()")
	c.Set(fiber.HeaderCacheControl, "no-store")
}
