package web_test

import (
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shot leaves a picture of the whole page to be looked at where SHOTS names a folder.
func (p *phone) shot(name string) {
	if os.Getenv("SHOTS") == "" {
		return
	}
	height := ask[int](p, `document.documentElement.scrollHeight`)
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.EmulateViewport(390, int64(height), chromedp.EmulateMobile)))
	p.shotAsIs(name)
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile)))
}

// shotAsIs leaves a picture of what is seen, as shot does.
func (p *phone) shotAsIs(name string) {
	dir := os.Getenv("SHOTS")
	if dir == "" {
		return
	}
	picture, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	require.NoError(p.t, err)
	require.NoError(p.t, os.WriteFile(filepath.Join(dir, name+".png"), picture, 0o600))
}

// put gives a field its value as a date picker would.
func (p *phone) put(id, value string) {
	p.t.Helper()
	ask[bool](p, `(() => { const e = document.getElementById(`+strconv.Quote(id)+`); e.value = `+strconv.Quote(value)+`;
		e.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
}

// measures reads what a plan with both faces and four lengths asks for.
func (p *phone) measures(link, height string) {
	p.t.Helper()
	p.open(link)
	for _, goal := range []string{"cord", "2/3", "85", "Sold", "due"} {
		assert.NotContains(p.t, p.text(), goal, "nothing tells the goal")
	}
	for i := range 4 {
		p.fill(fmt.Sprintf("Row 1, length %d", i+1), "16 ft")
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), height)
		p.put(fmt.Sprintf("stack.rows[0].back[%d]", i), height)
	}
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	for _, name := range []string{"rounded", "tape_made", "stowed"} {
		assert.Empty(p.t, ask[string](p, `document.querySelector("input[name=`+name+`]:checked").value`), "%s is answered by nobody else", name)
	}
	p.tap("label", "The mark below")
	p.tap("label", "Steel")
	assert.Zero(p.t, ask[int](p, `document.querySelectorAll("input[name=top]:checked").length`), "nor how the top was judged")
	assert.Empty(p.t, ask[string](p, `document.getElementById("tape").value`), "nor the mark that is read")
	p.tap("label", "with a straightedge")
	p.fill("Smallest mark read on the tape", "1/4")
	p.tap("label", "Gaps counted")
	p.put("gaps.pieces", "80")
	p.put("began", "2026-11-20T09:00")
	p.put("ended", "2026-11-20T09:30")
	p.fill("You measure as", "neighbour")
	p.fill("Maker of the tape", "none")
	p.fill("Its number", "7")
	p.tap("label", "Yes")
	p.put("checked_on", "2026-11-19")
	p.put("checked_by", "the county’s steel rule")
}

// heights37 is a height of 37 and some inches, which no group of a seal's code looks like.
const heights37 = `\b37\b`

// seals reads the readings back, seals them, and gives the code.
func (p *phone) seals() string {
	p.t.Helper()
	p.press("button", "Read it back")
	assert.Contains(p.t, p.text(), "ready to seal")
	for _, read := range []string{"The mark below", "Steel", "Gaps counted", "Smallest mark read on the tape", "with a straightedge"} {
		assert.Contains(p.t, p.text(), read)
	}
	p.shot("measurer-review")
	p.press("button", "Seal and hand in")
	assert.Contains(p.t, p.text(), "Sealed and handed in")
	assert.NotRegexp(p.t, heights37, p.text())
	p.shot("measurer-sealed")
	return ask[string](p, `document.querySelector(".seal").textContent`)
}

// blindAudit is an audit with two links, planned as the inspection procedure asks.
func (d *desk) blindAudit() (path, first, second string) {
	d.t.Helper()
	path = d.planned()
	amended := d.get(path+"?do=plan").inForm("/plan").set("lengths", "4").set("pieces", "5").set("faces", "both").set("reason", "the back can be reached")
	require.Equal(d.t, http.StatusSeeOther, amended.press("Amend the plan").status)
	return path, d.measurer(path, "Una Reed"), d.measurer(path, "Tobias Fenn")
}

func TestPhoneMeasuresBlindForAnAudit(t *testing.T) {
	d := withShop(t)
	path, first, second := d.blindAudit()
	p := newPhone(t, d)
	p.measures(first, "37.125")
	for range 3 {
		p.tap("button", "+1 gap")
	}
	assert.Equal(t, "3", ask[string](p, `document.getElementById("gaps.count").value`))
	p.fits()
	p.until(`document.getElementById("running").textContent.startsWith("4 of 4 heights, 4 of 4 heights of the back, 4 of 4 row lengths, 5 of 5 pieces")`)
	p.shot("measurer-form")
	p.press("button", "Save a draft")
	p.open(first)
	assert.Equal(t, "37.125", ask[string](p, `document.getElementById("stack.rows[0].back[3]").value`), "the draft is put back")
	seal := p.seals()
	assert.Zero(t, ask[int](p, `localStorage.length`), "nothing of it stays in the browser")
	p.open(first)
	assert.Contains(t, p.text(), seal)
	p.measures(second, "37.25")
	p.put("gaps.count", "2")
	p.seals()
	p.open(path)
	p.shot("audit-measured")
	assert.Contains(t, p.text(), seal)
	assert.NotRegexp(t, heights37, p.text())
}

func TestPhoneMeasuresBlindWithoutScripts(t *testing.T) {
	d := withShop(t)
	_, first, _ := d.blindAudit()
	p := newPhone(t, d)
	p.unscripted()
	p.measures(first, "37.125")
	assert.False(t, ask[bool](p, `document.querySelector("[data-adds]").checkVisibility()`), "a button that would do nothing is not there")
	p.put("gaps.count", "3")
	p.press("button", "Add two heights")
	assert.Equal(t, "", ask[string](p, `document.getElementById("stack.rows[0].back[5]").value`), "room for the back of each")
	p.press("button", "Add a row")
	p.press("button", "Remove last row")
	p.seals()
}

// More readings than the plan asks for go in without a page being loaded, and come back.
func TestPhoneMeasuresBlindAsMuchAsItTakes(t *testing.T) {
	d := withShop(t)
	_, first, _ := d.blindAudit()
	p := newPhone(t, d)
	p.measures(first, "37.125")
	p.put("gaps.count", "3")
	ask[bool](p, `window.before = true`)
	for i := range 2 {
		p.fill(fmt.Sprintf("Row 1, length %d", i+5), "16 ft")
		p.fill(fmt.Sprintf("Row 1, height %d", i+5), "37.5")
		p.put(fmt.Sprintf("stack.rows[0].back[%d]", i+4), "37.5")
		p.fill(fmt.Sprintf("Piece %d", i+6), "16")
	}
	assert.True(t, ask[bool](p, `window.before`), "no page was loaded")
	assert.Equal(t, "stack.rows[0].lengths[4]", ask[string](p, find("label", "Row 1, length 6")+`.name`))
	assert.False(t, ask[bool](p, `document.querySelector("button[value='heights+0']").checkVisibility()`), "no button is needed")
	p.until(`document.getElementById("running").textContent.startsWith("6 of 4 heights, 6 of 6 heights of the back, 6 of 4 row lengths, 7 of 5 pieces")`)
	p.press("button", "Save a draft")
	p.open(first)
	for _, id := range []string{"stack.rows[0].heights[5]", "stack.rows[0].back[5]"} {
		assert.Equal(t, "37.5", ask[string](p, `document.getElementById("`+id+`").value`), "the draft is put back")
	}
	p.seals()
}

// A single length grows too: its list begins behind it.
func TestPhoneMeasuresASingleLengthTwice(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open(d.measurer(d.planned(), "Una Reed"))
	p.fill("Row 1, length 1", "16 ft")
	p.fill("Row 1, length 2", "16 ft 1 in")
	assert.Equal(t, "stack.rows[0].lengths[0]", ask[string](p, find("label", "Row 1, length 2")+`.name`))
	p.until(`document.getElementById("running").textContent.includes("2 of 1 row lengths")`)
}
