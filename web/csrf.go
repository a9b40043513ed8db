package web

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/people"
)

const (
	tokenCookie = "wellstowed_form"
	tokenField  = "csrf"
)

// Form tokens are signed double-submit: the form carries an HMAC of a random
// cookie that other sites can neither read nor have sent. Fiber's own middleware
// keeps its tokens in memory and gives none to the page that answers a missing
// one, which here must carry a fresh token so that nothing typed is lost.

// token is the form token of this browser: of its session, or without one of a cookie,
// which it is given if it has none.
func (s *Server) token(c *fiber.Ctx) string {
	if in := s.visitor(c).Session; in.ID != "" {
		return s.signSession(in)
	}
	id := c.Cookies(tokenCookie)
	if fresh, ok := c.Locals(tokenCookie).(string); ok {
		id = fresh
	}
	if len(id) < 22 {
		id = rand.Text()
		c.Locals(tokenCookie, id)
		c.Cookie(&fiber.Cookie{
			Name: tokenCookie, Value: id, Path: "/", HTTPOnly: true,
			SameSite: fiber.CookieSameSiteStrictMode, SessionOnly: true, Secure: s.secure,
		})
	}
	return s.sign(id)
}

// tokenHolds tells whether the form sent carries the token of its browser.
func (s *Server) tokenHolds(c *fiber.Ctx) bool {
	sent := formValue(c)(tokenField)
	if in := s.visitor(c).Session; in.ID != "" {
		return hmac.Equal([]byte(sent), []byte(s.signSession(in)))
	}
	id := c.Cookies(tokenCookie)
	return id != "" && hmac.Equal([]byte(sent), []byte(s.sign(id)))
}

// signSession is the token of a session. No cookie can hold what it signs.
func (s *Server) signSession(in people.Session) string { return s.sign("session; " + in.TokenHash) }

func (s *Server) sign(id string) string {
	mac := hmac.New(sha256.New, s.csrfKey)
	mac.Write([]byte(id))
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil))
}
