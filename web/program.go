package web

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
	"wellstowed/web/api"
)

// programRoutes are the lines of the access table for programs: each does what a page does,
// by its handler, for the same roles.
func (s *Server) programRoutes(pages []route) []route {
	byPage := map[string]route{}
	for _, r := range pages {
		byPage[r.method+" "+r.path] = r
	}
	all := []route{{fiber.MethodGet, api.DocumentPath, nil, s.documentShow, 0, false}}
	for _, o := range api.Operations() {
		r, found := byPage[o.Method+" "+o.Page]
		if !found {
			panic("no page does what " + o.ID + " does")
		}
		r.path = api.Prefix + o.Path
		all = append(all, r)
	}
	return all
}

// mayUse gives the roles that a page is for.
func (s *Server) mayUse(method, path string) []act.Role { return s.table[method+" "+path].may }

// fromProgram tells whether a request is to an address for programs, which are answered
// with JSON and send nothing else.
func fromProgram(c *fiber.Ctx) bool { return strings.HasPrefix(c.Path(), api.Prefix+"/") }

// bearer is the token that a program sends; nothing else is taken for one, and with one
// sent nothing else tells who it is.
func bearer(c *fiber.Ctx) (token string, sent bool) {
	if !fromProgram(c) {
		return "", false
	}
	said := c.Get(fiber.HeaderAuthorization)
	scheme, token, _ := strings.Cut(said, " ")
	if !strings.EqualFold(scheme, "Bearer") {
		return "", said != ""
	}
	return strings.TrimSpace(token), true
}

// pathFor is a page's path as whoever asks can ask for it.
func pathFor(c *fiber.Ctx, page string) string {
	if fromProgram(c) && page != "" {
		return api.Prefix + page
	}
	return page
}

// documentShow sends the OpenAPI document, which a program may keep.
func (s *Server) documentShow(c *fiber.Ctx) error {
	sum := sha256.Sum256(s.document)
	tag := `"` + hex.EncodeToString(sum[:8]) + `"`
	c.Set(fiber.HeaderCacheControl, "no-cache")
	c.Set(fiber.HeaderETag, tag)
	if c.Get(fiber.HeaderIfNoneMatch) == tag {
		return c.SendStatus(fiber.StatusNotModified)
	}
	c.Set(fiber.HeaderContentType, fiber.MIMEApplicationJSON)
	return c.Send(s.document)
}
