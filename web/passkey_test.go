package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/webauthn"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/people"
)

// lock gives the phone a lock that makes passkeys, and says yes by itself.
func (p *phone) lock() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, webauthn.Enable, webauthn.EnableParams{})
	require.NoError(p.t, err)
	_, err = chromedp.Call(p.ctx, webauthn.AddVirtualAuthenticator, webauthn.AddVirtualAuthenticatorParams{Options: &webauthn.VirtualAuthenticatorOptions{
		Protocol: webauthn.AuthenticatorProtocolCtap2, Transport: webauthn.AuthenticatorTransportInternal,
		HasResidentKey: true, HasUserVerification: true, IsUserVerified: true, AutomaticPresenceSimulation: true,
	}})
	require.NoError(p.t, err)
}

// waits until an expression holds in the page, which may be another by then: what waits
// in a page ends with it.
func (p *phone) waits(expression string) {
	p.t.Helper()
	var err error
	for range 5 {
		if _, err = chromedp.Run(p.ctx, chromedp.Poll[bool](expression, chromedp.WithPollingTimeout(5*time.Second))); err == nil {
			return
		}
	}
	require.NoError(p.t, err, "%s", expression)
}

// A passkey is made on a phone, signs it in, and shows again who it is.
func TestPasskeySignsInAndConfirms(t *testing.T) {
	d := withShop(t)
	now := testClock()
	d.restart(func() time.Time { return now })
	code, err := d.service.People.OwnerCode(t.Context())
	require.NoError(t, err)
	p := newPhone(t, d)
	p.base = strings.Replace(p.base, "127.0.0.1", "localhost", 1)
	p.lock()
	p.open("/pair")
	ask[bool](p, `(() => { document.querySelector("details").open = true; return true; })()`)
	p.fill("Code", code.Code)
	p.fill("Your name", "Rosalind Pike")
	p.fill("A password", ownersPassword)
	p.press("button", "Come in")
	p.tap("button", "Make a passkey on this device")
	p.waits(`document.body.innerText.includes("Remove this passkey")`)
	p.press("button", "Sign out here")
	p.tap("button", "Sign in with a passkey")
	p.waits(`location.pathname == "/"`)
	assert.Contains(t, ask[string](p, `document.querySelector("header").textContent`), "Rosalind Pike")

	now = now.Add(people.SureFor)
	p.open("/people")
	p.fill("Name", "Tam Birch")
	ask[bool](p, `(() => { document.querySelector("#role input[value=driver]").click(); return true; })()`)
	p.press("button", "Add this person")
	assert.Contains(t, p.text(), "say again who you are")
	p.tap("button", "It’s me, by passkey: do it")
	p.waits(`location.pathname == "/people" && document.body.innerText.includes("Tam Birch, driver")`)

	p.open("/me")
	p.press("button", "Remove this passkey")
	p.press("button", "Sign out here")
	p.tap("button", "Sign in with a passkey")
	p.waits(`document.querySelector("[role=alert]").textContent.includes("isn’t one of yours here")`)
}

func TestPasskeysAreAskedOfNamesOnly(t *testing.T) {
	d := withOwner(t)
	assert.Equal(t, http.StatusUnprocessableEntity, d.postJSON("/sign-in/passkey/ask", `{}`).status, "by an address browsers make none")
	named := d.named(here)
	asked := named.postJSON("/sign-in/passkey/ask", `{}`)
	require.Equal(t, http.StatusOK, asked.status)
	assert.Contains(t, asked.body, `"rpId":"yard.example"`)
	assert.Contains(t, asked.body, `"userVerification":"required"`)
	for _, body := range []string{`{}`, `{"id":"x","answer":{}}`, `{"id":"x","answer":null}`, `[]`} {
		a := named.postJSON("/sign-in/passkey", body)
		assert.Contains(t, []int{http.StatusConflict, http.StatusUnprocessableEntity}, a.status, body)
	}
}
