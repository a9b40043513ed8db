package web

import (
	"errors"
	"io"
	"net"
	"net/url"
	"strings"
	"sync"
	"time"

	"github.com/gofiber/fiber/v2"
	"golang.org/x/time/rate"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// How often one address, and one person, may ask for anything, and how often one address
// may try to come in, or be tried to come in as: the steady rate and what may come at
// once.
const (
	askRate, askBurst             = rate.Limit(25), 200
	tryAddressBurst, tryNameBurst = 10, 30
)

var (
	tryAddressRate = rate.Every(90 * time.Second) // 10 in a quarter of an hour
	tryNameRate    = rate.Every(30 * time.Second) // 30, from all addresses together
)

// errTooOften is a request that came too soon after others; wait is when to ask again.
type errTooOften struct {
	wait   time.Duration
	trying bool // to come in
}

func (errTooOften) Error() string { return "too many requests" }

func (e errTooOften) message() measure.Text {
	if e.trying {
		return measure.Say("That was tried too often. Wait a quarter of an hour, or come in by a code that the owner shows you.")
	}
	return measure.Say("That was asked for too often at once. Wait a few seconds and go on.")
}

// mostBuckets bounds how many addresses and names are counted at once.
const mostBuckets = 20_000

// buckets are token buckets by key.
type buckets struct {
	mu    sync.Mutex
	limit rate.Limit
	burst int
	of    map[string]*rate.Limiter
}

func newBuckets(limit rate.Limit, burst int) *buckets {
	return &buckets{limit: limit, burst: burst, of: map[string]*rate.Limiter{}}
}

// take takes a token of the key's bucket and tells how long to wait where there is none.
func (b *buckets) take(key string, now time.Time) (wait time.Duration) {
	b.mu.Lock()
	defer b.mu.Unlock()
	bucket := b.of[key]
	if bucket == nil {
		b.makeRoom(now)
		bucket = rate.NewLimiter(b.limit, b.burst)
		b.of[key] = bucket
	}
	r := bucket.ReserveN(now, 1)
	if wait = r.DelayFrom(now); wait > 0 {
		r.CancelAt(now)
	}
	return wait
}

// makeRoom forgets buckets that are full again, which count nothing, and, where that is
// not enough, any: somebody with so many addresses is not held up by this anyway.
func (b *buckets) makeRoom(now time.Time) {
	if len(b.of) < mostBuckets {
		return
	}
	for key, bucket := range b.of {
		if bucket.TokensAt(now) >= float64(b.burst) {
			delete(b.of, key)
		}
	}
	for key := range b.of {
		if len(b.of) < mostBuckets {
			return
		}
		delete(b.of, key)
	}
}

// limits are the buckets there are.
type limits struct{ asking, tryingFrom, tryingAs *buckets }

func newLimits() limits {
	return limits{
		asking: newBuckets(askRate, askBurst), tryingFrom: newBuckets(tryAddressRate, tryAddressBurst), tryingAs: newBuckets(tryNameRate, tryNameBurst),
	}
}

// addressKey is an address as it is counted: of IPv6 the network that one household has.
func addressKey(address string) string {
	ip := net.ParseIP(address)
	if ip == nil || ip.To4() != nil {
		return address
	}
	return ip.Mask(net.CIDRMask(64, 128)).String()
}

// mayAsk refuses an address that asks too often. This machine itself is not counted.
func (s *Server) mayAsk(c *fiber.Ctx) error {
	from := s.address(c)
	if ip := net.ParseIP(from); ip == nil || ip.IsLoopback() || ip.IsUnspecified() {
		return nil
	}
	return s.tooOften(s.limits.asking, addressKey(from), false)
}

// mayAskAs refuses a person who asks too often, from wherever.
func (s *Server) mayAskAs(c *fiber.Ctx, who act.Actor) error {
	if who.ID == "" || s.demo {
		return nil
	}
	return s.tooOften(s.limits.asking, "person "+who.ID, false)
}

// mayTry refuses to try once more who somebody is: by the address it comes from, and by
// the name that is given, "" for a code.
func (s *Server) mayTry(c *fiber.Ctx, name string) error {
	if err := s.tooOften(s.limits.tryingFrom, addressKey(s.address(c)), true); err != nil {
		return err
	}
	return s.tooOften(s.limits.tryingAs, strings.ToLower(strings.TrimSpace(name)), true)
}

func (s *Server) tooOften(b *buckets, key string, trying bool) error {
	if wait := b.take(key, s.clock()); wait > 0 {
		return errTooOften{wait, trying}
	}
	return nil
}

// errForeign is a form or a document that another site's page sent.
var errForeign = errors.New("another site's page sent this")

// fromHere refuses what another site's page sends, by what the browser says of it. A
// program says nothing, and has no cookies that it wasn't given.
func (s *Server) fromHere(c *fiber.Ctx) error {
	if c.Method() != fiber.MethodPost {
		return nil
	}
	switch c.Get("Sec-Fetch-Site") {
	case "same-origin", "none":
		return nil
	case "":
	default:
		return errForeign
	}
	origin := c.Get(fiber.HeaderOrigin)
	if origin == "" {
		return nil
	}
	if s.secure {
		return foreignUnless(strings.EqualFold(origin, s.base))
	}
	u, err := url.Parse(origin)
	return foreignUnless(err == nil && u.Scheme == "http" && strings.EqualFold(u.Host, string(c.Request().Host())))
}

func foreignUnless(ours bool) error {
	if ours {
		return nil
	}
	return errForeign
}

// mostDrained is how much of too large a body is read and thrown away, so that the
// browser, which listens only once it has sent all, gets the page that says so.
const mostDrained = 16 << 20

// readBody reads the body, no more of it than its route takes. Nothing was read before
// but what came with the headers.
func readBody(c *fiber.Ctx, r route) error {
	stream := c.Request().BodyStream()
	said := c.Request().Header.ContentLength()
	if stream == nil {
		if len(c.Request().Body()) > r.body { // it was handed over whole
			return errTooLarge{limit: r.body}
		}
		return nil
	}
	if said > r.body {
		_, _ = io.CopyN(io.Discard, stream, mostDrained)
		return errTooLarge{limit: r.body}
	}
	body, err := io.ReadAll(io.LimitReader(stream, int64(r.body)+1))
	if err != nil {
		return fiber.NewError(fiber.StatusBadRequest)
	}
	if len(body) > r.body {
		_, _ = io.CopyN(io.Discard, stream, mostDrained)
		return errTooLarge{limit: r.body}
	}
	c.Request().SetBodyRaw(body)
	return nil
}
