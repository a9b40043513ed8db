package web

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"sync"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
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

// loadAssets gives every static file and the pictures of the mark; all servers of the
// program share them.
var loadAssets = sync.OnceValues(readAssets)

func readAssets() (assets, error) {
	entries, err := fs.ReadDir(staticFiles, "static")
	if err != nil {
		return nil, err
	}
	all := assets{}
	for _, entry := range entries {
		if err := all.load(entry.Name(), nil); err != nil {
			return nil, err
		}
	}
	for _, size := range []int{180, 192, 512} { // what phones ask for
		icon, err := drawIcon(size)
		if err != nil {
			return nil, err
		}
		all.add(fmt.Sprintf("icon-%d.png", size), icon)
	}
	return all, nil
}

// imported is how one script of the pages names another.
var imported = regexp.MustCompile(`(?m)^(import .*")\./([a-z_]+\.js)(";)$`)

// load adds a file, after those it imports: it names them with their marks, so that its
// own mark changes with them. on are the files on the way to it.
func (a assets) load(name string, on []string) error {
	if _, done := a[name]; done {
		return nil
	}
	if slices.Contains(on, name) {
		return fmt.Errorf("static files import each other: %q", append(on, name))
	}
	content, err := staticFiles.ReadFile("static/" + name)
	if err != nil {
		return err
	}
	for _, other := range imported.FindAllSubmatch(content, -1) {
		if err := a.load(string(other[2]), append(slices.Clone(on), name)); err != nil {
			return err
		}
	}
	content = imported.ReplaceAllFunc(content, func(line []byte) []byte {
		m := imported.FindSubmatch(line)
		return []byte(string(m[1]) + a.path(string(m[2])) + string(m[3]))
	})
	a.add(name, content)
	return nil
}

func (a assets) add(name string, content []byte) {
	sum := sha256.Sum256(content)
	a[name] = asset{content, hex.EncodeToString(sum[:6])}
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
	if kind := path.Ext(c.Params("name")); kind == ".png" {
		c.Type(kind)
	} else {
		c.Type(kind, "utf-8")
	}
	return c.Send(file.content)
}

func (s *Server) healthShow(c *fiber.Ctx) error {
	if err := s.service.Ready(c.UserContext()); err != nil {
		s.log.ErrorContext(c.UserContext(), "not ready", "error", err)
		return c.Status(fiber.StatusServiceUnavailable).SendString("not ready\n" + why(err))
	}
	return c.SendString("ready\n")
}

// why says what stands against it, of what a person may see.
func why(err error) string {
	var known *act.Error
	if !errors.As(err, &known) || known.Kind != act.Unavailable {
		return ""
	}
	return words.New("en", orders.Imperial).Say(known.Message) + "\n"
}
