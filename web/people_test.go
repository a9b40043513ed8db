package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
	"wellstowed/web/api"
)

const ownersPassword = "four ash wedges by the door"

// withOwner is a desk whose first owner came in by the code of the terminal.
func withOwner(t *testing.T) *desk {
	t.Helper()
	d := withShop(t)
	code, err := d.service.People.OwnerCode(t.Context())
	require.NoError(t, err)
	p := d.get("/people")
	require.Contains(t, p.text(), "Nobody signs in yet")
	p = d.get("/pair").fill("Code", code.Code).fill("Your name", "Rosalind Pike").fill("A password", ownersPassword).press("Come in")
	require.Equal(t, "Rosalind Pike", p.follow().doc.Find("h1").Text())
	return d
}

// another is another browser on the same server.
func (d *desk) another() *desk {
	other := *d
	other.jar = map[string]string{}
	return &other
}

// phoneOf is the phone of a new person, let in by a code that the owner showed.
func (d *desk) phoneOf(name, role string) *desk {
	d.t.Helper()
	p := d.get("/people")
	p.form = p.doc.Find(`form[action="/people"]`)
	p.values = formValues(p.form)
	p.fill("Name", name).values.Set("role", role)
	p = p.press("Add this person").follow()
	shown := p.within("/code", name).press("Let a phone of " + name + " in")
	require.Equal(d.t, http.StatusOK, shown.status, "%s", shown.body)
	phone := d.another()
	in := phone.get("/pair").fill("Code", strings.ToLower(shown.doc.Find("p.answer").Text())).press("Come in")
	require.Equal(d.t, name, in.follow().doc.Find("h1").Text())
	return phone
}

// within takes the form that is sent to where the path ends so, in the row of a person.
func (a *answer) within(ends, name string) *answer {
	a.d.t.Helper()
	row := a.doc.Find("ul.rows > li").FilterFunction(func(_ int, s *selection) bool { return s.Find("strong").First().Text() == name }).First()
	a.form = row.Find("form").FilterFunction(func(_ int, s *selection) bool { return strings.HasSuffix(s.AttrOr("action", ""), ends) }).First()
	require.Equal(a.d.t, 1, a.form.Length(), "no form %s for %s in:\n%s", ends, name, a.body)
	a.values = formValues(a.form)
	return a
}

func (d *desk) signIn(name, password string) *answer {
	return d.get("/sign-in").fill("Your name", name).fill("Password, or a recovery code", password).press("Sign in")
}

// signedOut tells whether an answer is the one for who isn't signed in.
func signedOut(a *answer) bool {
	return a.status == http.StatusUnauthorized ||
		a.status == http.StatusSeeOther && (strings.HasPrefix(a.header.Get("Location"), "/sign-in") || a.header.Get("Location") == "/start")
}

func TestWithoutPeopleThisMachineIsItsOwners(t *testing.T) {
	d := withShop(t)
	assert.Equal(t, http.StatusOK, d.get("/").status)
	assert.Equal(t, "/people", d.get("/me").header.Get("Location"))
}

func TestFromTheFirstPersonOnEverybodySignsIn(t *testing.T) {
	d := withOwner(t)
	assert.Equal(t, http.StatusOK, d.get("/").status)
	other := d.another()
	for _, path := range []string{"/", "/orders/new", "/shop", "/people", "/me"} {
		assert.True(t, signedOut(other.get(path)), path)
		assert.Equal(t, http.StatusUnauthorized, other.getJSON(path).status, path)
	}
	assert.Equal(t, http.StatusUnauthorized, other.postJSON("/shop", `{}`).status)
	for _, path := range []string{"/measure", "/buying", "/how-to-measure", "/sign-in", "/pair", "/rules"} {
		assert.Equal(t, http.StatusOK, other.get(path).status, path)
	}
	to := other.get("/batches").follow()
	in := to.fill("Your name", "rosalind pike").fill("Password, or a recovery code", ownersPassword).press("Sign in")
	assert.Equal(t, "/batches", in.header.Get("Location"), "where one meant to go")
}

func TestSessionCookieIsOutOfReach(t *testing.T) {
	d := withOwner(t)
	other := d.another()
	cookie := other.signIn("Rosalind Pike", ownersPassword).header.Get("Set-Cookie")
	assert.Contains(t, cookie, "HttpOnly")
	assert.Contains(t, cookie, "SameSite=Lax")
	assert.NotContains(t, cookie, "max-age", "gone with the browser, on a machine that isn't one's own")
	assert.NotContains(t, cookie, "secure", "plain http on this machine")
	third := d.another()
	p := third.get("/sign-in").fill("Your name", "Rosalind Pike").fill("Password, or a recovery code", ownersPassword)
	p.values.Set("keep", "yes")
	assert.Contains(t, p.press("Sign in").header.Get("Set-Cookie"), "max-age=2592000")
}

func TestSignInLeadsOnlyToThisServer(t *testing.T) {
	d := withOwner(t)
	for _, to := range []string{"//evil.example/x", "https://evil.example", "/\\evil.example", "evil", "", "/\tx"} {
		other := d.another()
		p := other.get("/sign-in?to="+url.QueryEscape(to)).fill("Your name", "Rosalind Pike").fill("Password, or a recovery code", ownersPassword)
		p.values.Set("to", to)
		assert.Equal(t, "/", p.press("Sign in").header.Get("Location"), to)
	}
}

func TestWrongPasswordIsToldAndNothingElse(t *testing.T) {
	d := withOwner(t).another()
	known, unknown := d.signIn("Rosalind Pike", "not the password"), d.signIn("Nobody", "not the password")
	assert.Equal(t, http.StatusUnprocessableEntity, known.status)
	assert.Equal(t, http.StatusUnprocessableEntity, unknown.status)
	assert.Equal(t, known.doc.Find(".fault").Text(), unknown.doc.Find(".fault").Text(), "a name can't be guessed")
	assert.Equal(t, "Rosalind Pike", known.values.Get("name"))
	assert.NotContains(t, known.body, "not the password")
	assert.True(t, signedOut(d.get("/")))
}

func TestPairedPhoneDoesWhatItsPersonMay(t *testing.T) {
	d := withOwner(t)
	order := d.takeOrder("1 cord")
	phone := d.phoneOf("Tam Birch", "driver")
	assert.Equal(t, http.StatusOK, phone.get("/").status)
	assert.Equal(t, http.StatusForbidden, phone.get("/shop").status)
	assert.Equal(t, http.StatusForbidden, phone.get("/people").status)
	assert.Empty(t, phone.get("/").doc.Find(`header a[href="/shop"]`).Length())
	paid := phone.get(order + "/payments")
	paid.fill("Amount", "40").choose("Cash")
	paid.values.Set("back", "")
	require.Equal(t, http.StatusSeeOther, paid.press("Record it").status)
	id := strings.TrimPrefix(order, "/orders/")
	account, err := d.service.History(t.Context(), machineOwner(), id)
	require.NoError(t, err)
	require.Len(t, account.Payments, 1)
	assert.Equal(t, "Tam Birch", account.Payments[0].By, "what is done stands under who did it")

	gone := d.get("/people").within("", "Tam Birch")
	require.Equal(t, http.StatusSeeOther, gone.letOut("Tam Birch").status)
	assert.True(t, signedOut(phone.get("/")), "at once")
	assert.Contains(t, d.get("/people").text(), "Tam Birch, let out by Rosalind Pike")
}

func (a *answer) letOut(name string) *answer {
	a.form = a.d.get("/people").doc.Find(`button[value="out"]`).FilterFunction(func(_ int, s *selection) bool {
		return s.Text() == "Let "+name+" out"
	}).Closest("form")
	a.values = formValues(a.form)
	return a.press("Let " + name + " out")
}

func machineOwner() act.Actor { return act.Actor{Person: "owner", Role: act.Owner} }

// A form whose session ended meanwhile is done once its sender signs in with it, and
// nothing that was typed is lost.
func TestFormOfAnEndedSessionIsSignedInto(t *testing.T) {
	d := withOwner(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "ash").fill("Price per cord", "280")
	p.choose("seasoned")
	read := p.press("Read it back")
	d.jar = map[string]string{} // the browser was closed
	again := read.press("Take the order, $280.00")
	require.Equal(t, http.StatusForbidden, again.status, "no token")
	again = again.press("Send again")
	require.Equal(t, http.StatusUnauthorized, again.status)
	wrong := again.fill("Your name", "Rosalind Pike").fill("Password, or a recovery code", "wrong password").press("It’s me: do it")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.NotContains(t, wrong.body, "wrong password")
	assert.Empty(t, d.orders())
	done := wrong.fill("Your name", "Rosalind Pike").fill("Password, or a recovery code", ownersPassword).press("It’s me: do it")
	require.Equal(t, http.StatusSeeOther, done.status, "%s", done.body)
	assert.Equal(t, "Ada Moss", d.orders()[0].Customer.Name)
	assert.Equal(t, http.StatusOK, d.get("/").status, "and stays signed in")
}

// What can't be undone asks again from five minutes after the sign-in.
func TestVoidEraseAndPeopleAskAgain(t *testing.T) {
	d := withOwner(t)
	now := testClock()
	d.restart(func() time.Time { return now })
	now = now.Add(people.SureFor + time.Minute)
	p := d.get("/people")
	p.form = p.doc.Find(`form[action="/people"]`)
	p.values = formValues(p.form)
	p.fill("Name", "Tam Birch").values.Set("role", "driver")
	again := p.press("Add this person")
	require.Equal(t, http.StatusUnauthorized, again.status)
	assert.Contains(t, again.text(), "say again who you are")
	require.Equal(t, http.StatusUnprocessableEntity, again.fill("Password, or a recovery code", "wrong password").press("It’s me: do it").status)
	again = p.press("Add this person")
	require.Equal(t, http.StatusSeeOther, again.fill("Password, or a recovery code", ownersPassword).press("It’s me: do it").status)
	assert.Contains(t, d.get("/people").text(), "Tam Birch")

	now = now.Add(people.SureFor)
	assert.Equal(t, http.StatusUnauthorized, d.postJSON("/shop/erase", `{}`).status)
	assert.Equal(t, http.StatusOK, d.get("/shop").status, "all else goes on")
}

func TestFormTokenIsOfTheSession(t *testing.T) {
	d := withOwner(t)
	phone := d.phoneOf("Eve Alder", "owner")
	theirs := phone.get("/shop")
	mine := d.get("/shop")
	mine.values.Set("csrf", theirs.values.Get("csrf"))
	assert.Equal(t, http.StatusForbidden, mine.press("Save the shop").status)
	// A cookie of a visitor without a session gives no token for one.
	mine = d.get("/shop")
	stranger := d.another()
	token := stranger.get("/measure").values.Get("csrf")
	for name, value := range stranger.jar {
		d.jar[name] = value
	}
	mine.values.Set("csrf", token)
	assert.Equal(t, http.StatusForbidden, mine.press("Save the shop").status)
}

func TestSignOutAndEndOthers(t *testing.T) {
	d := withOwner(t)
	other := d.another()
	require.Equal(t, http.StatusSeeOther, other.signIn("Rosalind Pike", ownersPassword).status)
	me := d.get("/me")
	assert.Equal(t, 2, me.doc.Find("ul.rows li").Length())
	me.form = me.doc.Find(`form[action="/me/sign-out-others"]`)
	me.values = formValues(me.form)
	require.Equal(t, http.StatusSeeOther, me.press("Sign out everywhere else").status)
	assert.True(t, signedOut(other.get("/")))
	assert.Equal(t, http.StatusOK, d.get("/").status)
	token := d.jar["wellstowed_session"]
	me = d.get("/me")
	me.form = me.doc.Find(`form[action="/sign-out"]`)
	me.values = formValues(me.form)
	require.Equal(t, http.StatusSeeOther, me.press("Sign out here").status)
	d.jar["wellstowed_session"] = token // kept by somebody
	assert.True(t, signedOut(d.get("/")))
}

func TestRecoveryCodesAreShownOnce(t *testing.T) {
	d := withOwner(t)
	me := d.get("/me")
	me.form = me.doc.Find(`form[action="/me/recovery"]`)
	me.values = formValues(me.form)
	made := me.press("Make new recovery codes")
	codes := made.doc.Find("code")
	require.Equal(t, 8, codes.Length())
	assert.Equal(t, http.StatusSeeOther, d.another().signIn("Rosalind Pike", codes.First().Text()).status)
	assert.NotContains(t, d.get("/me").body, codes.First().Text())
	assert.Contains(t, d.get("/me").text(), "Codes left: 7")
}

// Every route is tried by everybody: who may not is refused, and who may is not.
func TestEveryRoleOnEveryRoute(t *testing.T) {
	d := withOwner(t)
	visitors := map[act.Role]*desk{"": d.another(), act.Owner: d, act.Driver: d.phoneOf("Tam Birch", "driver"), act.Auditor: d.phoneOf("Iris Low", "auditor")}
	param := regexp.MustCompile(`:\w+`)
	tried := 0
	for _, r := range d.server.AccessTable() {
		path := param.ReplaceAllStringFunc(r.Path, func(name string) string {
			if name == ":number" || name == ":look" {
				return "1"
			}
			return "0190a000-0000-7000-8000-000000000000"
		})
		for role, who := range visitors {
			if path == "/sign-out" || path == "/me/sign-out-others" {
				continue // it would end the test's own sessions; tried above
			}
			tried++
			var a *answer
			if r.Method == http.MethodGet {
				a = who.getJSON(path)
			} else {
				a = who.postJSON(path, `{}`)
			}
			may := r.May == nil || slices.Contains(r.May, role)
			refused := a.status == http.StatusUnauthorized || a.status == http.StatusForbidden
			assert.Equal(t, may, !refused, "%s %s by %q: %d", r.Method, path, role, a.status)
			assert.Less(t, a.status, http.StatusInternalServerError, "%s %s by %q", r.Method, path, role)
			if !may && role == "" {
				assert.Equal(t, http.StatusUnauthorized, a.status, path)
			}
			if r.Method == http.MethodPost {
				a = who.do(formRequest(path, url.Values{}))
				if strings.HasPrefix(path, api.Prefix) {
					assert.Equal(t, http.StatusUnsupportedMediaType, a.status, "%s takes a form", path)
					continue
				}
				assert.Contains(t, []int{http.StatusForbidden, http.StatusUnauthorized}, a.status, "%s by %q without a token", path, role)
			}
		}
	}
	assert.Greater(t, tried, 400)
}

func TestSomebodyElsesCookieIsNobody(t *testing.T) {
	d := withOwner(t)
	for _, token := range []string{"x", strings.Repeat("A", 43), "' OR 1=1 --", strings.Repeat("z", 3000)} {
		other := d.another()
		other.jar["wellstowed_session"] = token
		assert.True(t, signedOut(other.get("/")), token)
	}
	req := httptest.NewRequest(http.MethodGet, "/", nil)
	req.Header.Set("Authorization", "Basic b3duZXI6b3duZXI=")
	req.Header.Set("X-Forwarded-User", "Rosalind Pike")
	assert.True(t, signedOut(d.another().do(req)))
}

// Browsers send the cookies of one port to all others of this machine.
func TestAnotherShopsCookieLocksNobodyOutOfANewShop(t *testing.T) {
	d := withShop(t)
	d.jar["wellstowed_session"] = strings.Repeat("A", 43)
	assert.Equal(t, http.StatusOK, d.get("/").status)
	assert.NotEmpty(t, d.takeOrder("1 cord"), "its forms hold too")
}

// An office keeps its audits in a database of its own, which sells nothing: it has people,
// and neither a seller's name nor where he is.
func TestAnAuditorsDatabaseNeedsNoSeller(t *testing.T) {
	d := newDesk(t)
	code, err := d.service.People.OwnerCode(t.Context())
	require.NoError(t, err)
	require.Equal(t, http.StatusSeeOther, d.get("/pair").fill("Code", code.Code).fill("Your name", "Rosalind Pike").fill("A password", ownersPassword).press("Come in").status)
	auditor := d.phoneOf("Iris Low", "auditor")
	const subject = `"capacity":"volunteer","auditor":"Iris Low","seller_name":"Alder Lane Firewood","quantity":"1 cord",
		"delivered_on":"2026-11-19","place":"12 Mill Road","species":"red oak","seasoning":"seasoned","piece_length":"16 in"`
	unsaid := auditor.postJSON("/audits", "{"+subject+"}")
	require.Equal(t, http.StatusUnprocessableEntity, unsaid.status, "its times would be read in UTC")
	assert.Contains(t, unsaid.body, `"field":"zone"`)
	opened := auditor.postJSON("/audits", "{"+subject+`,"zone":"America/Chicago"}`)
	require.Equal(t, http.StatusCreated, opened.status, "%s", opened.body)
	page := auditor.get(opened.header.Get("Location"))
	assert.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.text(), "Alder Lane Firewood")
	assert.Regexp(t, `Opened.*C[SD]T`, page.text(), "times are said in the zone that was given")
	assert.NotContains(t, page.text(), "UTC")
	assert.True(t, signedOut(d.another().get(opened.header.Get("Location"))))
	tam := d.phoneOf("Tam Birch", "driver")
	assert.Equal(t, http.StatusForbidden, tam.get(opened.header.Get("Location")).status)
}
