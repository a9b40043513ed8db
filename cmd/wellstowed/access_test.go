package main

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"maps"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/PuerkitoBio/goquery"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

// auditPage looks at the page that is shown and gives what is wrong with it.
//
//go:embed testdata/access.js
var auditPage string

// TestEveryPageCanBeUsedByAnybody shows a page of every route there is, with the
// demonstration's data, in a phone's browser, light and dark, and holds each to what
// WCAG 2.2 asks: names of fields, order of headings, contrast, size of targets, a
// focus that is seen, nothing off the side, a title of its own.
func TestEveryPageCanBeUsedByAnybody(t *testing.T) {
	t.Parallel()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	db := filepath.Join(t.TempDir(), "shop.db")
	service, painter := demoShop(t, db, set, "imperial", book)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	c := &crawler{t: t, set: set, base: serveOn(t, db, service, painter), client: &http.Client{Jar: jar}, seen: map[string]bool{}}
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
			for _, fault := range b.audit(scheme) {
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
		if strings.HasSuffix(path, "pdf") || slices.Contains([]string{"assetShow", "healthShow", "workerShow", "manifestShow", "offlineCopyShow", "meShow", "booksSend", "calendarSend", "minuteShow", "trustShow", "trustFile", "auditPhotoFile", "auditPhotoShow"}, handler) {
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

// A browser is a phone's, on a real listener.
type browser struct {
	t    *testing.T
	ctx  context.Context
	base string
}

func newBrowser(t *testing.T, base string) *browser {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil && program == "" {
			program = found
		}
	}
	if program == "" {
		require.NotEqual(t, "true", os.Getenv("CI"), "no chromium is installed; CI needs it")
		t.Skip("no chromium is installed; install it to run the browser tests")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox,
		chromedp.Flag("disable-background-networking", true))
	limited, cancelTime := context.WithTimeout(t.Context(), 4*time.Minute)
	allocator, cancelAllocator := chromedp.NewExecAllocator(limited, options...)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(func() { cancel(); cancelAllocator(); cancelTime() })
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile)))
	_, err := chromedp.Call(ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	return &browser{t, ctx, base}
}

// audit shows the page in a colour scheme and gives what is wrong with it.
func (b *browser) audit(scheme string) []string {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	require.NoError(b.t, err)
	return look[[]string](b, auditPage)
}

// look evaluates an expression in the page.
func look[T any](b *browser, expression string) T {
	b.t.Helper()
	got, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression))
	require.NoError(b.t, err)
	return got
}
