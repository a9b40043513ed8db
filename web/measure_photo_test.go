package web_test

import (
	"encoding/json"
	"fmt"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/testdata/photo"
)

// A shot is a rendered photo in a file, and where in it what is tapped is.
type shot struct {
	file   string
	row    photo.Row
	camera photo.Camera
}

func newShot(t *testing.T) shot {
	t.Helper()
	random := rand.New(rand.NewPCG(16, 5))
	s := shot{row: photo.NewRow(random, 46), file: filepath.Join(t.TempDir(), "stack.jpg")}
	s.camera = photo.Snap(random, s.row)
	s.camera.Width, s.camera.Height, s.camera.Focal = 1600, 1200, s.camera.Focal*0.4
	file, err := os.Create(s.file)
	require.NoError(t, err)
	require.NoError(t, jpeg.Encode(file, photo.Paint(s.camera, s.row), nil))
	require.NoError(t, file.Close())
	return s
}

// taps are the feet and tops of the sticks, then the outline: both lower corners, and its top
// from left to right.
func (s shot) taps(along int) (spots []photo.Spot) {
	for side := range s.row.Feet {
		spots = append(spots, s.row.Feet[side], s.row.Heads[side])
	}
	spots = append(spots, photo.Spot{X: s.row.Length}, photo.Spot{})
	for i := range along {
		spots = append(spots, s.row.Top(s.row.Length*float64(i)/float64(along-1)))
	}
	return spots
}

// seen is where a spot is in the picture as the page shows it, from its upper left corner.
func (p *phone) seen(s shot, at photo.Spot) (x, y float64) {
	box := ask[[4]float64](p, `(() => { const b = document.querySelector(".stage").getBoundingClientRect(); return [b.left, b.top, b.width, b.height]; })()`)
	px, py := s.camera.See(at)
	return box[0] + px/float64(s.camera.Width)*box[2], box[1] + py/float64(s.camera.Height)*box[3]
}

// From the photo to the answer on a phone: every tap and every key is counted.
func TestPhoneReadsARowFromAPhoto(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	s := newShot(t)
	order := d.takeOrder("64 cu ft stacked")
	p.open(order + "/measure")
	p.tap("label", "None")
	p.tap("button", "On to the pieces")
	for _, piece := range []string{"16", "15 1/2", "16 1/4", "15 3/4", "16 1/2"} {
		p.onPad(piece)
	}
	p.key("next")
	taps := 0
	tap := func(act func()) { taps++; act() }
	tap(func() { p.tap("button", "Read this row from a photo") })
	tap(func() {
		require.NoError(t, chromedp.Do(p.ctx, chromedp.SetUploadFiles(chromedp.CSS(`.from-photo input[type=file]`), []string{s.file})))
	})
	p.until(`document.querySelector(".stage svg").getAttribute("viewBox") === "0 0 1600 1200"`)
	for i, at := range s.taps(7) {
		if i == 3 {
			p.shotAsIs("photo-fourth")
		}
		tap(func() {
			x, y := p.seen(s, at)
			require.NoError(t, chromedp.Do(p.ctx, chromedp.MouseClickXY(x, y)))
		})
		p.until(fmt.Sprintf(`document.querySelectorAll(".dots i").length === %d`, i+1))
	}
	tap(func() { p.tap("button", "12 ft") })
	tap(func() { p.tap("label", "How tall the sticks are") })
	for _, key := range append([]string{"6", "0", "next"}, strings.Split(fmt.Sprint(math.Round(s.row.Between)), "")...) {
		tap(func() { p.key(key) })
	}
	p.until(`document.querySelector(".straight .lead").textContent.includes("ft³")`)
	p.shotAsIs("photo-typed")
	p.key("next")
	ask[bool](p, `(document.querySelector(".from-photo h2").scrollIntoView(), true)`)
	p.shotAsIs("photo-answer")
	holds := ask[string](p, `document.querySelector(".straight .lead").textContent`)
	held, err := strconv.ParseFloat(strings.Fields(holds)[0], 64)
	require.NoError(t, err, holds)
	assert.InDelta(t, s.row.Area()*15.9/1728, held, 0.05*held, "by the renderer")
	assert.LessOrEqual(t, taps, 25, "from the photo to the answer")
	t.Logf("%d taps", taps)
	p.fits()
	p.takesAnother(s)

	p.tap("button", "Use this face")
	p.tap("button", "On to the answer")
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "its face read from a photo")
	var kept []struct{ SHA256 string }
	require.NoError(t, json.Unmarshal([]byte(d.getJSON(order+"/photos").body), &kept))
	require.Len(t, kept, 1, "the picture went up before the readings were saved")
	assert.Contains(t, d.getJSON("/sheets/1").body, kept[0].SHA256)
	assert.Contains(t, d.paper("/sheets/1/pdf"), "Row 1 was read from it")
}

// takesAnother begins a second row by a photo of its own, of which nothing of the first one's
// is shown, and takes it away again.
func (p *phone) takesAnother(s shot) {
	p.t.Helper()
	ask[bool](p, `(document.querySelector("button[value='row+']").click(), true)`)
	p.until(`document.getElementById("row-2") !== null`)
	ask[bool](p, `(document.querySelector("#row-2 [data-way=photo]").click(), true)`)
	assert.Equal(p.t, "row-2", ask[string](p, `document.querySelector("label[for=picture-2]").closest(".row").id`), "its own picture")
	assert.False(p.t, ask[bool](p, `document.querySelector("#row-2 .straight").checkVisibility()`), "the first row's face isn't shown here")
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.SetUploadFiles(chromedp.CSS(`#row-2 input[type=file]`), []string{s.file})))
	p.until(`document.querySelector("#row-2 .stage svg").getAttribute("viewBox") === "0 0 1600 1200"`)
	assert.Equal(p.t, 2, ask[int](p, `document.querySelectorAll("#row-2 .stage canvas").length`), "the picture and the magnifier")
	assert.Zero(p.t, ask[int](p, `document.querySelectorAll("#row-2 .dots i").length`))
	ask[bool](p, `(document.getElementById("row-2").remove(), history.replaceState(null, "", "#row-1"), dispatchEvent(new HashChangeEvent("hashchange")), true)`)
}

// Without scripts the photo is kept with the order first, and each press on it is a point.
func TestARowIsReadFromAPhotoWithoutScripts(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("64 cu ft stacked")
	s := newShot(t)
	file, err := os.ReadFile(s.file)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, d.sendPhoto(order+"/photos", "stack", file).follow().status)
	p := d.get(order + "/measure").choose("None")
	for i, piece := range []string{"16", "15 1/2", "16 1/4", "15 3/4", "16 1/2"} {
		p.fill(fmt.Sprintf("Piece %d", i+1), piece)
	}
	p = p.press("Read this row from a photo")
	require.Equal(t, http.StatusOK, p.status, p.text())
	option := p.doc.Find(`select[name="stack.rows[0].photo.sha"] option`).Last()
	p.values.Set("stack.rows[0].photo.sha", option.AttrOr("value", ""))
	p = p.press("Show this photo")
	for i, at := range s.taps(9) {
		button := p.doc.Find(`input[type=image]`)
		require.Equal(t, 1, button.Length(), p.text())
		if i == 1 {
			assert.Contains(t, p.text(), "Tap the top of the left stick")
		}
		x, y := s.camera.See(at)
		wide, err := strconv.ParseFloat(button.AttrOr("width", ""), 64)
		require.NoError(t, err)
		for axis, px := range map[string]float64{".x": x, ".y": y} {
			p.values.Set(button.AttrOr("name", "")+axis, fmt.Sprint(math.Round(px*wide/1600)))
		}
		p = p.d.do(formRequest(strings.Split(button.AttrOr("formaction", ""), "#")[0], p.values))
		require.Equal(t, http.StatusOK, p.status, p.text())
		p.values.Del(button.AttrOr("name", "")) // no browser sends a picture that wasn't pressed
	}
	p = p.fill("How tall the sticks are", "60").fill("How far apart they stand", fmt.Sprint(math.Round(s.row.Between))).fill("How far away the photo was taken", "12 ft")
	p = p.press("Show the answer")
	require.Equal(t, http.StatusOK, p.status, p.text())
	p.values.Del("stack.rows[0].photo.tap")
	sheet := p.press("Save and make the sheet").follow()
	require.Equal(t, http.StatusOK, sheet.status, sheet.text())
	assert.Contains(t, d.getJSON("/sheets/1").body, option.AttrOr("value", "-"))
	assert.Contains(t, d.paper("/sheets/1/pdf"), "Row 1 was read from it")
}
