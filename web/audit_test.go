package web_test

import (
	"bytes"
	"encoding/json"
	"image"
	"image/png"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/textproto"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// inForm is the answer with the form that is sent to the path in measurer.
func (a *answer) inForm(path string) *answer {
	a.d.t.Helper()
	found := false
	for _, form := range a.doc.Find("main form").EachIter() {
		if strings.HasSuffix(form.AttrOr("action", ""), path) {
			a.form, a.values, found = form, formValues(form), true
		}
	}
	require.True(a.d.t, found, "no form is sent to %s in:\n%s", path, a.body)
	return a
}

func (a *answer) set(name, value string) *answer { a.values.Set(name, value); return a }

// openAudit opens an audit of a delivery that was ordered in barred words.
func (d *desk) openAudit() string {
	d.t.Helper()
	order := d.takeOrder("2/3 cord")
	require.Equal(d.t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
	opened := d.get("/audits/new?receipt=1").set("auditor", "Pim Holt").set("capacity", "volunteer").press("Open the audit")
	require.Equal(d.t, http.StatusSeeOther, opened.status, "%s", opened.body)
	path, _, _ := strings.Cut(opened.header.Get("Location"), "?")
	return path
}

// planned is an open audit up to its plan, for two measurers.
func (d *desk) planned() string {
	d.t.Helper()
	path := d.openAudit()
	p := d.get(path).inForm("/notice").set("how", "by phone").set("when", "2026-11-19T09:00").set("appointed", "2026-11-20T10:00")
	require.Equal(d.t, http.StatusSeeOther, p.press("Record the notice").status)
	p = d.get(path).inForm("/hold").set("since", "2026-11-19T17:00").set("broken", "no").set("apart", "none")
	require.Equal(d.t, http.StatusSeeOther, p.press("Record it").status)
	p = d.get(path).inForm("/plan").set("measurers", "2").set("stations", "4").set("lengths", "1").set("pieces", "5").set("faces", "front")
	require.Equal(d.t, http.StatusSeeOther, p.press("Fix the plan").status)
	return path
}

// measurer adds a measurer and gives the path of its link.
func (d *desk) measurer(audit, name string) string {
	d.t.Helper()
	made := d.get(audit).inForm("/measurers").set("measurer_name", name).press("Make the link")
	require.Equal(d.t, http.StatusOK, made.status, "%s", made.body)
	link := regexp.MustCompile(`/audits/measuring/[A-Z2-7]{26}`).FindString(made.body)
	require.NotEmpty(d.t, link)
	return link
}

// typeIn fills in a row of the height given, and five pieces.
func typeIn(p *answer, height string) *answer {
	p.set("stack.rows[0].length", "16")
	for _, i := range []string{"0", "1", "2", "3"} {
		p.set("stack.rows[0].heights["+i+"]", height)
	}
	for _, i := range []string{"0", "1", "2", "3", "4"} {
		p.set("stack.pieces["+i+"]", "16")
	}
	p.set("began", "2026-11-20T09:00").set("ended", "2026-11-20T09:30").set("role", "neighbour").set("tape_maker", "none").set("tape_number", "none")
	return p.set("tape_checked", "yes").set("checked_on", "2026-11-19").set("checked_by", "the county rule").set("top", "straightedge").set("tape", "1/4")
}

// sealed reads the form back, seals it, and gives the page with the code.
func (p *answer) sealed() *answer {
	p.d.t.Helper()
	back := p.press("Read it back")
	require.Equal(p.d.t, http.StatusOK, back.status, "%s", back.body)
	button := strings.TrimSpace(back.doc.Find("button.main").Text())
	require.Contains(p.d.t, button, "eal and hand in", "%s", back.body)
	return back.press(button).follow()
}

func TestAnAuditByItsPages(t *testing.T) {
	d := withShop(t)
	path := d.planned()
	first, second := d.measurer(path, "Una Reed"), d.measurer(path, "Tobias Fenn")
	p := typeIn(d.get(first), "37.125")
	assert.Equal(t, 5, p.doc.Find(`input[name^="stack.pieces["]`).Length(), "as many as are planned")
	require.Equal(t, http.StatusSeeOther, p.press("Save a draft").status)
	again := d.get(first)
	assert.Equal(t, "37.125", again.values.Get("stack.rows[0].heights[2]"), "the draft is put back")
	sealed := again.sealed()
	assert.Contains(t, sealed.text(), "Sealed and handed in at")
	assert.Regexp(t, `[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}`, sealed.doc.Find(".seal").Text())
	assert.Zero(t, sealed.doc.Find("main form").Length(), "the readings aren’t put back")
	refused := typeIn(d.get(first+"?again=yes"), "36").press("Read it back")
	refused = refused.press("Cross out the old ones, seal and hand in")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	refused.set("reason", "read the wrong mark").sealed()
	assert.Contains(t, d.get(path).text(), "Measuring: 1 of 2 have handed in.")
	typeIn(d.get(second), "36.25").sealed()

	assert.Contains(t, d.get(path).text(), "All have handed in. Next: did the seller come?")
	require.Equal(t, http.StatusSeeOther, d.get(path).inForm("/attendance").set("attended", "no").press("Record it").status)
	check := d.get(path).inForm("/checklist")
	for _, code := range []string{"pieces", "faces", "voids", "cribs", "struck"} {
		check.set("items."+code, "yes")
	}
	check.set("items.used", "no").set("items.weather", "yes")
	faulty := check.press("Save the answers")
	require.Equal(t, http.StatusUnprocessableEntity, faulty.status)
	assert.Contains(t, faulty.text(), "Was the weather recorded?")
	assert.Contains(t, faulty.doc.Find(".faults").Text(), "Was the weather recorded?", "the summary asks as the list does")
	faulty.inForm("/checklist").set("items.weather.note", "dry, 41 °F")
	for name := range faulty.values {
		if strings.HasPrefix(name, "items.") && faulty.values.Get(name) == "" && !strings.HasSuffix(name, ".note") {
			faulty.set(name, "no")
		}
	}
	require.Equal(t, http.StatusSeeOther, faulty.press("Save the answers").status)
	page := d.get(path)
	assert.Contains(t, page.text(), "All is there")
	assert.Contains(t, d.getJSON(path).body, `"next":"close"`, "a program reads what comes next")
	closed := page.inForm("/close").set("statement", "Less than was paid for.").press("Close and make the report")
	require.Equal(t, http.StatusSeeOther, closed.status, "%s", closed.body)
	report := d.get(path)
	assert.Contains(t, report.text(), "Volunteer measurement, not an official result")
	assert.Contains(t, report.text(), "read the wrong mark", "what was struck is told of")
	assert.Equal(t, "application/pdf", d.get(path+"/pdf").header.Get("Content-Type"))
	assert.Contains(t, d.get(first).text(), "The audit is closed")

	require.Equal(t, http.StatusSeeOther, d.get(path+"?do=note").inForm("/notes").set("note_kind", "copy").set("who", "Odell Marsh").press("Add the note").status)
	assert.Contains(t, d.get(path).text(), "Copy given to Odell Marsh")
	assert.Contains(t, d.get("/audits?seller=Alder+Lane+Firewood").text(), "One audit")
	assert.Equal(t, http.StatusConflict, d.post(path+"/hold", url.Values{"csrf": {page.values.Get("csrf")}, "since": {"2026-11-19T17:00"}, "held_by": {"x"}, "broken": {"no"}}).status)
	d.erasedWithItsOrder(path)
}

// While an audit is open, no route shows the owner or another measurer what a measurer has
// read: every route there is is asked, for people and for programs.
func TestNoRouteShowsAMeasurersReadingsWhileTheAuditIsOpen(t *testing.T) {
	d := withShop(t)
	path := d.planned()
	first, second := d.measurer(path, "Una Reed"), d.measurer(path, "Tobias Fenn")
	require.Equal(t, http.StatusSeeOther, typeIn(d.get(first), "37.125").press("Save a draft").status)
	require.Contains(t, d.get(first).body, "37.125", "a draft is put back")
	d.get(first).sealed()
	order := d.orders()[0].ID
	id := strings.TrimPrefix(path, "/audits/")
	fill := func(route string) []string {
		switch {
		case strings.HasPrefix(route, "/audits/measuring/"):
			return []string{first, second, first + "?again=yes"}
		case strings.HasPrefix(route, "/orders/:id"):
			return []string{strings.Replace(route, ":id", order, 1)}
		case strings.HasPrefix(route, "/audits/:id"):
			return []string{strings.NewReplacer(":id", id, ":photo", id).Replace(route)}
		case strings.Contains(route, ":number"):
			return []string{strings.Replace(route, ":number", "1", 1)}
		case strings.HasPrefix(route, "/rules/:code"):
			return []string{"/rules/us-model"}
		}
		return []string{route, route + "?seller=Alder+Lane+Firewood"}
	}
	asked := 0
	for _, r := range d.server.App().GetRoutes(false) {
		if r.Method != http.MethodGet {
			continue
		}
		for _, at := range fill(r.Path) {
			for _, a := range []*answer{d.get(at), d.getJSON(at)} {
				asked++
				for _, figure := range []string{"37.125", "37 1/8", "37⅛", "0.52 cord", "66 ft³"} {
					assert.NotContains(t, a.body, figure, "%s", at)
				}
			}
		}
	}
	assert.Greater(t, asked, 60)
	for _, do := range []string{"notice", "hold", "plan", "measurers", "readings", "attendance", "checklist", "close", "photo", "note"} {
		assert.NotContains(t, d.get(path+"?do="+do).body, "37.125", do)
	}
	assert.Equal(t, http.StatusNotFound, d.get(path+"/pdf").status)
	assert.Contains(t, d.get(path).text(), "handed in at")
	assert.NotContains(t, d.log.String(), strings.TrimPrefix(first, "/audits/measuring/"), "no code is logged")
}

func TestACodeIsAskedForWhole(t *testing.T) {
	d := withShop(t)
	link := d.measurer(d.planned(), "Una Reed")
	assert.Equal(t, http.StatusOK, d.get(link).status)
	assert.Equal(t, "no-referrer", d.get(link).header.Get("Referrer-Policy"))
	for _, wrong := range []string{link[:len(link)-1], link + "A", "/audits/measuring/x", "/audits/measuring/%27%20OR%201=1"} {
		assert.Equal(t, http.StatusNotFound, d.get(wrong).status, wrong)
		assert.Equal(t, http.StatusNotFound, d.postJSON(wrong, `{"format":1}`).status, wrong)
	}
}

// How the top was judged and which mark was read decide, so a measurer is asked for both
// and the plan answers for nobody.
func TestAMeasurerSaysHowItWasRead(t *testing.T) {
	d := withShop(t)
	link := d.measurer(d.planned(), "Una Reed")
	page := d.get(link)
	assert.Contains(t, page.text(), "The plan asks for a tape read to 1/4 in and a straightedge on top. Say what you did.")
	page = typeIn(page, "37.125")
	page.values.Del("top")
	refused := page.set("tape", "").press("Read it back")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	for _, says := range []string{"he smallest mark that you read is missing", "ow you judged the top of the wood is missing"} {
		assert.Contains(t, refused.text(), says)
	}
	assert.Equal(t, "37.125", refused.values.Get("stack.rows[0].heights[0]"), "what was typed stays")
	require.Equal(t, http.StatusSeeOther, refused.press("Save a draft").status, "a draft may lack them")
	assert.Contains(t, d.get(link).set("tape", "1/4").set("top", "by eye").sealed().text(), "Sealed and handed in at")
}

func TestAProgramHandsInAsWell(t *testing.T) {
	d := withShop(t)
	link := d.measurer(d.planned(), "Una Reed")
	doc := `{"tally": {"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "16 ft", "heights": ["37 in", "37 in", "37 in", "37 in"]}]}}`
	require.Equal(t, http.StatusOK, d.postJSON(link+"?do=draft", doc+"}").status)
	refused := d.postJSON(link, doc+"}")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status, "when, as what and with which tape is asked of programs too")
	a := d.postJSON(link, doc+`, "circumstances": {"began": "2026-11-20 09:00", "ended": "2026-11-20 09:20", "role": "deputy", "tape_maker": "none", "tape_number": "4", "tape_checked": "no"}}`)
	require.Equal(t, http.StatusOK, a.status, "%s", a.body)
	var seen struct {
		Saved []struct {
			HandedIn bool            `json:"handed_in"`
			Seal     string          `json:"seal"`
			Tally    json.RawMessage `json:"tally"`
		} `json:"saved"`
	}
	require.NoError(t, json.Unmarshal([]byte(a.body), &seen))
	require.Len(t, seen.Saved, 2)
	assert.True(t, seen.Saved[1].HandedIn)
	assert.NotEmpty(t, seen.Saved[1].Seal)
	assert.Empty(t, seen.Saved[0].Tally, "a draft shows no more once it was handed in")
	assert.NotContains(t, a.body, "volume")
	assert.Equal(t, http.StatusUnprocessableEntity, d.postJSON(link, `{"tally": {"format": 1}}`).status)
	assert.Equal(t, http.StatusOK, d.get(link).status, "the page opens for what a program sent")
}

// photoForm is a form with a photo, and more of its fields.
func photoForm(t *testing.T, token, kind string, file []byte, more ...string) *http.Request {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	require.NoError(t, w.WriteField("csrf", token))
	require.NoError(t, w.WriteField("of", "front of the stack"))
	for i := 0; i+1 < len(more); i += 2 {
		require.NoError(t, w.WriteField(more[i], more[i+1]))
	}
	part, err := w.CreatePart(textproto.MIMEHeader{"Content-Disposition": {`form-data; name="photo"; filename="../a.png"`}, "Content-Type": {kind}})
	require.NoError(t, err)
	_, err = part.Write(file)
	require.NoError(t, err)
	require.NoError(t, w.Close())
	req := httptest.NewRequest(http.MethodPost, "/", &body)
	req.Header.Set("Content-Type", w.FormDataContentType())
	req.Header.Set("Accept", "text/html")
	return req
}

func TestPhotosAreUploadedWithTheirTokenAndShownOnlyAsACopy(t *testing.T) {
	d := withShop(t)
	path := d.openAudit()
	token := d.get(path + "?do=photo").inForm("/photos").values.Get("csrf")
	var original bytes.Buffer
	require.NoError(t, png.Encode(&original, image.NewGray(image.Rect(0, 0, 30, 20))))
	send := func(to, token string, file []byte) *answer {
		req := photoForm(t, token, "image/png", file)
		req.URL.Path, req.RequestURI = to, to
		return d.do(req)
	}
	assert.Equal(t, http.StatusForbidden, send(path+"/photos", "wrong", original.Bytes()).status)
	assert.Equal(t, http.StatusUnsupportedMediaType, send(path+"/notes", token, original.Bytes()).status, "files are taken by one route only")
	assert.Equal(t, http.StatusUnprocessableEntity, send(path+"/photos", token, []byte("<svg onload=alert(1)>")).status)
	assert.Equal(t, http.StatusRequestEntityTooLarge, send(path+"/photos", token, make([]byte, 13_000_000)).status)
	require.Equal(t, http.StatusSeeOther, send(path+"/photos", token, original.Bytes()).status)

	page := d.get(path)
	shown := page.doc.Find("img.photo").AttrOr("src", "")
	require.NotEmpty(t, shown)
	a := d.get(shown)
	assert.Equal(t, "image/jpeg", a.header.Get("Content-Type"))
	assert.True(t, strings.HasPrefix(a.body, "\xff\xd8"))
	file := d.get(strings.TrimSuffix(shown, "/shown"))
	assert.Equal(t, "application/octet-stream", file.header.Get("Content-Type"))
	assert.Contains(t, file.header.Get("Content-Disposition"), "attachment")
	assert.Equal(t, original.String(), file.body)
}

func TestAMeasurersPageHasRoomForWhatIsPlanned(t *testing.T) {
	d := withShop(t)
	path := d.planned()
	amended := d.get(path+"?do=plan").inForm("/plan").set("stations", "6").set("lengths", "4").set("pieces", "12").set("faces", "both").set("reason", "the back can be reached")
	require.Equal(t, http.StatusSeeOther, amended.press("Amend the plan").status)
	page := d.get(d.measurer(path, "Una Reed"))
	for name, want := range map[string]int{"stack.rows[0].heights[": 6, "stack.rows[0].back[": 6, "stack.rows[0].lengths[": 3, "stack.pieces[": 12} {
		assert.Equal(t, want, page.doc.Find(`input[name^="`+name+`"]`).Length(), name)
	}
	assert.Empty(t, page.values.Get("top"), "who measures says how the top was judged")
	assert.Zero(t, page.doc.Find(`details input[name^="stack.rows[0].back["], details input[name^="stack.rows[0].lengths["]`).Length(), "none of it is folded away")
	assert.Contains(t, page.text(), "Divide each row into 6 equal parts")
	page = page.set("do", "row+").press("Add a row")
	assert.Equal(t, 6, page.doc.Find(`input[name^="stack.rows[1].back["]`).Length(), "a row added has room for its back as well")
}

func TestAHeightWithASlippedPointIsNamedToWhoReadIt(t *testing.T) {
	d := withShop(t)
	page := typeIn(d.get(d.measurer(d.planned(), "Una Reed")), "48").set("stack.rows[0].heights[1]", "4.8")
	shown := d.post(page.form.AttrOr("action", ""), page.values)
	assert.Contains(t, shown.text(), "Look again at row 1, height 2: 4.8 in, where the row is about 48 in high.")
	shown = d.post(page.form.AttrOr("action", ""), shown.set("stack.rows[0].heights[1]", "40").values)
	assert.NotContains(t, shown.text(), "Look again at row")
}

func TestAPhotoTooLargeToBeReadLeadsBackToItsForm(t *testing.T) {
	d := withShop(t)
	path := d.openAudit()
	page := d.get(path + "?do=photo").inForm("/photos")
	assert.Empty(t, page.values.Get("taken"), "when it was taken is not stated for anybody")
	req := photoForm(t, page.values.Get("csrf"), "image/jpeg", make([]byte, 13_000_000))
	req.URL.Path, req.RequestURI = path+"/photos", path+"/photos"
	refused := d.do(req)
	assert.Equal(t, http.StatusRequestEntityTooLarge, refused.status)
	assert.Contains(t, refused.text(), "That is more than can be taken here")
	assert.Equal(t, path+"?do=photo#doing", refused.doc.Find("a.button.main").AttrOr("href", ""))
}

// A program that asks for a step is refused as programs are, with what is wrong by its field.
func TestAProgramIsToldWhatAStepLacks(t *testing.T) {
	d := withShop(t)
	path := d.planned()
	for step, body := range map[string]string{"/measurers": `{}`, "/notice": `{"how":"shouting"}`} {
		refused := d.postJSON(path+step, body)
		assert.GreaterOrEqual(t, refused.status, http.StatusBadRequest, step)
		assert.Contains(t, refused.header.Get("Content-Type"), "json", step)
	}
	opened := d.postJSON("/buying/cases", `{"sold":"much"}`)
	assert.GreaterOrEqual(t, opened.status, http.StatusBadRequest)
	assert.Contains(t, opened.header.Get("Content-Type"), "json")
	assert.NotEmpty(t, opened.body)
}
