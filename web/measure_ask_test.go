package web_test

import (
	"fmt"
	"net/http"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// slipped is a row in which one height lost its decimal point's place: 4.8 among 48.
func slipped(p *answer) *answer {
	p.choose("None").fill("Row 1, length", "24 ft")
	for i, h := range []string{"48", "4.8", "48", "48"} {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), h)
	}
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	return p
}

const slippedBox = "It is as typed: Row 1, height 2"

func TestADoubtfulReadingIsAskedAboutBeforeAnAnswer(t *testing.T) {
	shown := slipped(withShop(t).get("/measure").fill("Sold", "1 cord")).press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status)
	assert.Zero(t, shown.doc.Find("#panel .answer").Length(), "nothing is said yet")
	assert.Equal(t, "Asked about: 1", shown.doc.Find("#running").Text())
	field := shown.labelled("Row 1, height 2")
	assert.Contains(t, field.Closest(".cell").Find(".question").Text(), "Height 2 of row 1 is 4.8 in, where the others are about 48 in.", "it stands at its field")
	assert.Equal(t, "4.8", field.AttrOr("value", ""), "and the reading stays as typed")

	said := shown.choose(slippedBox).press("Show the answer")
	assert.NotEmpty(t, said.doc.Find("#panel .answer").Text())
	_, on := said.labelled(slippedBox).Attr("checked")
	assert.True(t, on, "it stays answered")
	again := said.fill("Row 1, height 2", "8.4").press("Show the answer")
	assert.Zero(t, again.doc.Find("#panel .answer").Length(), "a yes is about the reading it was given for")
	right := again.fill("Row 1, height 2", "48").press("Show the answer")
	assert.NotEmpty(t, right.doc.Find("#panel .answer").Text())
	assert.Zero(t, right.doc.Find(".question").Length())
}

// What is kept, a sheet, a buyer's tally or a second load's receipt, waits for the answer.
func TestNothingIsSavedBeforeWhatIsAskedIsAnswered(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := slipped(d.get(order+"/measure")).fill("Name of who reads", "Ada Moss")
	refused := p.press("Save and make the sheet")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status, "%s", refused.text())
	assert.Equal(t, "Is this as you mean it? Say so at each, or change it.", refused.doc.Find("#faults h2").Text())
	assert.Equal(t, "Row 1, height 2", refused.doc.Find("#faults a").Text())
	assert.Equal(t, "Ada Moss", refused.labelled("Name of who reads").AttrOr("value", ""))
	assert.Equal(t, "4.8", refused.labelled("Row 1, height 2").AttrOr("value", ""))
	assert.NotContains(t, d.get(order).text(), "sheet 1")

	elsewhere := refused.choose(slippedBox).fill("Piece 3", "sixteenish").press("Use centimetres")
	again := elsewhere.fill("Piece 3", "16 in").press("Save and make the sheet")
	sheet := again.follow()
	require.Equal(t, http.StatusOK, sheet.status)
	assert.Contains(t, sheet.text(), "Height 2 of row 1 is 4.8 in, where the others are about 48 in. Is that right? Answered: yes, it is as it was read.")
	assert.Contains(t, d.getJSON("/sheets/1").body, `stray stack.rows[0].heights[1]`, "the answer is kept with the readings")

	on := d.get(order + "/measure?from=1")
	_, ticked := on.labelled(slippedBox).Attr("checked")
	assert.True(t, ticked, "measuring goes on with it answered")
}

func TestAProgramIsAskedToo(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	doc := `{"format":2,"apart":"none"%s,"stack":{"kind":"rows","pieces":["16 in"],"rows":[{"length":"24 ft","heights":["48 in","4.8 in","48 in","48 in"]}]}}`
	asked := d.postJSON(order+"/measure?read_by=Ada", fmt.Sprintf(doc, ""))
	require.Equal(t, http.StatusUnprocessableEntity, asked.status, asked.body)
	assert.Contains(t, asked.body, "stray stack.rows[0].heights[1] 12.192 cm", "the key to answer with")
	said := d.postJSON(order+"/measure?read_by=Ada", fmt.Sprintf(doc, `,"confirmed":["stray stack.rows[0].heights[1] 12.192 cm"]`))
	assert.Equal(t, http.StatusCreated, said.status, said.body)
}

// Every kind of stack asks at the field, and what is odd in all of it beside the answer.
func TestOtherKindsAskAtTheirFields(t *testing.T) {
	d := withShop(t)
	p := d.get("/measure?kind=bin").fill("Sold", "1 cord").choose("Ranked")
	p.fill("Inside length", "96").fill("Inside width", "50 ft").fill("Piece 1", "16")
	for i := range 3 {
		p.fill(fmt.Sprintf("Height %d", i+1), "48")
	}
	shown := p.press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status, "%s", shown.text())
	box := "It is as typed: Inside width"
	assert.NotEmpty(t, shown.labelled("Inside width").Closest(".field").Find(".question").Text())
	all := shown.choose(box).press("Show the answer")
	assert.Contains(t, all.doc.Find("#panel .question").Text(), "was sold")
	said := all.choose("It is as typed: All of it").press("Show the answer")
	assert.NotEmpty(t, said.doc.Find("#panel .answer").Text(), "%s", said.text())
}

// asTyped answers every question on the page with yes, and looks at the answer again.
func (a *answer) asTyped() *answer {
	a.d.t.Helper()
	for a.doc.Find(".question input:not([checked])").Length() > 0 {
		a.doc.Find(".question input").Each(func(_ int, box *goquery.Selection) {
			a.values.Set(box.AttrOr("name", ""), box.AttrOr("value", ""))
		})
		a = a.press("Show the answer")
	}
	return a
}

func TestPhoneAnswersWhatIsAsked(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open(d.takeOrder("1 cord") + "/measure")
	p.typeDoubtful()
	p.until(`document.getElementById("running").textContent === "Asked about: 1"`)
	p.fits()
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "Say so at each, or change it.")
	p.tap("button", "Keep it")
	p.step("panel")
	p.until(`document.querySelector("#panel .answer")?.textContent === "Can’t tell yet"`)
	p.fill("Row 1, height 2", "48")
	p.step("panel")
	p.until(`document.querySelector(".question") === null && document.getElementById("running").textContent.startsWith("1 of 1 cord")`)
	p.fill("Row 1, height 2", "4.8")
	p.until(`document.querySelector(".pad .ask").checkVisibility() && document.querySelector(".question input")?.checked === false`)
	p.tap("button", "Keep it")
	p.step("panel")
	p.until(`document.getElementById("running").textContent.includes("of 1 cord")`)
	p.press("button", "Save and make the sheet")
	assert.Contains(t, ask[string](p, `document.querySelector("main").textContent`), "Height 2 of row 1 is 4.8 in, where the others are about 48 in. Is that right? Answered: yes")
}

func (p *phone) typeDoubtful() {
	p.t.Helper()
	p.tap("label", "None")
	p.fill("Row 1, length", "24 ft")
	for i, h := range []string{"48", "4.8", "48", "48"} {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), h)
	}
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
}

func TestPhoneAnswersWhatIsAskedWithoutScripts(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.unscripted()
	p.open(d.takeOrder("1 cord") + "/measure")
	p.typeDoubtful()
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "Is this as you mean it?")
	p.tap("label", slippedBox)
	p.press("button", "Save and make the sheet")
	assert.Contains(t, ask[string](p, `document.querySelector("main").textContent`), "Height 2 of row 1 is 4.8 in, where the others are about 48 in. Is that right? Answered: yes")
}
