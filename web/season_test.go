package web_test

import (
	"archive/zip"
	"bytes"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSeasonAndItsBooks(t *testing.T) {
	d := withShop(t)
	assert.Contains(t, d.get("/season").text(), "Nothing delivered yet")
	d.handedOver("1 cord")
	p := d.get("/season")
	assert.Contains(t, p.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, p.text(), "0 to 13 days")
	assert.Equal(t, 1, p.doc.Find("figure svg").Length())
	sent := d.get("/season/books.zip?from=&to=")
	require.Equal(t, http.StatusOK, sent.status)
	assert.Contains(t, sent.header.Get("Content-Disposition"), ".zip")
	z, err := zip.NewReader(bytes.NewReader([]byte(sent.body)), int64(len(sent.body)))
	require.NoError(t, err)
	assert.Len(t, z.File, 5)
	wrong := d.get("/season/books.zip?from=2026-05-01&to=2026-04-01")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Contains(t, wrong.text(), "comes before the first day")
	assert.Equal(t, "2026-05-01", wrong.doc.Find("#from").AttrOr("value", ""), "what was typed is kept")
}

func TestSeasonFitsAPhone(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open("/season")
	p.shot("season")
	p.fits()
}
