package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
	"wellstowed/web/api"
)

// A program asks a shop by the API alone; all it sends and gets is held against the
// document.
type program struct {
	t        *testing.T
	d        *desk
	document map[string]any
	schemas  *jsonschema.Compiler
	did      map[string]bool // operations, by method and path
	token    string
}

func newProgram(t *testing.T, d *desk) *program {
	t.Helper()
	a := d.get(api.DocumentPath)
	require.Equal(t, http.StatusOK, a.status)
	document, err := jsonschema.UnmarshalJSON(strings.NewReader(a.body))
	require.NoError(t, err)
	p := &program{t: t, d: d, document: document.(map[string]any), schemas: jsonschema.NewCompiler(), did: map[string]bool{}}
	p.schemas.DefaultDraft(jsonschema.Draft2020)
	p.schemas.AssertFormat()
	require.NoError(t, p.schemas.AddResource("openapi.json", document))
	return p
}

// ask sends a request as a program and holds both sides against the document.
func (p *program) ask(method, path, body string, headers ...string) *answer {
	p.t.Helper()
	r := httptest.NewRequest(method, api.Prefix+path, strings.NewReader(body))
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	if p.token != "" {
		r.Header.Set("Authorization", "Bearer "+p.token)
	}
	a := p.d.do(r)
	operation := method + " " + pattern(path)
	if a.status >= 400 {
		assert.Equal(p.t, "application/problem+json", a.header.Get("Content-Type"), operation)
		p.held("components/schemas/Problem", a.body, operation)
		return a
	}
	p.did[operation] = true
	at := "paths/" + strings.ReplaceAll(placed.ReplaceAllString(pattern(path), "{$1}"), "/", "~1") + "/" + strings.ToLower(method)
	if a.header.Get("Content-Type") == "application/json" {
		p.held(fmt.Sprintf("%s/responses/%d/content/application~1json/schema", at, a.status), a.body, operation)
	}
	if method == http.MethodPost {
		p.held(at+"/requestBody/content/application~1json/schema", body, operation+" sent")
	}
	return a
}

// held holds JSON against a schema of the document.
func (p *program) held(at, body, told string) {
	p.t.Helper()
	schema, err := p.schemas.Compile("openapi.json#/" + at)
	if !assert.NoError(p.t, err, told) {
		return
	}
	thing, err := jsonschema.UnmarshalJSON(strings.NewReader(body))
	if assert.NoError(p.t, err, "%s: %s", told, body) {
		assert.NoError(p.t, schema.Validate(thing), told)
	}
}

var placed = regexp.MustCompile(`:(\w+)`)

var (
	anID     = regexp.MustCompile(`/[0-9a-f]{8}-[0-9a-f-]{27}`)
	aNumber  = regexp.MustCompile(`/\d+(/|$)`)
	aDay     = regexp.MustCompile(`/\d{4}-\d{2}-\d{2}`)
	aRuleSet = regexp.MustCompile(`^/rules/.+`)
)

// pattern is the route of a path.
func pattern(path string) string {
	path, _, _ = strings.Cut(path, "?")
	path = aDay.ReplaceAllString(path, "/:day")
	path = anID.ReplaceAllString(path, "/:id")
	path = strings.Replace(path, "/payments/:id", "/payments/:payment", 1)
	path = aRuleSet.ReplaceAllString(path, "/rules/:code")
	return aNumber.ReplaceAllString(path, "/:number$1")
}

// get asks for a thing that is there.
func (p *program) get(path string) map[string]any {
	p.t.Helper()
	a := p.ask(http.MethodGet, path, "")
	require.Equal(p.t, http.StatusOK, a.status, "%s: %s", path, a.body)
	return p.read(a)
}

func (p *program) read(a *answer) map[string]any {
	p.t.Helper()
	var thing map[string]any
	if strings.HasPrefix(a.body, "{") {
		require.NoError(p.t, json.Unmarshal([]byte(a.body), &thing), a.body)
	}
	return thing
}

// post does what is done.
func (p *program) post(path, body string) map[string]any {
	p.t.Helper()
	a := p.ask(http.MethodPost, path, body, "Idempotency-Key", uuid.NewString())
	require.Less(p.t, a.status, 300, "%s: %s", path, a.body)
	return p.read(a)
}

// take takes an order as a program does: sent, and again with what was read back.
func (p *program) take(order map[string]any) string {
	p.t.Helper()
	order["confirmed"] = p.post("/orders/price", p.json(order))["confirmed"]
	return p.post("/orders", p.json(order))["id"].(string)
}

func (p *program) json(thing any) string {
	b, err := json.Marshal(thing)
	require.NoError(p.t, err)
	return string(b)
}

func anOrder() map[string]any {
	return map[string]any{"customer_name": "Ada Moss", "customer_address": "12 Mill Road\nHartwell", "quantity": "1 cord", "species": "red oak",
		"piece_length": "16 in", "seasoning": "seasoned", "price_per_cord": "280"}
}

const readings = `{"readings":"18 19 17","basis":"dry","method":"pin meter","fresh_face":"yes","temperature":"60 °F"}`

func (p *program) order(at string) map[string]any { return p.get(at)["order"].(map[string]any) }

// All that programs are told they can ask for does what the document says, in a day's
// work of a shop.
func TestTheDocumentSaysWhatProgramsGet(t *testing.T) {
	d := withShop(t)
	p := newProgram(t, d)
	p.settings()
	p.stock()
	p.sale()
	p.audit()
	for _, path := range []string{"/board", "/orders", "/orders?find=Moss", "/orders?owing=yes", "/waiting", "/road", "/customers", "/prices", "/charges", "/batches", "/bodies", "/promise", "/season", "/shop", "/shop/backups", "/road/vehicles", "/rules", "/rules/vermont", "/people"} {
		p.get(path)
	}
	p.papers("/receipts/1/pdf", "/sheets/1/pdf", "/prices.pdf", "/road/2026-11-21/pdf")
	books := p.ask(http.MethodGet, "/season/books.zip?from=2026-01-01&to=2026-12-31", "")
	assert.Equal(t, "application/zip", books.header.Get("Content-Type"))
	// Nobody signed in here, no audit is closed, and there is no folder for backups.
	asked := map[string]bool{"GET /me": true, "GET /audits/:id/pdf": true, "POST /shop/backups": true}
	for _, o := range api.Operations() {
		operation := o.Method + " " + o.Path
		assert.NotEqual(t, asked[operation], p.did[operation], operation)
	}
}

// papers asks for PDFs.
func (p *program) papers(paths ...string) {
	for _, path := range paths {
		a := p.ask(http.MethodGet, path, "")
		assert.Equal(p.t, http.StatusOK, a.status, path)
		assert.Equal(p.t, "application/pdf", a.header.Get("Content-Type"), path)
	}
}

// settings are changed as a program does: read, changed and sent back.
func (p *program) settings() {
	shop := p.get("/shop")
	p.post("/shop", p.json(map[string]any{"name": shop["name"], "address": shop["address"], "phone": "555-0100", "currency": "USD", "zone": "UTC", "paper": shop["paper"], "units": shop["units"], "rule_set": shop["rule_set"], "version": shop["version"]}))
	p.post("/charges", p.json(map[string]any{"distance_rate": "2", "version": p.get("/shop")["version"]}))
	customer := "/customers/" + p.post("/customers", `{"name":"Bo Lind","address":"3 Hill Road"}`)["id"].(string)
	p.post("/customers/import", `{"list":"name,address\nCy Dorn,9 Ford Lane\n"}`)
	p.post(customer+"/edit", `{"name":"Bo Lind","address":"3 Hill Road","phone":"555-0144","version":1}`)
	twin := p.post("/customers", `{"name":"Bo Lindt","address":"3 Hill Road"}`)["id"].(string)
	p.post(customer+"/merge", p.json(map[string]string{"from": twin}))
	p.get(customer)
	p.get(customer + "/history")
	price := "/prices/" + p.post("/prices", `{"kind":"wood","species":"ash","per":"1 cord","price":"260"}`)["id"].(string)
	p.post(price+"/end", `{}`)
	p.post("/prices", `{"kind":"wood","species":"beech","per":"1 cord","price":"270"}`)
}

// stock puts up a batch and takes beds and vehicles in and out of use.
func (p *program) stock() {
	batch := "/batches/" + p.post("/batches", `{"name":"North row","species":"red oak","quantity":"4 cords","piece_length":"16 in","cut":"not known","split":"2026-01-10"}`)["id"].(string)
	p.post(batch+"/count", `{"left":"3 1/2 cords","reason":"counted"}`)
	p.post(batch+"/moisture", readings)
	p.get(batch + "/moisture")
	p.post(batch+"/edit", `{"name":"North row","species":"red oak","piece_length":"16 in","cut":"not known","split":"2026-01-11","reason":"a day off","version":2}`)
	p.get(batch)
	aside := "/orders/" + p.take(anOrder())
	p.post(aside+"/aside", p.json(map[string]any{"batch": batch[len("/batches/"):], "version": p.order(aside)["version"]}))
	p.post(aside+"/cancel", p.json(map[string]any{"version": p.order(aside)["version"]}))
	p.post(batch+"/end", `{"rest":"bark"}`)
	body := p.post("/bodies", `{"name":"red truck","line":"lower board","arrangement":"thrown","length":"8 ft","width":"5 ft","height":"4 ft"}`)["id"].(string)
	vehicle := p.json(map[string]any{"vehicle": "blue truck", "bed": body, "gross": "19500 lb", "scale": "6500 lb"})
	going := p.post("/road/vehicles", vehicle)["id"].(string)
	order := p.take(anOrder())
	p.post("/orders/"+order+"/day", `{"day":"2026-11-21","version":1}`)
	p.post("/road/2026-11-21/arrange", p.json(map[string]any{"vehicles": []string{going}}))
	day := p.get("/road?day=2026-11-21")
	p.post("/road/2026-11-21/edit", p.json(map[string]any{"stops": []any{map[string]any{"order": order, "nanolitres": 0, "trip": ""}}, "version": day["version"]}))
	p.post("/road/vehicles/"+going+"/retire", `{}`)
	p.post("/bodies/"+body+"/retire", `{}`)
	wish := p.json(map[string]any{"order": anOrder()})
	p.post("/waiting/"+p.post("/waiting", wish)["id"].(string)+"/drop", `{"reason":"bought elsewhere"}`)
	taken := anOrder()
	taken["confirmed"] = p.post("/orders/price", p.json(taken))["confirmed"]
	p.post("/waiting/"+p.post("/waiting", wish)["id"].(string)+"/take", p.json(taken))
}

// sale sells a cord, measures it, and makes up for what was missing.
func (p *program) sale() {
	at := "/orders/" + p.take(anOrder())
	edit := p.get(at + "/edit")
	edit["notes"] = "by the shed"
	p.post(at+"/edit", p.json(edit))
	p.post(at+"/deliver", `{}`)
	p.get("/receipts/1")
	paid := p.post(at+"/payments", `{"paid":"100","paid_by":"cash"}`)
	p.post(at+"/payments/"+paid["id"].(string)+"/reverse", `{"reason":"counted wrongly"}`)
	p.post(at+"/measure", `{"format":1,"apart":"none",`+exampleStack(p.t)+`}`)
	p.get("/sheets/1")
	p.post("/measure", `{"format":1,"apart":"none",`+exampleStack(p.t)+`}`)
	p.post(at+"/moisture", readings)
	money := p.post(at+"/settlement", `{"owed":"16 cu ft","choice":"money","agreed_how":"word"}`)["id"].(string)
	p.post(at+"/settlement", p.json(map[string]any{"owed": "16 cu ft", "choice": "wood", "agreed_how": "word", "settle_reason": "wood after all", "replaces": money}))
	p.post(at+"/settlement/bring", `{"brought":"16 cu ft"}`)
	other := "/orders/" + p.take(anOrder())
	p.post(other+"/deliver", `{}`)
	p.post(other+"/settlement", `{"owed":"16 cu ft","choice":"money","agreed_how":"word"}`)
	p.post(other+"/settlement/give", `{"given_by":"cash"}`)
	third := "/orders/" + p.take(anOrder())
	number := p.post(third+"/deliver", `{}`)["receipt"].(map[string]any)["facts"].(map[string]any)["number"]
	p.post(fmt.Sprintf("/receipts/%v/correct", number), `{"reason":"ash","delivered":"1 cord","on":"2026-11-20","species":"ash","piece_length":"16 in","seasoning":"seasoned","purchaser_name":"Ada Moss","purchaser_address":"12 Mill Road\nHartwell"}`)
	for _, path := range []string{at, at + "/history", at + "/payments", at + "/moisture", at + "/settlement"} {
		p.get(path)
	}
}

// audit opens one and keeps what is said of it.
func (p *program) audit() {
	at := "/audits/" + p.post("/audits", `{"auditor":"Nora Feld","capacity":"volunteer","receipt":"1"}`)["id"].(string)
	p.post(at+"/notice", `{"how":"by phone","when":"2026-11-20 08:00","told_by":"Nora Feld","appointed":"2026-11-21 09:00"}`)
	p.post(at+"/attendance", `{"attended":"no"}`)
	p.post(at+"/notes", `{"note_kind":"note","text":"dry ground"}`)
	p.post(at+"/plan", `{"kind":"rows","stop":"when each has read every height once","measurers":"2","stations":"5","lengths":"2","pieces":"10","tape":"1/4 in","top":"straightedge","faces":"both"}`)
	p.get(at + "/history")
	p.get(at)
	p.get("/audits")
}

// The same key with the same content is one act; with other content it is refused.
func TestAKeyIsOneAct(t *testing.T) {
	p := newProgram(t, withShop(t))
	order := anOrder()
	order["confirmed"] = p.post("/orders/price", p.json(order))["confirmed"]
	key := uuid.NewString()
	first := p.ask(http.MethodPost, "/orders", p.json(order), "Idempotency-Key", key)
	again := p.ask(http.MethodPost, "/orders", p.json(order), "Idempotency-Key", key)
	require.Equal(t, http.StatusCreated, first.status, first.body)
	assert.Equal(t, first.status, again.status)
	assert.JSONEq(t, first.body, again.body)
	assert.Equal(t, first.header.Get("Location"), again.header.Get("Location"))
	order["notes"] = "another"
	other := p.ask(http.MethodPost, "/orders", p.json(order), "Idempotency-Key", key)
	assert.Equal(t, http.StatusConflict, other.status, other.body)
	assert.Len(t, p.get("/orders")["orders"], 1)
	assert.Equal(t, http.StatusUnprocessableEntity, p.ask(http.MethodPost, "/orders", p.json(order), "Idempotency-Key", "mine").status)
	at, found := strings.CutPrefix(first.header.Get("Location"), api.Prefix)
	require.True(t, found, first.header.Get("Location"))
	p.get(at)
}

// What is wrong is a problem, on each field, and what isn't there as well.
func TestProgramsAreToldWhatIsWrong(t *testing.T) {
	p := newProgram(t, withShop(t))
	order := anOrder()
	order["piece_length"] = "plenty"
	a := p.ask(http.MethodPost, "/orders", p.json(order))
	assert.Equal(t, http.StatusUnprocessableEntity, a.status)
	fields := p.read(a)["fields"].([]any)
	require.Len(t, fields, 1)
	assert.Equal(t, "piece_length", fields[0].(map[string]any)["field"])
	assert.Equal(t, "plenty", fields[0].(map[string]any)["read"])
	assert.NotEmpty(t, fields[0].(map[string]any)["accepted"])
	for path, status := range map[string]int{"/nowhere": 404, "/orders/0190a000-0000-7000-8000-000000000000": 404, "/receipts/7": 404} {
		assert.Equal(t, status, p.ask(http.MethodGet, path, "").status, path)
	}
	form := p.d.post(api.Prefix+"/orders", url.Values{"quantity": {"1 cord"}})
	assert.Equal(t, http.StatusUnsupportedMediaType, form.status)
}

// HEAD is answered as GET without the body, and the document may be kept.
func TestHeadAndWhatMayBeKept(t *testing.T) {
	d := withShop(t)
	for _, path := range []string{api.Prefix + "/orders", api.DocumentPath, "/orders", "/rules"} {
		got, head := d.get(path), d.do(httptest.NewRequest(http.MethodHead, path, nil))
		assert.Equal(t, got.status, head.status, path)
		assert.Equal(t, got.header.Get("Content-Type"), head.header.Get("Content-Type"), path)
		assert.Empty(t, head.body, path)
	}
	tag := d.get(api.DocumentPath).header.Get("ETag")
	require.NotEmpty(t, tag)
	r := httptest.NewRequest(http.MethodGet, api.DocumentPath, nil)
	r.Header.Set("If-None-Match", tag)
	assert.Equal(t, http.StatusNotModified, d.do(r).status)
	assert.Equal(t, "no-store", d.get(api.Prefix+"/orders").header.Get("Cache-Control"))
}

// A token lets a program in as its person, is shown once, opens nothing else, and is ended
// as a sign-in is.
func TestATokenLetsAProgramInAsItsPerson(t *testing.T) {
	d := withOwner(t)
	tam := d.phoneOf("Tam Birch", "driver")
	made := d.get("/people").inForm("/tokens").set("program", "bookkeeping").choose("Tam Birch, driver").press("Make a token")
	require.Equal(t, http.StatusOK, made.status, made.body)
	secret := made.doc.Find("main code").First().Text()
	require.Len(t, secret, 43)
	assert.NotContains(t, d.get("/people").body, secret)
	assert.Contains(t, d.get("/people").text(), "program: bookkeeping")

	p := newProgram(t, d.another())
	assert.Equal(t, http.StatusUnauthorized, p.ask(http.MethodGet, "/orders", "").status)
	p.token = secret
	p.get("/orders")
	card := p.get("/me")
	assert.Equal(t, "Tam Birch", card["person"].(map[string]any)["name"])
	assert.Equal(t, http.StatusForbidden, p.ask(http.MethodPost, "/orders", p.json(anOrder())).status, "a driver takes no orders")

	cookie := d.another()
	cookie.jar["wellstowed_session"] = secret
	assert.True(t, signedOut(cookie.get("/")), "a token is no browser's session")
	r := httptest.NewRequest(http.MethodGet, "/orders", nil)
	r.Header.Set("Authorization", "Bearer "+secret)
	r.Header.Set("Accept", "application/json")
	assert.Equal(t, http.StatusUnauthorized, p.d.do(r).status, "pages take no tokens")
	p.token = tam.jar["wellstowed_session"]
	refused := p.ask(http.MethodGet, "/orders", "")
	assert.Equal(t, http.StatusUnauthorized, refused.status, "a browser’s session isn’t a token")
	assert.Equal(t, "Bearer", refused.header.Get("WWW-Authenticate"))
	p.token = secret
	for _, said := range []string{"Basic " + secret, "Bearer", "Bearer x", secret} {
		r := httptest.NewRequest(http.MethodGet, api.Prefix+"/orders", nil)
		r.Header.Set("Authorization", said)
		assert.Equal(t, http.StatusUnauthorized, d.do(r).status, "%s: not the cookie's person either", said)
	}

	for id := range sessionsOf(d, "bookkeeping") {
		require.Equal(t, http.StatusOK, d.postJSON("/sessions/"+id+"/end", `{}`).status)
	}
	assert.Equal(t, http.StatusUnauthorized, p.ask(http.MethodGet, "/orders", "").status)
	assert.Equal(t, http.StatusOK, tam.get("/orders").status, "the person stays in")
}

// sessionsOf are the ids of a program's tokens.
func sessionsOf(d *desk, program string) map[string]bool {
	d.t.Helper()
	var roll people.Roll
	require.NoError(d.t, json.Unmarshal([]byte(d.getJSON("/people").body), &roll))
	ids := map[string]bool{}
	for _, m := range roll.People {
		for _, in := range m.Sessions {
			if in.Program == program {
				ids[in.ID] = true
			}
		}
	}
	return ids
}

// What a person has to show again who it is for isn't open to a token, however fresh.
func TestATokenDoesNothingThatCantBeUndone(t *testing.T) {
	d := withOwner(t)
	owner := d.get("/people").doc.Find(`input[name="person"]`).First().AttrOr("value", "")
	var made people.Token
	require.NoError(t, json.Unmarshal([]byte(d.postJSON("/tokens", `{"program":"bookkeeping","person":"`+owner+`"}`).body), &made))
	in, err := d.service.People.Visitor(t.Context(), made.Secret)
	require.NoError(t, err)
	assert.Equal(t, act.Owner, in.Actor.Role)
	assert.True(t, in.Actor.Stale)
}
