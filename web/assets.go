package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"path"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders"
)

//go:embed static
var staticFiles embed.FS

// An asset is a static file, named in pages with a mark of its content so that it
// can be kept by the browser for good.
type asset struct {
	content []byte
	mark    string
}

type assets map[string]asset

func loadAssets() (assets, error) {
	entries, err := fs.ReadDir(staticFiles, "static")
	if err != nil {
		return nil, err
	}
	all := assets{}
	for _, entry := range entries {
		content, err := staticFiles.ReadFile("static/" + entry.Name())
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256(content)
		all[entry.Name()] = asset{content, hex.EncodeToString(sum[:6])}
	}
	return all, nil
}

func (a assets) path(name string) string { return "/static/" + name + "?v=" + a[name].mark }

func (s *Server) assetShow(c *fiber.Ctx) error {
	file, found := s.assets[c.Params("name")]
	if !found {
		return &orders.Error{Kind: orders.NotFound}
	}
	c.Set(fiber.HeaderCacheControl, "no-cache")
	if c.Query("v") == file.mark {
		c.Set(fiber.HeaderCacheControl, "public, max-age=31536000, immutable")
	}
	c.Type(path.Ext(c.Params("name")), "utf-8")
	return c.Send(file.content)
}

func (s *Server) healthShow(c *fiber.Ctx) error {
	if err := s.service.Ready(c.UserContext()); err != nil {
		s.log.ErrorContext(c.UserContext(), "not ready", "error", err)
		return c.Status(fiber.StatusServiceUnavailable).SendString("not ready\n")
	}
	return c.SendString("ready\n")
}
