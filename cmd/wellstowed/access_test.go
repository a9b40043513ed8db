package main

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// auditPage looks at the page that is shown and gives what is wrong with it.
//
//go:embed testdata/access.js
var auditPage string

// TestEveryPageCanBeUsedByAnybody shows a page of every route there is, with the
// demonstration's data, in a phone's browser, light and dark, and holds each to what
// WCAG 2.2 asks: names of fields, contrast, and what TestPagesAreForEveryone doesn't look
// for: one order of headings, edges of fields that are seen, targets of 48 px, a focus that
// is seen, nothing off the side, a title of its own.
func TestEveryPageCanBeUsedByAnybody(t *testing.T) {
	t.Parallel()
	c, db := crawlDemo(t)
	c.visit("/")
	c.buyersLink()
	c.ownRecord()
	c.handsPages()
	t.Run("addresses of before", func(t *testing.T) { c.keptAddresses(t) })
	erased := c.erasedPages(db)
	c.seen["/rules/us-model"] = true // the crawler reads no set's own list
	b := newBrowser(t, c.base)
	titles := map[string]string{} // to the handler of the page that has it
	pages := onePerRoute(t, c)
	pages[erased] = "erased"
	for path, handler := range pages {
		require.NoError(t, chromedp.Do(b.ctx, chromedp.Navigate(b.base+path)), path)
		for _, scheme := range []string{"light", "dark"} {
			b.paint(scheme)
			for _, fault := range look[[]string](b, auditPage) {
				t.Errorf("%s, %s: %s", path, scheme, fault)
			}
		}
		title := look[string](b, `document.title`)
		if other := titles[title]; other != "" && other != handler {
			t.Errorf("%s has the title %q of another page, by %s", path, title, other)
		}
		titles[title] = handler
	}
	assert.Greater(t, len(titles), 25, "pages looked at")
}

// onePerRoute gives a page of each route that answers with one, to the name of its
// handler: of those the crawler saw, the first in the order of the alphabet.
func onePerRoute(t *testing.T, c *crawler) map[string]string {
	t.Helper()
	var source []byte
	for _, file := range []string{"routes.go", "people_routes.go"} {
		lines, err := os.ReadFile("../../web/" + file)
		require.NoError(t, err)
		source = append(source, lines...)
	}
	paths := map[string]string{"/nothing-here": "none", "/measure?kind=load": "load", "/measure?kind=heap": "heap"}
	missing := map[string]bool{} // handlers without a page
	for _, m := range regexp.MustCompile(`\{get, "([^"]+)", \w+, s\.(\w+)`).FindAllStringSubmatch(string(source), -1) {
		path, handler := m[1], m[2]
		if strings.HasSuffix(path, "pdf") || slices.Contains([]string{"assetShow", "healthShow", "workerShow", "manifestShow", "offlineCopyShow", "meShow", "booksSend", "calendarSend", "minuteShow", "trustShow", "trustFile", "auditPhotoFile", "auditPhotoShow", "orderPhotoFile", "orderPhotoShow", "beginNew", "sheetWorking"}, handler) {
			continue
		}
		if path = c.aPage(path, paths); path == "" {
			missing[handler] = !slices.Contains(slices.Collect(maps.Values(paths)), handler)
			continue
		}
		paths[path] = handler
		missing[handler] = false // the same page by another way
	}
	for handler, is := range missing {
		assert.False(t, is, "no page of the demonstration leads to %s", handler)
	}
	return paths
}

// aPage is a page of a route that the crawler saw and that is not among those there
// are, empty for none.
func (c *crawler) aPage(route string, paths map[string]string) string {
	if !strings.Contains(route, ":") {
		return route
	}
	whole := regexp.MustCompile("^" + regexp.MustCompile(`:\w+`).ReplaceAllString(route, `[^/?]+`) + "$")
	found := ""
	for seen := range c.seen {
		if whole.MatchString(seen) && paths[seen] == "" && (found == "" || seen < found) {
			found = seen
		}
	}
	return found
}

// handsPages visits what somebody who measures for an audit comes to by a link.
func (c *crawler) handsPages() {
	audit := regexp.MustCompile(`^/audits/[0-9a-f-]{36}(\?|$)`)
	for _, path := range slices.Sorted(maps.Keys(c.seen)) {
		if !audit.MatchString(path) {
			continue
		}
		_, body := c.fetch(path, "text/html")
		page, err := goquery.NewDocumentFromReader(bytes.NewReader(body))
		require.NoError(c.t, err)
		again, open := page.Find(`form[action$="/renew"]`).First().Attr("action")
		if !open {
			continue
		}
		var link struct{ Code string }
		require.NoError(c.t, json.Unmarshal(c.send(again, map[string]string{}), &link))
		require.NotEmpty(c.t, link.Code, again)
		c.visit("/audits/measuring/" + link.Code)
		return
	}
}
