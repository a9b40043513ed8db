package web_test

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// key taps a key of the pad.
func (p *phone) key(keys ...string) {
	p.t.Helper()
	for _, k := range keys {
		require.NoError(p.t, chromedp.Do(p.ctx, chromedp.Click(chromedp.CSS(fmt.Sprintf(`.pad [data-key=%q]`, k)))), k)
	}
}

// onPad types a length as the pad has it, a key a word, and taps Next.
func (p *phone) onPad(text string) {
	p.t.Helper()
	for _, word := range strings.Fields(text) {
		if strings.ContainsAny(word, "/") || word == "ft" || word == "in" || word == "m" || word == "cm" {
			p.key(word)
			continue
		}
		p.key(strings.Split(word, "")...)
	}
	p.key("next")
}

// step goes to a step of the form as a link to it does.
func (p *phone) step(id string) {
	p.t.Helper()
	ask[string](p, `location.hash = "#`+id+`"`)
}

func TestPhoneMeasuresOnThePad(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/measure")
	ask[bool](p, `(() => { window.before = true; window.nexts = 0; document.addEventListener("click", (e) => { if (e.target.closest("[data-key=next]")) window.nexts++; }); return true; })()`)
	p.shotAsIs("start")
	tallest := 0.0
	tall := func() {
		p.fits()
		tallest = max(tallest, ask[float64](p, `document.documentElement.scrollHeight / innerHeight`))
	}
	tall()
	ask[bool](p, `(() => { document.querySelector("form.typing, main form[data-live]").addEventListener("answered", () => { window.answered = true; }); return true; })()`)
	p.tap("label", "None")
	p.until(`window.answered`)
	assert.Equal(t, "No answer yet", ask[string](p, `document.getElementById("running").textContent`), "nobody is told what is still to be read")
	p.tap("button", "On to the pieces")
	for _, piece := range []string{"16", "15 1/2", "16 1/4", "15 3/4", "16 1/2"} {
		p.onPad(piece)
	}
	tall()
	p.shotAsIs("pieces")
	p.key("next")
	for r, row := range [][]string{{"8 ft", "48", "47", "48 1/2", "46 1/2", "47 1/2"}, {"7 ft 11", "47", "48", "46", "47 1/2", "46 1/2"}, {"8 ft 1/2", "46 1/2", "45", "46", "44 1/2", "45"}} {
		for i, reading := range row {
			p.onPad(reading)
			if i < 4 {
				assert.Zero(t, ask[float64](p, `scrollY`), "the page stays where it is: row %d, reading %d", r+1, i)
			}
			if i == 2 {
				p.shotAsIs(fmt.Sprintf("row-%d", r+1))
				tall()
			}
		}
		if r == 0 {
			p.key("next")
		}
	}
	p.shotAsIs("row-4")
	p.key("next")
	p.shotAsIs("how")
	tall()
	p.tap("button", "On to the answer")
	p.until(`document.getElementById("running").textContent.includes("0.97 of 1 cord")`)
	p.shotAsIs("answer")
	assert.True(t, ask[bool](p, `window.before`), "one page was loaded")
	assert.LessOrEqual(t, ask[int](p, `window.nexts`), 26, "taps on Next for 3 rows of 5 heights and 5 pieces")
	assert.LessOrEqual(t, tallest, 2.0, "no step is higher than two screens")
	t.Logf("%d taps on Next, %d fields with something in them, one load, the highest step %.2f screens", ask[int](p, `window.nexts`),
		ask[int](p, `[...document.querySelectorAll(".length input")].filter((f) => f.value && f.name.startsWith("stack.")).length`), tallest)
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "0.97")
}

// A question about a piece comes up once the row is being read: it is answered on the spot,
// and the reading goes on where it was left.
func TestPadAsksAboutAReadingOfBefore(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open(d.takeOrder("1 cord") + "/measure")
	assert.False(t, ask[bool](p, `document.getElementById("apart_some").checkVisibility()`), "nothing is asked about wood that isn't anywhere else")
	p.tap("label", "None")
	p.tap("button", "On to the pieces")
	for _, piece := range []string{"16", "96", "16"} {
		p.onPad(piece)
	}
	p.key("next")
	held := `document.querySelector(".pad .name").textContent`
	p.key("next")
	assert.Contains(t, ask[string](p, held), "length", "a stack has a row: an empty one isn't read")
	assert.Equal(t, "Next", ask[string](p, `document.querySelector(".pad .next").textContent`))
	p.onPad("8 ft")
	p.key("4", "8")
	p.until(`document.querySelector(".pad .ask").checkVisibility()`)
	assert.Contains(t, ask[string](p, `document.querySelector(".pad .ask .lead").textContent`), "Piece 2 is")
	p.tap("button", "Read it again")
	assert.Contains(t, ask[string](p, held), "Piece 2")
	p.onPad("16")
	assert.Contains(t, ask[string](p, held), "height 1", "back to the height that was being typed")
	assert.Equal(t, "48", ask[string](p, `document.getElementById("stack.rows[0].heights[0]").value`))
	assert.Equal(t, 1, ask[int](p, `document.querySelectorAll(".in").length`), "one box is marked")
}
