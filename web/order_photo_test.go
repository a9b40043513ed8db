package web_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sendPhoto sends a photo by the form for it.
func (d *desk) sendPhoto(path, shows string, file []byte) *answer {
	d.t.Helper()
	token := d.get(path).inForm("/photos").values.Get("csrf")
	req := photoForm(d.t, token, "image/jpeg", file, "shows", shows)
	req.URL.Path, req.RequestURI = path, path
	return d.do(req)
}

// A photo of the load is kept with its order, shown where the order, its receipt and its
// measurement sheet are, and printed by the sheet that was made after it.
func TestAPhotoIsKeptWithItsOrder(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	path := order + "/photos"
	var original bytes.Buffer
	require.NoError(t, jpeg.Encode(&original, image.NewGray(image.Rect(0, 0, 30, 20)), nil))
	assert.Contains(t, d.get(path).text(), "No photo of this order is kept yet.")

	heic := d.sendPhoto(path, "load", []byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"))
	assert.Equal(t, http.StatusUnprocessableEntity, heic.status)
	assert.Contains(t, heic.text(), "It is in the format HEIC")
	assert.Contains(t, heic.text(), "the same photo as JPEG: choose JPEG")
	assert.Equal(t, "load", heic.inForm("/photos").values.Get("shows"), "what was chosen is kept")
	assert.Equal(t, http.StatusRequestEntityTooLarge, d.sendPhoto(path, "load", make([]byte, 13_000_000)).status)

	require.Equal(t, http.StatusSeeOther, d.sendPhoto(path, "load", original.Bytes()).status)
	page := d.get(path)
	shown := page.doc.Find("img.photo").AttrOr("src", "")
	require.NotEmpty(t, shown)
	assert.Equal(t, "image/jpeg", d.get(shown).header.Get("Content-Type"))
	assert.Equal(t, original.String(), d.get(strings.TrimSuffix(shown, "/shown")).body)
	assert.Contains(t, d.get(order).text(), "The load")

	again := d.sendPhoto(path, "stack", original.Bytes())
	assert.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Contains(t, again.text(), "The same photo is kept with this order already")

	require.Equal(t, http.StatusSeeOther, d.get(path).inForm("/drop").press("Remove it").status)
	assert.Zero(t, d.get(path).doc.Find("img.photo").Length())
}
