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
	"strings"
	"sync"

	"github.com/gofiber/fiber/v2"
	brotli "github.com/molecule-man/go-brrr"

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
	packed  []byte // by brotli; nil for what is packed as it is sent
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
	if whole, packed := strings.CutSuffix(name, ".br"); packed {
		return a.unpack(whole, content)
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
	a[name] = asset{content: content, mark: hex.EncodeToString(sum[:6])}
}

// unpack adds a file that is kept packed: most browsers take it so.
func (a assets) unpack(name string, packed []byte) error {
	content, err := brotli.Decompress(packed)
	if err != nil {
		return fmt.Errorf("static file %s: %w", name, err)
	}
	a.add(name, content)
	file := a[name]
	file.packed = packed
	a[name] = file
	return nil
}

func (a assets) path(name string) string { return "/static/" + name + "?v=" + a[name].mark }

func (s *Server) assetShow(c *fiber.Ctx) error {
	file, found := s.assets[c.Params("name")]
	if !found {
		return &act.Error{Kind: act.NotFound}
	}
	c.Set(fiber.HeaderCacheControl, "no-cache")
	if c.Query("v") == file.mark {
		c.Set(fiber.HeaderCacheControl, "public, max-age=31536000, immutable")
	}
	tag := `"` + file.mark + `"`
	c.Set(fiber.HeaderETag, tag)
	if c.Get(fiber.HeaderIfNoneMatch) == tag {
		return c.SendStatus(fiber.StatusNotModified)
	}
	c.Vary(fiber.HeaderAcceptEncoding)
	if file.packed != nil && c.AcceptsEncodings("br") == "br" {
		c.Set(fiber.HeaderContentEncoding, "br")
		file.content = file.packed
	}
	if kind := path.Ext(c.Params("name")); slices.Contains([]string{".png", ".wasm"}, kind) {
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
	return words.New("en", act.Imperial).Say(known.Message) + "\n"
}
