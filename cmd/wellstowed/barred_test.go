package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/receipts"
	"wellstowed/web"
)

// TestNoBarredTermIsEverPrinted runs the demonstration under each rule set and reads
// all that a person or a program is shown of it. A set's own list may name its
// terms, and a field may hold what was typed into it; nothing else may.
//
// Sets that sell alike show the same pages but for what stands in the sets themselves:
// one of them is walked through all pages and held to the terms that any of them bars,
// and each of the others through the pages that print something of a set.
func TestNoBarredTermIsEverPrinted(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, units := range []string{"imperial", "metric"} {
		first := map[string]bool{}
		for _, set := range book.All() {
			alike := sellingAs(set)
			whole := len(set.Barred) > 0 && !first[alike]
			if whole {
				first[alike] = true
			} else if units == "metric" {
				continue // what a set says is the same in both
			}
			t.Run(set.Code+" "+units, func(t *testing.T) {
				t.Parallel()
				path := filepath.Join(t.TempDir(), "shop.db")
				set, book := set, book
				if whole {
					set, book = barringAll(t, book, set)
				}
				service, painter := demoShop(t, path, set, units, book)
				jar, err := cookiejar.New(nil)
				require.NoError(t, err)
				c := &crawler{t: t, set: set, metric: units == "metric", base: serveOn(t, path, service, painter), client: &http.Client{Jar: jar}, seen: map[string]bool{}}
				if !whole {
					c.pagesOfTheSet()
					return
				}
				c.everyPage(path)
			})
		}
	}
}

// sellingAs tells sets apart whose pages differ in more than what stands in the set: by
// their units, and by the terms that they speak of and do not bar.
func sellingAs(s rules.Set) string {
	var terms []string
	for _, term := range slices.Concat(s.Undefined, s.Defined) {
		terms = append(terms, term.Name)
	}
	return fmt.Sprint(s.SoldIn(false), s.SoldIn(true), s.Sells(rules.Cord), s.AsksBasis(), s.SellsOn(measure.Loose), s.CordVaries(), terms)
}

// barringAll is a set that bars besides its own what the sets that sell alike bar, in a
// book with it.
func barringAll(t *testing.T, book rules.Book, set rules.Set) (rules.Set, rules.Book) {
	t.Helper()
	for _, other := range book.All() {
		for _, term := range other.Barred {
			known := slices.ContainsFunc(set.Barred, func(own rules.Term) bool { return own.Name == term.Name })
			if sellingAs(other) == sellingAs(set) && !known {
				set.Barred = append(slices.Clone(set.Barred), term)
			}
		}
	}
	file, err := json.Marshal(set)
	require.NoError(t, err)
	book, err = book.With(file)
	require.NoError(t, err)
	return set, book
}

// everyPage reads all that the shop shows.
func (c *crawler) everyPage(db string) {
	for _, from := range []string{"/", "/orders/new", "/measure", "/how-to-measure", "/shop", "/tally-form.pdf", "/nothing-here"} {
		c.visit(from)
	}
	assert.Greater(c.t, c.pages, 30, "pages read")
	assert.Greater(c.t, c.papers, 10, "papers read")
	c.handsPages()
	c.showsTheSet()
	c.answerForms()
	c.buyersPages()
	c.planningPages()
	c.erasedPages(db)
	c.commandLine(db)
}

// pagesOfTheSet reads what prints something of a rule set: the forms of orders and loads
// and their faults, receipts, sheets, audits, what buyers look to, and the shop.
func (c *crawler) pagesOfTheSet() {
	c.alone = true
	for _, path := range []string{"/orders/new", "/shop", "/shop/erase", "/shares", "/buying?rules=" + c.set.Code, "/buying.pdf?rules=" + c.set.Code,
		"/receipts/1", "/receipts/1/pdf", "/receipts/1/correct", "/sheets/1", "/sheets/1/pdf"} {
		c.visit(path)
	}
	c.visit("/")
	_, list := c.fetch("/orders", "text/html")
	doc, err := goquery.NewDocumentFromReader(bytes.NewReader(list))
	require.NoError(c.t, err)
	doc.Find(`a[href^="/orders/"]`).Each(func(_ int, a *goquery.Selection) {
		if path := a.AttrOr("href", ""); !strings.Contains(path, "?") {
			c.visit(path)
			c.visit(path + "/deliver")
		}
	})
	_, audits := c.fetch("/audits", "text/html")
	if doc, err = goquery.NewDocumentFromReader(bytes.NewReader(audits)); err == nil {
		doc.Find(`a[href^="/audits/"]`).Each(func(_ int, a *goquery.Selection) { c.visit(a.AttrOr("href", "")) })
	}
	assert.Greater(c.t, c.pages, 10, "pages read")
	assert.Equal(c.t, 3, c.papers, "papers read")
	c.showsTheSet()
	c.answerForms()
}

// demoShop is the demonstration as a shop under a rule set would have it: wood
// priced for the whole and read back where the set knows no cord, and where it was cut.
func demoShop(t *testing.T, path string, set rules.Set, units string, book rules.Book) (*orders.Service, *receipts.Painter) {
	t.Helper()
	var d demo
	require.NoError(t, json.Unmarshal(demoScenario, &d))
	d.Shop.RuleSet, d.Shop.Units = set.Code, units
	var batches []demoBatch
	for i := range d.Orders {
		d.Orders[i] = orderUnder(t, d.Orders[i], set, units == "metric")
	}
	for _, b := range d.Batches {
		b.Batch.Quantity = plainly(t, b.Batch.Quantity, set, units == "metric")
		for i := range b.Counts {
			b.Counts[i].Count.Left = plainly(t, b.Counts[i].Count.Left, set, units == "metric")
		}
		batches = append(batches, b)
	}
	d.Batches = batches
	for i := range d.Audits {
		if typed := &d.Audits[i].Open.Quantity; *typed != "" {
			*typed = plainly(t, *typed, set, units == "metric")
		}
	}
	for i := range d.Prices {
		if typed := &d.Prices[i].Per; *typed != "" {
			*typed = plainly(t, *typed, set, units == "metric")
		}
	}
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	t.Cleanup(func() { db.Close() })
	painter, err := receipts.New()
	require.NoError(t, err)
	require.NoError(t, d.seed(t.Context(), db, painter, testNow()))
	painter = painter.Under(book)
	return orders.New(db, painter, testNow, orders.UnderRules(book)), painter
}

func testNow() time.Time { return time.Date(2026, 11, 20, 9, 0, 0, 0, time.UTC) }

func orderUnder(t *testing.T, o demoOrder, set rules.Set, metric bool) demoOrder {
	t.Helper()
	o.Order.Origin = "Slate County, New York"
	if o.RuleSet = ""; !set.SellsOn(measure.Loose) {
		o.Order.Quantity = strings.Replace(o.Order.Quantity, "loose", "stacked", 1)
	}
	if set.SoldIn(metric) != rules.Cord && o.Order.PricePerCord != "" {
		o.Order.PricePerUnit, o.Order.PricePerCord = "90", ""
	}
	plain := func(text string) string { return plainly(t, text, set, metric) }
	o.Order.Quantity = prepared(o.Order.Quantity, set)
	if len(set.BarredIn(o.Order.Quantity)) > 0 || o.Order.Confirmed != "" || set.CordVaries() {
		o.Order.Confirmed = plain(o.Order.Quantity)
	}
	loads := append([]demoLoad{}, o.Loads...)
	for i := range loads {
		if loads[i].Load.Delivered != "" {
			loads[i].Load.Delivered = plain(loads[i].Load.Delivered)
		}
		loads[i].Load.TicketRequest = orders.TicketRequest{
			MeasurerName: "Nora Feld", MeasurerAddress: "1 Mill Road", StackSize: "12 ft × 4 ft × 16 in",
			Moving: wayOf(set), DriedFor: "14 months", DriedHow: "split, stacked in the open, top covered", MoistureCertificate: "R2R-1",
		}
	}
	o.Loads = loads
	return o
}

// wayOf is the first way that wood is sold under a set's rules on moving it; empty without.
func wayOf(set rules.Set) string {
	if ways := set.Ways(); len(ways) > 0 {
		return ways[0].Code
	}
	return ""
}

// plainly is a quantity as a rule set gives it.
func plainly(t *testing.T, text string, set rules.Set, metric bool) string {
	t.Helper()
	if !set.SellsOn(measure.Loose) {
		text = strings.Replace(text, "loose", "stacked", 1)
	}
	said, err := set.Terms(16 * measure.Inch).ParseQuantity(prepared(text, set))
	require.NoError(t, err)
	return set.Spell(set.Round(said.Quantity, metric), metric)
}

// prepared is a quantity with how the wood is prepared, where a set asks that of cords.
func prepared(text string, set rules.Set) string {
	if set.CordVaries() && strings.Contains(text, "cord") && !strings.Contains(text, "sawed") && len(set.BarredIn(text)) == 0 {
		return text + " sawed and split"
	}
	return text
}

// serveOn serves the pages and gives their address.
func serveOn(t *testing.T, path string, service *orders.Service, painter *receipts.Painter) string {
	t.Helper()
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = db.Close() })
	eraser := privacy.New(db.Erasing(), service.Rules(), testNow)
	server, err := web.New(web.Config{Service: service, Accounts: accounts.New(db.Accounts(), testNow), Cases: cases.New(db.Cases(), service.Rules(), painter, testNow), Audits: audits.New(db.Audits(), service.Rules(), painter, testNow), Road: road.New(db.Road(), painter, testNow), Calendar: calendar.New(db.Calendar(), testNow), Eraser: eraser, Blank: painter, Clock: testNow, Demo: true, Log: slog.New(slog.DiscardHandler)})
	require.NoError(t, err)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	go func() { _ = server.Serve(listener) }()
	t.Cleanup(func() { _ = server.Shutdown(t.Context()) })
	return "http://" + listener.Addr().String()
}

// A crawler follows every link from page to page, and reads each page, its JSON
// and each PDF.
type crawler struct {
	t             *testing.T
	set           rules.Set
	metric        bool
	base          string
	client        *http.Client // keeps the cookie that forms need
	seen          map[string]bool
	alone         bool // it follows no links
	pages, papers int
	read          func(name, text string) // what it does with a text; nil: holds it to the set
}

var ownList = regexp.MustCompile(`^/rules(/|$)`)

func (c *crawler) visit(path string) {
	path, _, _ = strings.Cut(path, "#")
	if c.seen[path] || !strings.HasPrefix(path, "/") || ownList.MatchString(path) || strings.HasPrefix(path, "/static/") {
		return
	}
	c.seen[path] = true
	kind, body := c.fetch(path, "text/html")
	switch {
	case strings.HasPrefix(kind, "application/pdf"):
		c.papers++
		c.clean(path, pdfText(c.t, body))
	case strings.HasPrefix(kind, "text/html"):
		c.pages++
		links := c.page(path, body)
		if c.alone {
			links = nil
		}
		for _, link := range links {
			c.visit(link)
		}
		if kind, body := c.fetch(path, "application/json"); strings.HasPrefix(kind, "application/json") {
			c.clean(path+" as JSON", jsonText(c.t, body))
		}
	}
}

func (c *crawler) fetch(path, accept string) (kind string, body []byte) {
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodGet, c.base+path, nil)
	require.NoError(c.t, err)
	req.Header.Set("Accept", accept)
	return c.do(req)
}

func (c *crawler) do(req *http.Request) (kind string, body []byte) {
	res, err := c.client.Do(req)
	require.NoError(c.t, err)
	defer res.Body.Close()
	body, err = io.ReadAll(res.Body)
	require.NoError(c.t, err)
	require.Less(c.t, res.StatusCode, 500, "%s\n%s", req.URL, body)
	return res.Header.Get("Content-Type"), body
}

// page reads a page and gives its links.
func (c *crawler) page(name string, body []byte) (links []string) {
	doc, err := goquery.NewDocumentFromReader(bytes.NewReader(body))
	require.NoError(c.t, err)
	c.clean(name, shown(doc.Selection))
	doc.Find("a[href]").Each(func(_ int, a *goquery.Selection) { links = append(links, a.AttrOr("href", "")) })
	return links
}

// clean fails where a text holds a term the set bars.
func (c *crawler) clean(name, text string) {
	c.t.Helper()
	if c.read != nil {
		c.read(name, text)
		return
	}
	for _, term := range c.set.BarredIn(text) {
		at := regexp.MustCompile(`(?i)` + strings.ReplaceAll(regexp.QuoteMeta(term), " ", `\W*`)).FindStringIndex(text)
		around := ""
		if at != nil {
			around = text[max(0, at[0]-60):min(len(text), at[1]+60)]
		}
		c.t.Errorf("%s prints %q: …%s…", name, term, around)
	}
}

// shown is all the text of a page that a person sees or hears, piece by piece, but
// for what stands in a field.
func shown(s *goquery.Selection) string {
	var b strings.Builder
	s.Contents().Each(func(_ int, part *goquery.Selection) {
		switch goquery.NodeName(part) {
		case "script", "style", "textarea":
			return
		case "#text":
			b.WriteString(part.Text() + " | ")
		}
		for _, name := range []string{"title", "placeholder", "alt", "aria-label", "label", "content"} {
			if text := part.AttrOr(name, ""); text != "" {
				b.WriteString(text + " | ")
			}
		}
		b.WriteString(shown(part))
	})
	return b.String()
}

// jsonText is every text value of a JSON answer; its keys and codes are names for
// programs.
func jsonText(t *testing.T, body []byte) string {
	t.Helper()
	var doc any
	require.NoError(t, json.Unmarshal(body, &doc), "%s", body)
	var b strings.Builder
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case string:
			b.WriteString(v + " | ")
		case []any:
			for _, inner := range v {
				walk(inner)
			}
		case map[string]any:
			for key, inner := range v {
				if key != "code" && key != "unit" {
					walk(inner)
				}
			}
		}
	}
	walk(doc)
	return b.String()
}

// pdfText is the text of a PDF, empty where the machine has no tool to read it.
func pdfText(t *testing.T, pdf []byte) string { return pdfTextBy(t, pdf, "-layout") }

// pdfTextBy is the text in the order that an option of pdftotext gives.
func pdfTextBy(t *testing.T, pdf []byte, order string) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		require.NotEqual(t, "true", os.Getenv("CI"), "pdftotext is not installed; CI needs it")
		return ""
	}
	cmd := exec.CommandContext(t.Context(), tool, order, "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	require.NoError(t, err)
	return string(out)
}

// answerForms sends words that no set takes, and reads what comes back.
func (c *crawler) answerForms() {
	for _, words := range []string{"two face cords of 16 inch", "1 truckload", "a pile", "3 cords loose", "1 hundred cords", "1 cord and 1 rick", "a short cord"} {
		order := map[string]string{
			"customer_name": "Ada Quill", "quantity": words, "species": words, "piece_length": "16 in", "price_total": "9", "notes": words,
		}
		typed, err := json.Marshal(order)
		require.NoError(c.t, err)
		c.post("/orders", typed, words)
		c.fill("/orders/new", order)
		batch := map[string]string{"name": words, "species": words, "quantity": words, "piece_length": "16 in", "origin": words, "certificate": words, "notes": words}
		typed, err = json.Marshal(batch)
		require.NoError(c.t, err)
		c.post("/batches", typed, words)
		c.fill("/batches/new", batch)
		wrong, err := json.Marshal(map[string]string{"species": words, "reason": words})
		require.NoError(c.t, err)
		c.post("/receipts/1/correct", wrong, words)
		why, err := json.Marshal(map[string]string{"reason": words})
		require.NoError(c.t, err)
		c.post("/receipts/2/void", why, words)
		doc, err := json.Marshal(map[string]any{"format": 1, "sold": words, "stack": map[string]any{
			"kind": "rows", "nominal": "16 in", "rows": []any{map[string]any{"length": "8 ft", "heights": []string{"4 ft", "4 ft", "4 ft"}}},
		}})
		require.NoError(c.t, err)
		c.post("/measure", doc, words)
		c.fill("/measure", map[string]string{"sold": words, "stack.nominal": "16", "stack.rows[0].length": "8", "stack.rows[0].heights[0]": "48"})
	}
}

// buyersPages reads what a buyer comes to by a link, and a record of wood bought
// elsewhere in words that no set takes.
func (c *crawler) buyersPages() {
	c.visit("/buying?rules=" + c.set.Code)
	link, own := c.buyersLink(), c.ownRecord()
	for _, path := range []string{link + "/receipt/pdf", link + "/pdf?paper=a4", link + "/tallies/1", own + "/pdf?paper=a4", own + "/edit"} {
		assert.True(c.t, c.seen[path], "%s was read", path)
	}
	for _, words := range []string{"two face cords", "1 truckload", "3 ricks", "a cord"} {
		bought := map[string]string{"quantity": words, "piece_length": "16 in", "delivered_on": "2026-11-18", "wood": words, "rule_set": c.set.Code}
		c.send("/buying/cases", bought)
		c.fill("/buying/case/new", bought)
	}
	c.send(own+"/entries", map[string]string{"kind": "claim", "text": "one truckload, a face cord, a rick and a cord"})
}

// buyersLink makes the link of the receipt whose buyer has measured, and reads all that
// it leads to.
func (c *crawler) buyersLink() string {
	var link struct{ Path string }
	require.NoError(c.t, json.Unmarshal(c.send("/receipts/7/case/link", map[string]string{}), &link))
	c.visit(link.Path)
	return link.Path
}

// ownRecord keeps a record of wood bought elsewhere, measures it, and reads all that it
// leads to.
func (c *crawler) ownRecord() string {
	var made struct{ ID string }
	require.NoError(c.t, json.Unmarshal(c.send("/buying/cases", map[string]string{
		"quantity": "two face cords", "piece_length": "16 in", "delivered_on": "2026-11-18", "buyer_name": "Ada Quill",
		"confirmed": plainly(c.t, "two face cords", c.set, c.metric),
	}), &made))
	require.NotEmpty(c.t, made.ID)
	path := "/buying/case/" + made.ID
	c.send(path+"/measure", map[string]any{"format": 1, "apart": "none", "stack": map[string]any{
		"kind": "rows", "nominal": "16 in", "rows": []any{map[string]any{"length": "8 ft", "heights": []string{"4 ft", "4 ft", "4 ft"}}},
	}})
	c.visit(path)
	return path
}

// send sends JSON, reads the answer and gives it.
func (c *crawler) send(path string, fields any) []byte {
	body, err := json.Marshal(fields)
	require.NoError(c.t, err)
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodPost, c.base+path, bytes.NewReader(body))
	require.NoError(c.t, err)
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Accept", "application/json")
	_, answer := c.do(req)
	c.clean(path, jsonText(c.t, answer))
	return answer
}

// planningPages reads what the pages that keep nothing answer.
func (c *crawler) planningPages() {
	c.visit("/wood?species=red+oak&moisture=20&basis=dry&quantity=128+cu+ft+stacked")
	c.visit("/wood?species=red+oak&moisture=green")
	c.visit("/shares?mix=60+%25+oak%2C+40+%25+maple&counted=oak+14%2C+maple+6")
	c.visit("/shares?mix=oak&counted=1+pile")
	c.visit("/wood?air=70+F&humidity=65")
	for path, typed := range map[string]map[string]string{
		"/measure": {"sold": "128 cu ft stacked", "stack.nominal": "16 in", "stack.rows[0].length": "24 ft", "stack.rows[0].heights[0]": "47 in",
			"stack.rows[0].heights[1]": "47 in", "stack.rows[0].heights[2]": "48 in", "stack.rows[0].heights[3]": "48 in"},
		"/storage": {"quantity": "128 cu ft stacked", "piece_length": "16 in", "species": "oak",
			"place": "alcove", "width": "6 ft", "depth": "3 ft", "height": "7 ft", "back_height": "6 ft", "then_place": "porch", "then_width": "20 ft", "then_depth": "6 ft"},
		"/trips":  {"quantity": "128 cu ft stacked", "piece_length": "16 in", "bed_length": "8 ft", "bed_width": "5 ft", "bed_sides": "20 in", "loaded": "thrown", "gross": "26000 lb", "scale": "12000 lb"},
		"/winter": {"fuel": "wood", "amount": "3", "appliance": "new stove", "climate": "cold", "wanted": "October 2027"},
	} {
		assert.Equal(c.t, http.StatusOK, c.fill(path, typed), path)
	}
}

// fill sends a page's form with some fields filled in, reads the page that comes
// back, and gives its status.
func (c *crawler) fill(path string, typed map[string]string) int {
	_, body := c.fetch(path, "text/html")
	doc, err := goquery.NewDocumentFromReader(bytes.NewReader(body))
	require.NoError(c.t, err)
	form, values := doc.Find("main form").First(), url.Values{}
	form.Find("input").Each(func(_ int, field *goquery.Selection) {
		if kind := field.AttrOr("type", "text"); kind == "hidden" || kind == "text" {
			values.Set(field.AttrOr("name", ""), field.AttrOr("value", ""))
		}
	})
	for name, text := range typed {
		values.Set(name, text)
	}
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodPost, c.base+form.AttrOr("action", path), strings.NewReader(values.Encode()))
	require.NoError(c.t, err)
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Accept", "text/html")
	res, err := c.client.Do(req)
	require.NoError(c.t, err)
	defer res.Body.Close()
	body, err = io.ReadAll(res.Body)
	require.NoError(c.t, err)
	for _, link := range c.page(path+" filled in with "+typed["quantity"]+typed["sold"], body) {
		if strings.HasPrefix(link, path+".pdf") {
			c.visit(link)
		}
	}
	return res.StatusCode
}

// post sends JSON and reads the answer.
func (c *crawler) post(path string, body []byte, words string) {
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodPost, c.base+path, bytes.NewReader(body))
	require.NoError(c.t, err)
	req.Header.Set("Content-Type", "application/json")
	req.Header.Set("Accept", "application/json")
	kind, answer := c.do(req)
	require.Contains(c.t, kind, "json", "%s", answer)
	c.clean(path+" with "+url.QueryEscape(words), jsonText(c.t, answer))
}

// commandLine reads what the verbs say of the shop's database.
func (c *crawler) commandLine(db string) {
	tally := exampleShort
	if c.set.CordVaries() { // where its bare cord is asked back
		asked := program(c.t, "", "measure", tally, "--under", c.set.Code)
		require.Equal(c.t, exitRefused, asked.code)
		c.clean("a bare cord", asked.out+asked.err)
		doc, err := os.ReadFile(tally)
		require.NoError(c.t, err)
		tally = filepath.Join(filepath.Dir(db), "tally.json")
		require.NoError(c.t, os.WriteFile(tally, bytes.Replace(doc, []byte(`"1 cord"`), []byte(`"1 cord sawed and split"`), 1), 0o600))
	}
	for _, args := range [][]string{
		{"verify", "--db", db}, {"batches", "--db", db}, {"receipt", "1", "--db", db, "-o", filepath.Join(filepath.Dir(db), "r.pdf")},
		{"measure", tally, "--under", c.set.Code}, {"wood", "--mix", "60 % oak, 40 % maple", "--counted", "oak 14, maple 6", "--under", c.set.Code}, {"measure", tally, "--under", c.set.Code, "--units", "metric"},
		{"storage", "--quantity", "128 cu ft stacked", "--place", "wall", "--width", "40 ft", "--depth", "4 ft", "--under", c.set.Code},
		{"winter", "--fuel", "wood", "--amount", "3", "--burn-by", "October 2028", "--under", c.set.Code},
		{"trips", "--quantity", "128 cu ft stacked", "--bed-length", "8 ft", "--bed-width", "5 ft", "--bed-sides", "20 in", "--placard", "1500 lb", "--people", "180 lb", "--under", c.set.Code},
	} {
		r := program(c.t, "", args...)
		require.Equal(c.t, exitDone, r.code, r.err)
		c.clean(strings.Join(args, " "), r.out+r.err)
	}
	pdf, err := os.ReadFile(filepath.Join(filepath.Dir(db), "r.pdf"))
	require.NoError(c.t, err)
	c.clean("receipt 1", pdfText(c.t, pdf))
}

// showsTheSet reads what shows a set at work: a receipt under it, a refusal of what it
// doesn't take, labels with and without a term it bars, and its own page with the source
// of every rule.
func (c *crawler) showsTheSet() {
	c.t.Helper()
	kind, pdf := c.fetch("/receipts/1/pdf", "application/pdf")
	require.Equal(c.t, "application/pdf", kind)
	if text := onOneLine(pdfTextBy(c.t, pdf, "-raw")); text != "" { // as it is read out, a column after the other
		assert.Contains(c.t, text, onOneLine(c.set.Name), "the receipt names the rules it was made under")
	}
	if len(c.set.Barred) == 0 && len(c.set.Loose) == 0 { // then it bars nothing by name, and gives this no size
		answer := string(c.send("/orders", map[string]string{"customer_name": "Ada Quill", "quantity": "1 loose cord", "species": "ash", "piece_length": "16 in", "price_total": "90", "origin": "Slate County, New York"}))
		assert.Contains(c.t, answer, `"field":"quantity"`)
	}
	c.labelsUnder()
	_, page := c.fetch("/rules/"+c.set.Code, "text/html")
	doc, err := goquery.NewDocumentFromReader(bytes.NewReader(page))
	require.NoError(c.t, err)
	own := onOneLine(doc.Find("main").Text())
	for _, source := range append(sourcesIn(c.t, c.set), c.set.Edition) {
		assert.Contains(c.t, own, onOneLine(source), "its own page prints every source")
	}
}

// labelsUnder prints labels under the set, on the page and as data, and is refused those
// that say a term it bars.
func (c *crawler) labelsUnder() {
	asked := url.Values{"identity": {"Firewood, split ash"}, "quantity": {"0.75 cu ft"}, "price": {"7.50"}, "origin": {"Slate County, New York"}}
	path := "/labels?" + asked.Encode()
	kind, pdf := c.fetch(path, "text/html")
	require.Equal(c.t, "application/pdf", kind)
	c.clean(path, pdfText(c.t, pdf))
	_, answer := c.fetch(path, "application/json")
	c.clean(path+" as JSON", jsonText(c.t, answer))
	c.visit("/labels")
	for _, term := range c.set.Barred {
		asked.Set("identity", "Firewood by the "+term.Name)
		kind, page := c.fetch("/labels?"+asked.Encode(), "text/html")
		require.True(c.t, strings.HasPrefix(kind, "text/html"), "a label that says %q is refused", term.Name)
		c.page("/labels with a barred term", page)
		_, answer := c.fetch("/labels?"+asked.Encode(), "application/json")
		assert.Contains(c.t, string(answer), `"field":"identity","code":"barred"`)
	}
}

// onOneLine is a text with single spaces, however its lines were broken.
func onOneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// sourcesIn are the sources of a set's items, as its file gives them.
func sourcesIn(t *testing.T, set rules.Set) (sources []string) {
	file, err := json.Marshal(set)
	require.NoError(t, err)
	for _, found := range regexp.MustCompile(`"source":("(?:[^"\\]|\\.)*")`).FindAllSubmatch(file, -1) {
		var source string
		require.NoError(t, json.Unmarshal(found[1], &source))
		sources = append(sources, source)
	}
	return sources
}
