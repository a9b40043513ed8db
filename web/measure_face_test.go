package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What decides the result is asked before any reading, in the open, and answered by
// nobody but whoever reads.
func TestWhatDecidesIsAskedFirstAndNothingIsAnsweredBeforehand(t *testing.T) {
	d := withShop(t)
	for _, path := range []string{"/measure", "/measure?kind=load", "/measure?kind=bin", d.takeOrder("1 cord") + "/measure"} {
		p := d.get(path)
		for _, name := range []string{"apart", "top", "rounded", "tape_made", "stowed"} {
			radios := p.doc.Find(`input[type=radio][name="` + name + `"]`)
			require.GreaterOrEqual(t, radios.Length(), 2, "%s: %s", path, name)
			assert.Empty(t, p.values.Get(name), "%s: %s is answered beforehand", path, name)
			assert.Zero(t, radios.Closest("details").Length(), "%s: %s is folded away", path, name)
		}
		assert.Less(t, strings.Index(p.body, `name="apart"`), strings.Index(p.body, `name="stack.`), "%s: asked before the readings", path)
	}
}

func TestNotKnownIsAnAnswerThatHoldsShortBack(t *testing.T) {
	p := typeExample(withShop(t).get("/measure").fill("Sold", "1 cord"))
	assert.Contains(t, p.press("Show the answer").doc.Find("#running").Text(), "short")
	unsure := p.choose("Not known").press("Show the answer")
	require.Equal(t, http.StatusOK, unsure.status, "%s", unsure.text())
	assert.Contains(t, unsure.doc.Find("#running").Text(), "can’t tell yet")
	_, on := unsure.labelled("Not known").Attr("checked")
	assert.True(t, on, "what was chosen stays chosen")
}

// At the stack, gaps are counted by a tap each.
func TestPhoneCountsGapsByTaps(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/measure")
	p.fill("Sold", "1/2 cord")
	p.typeRow()
	p.tap("label", "Gaps counted")
	for range 3 {
		p.tap("button", "+1 gap")
	}
	assert.Equal(t, "3", ask[string](p, `document.getElementById("gaps.count").value`))
	p.fill("Pieces they were looked for among", "80")
	p.until(`document.getElementById("running").textContent.includes("0.33 of 1/2 cord")`)
	p.tap("button", "+1 gap")
	p.until(`document.getElementById("gaps.count").value === "4" && document.getElementById("running").textContent.includes("0.33 of 1/2 cord")`)
	p.fits()
}

// With scripting off the number is typed: a button that would do nothing is not there.
func TestPhoneTypesGapsWithoutScripts(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.unscripted()
	p.open("/measure")
	assert.False(t, ask[bool](p, `document.querySelector("[data-adds]").checkVisibility()`))
	p.fill("Sold", "1/2 cord")
	p.typeRow()
	p.tap("label", "Gaps counted")
	p.fill("Gaps that take a stick half as thick as an average piece", "3")
	p.fill("Pieces they were looked for among", "80")
	p.press("button", "Show the answer")
	assert.Contains(t, p.text(), "0.33 of 1/2 cord")
	assert.Equal(t, "3", ask[string](p, `document.getElementById("gaps.count").value`))
}
