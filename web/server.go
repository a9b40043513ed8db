// Package web serves the shop's pages: routes, forms, pages and static files. It
// knows orders, measure and receipts/words; it never sees the store.
package web

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/netip"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/minute"
	"wellstowed/orders/prices"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/web/api"
)

// A BlankForm paints what is not kept: the blank tally form to be filled in by hand, a
// lot's report, the n-th storage plan of an answer, from 0, a buyer's checklist, a
// buyer's case as it stands, the payments on an order, the price list, the run sheets of a
// day, what a measurement sheet rests on, and a receipt with what ended it across it.
type BlankForm interface {
	BlankTally(language string, paper orders.Paper, units act.Units) ([]byte, error)
	Lot(language string, under rules.Set, l lot.Lot, v lot.Verdict, paper orders.Paper, units act.Units, when time.Time) ([]byte, error)
	StoragePlan(language string, a storage.Answer, n int, paper orders.Paper, units act.Units, unit rules.UnitCode) ([]byte, error)
	BuyingChecklist(language string, set rules.Set, paper orders.Paper, units act.Units) ([]byte, error)
	Case(f cases.File, paper orders.Paper, made time.Time) ([]byte, error)
	Labels(l orders.Label, shop orders.Shop) ([]byte, error)
	Payments(h orders.History, shop orders.Shop, asOf act.Date) ([]byte, error)
	PriceList(list prices.List, shop orders.Shop) ([]byte, error)
	RunSheets(d road.Day, shop orders.Shop) ([]byte, error)
	Working(s orders.Sheet) ([]byte, error)
	Ended(r orders.Receipt, seal string, by orders.Ending) ([]byte, error)
}

// Config is what a Server needs.
type Config struct {
	Service  *orders.Service
	Cases    *cases.Service
	Accounts *accounts.Service
	Audits   *audits.Service
	Road     *road.Service
	Minute   *minute.Service // nil: a delivery is numbered at once
	Calendar *calendar.Service
	Eraser   *privacy.Eraser
	Blank    BlankForm
	Clock    func() time.Time
	Log      *slog.Logger
	// LogRequests logs each answer, by its route's pattern.
	LogRequests bool
	Hosts       []string // names the server answers to, without port; empty: this machine's own
	Demo        bool     // says on every page that the business is invented
	// Base is the address that others reach the server by, "https://yard.example", over
	// TLS alone; empty: this machine alone reaches it. With it, nobody is let in without a
	// session.
	Base    string
	Trust   Trust          // the shop's own authority, where it vouches for the name
	Proxies []netip.Prefix // where the proxy is that ends TLS; nothing else is answered then
}

// A Server is the shop's pages.
type Server struct {
	service     *orders.Service
	cases       *cases.Service
	accounts    *accounts.Service
	audits      *audits.Service
	road        *road.Service
	minute      *minute.Service
	calendar    *calendar.Service
	eraser      *privacy.Eraser
	blank       BlankForm
	clock       func() time.Time
	watch       watch
	log         *slog.Logger
	logRequests bool
	hosts       map[string]bool
	demo        bool
	base        string
	secure      bool
	trust       Trust
	proxies     []netip.Prefix
	csrfKey     []byte // signs form tokens; new at every start
	views       views
	table       map[string]route // the access table, by method and path
	assets      assets
	worker      []byte // of phones, for work without signal
	app         *fiber.App
	document    []byte // what programs can ask for
	// trustApp answers in the clear, with nothing but the shop\'s authority.
	trustApp *fiber.App
	silent   silentSet
	limits   limits
}

// How long a request may take to arrive, to be worked on and to be answered, how
// long a silent connection stays open, and the largest body read at all: routes
// set their own smaller limits, so that too large a body is answered with a page.
const (
	readTimeout  = 30 * time.Second
	workTimeout  = 30 * time.Second
	writeTimeout = 60 * time.Second
	idleTimeout  = 2 * time.Minute
	bodyLimit    = 16 << 20
	headerLimit  = 16 << 10 // cookies of other programs on this host count as well
)

// New makes a Server. A page or static file that cannot be read is an error here,
// not at its first visit.
func New(config Config) (*Server, error) {
	pages, err := loadViews()
	if err != nil {
		return nil, fmt.Errorf("pages: %w", err)
	}
	files, err := loadAssets()
	if err != nil {
		return nil, fmt.Errorf("static files: %w", err)
	}
	phone, err := worker(files)
	if err != nil {
		return nil, fmt.Errorf("worker: %w", err)
	}
	key := make([]byte, 32)
	if _, err := rand.Read(key); err != nil {
		return nil, err
	}
	s := &Server{
		service: config.Service, accounts: config.Accounts, cases: config.Cases, audits: config.Audits, road: config.Road, calendar: config.Calendar, minute: config.Minute, eraser: config.Eraser, blank: config.Blank, clock: config.Clock, log: config.Log,
		hosts: hostSet(config.Hosts), demo: config.Demo, base: config.Base, trust: config.Trust, secure: config.Base != "", proxies: config.Proxies, csrfKey: key, views: pages, assets: files, worker: phone, limits: newLimits(),
		watch: watch{answers: map[sortOfAnswer]*timed{}}, logRequests: config.LogRequests,
	}
	s.app = fiber.New(fiber.Config{
		AppName: "Wellstowed", DisableStartupMessage: true,
		Immutable:   true, // strings from a request outlive its handler
		ReadTimeout: readTimeout, WriteTimeout: writeTimeout, IdleTimeout: idleTimeout,
		StreamRequestBody: true, DisablePreParseMultipartForm: true, // see readBody
		ReadBufferSize: headerLimit,
		BodyLimit:      bodyLimit, ErrorHandler: s.fail,
	})
	s.trustApp = fiber.New(fiber.Config{
		DisableStartupMessage: true, Immutable: true, ErrorHandler: s.fail,
		ReadTimeout: readTimeout, WriteTimeout: writeTimeout, IdleTimeout: idleTimeout, BodyLimit: 1,
	})
	s.trusting(s.trustApp)
	s.silent.conns = map[net.Conn]struct{}{}
	s.app.Server().ConnState = s.silent.note
	s.table = map[string]route{}
	for _, r := range s.routes() {
		s.table[r.method+" "+r.path] = r
		s.app.Add(r.method, r.path, s.gate(r)...)
		if r.method == fiber.MethodGet {
			s.app.Head(r.path, s.gate(r)...)
		}
	}
	if s.document, err = api.Document(s.mayUse); err != nil {
		return nil, fmt.Errorf("OpenAPI document: %w", err)
	}
	return s, nil
}

// App is the router, for tests.
func (s *Server) App() *fiber.App { return s.app }

// Serve answers on the listener until Shutdown.
func (s *Server) Serve(l net.Listener) error { return s.app.Listener(l) }

// Shutdown waits for running requests, no longer than ctx allows.
func (s *Server) Shutdown(ctx context.Context) error {
	s.silent.close()
	return errors.Join(s.trustApp.ShutdownWithContext(ctx), s.app.ShutdownWithContext(ctx))
}
