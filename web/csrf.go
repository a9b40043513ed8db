package web

import (
	"crypto/hmac"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"

	"github.com/gofiber/fiber/v2"
)

const (
	tokenCookie = "wellstowed_form"
	tokenField  = "csrf"
)

// Form tokens are signed double-submit: the form carries an HMAC of a random
// cookie that other sites can neither read nor have sent. Fiber's own middleware
// keeps its tokens in memory and gives none to the page that answers a missing
// one, which here must carry a fresh token so that nothing typed is lost.

// token is the form token of this browser, giving it a cookie if it has none.
func (s *Server) token(c *fiber.Ctx) string {
	id := c.Cookies(tokenCookie)
	if fresh, ok := c.Locals(tokenCookie).(string); ok {
		id = fresh
	}
	if len(id) < 22 {
		id = rand.Text()
		c.Locals(tokenCookie, id)
		c.Cookie(&fiber.Cookie{
			Name: tokenCookie, Value: id, Path: "/", HTTPOnly: true,
			SameSite: fiber.CookieSameSiteStrictMode, SessionOnly: true,
		})
	}
	return s.sign(id)
}

// tokenHolds tells whether the form sent carries the token of its browser.
func (s *Server) tokenHolds(c *fiber.Ctx) bool {
	id := c.Cookies(tokenCookie)
	sent := formValue(c)(tokenField)
	return id != "" && hmac.Equal([]byte(sent), []byte(s.sign(id)))
}

func (s *Server) sign(id string) string {
	mac := hmac.New(sha256.New, s.csrfKey)
	mac.Write([]byte(id))
	return base64.RawURLEncoding.EncodeToString(mac.Sum(nil))
}
