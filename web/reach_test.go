package web_test

import (
	"fmt"
	"net/http"
	"net/netip"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/web"
)

// named is the desk's database served by a name over TLS that a proxy ends.
func (d *desk) named(proxy string) *desk {
	d.t.Helper()
	named := d.another()
	named.server = named.serverOf(testClock, func(c *web.Config) {
		c.Base, c.Hosts, c.Proxies = "https://yard.example", []string{"yard.example"}, []netip.Prefix{netip.MustParsePrefix(proxy)}
	})
	named.host, named.headers = "yard.example", map[string]string{"X-Forwarded-Proto": "https", "X-Forwarded-For": "203.0.113.9"}
	return named
}

// A request made in a test comes from 0.0.0.0.
const here = "0.0.0.0/32"

func TestByItsNameNobodyIsOwnerWithoutASession(t *testing.T) {
	d := withShop(t).named(here)
	assert.True(t, signedOut(d.get("/")), "also where there are no people")
	assert.Equal(t, http.StatusUnauthorized, d.getJSON("/people").status)
}

func TestSessionOverTLSIsBoundToItsHost(t *testing.T) {
	d := withOwner(t).named(here)
	in := d.signIn("Rosalind Pike", ownersPassword)
	require.Equal(t, http.StatusSeeOther, in.status)
	cookie := in.header.Get("Set-Cookie")
	assert.True(t, strings.HasPrefix(cookie, "__Host-"), cookie)
	for _, part := range []string{"secure", "HttpOnly", "SameSite=Lax", "path=/"} {
		assert.Contains(t, cookie, part)
	}
	assert.NotContains(t, cookie, "domain")
	assert.Equal(t, http.StatusOK, d.get("/").status)
	assert.NotEmpty(t, d.get("/").header.Get("Strict-Transport-Security"))
}

func TestOnlyTheProxyIsAnswered(t *testing.T) {
	d := withOwner(t)
	around := d.named("192.0.2.1/32")
	assert.Equal(t, http.StatusMisdirectedRequest, around.get("/sign-in").status)
	clear := d.named(here)
	clear.headers["X-Forwarded-Proto"] = "http"
	assert.Equal(t, http.StatusMisdirectedRequest, clear.get("/sign-in").status)
	local := d.named(here)
	local.host = "localhost"
	assert.Equal(t, http.StatusMisdirectedRequest, local.get("/sign-in").status)
	// Who tries to come in is counted by the last address that isn't a proxy's, whatever
	// a sender puts before it.
	tried := d.named(here)
	for i := range 10 {
		tried.headers["X-Forwarded-For"] = fmt.Sprintf("198.51.100.%d, 203.0.113.9", i)
		tried.signIn("Nobody", "guess guess guess")
	}
	assert.Equal(t, http.StatusTooManyRequests, tried.signIn("Nobody", "guess guess guess").status)
	tried.headers["X-Forwarded-For"] = "203.0.113.9, 203.0.113.10"
	assert.Equal(t, http.StatusUnprocessableEntity, tried.signIn("Nobody", "guess guess guess").status, "another address")
}

func TestLinksAreMadeFromThePublicAddressAlone(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").press(d.get(order+"/deliver").doc.Find("button.main").Text()).status)
	made := d.post("/receipts/1/case/link", d.get("/receipts/1/case").values)
	require.Equal(t, http.StatusCreated, made.status)
	assert.Contains(t, made.text(), "Only this computer can open these pages")
	assert.NotContains(t, made.text(), "http://")
	assert.Equal(t, 1, made.doc.Find(`a[href="/receipts/1/case/pdf"]`).FilterFunction(func(_ int, s *selection) bool { return s.Text() == "Print the case" }).First().Length())
	assert.Zero(t, made.doc.Find("#link svg").Length())
}

func TestForwardedHeadersSayNothingWithoutAProxy(t *testing.T) {
	d := withOwner(t).another()
	d.headers = map[string]string{"X-Forwarded-For": "203.0.113.9", "X-Forwarded-Proto": "https", "X-Forwarded-Host": "yard.example", "Forwarded": "for=203.0.113.9"}
	for i := range 10 {
		d.headers["X-Forwarded-For"] = fmt.Sprint("203.0.113.", i)
		d.signIn("Nobody", "guess guess guess")
	}
	assert.Equal(t, http.StatusTooManyRequests, d.signIn("Nobody", "guess guess guess").status, "the sender's address can't be made up")
}
