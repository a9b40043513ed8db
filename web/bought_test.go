package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// typesAShortRow types a row that reads well short of a cord.
func (p *phone) typesAShortRow() {
	p.t.Helper()
	p.tap("label", "None")
	p.fill("Row 1, length", "18 ft")
	for i, h := range []string{"44", "45", "44", "43"} {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), h)
	}
	for i, piece := range []string{"16", "15.5", "16.25", "15.75", "16.5"} {
		p.fill(fmt.Sprintf("Piece %d", i+1), piece)
	}
}

// mailOf is the subject and the body of the e-mail that a page begins.
func mailOf(t *testing.T, href string) url.Values {
	t.Helper()
	mail, err := url.Parse(href)
	require.NoError(t, err)
	require.Equal(t, "mailto", mail.Scheme)
	return mail.Query()
}

// Somebody who is nobody's customer and has not signed in comes to the root, bought wood,
// and leaves with a message to the seller: a question a screen, at a phone's size.
func TestPhoneBuyerFromTheRootToAMessage(t *testing.T) {
	d := withOwner(t).another()
	p := newPhone(t, d)
	p.open("/")
	assert.Equal(t, "/start", ask[string](p, `location.pathname`))
	for _, who := range []string{"I’m selling", "I bought wood", "I’m checking for others"} {
		assert.Contains(t, p.text(), who)
	}
	p.shot("start")
	p.pressLink("I bought wood")
	assert.Contains(t, p.text(), "How is the wood lying?")
	assert.Equal(t, 6, ask[int](p, `document.querySelectorAll(".ways svg").length`))
	p.shot("bought-how")
	p.pressLink("In rows")
	assert.Equal(t, "A cord beside a person", ask[string](p, `document.querySelector("figure svg title").textContent`))
	p.fill("What were you sold?", "1 cord")
	p.shot("bought-sold")
	p.press("button", "Next: measure it")
	assert.Contains(t, p.text(), "Bought: 1 cord (128 ft³).")
	p.typesAShortRow()
	p.until(`document.getElementById("running").textContent.includes("short")`)
	p.press("button", "Is it all here?")
	p.shot("bought-answer")
	said := p.text()
	for _, says := range []string{"Short by", "How sure is this? 19 times in 20, wood that measures like this is between", "Speak to the seller first"} {
		assert.Contains(t, said, says)
	}
	p.press("button", "Write to the seller")
	p.shot("bought-message")
	message := ask[string](p, `document.getElementById("message").value`)
	assert.Contains(t, message, "You sold me 1 cord (128 ft³).\nStacked and measured it was")
	assert.Contains(t, message, "Row 1: length 18 ft; heights 44 in, 45 in, 44 in, 43 in\nPieces: 16 in, 15.5 in,")
	mail := func() url.Values {
		return mailOf(t, ask[string](p, `document.querySelector("[data-mail]").getAttribute("href")`))
	}
	assert.Equal(t, message, strings.ReplaceAll(mail().Get("body"), "\r\n", "\n"))
	p.fill("Your message", "Hello Odell")
	assert.Equal(t, "Hello Odell", mail().Get("body"), "the e-mail holds what was changed")
	assert.True(t, ask[bool](p, `!document.querySelector("[data-copy]").hidden`))
	assert.Equal(t, ask[bool](p, `!!navigator.share`), ask[bool](p, `!document.querySelector("[data-share]").hidden`), "where the phone can")
	p.tap("button", "Copy it")
	p.until(`!document.getElementById("copied").hidden`)
	assert.Zero(t, ask[int](p, `document.querySelectorAll("a[href^='/buying/case/new']").length`), "nothing leads a stranger to a refusal")
	p.press("button", "Back to the answer")
	p.press("button", "Change a reading")
	assert.Equal(t, "45", ask[string](p, find("label", "Row 1, height 2")+`.value`), "what was typed comes back")
}

// pressLink follows the link that holds the words.
func (p *phone) pressLink(words string) {
	p.t.Helper()
	ask[bool](p, fmt.Sprintf(`(() => { const b = [...document.querySelectorAll("main a b")].find((e) => e.textContent === %q); b.id = "pressed-words"; return true; })()`, words))
	p.press("b", words)
}

// Without a script each screen is a form or links, and words that name no measure are kept
// as they were said.
func TestBuyersWayWithoutScripts(t *testing.T) {
	d := withOwner(t).another()
	way, has := d.get("/bought").doc.Find(".ways a").First().Attr("href")
	require.True(t, has)
	sold := d.get(way)
	require.Equal(t, http.StatusOK, sold.status)
	require.Equal(t, "get", sold.form.AttrOr("method", ""))
	sold.fill("What were you sold?", "a truckload")
	form := d.get(sold.form.AttrOr("action", "") + "?" + sold.values.Encode())
	require.Equal(t, http.StatusOK, form.status)
	assert.Contains(t, form.text(), "Sold as “a truckload”: those words name no lawful measure.")
	asked := form.fill("Row 1, length", "not yet").press("Is it all here?")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Equal(t, "not yet", asked.labelled("Row 1, length").AttrOr("value", ""), "what was typed stays")
	filled := typeExample(form.fill("Row 1, length", ""))
	answer := filled.press("Is it all here?")
	require.Equal(t, http.StatusOK, answer.status, "%s", answer.text())
	for _, says := range []string{"Sold as “a truckload”", "How sure is this? 19 times in 20, wood that measures like this is between", "Ask the seller to write down the amount in cords.", "you know how much is here"} {
		assert.Contains(t, answer.text(), says)
	}
	assert.NotContains(t, answer.text(), "Short")
	message := answer.press("Write to the seller")
	require.Equal(t, http.StatusOK, message.status, "%s", message.text())
	text := message.doc.Find("#message").Text()
	assert.Contains(t, text, "You sold me wood as “a truckload”.")
	assert.Contains(t, text, "Could you write down for me how much it was meant to be?")
	assert.Contains(t, text, "Row 3: length 96 1/2 in;")
	assert.Equal(t, text, strings.ReplaceAll(mailOf(t, message.doc.Find("[data-mail]").AttrOr("href", "")).Get("body"), "\r\n", "\n"))
	assert.Contains(t, message.text(), "Nothing of this is kept here.")
	again := message.press("Back to the answer").press("Change a reading")
	assert.Equal(t, "96 1/2", again.labelled("Row 3, length").AttrOr("value", ""))
}

// Whoever runs the program finds the question from the board, and can keep a record of any
// words.
func TestTheOwnerFindsTheBuyersWay(t *testing.T) {
	d := withShop(t)
	assert.Equal(t, 1, d.get("/").doc.Find(`a[href="/start"]`).Length())
	start := d.get("/start")
	assert.Equal(t, "/", start.doc.Find(".who a").First().AttrOr("href", ""))
	answer := typeExample(d.get("/bought/measure?kind=rows&sold=a+truckload")).press("Is it all here?")
	message := answer.press("Write to the seller")
	keep := message.doc.Find(`a[href^="/buying/case/new"]`)
	require.Equal(t, 1, keep.Length(), message.text())
	assert.Equal(t, "a truckload", d.get(keep.AttrOr("href", "")).labelled("How much was bought").AttrOr("value", ""))
}

// Every way that wood lies is measured from the buyer's way and told how sure it is.
func TestBuyersWayForEveryKind(t *testing.T) {
	d := withShop(t)
	for n, c := range kindCases() {
		t.Run(fmt.Sprint(c.kind, n), func(t *testing.T) {
			answer := c.typed(d.get("/bought/measure?kind=" + c.kind + "&sold=1+cord")).press("Is it all here?")
			if asked := answer.doc.Find(".question input"); asked.Length() > 0 { // before anything is said
				require.Equal(t, http.StatusUnprocessableEntity, answer.status)
				for _, box := range asked.EachIter() {
					answer.values.Set(box.AttrOr("name", ""), box.AttrOr("value", ""))
				}
				answer = answer.press("Is it all here?")
			}
			require.Equal(t, http.StatusOK, answer.status, "%s", answer.text())
			assert.Regexp(t, "19 times in 20|[Ll]ikely", answer.text())
			assert.Equal(t, 1, answer.doc.Find("figure.gauge svg").Length(), "it is held against what was sold")
			assert.NotContains(t, answer.text(), "Say what you were sold", "it was said")
			assert.NotEmpty(t, answer.doc.Find("ol.next li").Text())
			message := answer.press("Write to the seller").doc.Find("#message").Text()
			assert.Contains(t, message, "My readings:\n")
			assert.Greater(t, strings.Count(message, "\n"), 4, message)
		})
	}
}
