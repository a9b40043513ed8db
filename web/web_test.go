package web_test

import (
	"context"
	"encoding/json"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/receipts"
	"wellstowed/web"
)

// A desk is a server on a real database file, visited as a browser with a cookie
// jar and no scripts would.
type desk struct {
	t       *testing.T
	server  *web.Server
	service *orders.Service
	db      *store.DB
	jar     map[string]string
	log     *strings.Builder
	path    string // of the database
	host    string // asked for; empty: this machine
	headers map[string]string
}

func testClock() time.Time { return time.Date(2026, 11, 20, 15, 4, 5, 0, time.UTC) }

func newDesk(t *testing.T) *desk {
	t.Helper()
	path := filepath.Join(t.TempDir(), "shop.db")
	blank, err := blankFile()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, blank, 0o600))
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = db.Close() })
	painter, err := receipts.New()
	require.NoError(t, err)
	service := orders.New(db, painter, testClock)
	var log strings.Builder
	server, err := web.New(web.Config{
		Service: service, Accounts: accounts.New(db.Accounts(), testClock), Cases: cases.New(db.Cases(), service.Rules(), painter, testClock), Audits: audits.New(db.Audits(), service.Rules(), painter, testClock), Road: road.New(db.Road(), painter, testClock), Calendar: calendar.New(db.Calendar(), testClock), Eraser: privacy.New(db.Erasing(), service.Rules(), testClock), Blank: painter, Clock: testClock, Log: slog.New(slog.NewTextHandler(&log, nil)),
	})
	require.NoError(t, err)
	return &desk{t: t, server: server, service: service, db: db, jar: map[string]string{}, log: &log, path: path}
}

// restart serves the same database with another clock.
func (d *desk) restart(clock func() time.Time) {
	d.t.Helper()
	d.server = d.serverOf(clock, nil)
}

// serverOf is another server on the same database, with what it is told besides.
func (d *desk) serverOf(clock func() time.Time, told func(*web.Config), options ...orders.Option) *web.Server {
	d.t.Helper()
	painter, err := receipts.New()
	require.NoError(d.t, err)
	d.service = orders.New(d.db, painter, clock, options...)
	config := web.Config{
		Service: d.service, Accounts: accounts.New(d.db.Accounts(), clock), Cases: cases.New(d.db.Cases(), d.service.Rules(), painter, clock), Audits: audits.New(d.db.Audits(), d.service.Rules(), painter, clock), Road: road.New(d.db.Road(), painter, clock), Calendar: calendar.New(d.db.Calendar(), clock), Eraser: privacy.New(d.db.Erasing(), d.service.Rules(), clock),
		Blank: painter, Clock: clock, Log: slog.New(slog.NewTextHandler(d.log, nil)),
	}
	if told != nil {
		told(&config)
	}
	server, err := web.New(config)
	require.NoError(d.t, err)
	return server
}

type selection = goquery.Selection

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

// withShop is a desk whose shop can issue receipts.
func withShop(t *testing.T) *desk {
	t.Helper()
	d := newDesk(t)
	p := d.get("/shop")
	p.fill("Firm", "Alder Lane Firewood").fill("Address", "4 Alder Lane\nHartwell").fill("Currency", "USD").fill("Time zone", "UTC")
	require.Equal(t, http.StatusSeeOther, p.press("Save the shop").status)
	return d
}

// An answer is what came back, read once.
type answer struct {
	d      *desk
	status int
	header http.Header
	body   string
	doc    *goquery.Document
	form   *goquery.Selection
	values url.Values
}

func (d *desk) do(req *http.Request) *answer {
	d.t.Helper()
	if req.Host == "example.com" {
		req.Host = "127.0.0.1:8128"
		if d.host != "" {
			req.Host = d.host
		}
	}
	for name, value := range d.headers {
		req.Header.Set(name, value)
	}
	for name, value := range d.jar {
		req.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	res, err := d.server.App().Test(req, -1)
	require.NoError(d.t, err)
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	require.NoError(d.t, err)
	for _, cookie := range res.Cookies() {
		d.jar[cookie.Name] = cookie.Value
	}
	a := &answer{d: d, status: res.StatusCode, header: res.Header, body: string(body)}
	if a.status >= http.StatusInternalServerError {
		d.t.Logf("%s", d.log)
	}
	if strings.HasPrefix(res.Header.Get("Content-Type"), "text/html") {
		a.doc, err = goquery.NewDocumentFromReader(strings.NewReader(a.body))
		require.NoError(d.t, err)
		a.form = a.doc.Find("main form").First()
		a.values = formValues(a.form)
	}
	return a
}

// formValues are the fields of a form as a browser would send them unpressed.
func formValues(form *goquery.Selection) url.Values {
	values := url.Values{}
	form.Find("input, textarea, select").Each(func(_ int, s *goquery.Selection) {
		name, kind := s.AttrOr("name", ""), s.AttrOr("type", "text")
		_, checked := s.Attr("checked")
		switch {
		case kind == "radio" || kind == "checkbox":
			if checked {
				values.Set(name, s.AttrOr("value", "on"))
			}
		case goquery.NodeName(s) == "textarea":
			values.Set(name, s.Text())
		case goquery.NodeName(s) == "select":
			values.Set(name, s.Find("option[selected]").AttrOr("value", s.Find("option").AttrOr("value", "")))
		default:
			values.Set(name, s.AttrOr("value", ""))
		}
	})
	return values
}

func (d *desk) get(path string) *answer {
	return d.do(httptest.NewRequest(http.MethodGet, path, nil))
}

// getJSON asks as a program.
func (d *desk) getJSON(path string) *answer {
	req := httptest.NewRequest(http.MethodGet, path, nil)
	req.Header.Set("Accept", "application/json")
	return d.do(req)
}

func (d *desk) post(path string, values url.Values) *answer { return d.do(formRequest(path, values)) }

func formRequest(path string, values url.Values) *http.Request {
	req := httptest.NewRequest(http.MethodPost, path, strings.NewReader(values.Encode()))
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Accept", "text/html")
	return req
}

func (d *desk) postJSON(path, body string) *answer { return d.do(jsonRequest(path, body)) }

func jsonRequest(path, body string) *http.Request {
	req := httptest.NewRequest(http.MethodPost, path, strings.NewReader(body))
	req.Header.Set("Content-Type", "application/json")
	return req
}

// labelled is the name of the field with the label, which must be there once.
func (a *answer) labelled(label string) *goquery.Selection {
	a.d.t.Helper()
	var found *goquery.Selection
	a.doc.Find("label").Each(func(_ int, s *goquery.Selection) {
		seen := s.Clone()
		seen.Find("[aria-hidden]").Remove()
		if strings.TrimSpace(seen.Text()) != label {
			return
		}
		require.Nil(a.d.t, found, "two fields are labelled %q", label)
		if id, has := s.Attr("for"); has {
			found = a.doc.Find("*").FilterFunction(func(_ int, e *goquery.Selection) bool { return e.AttrOr("id", "") == id })
		} else {
			found = s.Find("input")
		}
	})
	require.NotNil(a.d.t, found, "no field is labelled %q in:\n%s", label, a.body)
	require.Equal(a.d.t, 1, found.Length(), "the label %q names no field", label)
	return found
}

// typed is what stands in the field with the label.
func (a *answer) typed(label string) string {
	a.d.t.Helper()
	field := a.labelled(label)
	if goquery.NodeName(field) == "textarea" {
		return field.Text()
	}
	return field.AttrOr("value", "")
}

// fill types into the field with the label, or takes the choice of that label.
func (a *answer) fill(label, text string) *answer {
	a.d.t.Helper()
	a.values.Set(a.labelled(label).AttrOr("name", ""), text)
	return a
}

// choose ticks the box or takes the choice of that label.
func (a *answer) choose(label string) *answer {
	a.d.t.Helper()
	box := a.labelled(label)
	a.values.Set(box.AttrOr("name", ""), box.AttrOr("value", "on"))
	return a
}

// press sends the form by the button with the text.
func (a *answer) press(text string) *answer {
	a.d.t.Helper()
	button := a.form.Find("button").FilterFunction(func(_ int, s *goquery.Selection) bool {
		_, hidden := s.Attr("hidden")
		return !hidden && strings.TrimSpace(s.Text()) == text
	}).First()
	require.Equal(a.d.t, 1, button.Length(), "no button %q in:\n%s", text, a.body)
	path := button.AttrOr("formaction", a.form.AttrOr("action", ""))
	values := url.Values{}
	for name, value := range a.values {
		values[name] = value
	}
	if name, has := button.Attr("name"); has {
		values.Set(name, button.AttrOr("value", ""))
	}
	path, _, _ = strings.Cut(path, "#")
	return a.d.post(path, values)
}

// agreed is an order as it was read back and agreed to.
func (d *desk) agreed(s *orders.Service, r orders.OrderRequest) orders.OrderRequest {
	d.t.Helper()
	read, err := s.ReadBack(d.t.Context(), act.Actor{Person: "owner", Role: act.Owner}, r)
	require.NoError(d.t, err)
	r.Confirmed = read.Confirm
	return r
}

// take takes the order of a form as it is read back; a form with faults comes back.
func (a *answer) take() *answer {
	a.d.t.Helper()
	read := a.press("Read it back")
	if read.status != http.StatusOK {
		return read
	}
	return read.press(strings.TrimSpace(read.doc.Find("button.main").Text()))
}

// save saves a changed order as it is read back, where what changed is asked about.
func (a *answer) save() *answer {
	a.d.t.Helper()
	read := a.press("Save the change")
	if read.status != http.StatusOK {
		return read
	}
	return read.press(strings.TrimSpace(read.doc.Find("button.main").Text()))
}

// orderJSON takes an order as a program does: it sends it, and again with what was read
// back. Other faults come back.
func (d *desk) orderJSON(body string) *answer {
	d.t.Helper()
	return d.postJSON("/orders", d.confirmed(body))
}

// confirmed is an order in JSON with what is read back of it, where nothing is wrong.
func (d *desk) confirmed(body string) string {
	d.t.Helper()
	var read struct {
		Confirmed string
	}
	order := map[string]any{}
	if json.Unmarshal([]byte(d.postJSON("/orders/price", body).body), &read) != nil || read.Confirmed == "" || json.Unmarshal([]byte(body), &order) != nil {
		return body
	}
	order["confirmed"] = read.Confirmed
	with, err := json.Marshal(order)
	require.NoError(d.t, err)
	return string(with)
}

// follow goes where a redirect points.
func (a *answer) follow() *answer {
	a.d.t.Helper()
	require.Equal(a.d.t, http.StatusSeeOther, a.status, "%s", a.body)
	return a.d.get(a.header.Get("Location"))
}

// text is what a person reads on the page.
func (a *answer) text() string {
	return strings.Join(strings.Fields(a.doc.Find("main").Text()), " ")
}

// takeOrder takes an order through the page and gives its path.
func (d *desk) takeOrder(quantity string) string {
	d.t.Helper()
	p := d.get("/orders/new")
	p.fill("Customer", "Ada Moss").fill("Address", "12 Mill Road\nHartwell").fill("How much", quantity)
	p.fill("Species", "red oak").fill("Price per cord", "280")
	made := p.choose("seasoned").take()
	require.Equal(d.t, http.StatusSeeOther, made.status, "%s", made.body)
	path, _, _ := strings.Cut(made.header.Get("Location"), "?")
	return path
}
