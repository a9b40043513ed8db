package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/web/live"
)

// part is what the server answers a measuring form with while one types.
func (a *answer) part(path string) *answer {
	a.values.Set("do", "preview")
	req := formRequest(path, a.values)
	req.Header.Set("Wellstowed-Part", "answer")
	return a.d.do(req)
}

// A typedForm is a measuring form with its readings, and where it is sent.
type typedForm struct {
	name, path string
	form       *answer
}

// phoneForms are forms of every kind of stack, of an order and of none, that can be
// measured, that ask, and that are wrong.
func phoneForms(d *desk) []typedForm {
	order := d.takeOrder("1 cord") + "/measure"
	forms := []typedForm{
		{"short", "/measure", typeExample(d.get("/measure").fill("Sold", "1 cord"))},
		{"unsold", "/measure", typeExample(d.get("/measure"))},
		{"order", order, typeExample(d.get(order))},
		{"elsewhere", order, typeExample(d.get(order)).choose("Some").fill("How much is not in this stack", "10 cu ft")},
		{"asks", "/measure", slipped(d.get("/measure"))},
		{"wrong", "/measure", typeExample(d.get("/measure")).fill("Row 1, height 2", "two and a bit")},
		{"empty", "/measure", d.get("/measure")},
	}
	for n, c := range kindCases() {
		path := order + "?kind=" + c.kind
		forms = append(forms, typedForm{fmt.Sprint(c.kind, n), path, c.typed(d.get(path))})
	}
	return forms
}

// told is what the page says to the phone, and the form's fields.
func (f typedForm) told(t *testing.T) (page live.Page, fields []live.Field) {
	said := f.form.doc.Find("form.measure").AttrOr("data-phone", "")
	require.NoError(t, json.Unmarshal([]byte(said), &page), "%s: %s", f.name, said)
	for name := range f.form.values {
		if !slices.Contains([]string{"csrf", "request", "draft", "do"}, name) {
			fields = append(fields, live.Field{Name: name, Value: f.form.values.Get(name)})
		}
	}
	slices.SortFunc(fields, func(a, b live.Field) int { return strings.Compare(a.Name, b.Name) })
	return page, fields
}

// panel is an answer's HTML with no space between its parts.
func panel(t *testing.T, doc *goquery.Document) string {
	html, err := doc.Find("#panel").Html()
	require.NoError(t, err)
	return strings.ReplaceAll(strings.Join(strings.Fields(html), " "), "> <", "><")
}

func TestThePhoneAnswersAsTheServerDoes(t *testing.T) {
	d := withShop(t)
	for _, f := range phoneForms(d) {
		t.Run(f.name, func(t *testing.T) {
			page, fields := f.told(t)
			html, ok, err := live.Part(page, fields)
			require.NoError(t, err)
			server := f.form.part(f.path)
			assert.Equal(t, server.status == http.StatusOK, ok, server.text())
			here, err := goquery.NewDocumentFromReader(strings.NewReader(html))
			require.NoError(t, err)
			if server.doc.Find("#panel .answer:not(.quiet)").Length() > 0 && ok {
				assert.Equal(t, panel(t, server.doc), panel(t, here))
			}
			if ok {
				assert.Equal(t, server.doc.Find("#running").Text(), here.Find("#running").Text())
				return
			}
			assert.NotEmpty(t, here.Find(".faults li").Text())
		})
	}
}

// What the browser runs is another build of the same program: every byte it says is held
// against this one's.
func TestPhoneBothBuildsSayTheSame(t *testing.T) {
	d := withShop(t)
	type question struct {
		Page   live.Page   `json:"page"`
		Fields [][2]string `json:"fields"`
	}
	forms := phoneForms(d)
	p := newPhone(t, d)
	p.open("/measure")
	p.waits(`(async () => { const { load } = await import("/static/wasm.js");
		window.asks = await load(await (await fetch(document.querySelector("form[data-program]").dataset.program)).arrayBuffer()); return true; })()`)
	for _, f := range forms {
		page, fields := f.told(t)
		q := question{Page: page}
		for _, field := range fields {
			q.Fields = append(q.Fields, [2]string{field.Name, field.Value})
		}
		sent, err := json.Marshal(q)
		require.NoError(t, err)
		want, ok, err := live.Part(page, fields)
		require.NoError(t, err)
		const stale = "if only wording or the model has changed: go run ./testdata/phone"
		assert.Equal(t, want, ask[string](p, `asks(`+string(sent)+`).part`), "%s: %s", f.name, stale)
		assert.Equal(t, ok, ask[bool](p, `asks(`+string(sent)+`).ok`), f.name)
	}
}

// Once the page has loaded its program, it answers with no signal.
func TestPhoneAnswersWithoutSignal(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord") + "/measure"
	for _, path := range []string{"/measure", order} {
		t.Run(path, func(t *testing.T) {
			p, signal := inTheYard(t, d)
			p.open(path)
			p.until(`document.querySelector("form.measure").dataset.answers === "here"`)
			signal.cut.Store(true)
			typed := typeOneRow(d.get(path))
			values, err := json.Marshal(typed.values)
			require.NoError(t, err)
			ask[bool](p, `(() => { const form = document.querySelector("form.measure");
				for (const [name, [value]] of Object.entries(`+string(values)+`)) {
					if (["", "csrf", "request", "draft", "do"].includes(name)) continue;
					const field = form.elements.namedItem(name);
					if (!field) throw new Error("no field " + name);
					field.value = value;
					(field instanceof RadioNodeList ? field[0] : field).dispatchEvent(new Event("input", { bubbles: true }));
				}
				return true; })()`)
			p.until(`document.querySelector("#panel .answer:not(.quiet)") !== null && !document.querySelector("#panel.stale")`)
			width := ask[float64](p, `(() => { const panel = document.getElementById("panel"); return Math.round(panel.clientWidth - parseFloat(getComputedStyle(panel).paddingLeft) || document.querySelector("form.measure").clientWidth); })()`)
			d.headers = map[string]string{"Wellstowed-Width": fmt.Sprint(width)}
			server := typed.part(path)
			require.Equal(t, http.StatusOK, server.status, server.text())
			assert.Equal(t, panel(t, server.doc), strings.ReplaceAll(strings.Join(strings.Fields(ask[string](p, `document.getElementById("panel").innerHTML`)), " "), "> <", "><"))
			assert.Equal(t, server.doc.Find("#running").Text(), ask[string](p, `document.getElementById("running").textContent`))
		})
	}
}

// typeOneRow types a row of a cord, with what a page begins with room for.
func typeOneRow(p *answer) *answer {
	p.choose("None").choose("with a straightedge")
	p.fill("Row 1, length", "24 ft")
	for i := range 3 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), "48")
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	return p
}

// Where the program can't be had, the server's answer is small: the drawings are most of it.
func TestALiveAnswerIsSmall(t *testing.T) {
	d := withShop(t)
	for _, f := range phoneForms(d) {
		f.form.values.Set("do", "preview")
		req := formRequest(f.path, f.form.values)
		req.Header.Set("Wellstowed-Part", "answer")
		req.Header.Set("Accept-Encoding", "br, gzip")
		part := d.do(req)
		assert.Equal(t, "br", part.header.Get("Content-Encoding"), f.name)
		assert.LessOrEqual(t, len(part.body), 8000, f.name)
	}
}

func TestTheProgramIsSentPackedAndKept(t *testing.T) {
	d := withShop(t)
	page := d.get("/measure")
	path := page.doc.Find("form.measure").AttrOr("data-program", "")
	assert.Contains(t, page.header.Get("Content-Security-Policy"), "script-src 'self' 'wasm-unsafe-eval';")
	get := func(header, value string) *answer {
		req := httptest.NewRequest(http.MethodGet, path, nil)
		req.Header.Set(header, value)
		return d.do(req)
	}
	packed := get("Accept-Encoding", "gzip, br")
	assert.Equal(t, "br", packed.header.Get("Content-Encoding"))
	assert.Equal(t, "application/wasm", packed.header.Get("Content-Type"))
	assert.Contains(t, packed.header.Get("Cache-Control"), "immutable")
	assert.Less(t, len(packed.body), 1_600_000)
	assert.Equal(t, http.StatusNotModified, get("If-None-Match", packed.header.Get("ETag")).status)
	assert.True(t, strings.HasPrefix(get("Accept-Encoding", "identity").body, "\x00asm"), "as it is for whoever unpacks nothing")
}
