package orders_test

import (
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/minute"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
)

// A paperless printer "paints" a paper as its data, so that tests can read it. Its
// font has Latin letters only.
type paperless struct{}

func (paperless) Layout() int { return 1 }

func (paperless) Printable(text string) (missing []rune) {
	for _, r := range text {
		if r > 0x24f && !strings.ContainsRune("’–—", r) || r == '\n' {
			missing = append(missing, r)
		}
	}
	return missing
}

func (paperless) Receipt(r orders.Receipt, seal string) ([]byte, error) {
	return json.Marshal(map[string]any{"receipt": r, "seal": seal})
}

func (paperless) Sheet(s orders.Sheet) ([]byte, error) { return json.Marshal(s) }

func (paperless) Audit(r audits.Report, hash string, pictures []audits.Picture) ([]byte, error) {
	return json.Marshal(map[string]any{"report": r, "hash": hash, "pictures": pictures})
}

var (
	owner   = act.Actor{Person: "Odell", Role: act.Owner}
	driver  = act.Actor{Person: "Wren", Role: act.Driver}
	auditor = act.Actor{Person: "Pim", Role: act.Auditor}
)

type caseService = cases.Service

type accountService = accounts.Service

type auditService = audits.Service

// A sellerYard is a service on a database file of its own.
type sellerYard struct {
	*orders.Service
	*privacy.Eraser
	*caseService
	*auditService
	*accountService
	minute *minute.Service
	road   *road.Service
	t      *testing.T
	ctx    context.Context
	path   string
	now    time.Time
}

// newYard opens a shop that can issue receipts.
func newYard(t *testing.T) *sellerYard {
	t.Helper()
	y := bareYard(t)
	_, err := y.ChangeShop(y.ctx, y.act(), goodShop())
	require.NoError(t, err)
	return y
}

// bareYard opens a shop as a new database has it.
func bareYard(t *testing.T) *sellerYard {
	t.Helper()
	y := &sellerYard{
		t: t, ctx: context.Background(), path: filepath.Join(t.TempDir(), "shop.db"),
		now: time.Date(2026, 3, 9, 15, 4, 5, 678_000, time.UTC),
	}
	if servertest.Everywhere() != "" {
		server := servertest.Start(t)
		y.path = server.Database(t, blankOn(t, server))
	} else {
		blank, err := blankFile()
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(y.path, blank, 0o600))
	}
	y.Service = y.open()
	return y
}

// blankFile is a new database, made once: bringing each test's own up to date takes
// longer than most tests do.
var blankFile = sync.OnceValues(func() (blank []byte, err error) {
	dir, err := os.MkdirTemp("", "blank")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "shop.db")
	db, err := store.Open(context.Background(), path)
	if err != nil {
		return nil, err
	}
	if err := db.Close(); err != nil { // the log is written into the file
		return nil, err
	}
	return os.ReadFile(path)
})

// blankOn is a new database on a server, made once.
func blankOn(t *testing.T, server servertest.Server) string {
	t.Helper()
	made, err := onServer(server)
	require.NoError(t, err)
	return made
}

var (
	onceOnServer sync.Once
	madeOnServer string
	failedThere  error
)

func onServer(server servertest.Server) (string, error) {
	onceOnServer.Do(func() {
		if madeOnServer, failedThere = server.Kept(); failedThere != nil {
			return
		}
		var db *store.DB
		if db, failedThere = store.Open(context.Background(), madeOnServer); failedThere == nil {
			failedThere = db.Close()
		}
	})
	return madeOnServer, failedThere
}

// open gives another service on the same file, as another process would have.
func (y *sellerYard) open() *orders.Service { return y.openWith(paperless{}) }

func (y *sellerYard) openWith(printer orders.Printer) *orders.Service {
	y.t.Helper()
	db, err := store.Open(y.ctx, y.path)
	require.NoError(y.t, err)
	y.t.Cleanup(func() { require.NoError(y.t, db.Close()) })
	s := orders.New(db, printer, func() time.Time { return y.now })
	y.caseService = cases.New(db.Cases(), s.Rules(), printer, func() time.Time { return y.now })
	y.accountService = accounts.New(db.Accounts(), func() time.Time { return y.now })
	y.auditService = audits.New(db.Audits(), s.Rules(), paperless{}, func() time.Time { return y.now })
	y.road = road.New(db.Road(), paperless{}, func() time.Time { return y.now })
	y.minute = minute.New(db.Minutes(), s, func() time.Time { return y.now })
	y.Eraser = privacy.New(db.Erasing(), s.Rules(), func() time.Time { return y.now })
	return s
}

func (y *sellerYard) act() act.Act { return act.Act{Actor: owner, Request: newRequest()} }

func newRequest() string { return uuid.Must(uuid.NewV7()).String() }

func (y *sellerYard) take(r orders.OrderRequest) orders.Order {
	y.t.Helper()
	o, err := y.takeAs(y.act(), r)
	require.NoError(y.t, err)
	return o
}

// takeAs takes an order that was read back.
func (y *sellerYard) takeAs(by act.Act, r orders.OrderRequest) (orders.Order, error) {
	y.t.Helper()
	return y.TakeOrder(y.ctx, by, y.read(r))
}

// read is an order whose reading was confirmed, where it can be read.
func (y *sellerYard) read(r orders.OrderRequest) orders.OrderRequest {
	y.t.Helper()
	if back, err := y.ReadBack(y.ctx, owner, r); err == nil {
		r.Confirmed = back.Confirm
	}
	return r
}

func (y *sellerYard) deliver(id string, r orders.LoadRequest) orders.Issued {
	y.t.Helper()
	issued, err := y.Deliver(y.ctx, y.act(), id, r)
	require.NoError(y.t, err)
	return issued
}

// deliverAnyway hands over and says yes to what is asked about it.
func (y *sellerYard) deliverAnyway(id string, r orders.LoadRequest) orders.Issued {
	y.t.Helper()
	issued, err := y.Deliver(y.ctx, y.act(), id, r)
	if err == nil {
		return issued
	}
	r.Confirmed = fieldOf(y.t, err, "confirmed").Accepts.String()
	return y.deliver(id, r)
}

func (y *sellerYard) measure(id string) orders.IssuedSheet {
	y.t.Helper()
	sheet, err := y.SaveTally(y.ctx, y.act(), id, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
	require.NoError(y.t, err)
	return sheet
}

func goodShop() orders.ShopRequest {
	return orders.ShopRequest{
		Name: "Alder Bend Firewood", Address: "2 Kiln Road\nAlder Bend", Phone: "555-0100",
		Currency: "USD", Zone: "America/New_York", Paper: "letter", Units: "imperial", RuleSet: "us-model", Version: 1,
	}
}

func goodOrder() orders.OrderRequest {
	return orders.OrderRequest{
		CustomerName: "Ada Quill", CustomerAddress: "7 Ferry Lane\nAlder Bend", Quantity: "1 cord",
		Species: "Red oak", PieceLength: "16 in", Seasoning: "seasoned", PricePerCord: "280", DeliveryFee: "25",
	}
}

// cordTally is three rows of 16 in wood, 8 ft long and 4 ft high, about a cord.
func cordTally() []byte {
	return []byte(`{"format": 1, "apart": "none", "tape": "1/4 in", "top": "straightedge", "stowed": "checked",
		"stack": {"kind": "rows", "pieces": ["16 in", "16 1/4 in", "15 3/4 in", "16 in", "16 in"], "rows": [
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]},
		{"length": "96 in", "heights": ["48 in", "48 1/2 in", "47 1/2 in", "48 in"]},
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]}]}}`)
}

// faults gives the fields of an Invalid error and their codes.
func faults(t *testing.T, err error) map[string]string {
	t.Helper()
	require.Error(t, err)
	var e *act.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, act.Invalid, e.Kind, "%v", err)
	codes := map[string]string{}
	for _, f := range e.Fields {
		codes[f.Field] = f.Code
		require.NotEmpty(t, f.Reason.Key, "field %s gives no reason", f.Field)
		require.NotEmpty(t, f.Accepts.Key, "field %s does not say what is accepted", f.Field)
	}
	return codes
}

func requireKind(t *testing.T, want act.Kind, err error) {
	t.Helper()
	var e *act.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, want.String(), e.Kind.String(), "%v", err)
}

func cords(n, of measure.Volume) measure.Quantity {
	return measure.Quantity{Volume: measure.Cord * n / of, Basis: measure.Ranked}
}
