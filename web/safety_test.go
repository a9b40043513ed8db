package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestFormWithoutItsTokenKeepsEverythingTyped(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada \"Q\" Moss").fill("How much", "1 cord").fill("Species", "ash").fill("Price per cord", "280")
	p = p.press("Read it back")
	d.jar = map[string]string{} // the browser was closed
	again := p.press("Take the order, $280.00")
	require.Equal(t, http.StatusForbidden, again.status)
	assert.Empty(t, d.orders())
	assert.Equal(t, "Ada \"Q\" Moss", again.values.Get("customer_name"))
	made := again.press("Send again")
	require.Equal(t, http.StatusSeeOther, made.status, made.body)
	assert.Equal(t, "Ada \"Q\" Moss", d.orders()[0].Customer.Name)
}

func TestTokenOfAnotherBrowserIsRefused(t *testing.T) {
	d := withShop(t)
	mine := d.get("/shop")
	d.jar = map[string]string{}
	d.get("/shop") // another browser, another cookie
	assert.Equal(t, http.StatusForbidden, mine.press("Save the shop").status)
}

func TestTokenCookieIsKeptFromScriptsAndOtherSites(t *testing.T) {
	cookie := newDesk(t).get("/orders/new").header.Get("Set-Cookie")
	assert.Contains(t, cookie, "HttpOnly")
	assert.Contains(t, cookie, "SameSite=Strict")
}

func TestForeignHostIsRefused(t *testing.T) {
	d := withShop(t)
	for _, host := range []string{"evil.example", "evil.example:8128", "127.0.0.1.evil.example"} {
		req := httptest.NewRequest(http.MethodGet, "/", nil)
		req.Host = host
		req.Header.Set("X-Forwarded-Host", "127.0.0.1")
		assert.Equal(t, http.StatusMisdirectedRequest, d.do(req).status, host)
	}
	for _, host := range []string{"localhost", "LOCALHOST:80", "127.0.0.1:8128", "[::1]:8128"} {
		req := httptest.NewRequest(http.MethodGet, "/", nil)
		req.Host = host
		assert.Equal(t, http.StatusOK, d.do(req).status, host)
	}
}

func TestTooLargeABodyIsAnsweredWithAPage(t *testing.T) {
	d := withShop(t)
	for _, row := range []struct {
		path  string
		bytes int
	}{{"/orders", 65_000}, {"/shop", 65_000}, {"/measure", 257_000}, {"/measure", 8 << 20}} {
		a := d.post(row.path, url.Values{"notes": {strings.Repeat("x", row.bytes)}})
		assert.Equal(t, http.StatusRequestEntityTooLarge, a.status, row.path)
		require.NotNil(t, a.doc, row.path)
		assert.Contains(t, a.text(), "kB", row.path)
		b := d.postJSON(row.path, `{"notes":"`+strings.Repeat("x", row.bytes)+`"}`)
		assert.Equal(t, http.StatusRequestEntityTooLarge, b.status, row.path)
		assert.Equal(t, "application/problem+json", b.header.Get("Content-Type"), row.path)
	}
}

func TestOtherKindsOfBodyAreRefused(t *testing.T) {
	d := withShop(t)
	for name, set := range map[string]func(http.Header){
		"text/plain, which other sites may send": func(h http.Header) { h.Set("Content-Type", "text/plain") },
		"no kind":                                func(h http.Header) { h.Del("Content-Type") },
		"compressed": func(h http.Header) {
			h.Set("Content-Type", "application/json")
			h.Set("Content-Encoding", "gzip")
		},
	} {
		req := httptest.NewRequest(http.MethodPost, "/orders", strings.NewReader(`{"quantity":"1 cord"}`))
		set(req.Header)
		assert.Equal(t, http.StatusUnsupportedMediaType, d.do(req).status, name)
	}
}

func TestBrokenTextIsRefusedAndShown(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada\xff\xfe").fill("How much", "1 cord")
	again := p.take()
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "true", again.labelled("Customer").AttrOr("aria-invalid", ""))
	assert.Equal(t, http.StatusUnprocessableEntity, d.get("/measure").fill("Row 1, length", "8\xff").press("Show the answer").status)
	assert.Equal(t, http.StatusUnprocessableEntity, d.postJSON("/measure", "{\"format\":1,\"sold\":\"\xff\"}").status)
}

func TestTypedTextIsNeverMarkup(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "<script>alert(1)</script>").fill("How much", "1 cord")
	p.fill("Species", "ash").fill("Price per cord", "280").fill("Notes for the driver", "<img src=x>")
	page := p.take().follow()
	assert.Contains(t, page.text(), "<script>alert(1)</script>")
	assert.Equal(t, page.doc.Find("script").Length(), page.doc.Find(`script[src^="/static/"]`).Length(), "the page's own alone")
	assert.Zero(t, page.doc.Find("img").Length())
}

func TestEveryPageHasItsHeaders(t *testing.T) {
	d := withShop(t)
	for _, path := range []string{"/", "/orders/new", "/measure", "/how-to-measure", "/shop", "/nowhere", "/static/style.css"} {
		h := d.get(path).header
		assert.Contains(t, h.Get("Content-Security-Policy"), "default-src 'none'", path)
		policy := h.Get("Content-Security-Policy")
		if path == "/measure" { // a measuring page may run WebAssembly, and nothing else more
			policy = strings.Replace(policy, " 'wasm-unsafe-eval'", "", 1)
		}
		assert.NotContains(t, policy, "unsafe", path)
		assert.Equal(t, "nosniff", h.Get("X-Content-Type-Options"), path)
		assert.Empty(t, h.Get("Access-Control-Allow-Origin"), path)
	}
}

func TestNoPageHasCodeInline(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	for _, page := range []string{"/", "/orders/new", path, path + "/measure", path + "/deliver", "/how-to-measure", "/shop"} {
		doc := d.get(page).doc
		assert.Zero(t, doc.Find("[style], style, [onclick], script:not([src])").Length(), page)
	}
}

func TestAddressesAreTyped(t *testing.T) {
	d := withShop(t)
	for _, path := range []string{
		"/orders/1", "/orders/1'%20OR%201=1", "/orders/0190a000-0000-7000-8000-000000000000", "/receipts/0", "/receipts/-1",
		"/receipts/x", "/receipts/99999999999999999999", "/sheets/1", "/static/nothing.css", "/static/..%2fserver.go", "/orders?before=x",
	} {
		assert.Equal(t, http.StatusNotFound, d.get(path).status, path)
		assert.Equal(t, "application/problem+json", d.getJSON(path).header.Get("Content-Type"), path)
	}
	assert.Equal(t, http.StatusMethodNotAllowed, d.do(httptest.NewRequest(http.MethodDelete, "/orders", nil)).status)
}

// What is ours is named by a reference only.
func TestErrorTextNeverReachesPeople(t *testing.T) {
	d := withShop(t)
	require.NoError(t, d.db.Close())
	for _, a := range []*answer{d.get("/"), d.getJSON("/"), d.postJSON("/orders", `{"customer_name":"A","quantity":"1 cord","species":"ash","piece_length":"16 in","price_per_cord":"1"}`)} {
		require.Equal(t, http.StatusInternalServerError, a.status)
		assert.NotContains(t, strings.ToLower(a.body), "sql")
		assert.NotContains(t, strings.ToLower(a.body), "closed")
		assert.Contains(t, a.body, "Reference ")
		named := regexp.MustCompile(`Reference ([0-9a-f]{16})`).FindStringSubmatch(a.body)
		require.NotNil(t, named, a.body)
		assert.Contains(t, d.log.String(), "request="+named[1], "what is shown leads to its line in the log")
	}
	assert.Equal(t, http.StatusServiceUnavailable, d.get("/healthz").status)
}

func TestStaticFilesAreKeptByTheirMark(t *testing.T) {
	d := withShop(t)
	style := d.get("/").doc.Find(`link[rel=stylesheet]`).AttrOr("href", "")
	a := d.get(style)
	assert.Equal(t, http.StatusOK, a.status)
	assert.Contains(t, a.header.Get("Cache-Control"), "immutable")
	assert.Contains(t, a.header.Get("Content-Type"), "text/css")
	assert.Equal(t, "no-cache", d.get("/static/style.css").header.Get("Cache-Control"))
	assert.Equal(t, "no-store", d.get("/").header.Get("Cache-Control"))
	assert.Equal(t, http.StatusOK, d.get("/healthz").status)
}
