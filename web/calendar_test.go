package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// One's link is shown once, gives the deliveries without a sign-in, ends when another is made or it
// is withdrawn, and its code is in no log.
func TestACalendarReadsDeliveriesByALink(t *testing.T) {
	d := withShop(t)
	d.takeFor("Zephyrine Ostrak", "1 cord", "tomorrow morning")
	page := d.get("/calendar")
	assert.Contains(t, page.text(), "No name, phone number, price or note is in it.")
	made := page.inForm("/calendar").press("Make a link")
	require.Equal(t, http.StatusCreated, made.status, made.body)
	assert.Contains(t, made.text(), "Only this computer can open these pages", "there is no public address")
	link := made.doc.Find(`a[href^="/deliveries/"]`).AttrOr("href", "")
	require.Len(t, strings.TrimPrefix(link, "/deliveries/"), 26)
	feed := d.get(link)
	require.Equal(t, http.StatusOK, feed.status)
	assert.Equal(t, "text/calendar; charset=utf-8", feed.header.Get("Content-Type"))
	assert.Equal(t, "no-referrer", feed.header.Get("Referrer-Policy"))
	assert.Contains(t, feed.body, "BEGIN:VEVENT\r\n")
	assert.Contains(t, feed.body, "DTSTART:20261121T080000Z\r\n", "the shop’s zone is UTC")
	assert.NotContains(t, feed.body, "Ostrak")

	assert.NotContains(t, d.get("/calendar").body, link, "it is shown once")
	again := d.get("/calendar").inForm("/calendar").press("Make me a new link")
	newer := again.doc.Find(`a[href^="/deliveries/"]`).AttrOr("href", "")
	assert.Equal(t, http.StatusNotFound, d.get(link).status)
	require.Equal(t, http.StatusOK, d.get(newer).status)
	gone := d.get("/calendar").inForm("/withdraw").press("Withdraw this link")
	require.Equal(t, http.StatusSeeOther, gone.status, gone.body)
	for _, ended := range []string{link, newer, "/deliveries/AAAAAAAAAAAAAAAAAAAAAAAAAA", "/deliveries/x%00"} {
		assert.Equal(t, http.StatusNotFound, d.get(ended).status, ended)
	}
	assert.NotContains(t, d.log.String(), strings.TrimPrefix(newer, "/deliveries/"), "the code is in no log")
}
