package main

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// axe is where `npm ci` in testdata/axe puts the checker.
const axe = "../../testdata/axe/node_modules/axe-core/axe.min.js"

// axeRun runs it by the success criteria of WCAG 2.2 A and AA.
const axeRun = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"]})
	.then((r) => JSON.stringify(r.violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => v.id + ": " + n.target.join(" ") + ": " + n.html.slice(0, 160)))))`

// Each page of the demonstration is looked at once, on a phone by day in English and at a
// desk in the dark in Spanish, and the measuring page at each of its steps. The checker finds what
// TestEveryPageCanBeUsedByAnybody doesn't look for: roles and their states, names as they are
// computed, lists, tables, controls inside controls, areas that scroll.
func TestPagesAreForEveryone(t *testing.T) {
	script, err := os.ReadFile(axe)
	toolOr(t, err, "axe-core is not installed (npm ci in testdata/axe):")
	chromium(t)
	c, _ := crawlDemo(t)
	paths := pagesOnce(t, c)
	assert.Greater(t, len(paths), 40, "pages")
	for _, row := range []struct {
		name   string
		width  int64
		scheme string
		tongue string
	}{{"phone", 390, "light", orders.English}, {"desk", 1280, "dark", orders.Spanish}} {
		t.Run(row.name, func(t *testing.T) {
			b := bareBrowser(t, c.base)
			// As high as most pages, so that no bar at its foot lies over a link.
			require.NoError(t, chromedp.Do(b.ctx, chromedp.EmulateViewport(row.width, 4000)))
			b.paint(row.scheme)
			require.NoError(t, chromedp.Do(b.ctx, chromedp.Navigate(b.base+"/how-to-measure")))
			look[any](b, `document.cookie = "language=`+row.tongue+`;path=/"; true`)
			for _, path := range paths {
				require.NoError(t, chromedp.Do(b.ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(b.base+path)), path)
				look[any](b, string(script)+"\n;true")
				said := look[string](b, axeRun)
				var found []string
				require.NoError(t, json.Unmarshal([]byte(said), &found))
				assert.Empty(t, found, path)
				assert.Equal(t, row.tongue, look[string](b, "document.documentElement.lang"), path)
			}
		})
	}
}

// aValue is what differs between the addresses of one kind of page.
var aValue = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}|\b\d+\b|\?.*`)

var aPaper = regexp.MustCompile(`[./](pdf|zip|working)(\?|$)`)

// pagesOnce are the addresses of the shop's pages, one of each kind, and the steps of
// measuring.
func pagesOnce(t *testing.T, c *crawler) []string {
	t.Helper()
	var paths []string
	kinds := map[string]bool{}
	c.read = func(name, _ string) {
		kind := aValue.ReplaceAllString(name, "N")
		if kinds[kind] || strings.HasSuffix(name, " as JSON") || aPaper.MatchString(name) {
			return
		}
		kinds[kind] = true
		paths = append(paths, name)
	}
	for _, from := range []string{"/", "/start", "/bought", "/measure", "/how-to-measure", "/shop", "/people", "/nothing-here"} {
		c.visit(from)
	}
	for _, step := range []string{"pieces", "row-1", "how-step", "rest"} {
		paths = append(paths, "/measure#"+step)
	}
	t.Logf("%d pages", len(paths))
	return paths
}
