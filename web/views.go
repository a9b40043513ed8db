package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io/fs"
	"path"
	"strings"
	"sync"

	"github.com/gofiber/fiber/v2"
)

//go:embed pages
var pageFiles embed.FS

// views are the pages by name, each its own copy of the layout, so that one page's
// blocks never show in another.
type views map[string]*template.Template

// loadViews gives every page; all servers of the program share them.
var loadViews = sync.OnceValues(parseViews)

// parseViews parses every page: layout.html and parts.html are shared by all.
func parseViews() (views, error) {
	base, err := template.New("layout").Option("missingkey=error").
		ParseFS(pageFiles, "pages/layout.html", "pages/parts.html")
	if err != nil {
		return nil, err
	}
	names, err := fs.Glob(pageFiles, "pages/*.html")
	if err != nil {
		return nil, err
	}
	all := views{}
	for _, file := range names {
		name := strings.TrimSuffix(path.Base(file), ".html")
		if name == "layout" || name == "parts" {
			continue
		}
		copied, err := base.Clone()
		if err != nil {
			return nil, err
		}
		if all[name], err = copied.ParseFS(pageFiles, file); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// render answers with a page; nothing is sent of one that fails half-way.
func (s *Server) render(c *fiber.Ctx, name string, data any) error {
	return s.renderPart(c, name, "layout.html", data)
}

func (s *Server) renderPart(c *fiber.Ctx, name, part string, data any) error {
	view, found := s.views[name]
	if !found {
		return fmt.Errorf("there is no page %q", name)
	}
	var out bytes.Buffer
	if err := view.ExecuteTemplate(&out, part, data); err != nil {
		return fmt.Errorf("page %q: %w", name, err)
	}
	c.Type("html", "utf-8")
	return c.Send(out.Bytes())
}
