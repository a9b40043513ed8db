package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"net"
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
)

// whoHeader tells a phone's worker whom its page is for, so that copies of one person's
// pages are never another's: a mark of the person, or one of these.
const (
	whoHeader    = "Wellstowed-Who"
	whoNobody    = "nobody"
	whoWithdrawn = "withdrawn" // its session was ended from elsewhere: the phone forgets all
)

// whoMark is the mark of who sends the request.
func (s *Server) whoMark(c *fiber.Ctx) string {
	v := s.visitor(c)
	switch {
	case v.Withdrawn:
		return whoWithdrawn
	case v.Actor.Role == "":
		return whoNobody
	}
	sum := sha256.Sum256([]byte("who; " + v.Actor.ID + "; " + string(v.Actor.Role)))
	return hex.EncodeToString(sum[:8])
}

// mostCopied is how many orders' pages a phone is told to copy.
const mostCopied = 30

// An offlineCopy is what a phone's worker asks for: whom it works for, a form's token for
// what it sends up, and the pages to open without signal.
type offlineCopy struct {
	Who   string   `json:"who"`
	Token string   `json:"token"`
	Pages []string `json:"pages"`
}

// offlineCopyShow tells a phone what to keep for a day without signal.
func (s *Server) offlineCopyShow(c *fiber.Ctx) error {
	p := s.page(c, measure.Text{}, "")
	pages := []string{"/measure", "/how-to-measure", "/storage", "/buying"}
	if p.May("GET /") {
		board, err := s.service.Board(c.UserContext(), p.Who)
		if err != nil {
			return err
		}
		pages = append([]string{"/", "/orders"}, pages...)
		if p.May("GET /orders/new") {
			pages = append(pages, "/orders/new")
		}
		pages = append(pages, p.dayPages(board)...)
	}
	return c.JSON(offlineCopy{Who: s.whoMark(c), Token: p.Token, Pages: pages})
}

// dayPages are the pages of the orders that today and tomorrow are about, and of those
// that are to be measured or settled.
func (p page) dayPages(b orders.Board) (pages []string) {
	copied := 0
	for _, g := range b.Groups {
		if !slices.Contains([]orders.BoardKey{orders.BoardToday, orders.BoardTomorrow, orders.BoardSettle}, g.Key) {
			continue
		}
		for _, stop := range g.Stops {
			if copied++; copied > mostCopied {
				return pages
			}
			at := "/orders/" + stop.Order.ID
			pages = append(pages, at, at+"/measure", at+"/payments")
			if p.May("GET /orders/:id/deliver") {
				pages = append(pages, at+"/deliver")
			}
		}
	}
	return pages
}

// offlineShow is the page instead of the browser's own where there is no signal.
func (s *Server) offlineShow(c *fiber.Ctx) error {
	p := s.page(c, measure.Say("No signal"), "")
	p.Bare = true
	return s.render(c, "offline", messagePage{page: p})
}

// worker is the phone's worker with what it was built from in front: any change of a file
// or a page makes it another, by which browsers know a new one.
func worker(files assets) ([]byte, error) {
	built := struct {
		Mark   string   `json:"mark"`
		Outbox string   `json:"outbox"`
		Files  []string `json:"files"`
		Pages  []string `json:"pages"`
		Phone  string   `json:"phone"` // large: kept once the pages are
	}{Phone: files.path(program), Outbox: files.path("outbox.js"), Pages: []string{"/offline", "/outbox"}}
	for name := range files {
		if name == program {
			continue
		}
		built.Files = append(built.Files, files.path(name))
	}
	slices.Sort(built.Files)
	sum := sha256.New()
	for _, path := range append(built.Files, built.Phone) {
		sum.Write([]byte(path))
	}
	for _, page := range []string{"layout", "parts", "offline", "outbox"} {
		text, err := pageFiles.ReadFile("pages/" + page + ".html")
		if err != nil {
			return nil, err
		}
		sum.Write(text)
	}
	built.Mark = hex.EncodeToString(sum.Sum(nil)[:6])
	head, err := json.Marshal(built)
	if err != nil {
		return nil, err
	}
	return slices.Concat([]byte("const build = "), head, []byte(";\n"), files["sw.js"].content), nil
}

// workerShow sends the worker from the root, since a worker minds the paths below its own.
func (s *Server) workerShow(c *fiber.Ctx) error {
	c.Set(fiber.HeaderCacheControl, "no-cache")
	c.Type("js", "utf-8")
	return c.Send(s.worker)
}

// manifestShow says how the program is put on a phone's first screen.
func (s *Server) manifestShow(c *fiber.Ctx) error {
	p := s.page(c, measure.Text{}, "")
	icon := func(name, size, purpose string) fiber.Map {
		return fiber.Map{"src": s.assets.path(name), "sizes": size, "type": "image/png", "purpose": purpose}
	}
	c.Set(fiber.HeaderCacheControl, "no-cache")
	err := c.JSON(fiber.Map{
		"id": "/", "name": "Wellstowed", "short_name": "Wellstowed", "description": p.T("Firewood: what was sold, and how much is really here."),
		"lang": p.Lang, "start_url": "/", "scope": "/", "display": "standalone", "background_color": "#ffffff", "theme_color": "#6b2a0c",
		"icons": []fiber.Map{
			icon("icon-192.png", "192x192", "any"), icon("icon-512.png", "512x512", "any"), icon("icon-512.png", "512x512", "maskable"),
			{"src": p.Icon, "sizes": "any", "type": "image/svg+xml", "purpose": "any"},
		},
	})
	c.Set(fiber.HeaderContentType, "application/manifest+json")
	return err
}

// drawIcon is the program's mark as a square picture of so many pixels: a measure with
// three ticks, small enough for a phone that cuts the picture round.
func drawIcon(size int) ([]byte, error) {
	picture := image.NewRGBA(image.Rect(0, 0, size, size))
	fill := func(x0, y0, x1, y1 float64, c color.Color) { // in 32nds of the side
		at := func(v float64) int { return int(v * float64(size) / 32) }
		draw.Draw(picture, image.Rect(at(x0), at(y0), at(x1), at(y1)), image.NewUniform(c), image.Point{}, draw.Src)
	}
	fill(0, 0, 32, 32, color.RGBA{0x6b, 0x2a, 0x0c, 0xff})
	white := color.RGBA{0xff, 0xff, 0xff, 0xff}
	fill(6.5, 21.5, 25.5, 23.5, white)
	for _, tick := range []struct{ x, top float64 }{{6.5, 9.5}, {10.75, 17}, {15, 12.5}, {19.25, 17}, {23.5, 9.5}} {
		fill(tick.x, tick.top, tick.x+2, 23.5, white)
	}
	var out bytes.Buffer
	err := png.Encode(&out, picture)
	return out.Bytes(), err
}

// A signal holds the paths of what a page needs to work without signal.
type signal struct{ Icon, Style, Outbox, Script string }

func (s *Server) signal() *signal {
	return &signal{Icon: s.assets.path("icon-180.png"), Style: s.assets.path("signal.css"), Outbox: s.assets.path("outbox.js"), Script: s.assets.path("signal.js")}
}

// isLoopback tells whether a name is this machine's own, which browsers trust without TLS.
func isLoopback(name string) bool {
	ip := net.ParseIP(name)
	return name == "localhost" || ip != nil && ip.IsLoopback()
}

// Signal is that for a page of the shop or of nobody; nil for those of a link, which a
// phone keeps no copy of.
func (p page) Signal() *signal {
	if p.Outside != "" {
		return nil
	}
	return p.signal
}
