package web_test

import (
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Where the shop's file is gone, what was typed comes back with what is wrong and one
// button; once the file is back the same form is saved, once.
func TestAFileThatIsGoneIsSaidAndTheFormComesBack(t *testing.T) {
	d := withShop(t)
	form := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Price per cord", "280")
	read := form.press("Read it back")
	require.NoError(t, os.Rename(d.path, d.path+".away"))
	refused := read.press(strings.TrimSpace(read.doc.Find("button.main").Text()))
	require.Equal(t, http.StatusServiceUnavailable, refused.status, refused.body)
	assert.Contains(t, refused.text(), "The shop’s file isn’t where it was")
	assert.Contains(t, refused.text(), "Ada Moss")
	assert.Equal(t, "60", refused.header.Get("Retry-After"))
	health := d.get("/healthz")
	assert.Equal(t, http.StatusServiceUnavailable, health.status)
	assert.Contains(t, health.body, "it was moved, deleted or replaced")
	program := d.postJSON("/waiting", `{"order":{"customer_name":"Bo Lund","quantity":"1 cord"}}`)
	assert.Equal(t, http.StatusServiceUnavailable, program.status)
	assert.Contains(t, program.body, "Nothing was saved")

	require.NoError(t, os.Rename(d.path+".away", d.path))
	assert.Equal(t, http.StatusOK, d.get("/healthz").status)
	require.Equal(t, http.StatusSeeOther, refused.press("Send again").status)
	assert.Contains(t, d.get("/orders").text(), "Ada Moss")
}
