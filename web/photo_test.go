package web_test

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// photoQuery is the example's first row as it is typed on the page.
func photoQuery(t *testing.T) url.Values {
	t.Helper()
	file, err := os.ReadFile("../testdata/example-photo.json")
	require.NoError(t, err)
	var doc struct {
		Stack struct {
			Rows []struct {
				Photo struct {
					References []struct{ Pixel []int }
					Outline    [][]int
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(file, &doc))
	photo := doc.Stack.Rows[0].Photo
	var taps []string
	for _, r := range photo.References {
		taps = append(taps, fmt.Sprintf("%d, %d", r.Pixel[0], r.Pixel[1]))
	}
	for _, p := range photo.Outline {
		taps = append(taps, fmt.Sprintf("%d, %d", p[0], p[1]))
	}
	return url.Values{"taps": {strings.Join(taps, "; ")}, "width": {"4000"}, "height": {"3000"}, "tall": {"60"}, "between": {"84.75"},
		"distance": {"14 ft"}, "proud": {"1"}, "plumb": {"level"}, "zoom": {"4"}, "pieces": {"16, 15 1/2, 16 1/4, 15 3/4, 16 1/2"}, "apart": {"none"}}
}

// By the renderer the face is 3550.18 square inches, which is 32.9 cubic feet of pieces
// that are 16 in long.
func TestARowIsMeasuredFromOnePhotoWithoutScripts(t *testing.T) {
	d := withShop(t)
	asked := photoQuery(t)
	answer := d.get("/photo?" + asked.Encode())
	require.Equal(t, http.StatusOK, answer.status, answer.body)
	assert.Contains(t, answer.text(), "That is a face of 24.8 sq ft")
	assert.Contains(t, answer.text(), "tapping points on the photo")
	asked.Set("sold", "64 cu ft stacked")
	assert.Contains(t, d.get("/photo?"+asked.Encode()).text(), "Short by")

	asked.Set("distance", "1 ft")
	asked.Set("pieces", "")
	refused := d.get("/photo?" + asked.Encode())
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status)
	for _, want := range []string{"How far away the photo was taken", "This is too short", "Lengths of pieces from all over the row"} {
		assert.Contains(t, refused.text(), want)
	}
	assert.Equal(t, "84.75", refused.labelled("How far apart they stand").AttrOr("value", ""), "what was typed is kept")
	asked = photoQuery(t)
	asked.Set("taps", "1, 2; 3, 4; 5")
	assert.Contains(t, d.get("/photo?"+asked.Encode()).text(), "Points in the picture")
}

// Whatever is typed for points is measured or refused, never an error of the program.
func TestAnyPointsAreMeasuredOrRefused(t *testing.T) {
	d := withShop(t)
	random := rand.New(rand.NewPCG(1, 16))
	for _, taps := range []string{"x", ";;;", "-", "1e9, 1e9", "9999999999999999999999, 1", "1,2,3;4", strings.Repeat("1, 1; ", 300)} {
		asked := photoQuery(t)
		asked.Set("taps", taps)
		assert.Equal(t, http.StatusUnprocessableEntity, d.get("/photo?"+asked.Encode()).status, taps)
	}
	for range 40 {
		var taps []string
		for range 4 + random.IntN(12) {
			taps = append(taps, fmt.Sprintf("%d, %d", random.IntN(4000), random.IntN(3000)))
		}
		asked := photoQuery(t)
		asked.Set("taps", strings.Join(taps, "; "))
		assert.Contains(t, []int{http.StatusOK, http.StatusUnprocessableEntity}, d.get("/photo?"+asked.Encode()).status, taps)
	}
}
