package main

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

// axe is where `npm ci` in testdata/axe puts the checker.
const axe = "../../testdata/axe/node_modules/axe-core/axe.min.js"

// axeRun runs it by the success criteria of WCAG 2.2 A and AA.
const axeRun = `axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"]})
	.then((r) => JSON.stringify(r.violations.flatMap((v) => v.nodes.slice(0, 3).map((n) => v.id + ": " + n.target.join(" ") + ": " + n.html.slice(0, 160)))))`

// toolOr skips a test whose tool is missing, and fails it where all of them are to be had.
func toolOr(t *testing.T, err error, missing string) {
	t.Helper()
	if err == nil {
		return
	}
	if os.Getenv("CI") == "true" {
		t.Fatal(missing, err)
	}
	t.Skip(missing, err)
}

// Each page of the demonstration is looked at once, on a phone by day and at a desk in the
// dark, and the measuring page at each of its steps.
func TestPagesAreForEveryone(t *testing.T) {
	script, err := os.ReadFile(axe)
	toolOr(t, err, "axe-core is not installed (npm ci in testdata/axe):")
	browser, err := exec.LookPath("chromium")
	toolOr(t, err, "no chromium is installed:")
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	db := filepath.Join(t.TempDir(), "shop.db")
	service, painter := demoShop(t, db, set, "imperial", book)
	base := serveOn(t, db, service, painter)
	paths := pagesOnce(t, base, set)
	assert.Greater(t, len(paths), 40, "pages")
	for _, row := range []struct {
		name  string
		width int64
		dark  string
	}{{"phone", 390, "light"}, {"desk", 1280, "dark"}} {
		t.Run(row.name, func(t *testing.T) {
			ctx := aBrowser(t, browser, row.width, row.dark)
			for _, path := range paths {
				require.NoError(t, chromedp.Do(ctx, chromedp.Navigate("about:blank"), chromedp.Navigate(base+path)), path)
				_, err := chromedp.Run(ctx, chromedp.Evaluate[any](string(script)+"\n;true"))
				require.NoError(t, err, path)
				said, err := chromedp.Run(ctx, chromedp.Evaluate[string](axeRun, chromedp.EvalAwaitPromise))
				require.NoError(t, err, path)
				var found []string
				require.NoError(t, json.Unmarshal([]byte(said), &found))
				assert.Empty(t, found, path)
			}
		})
	}
}

// aBrowser is as high as most pages, so that no bar at its foot lies over a link.
func aBrowser(t *testing.T, path string, width int64, scheme string) context.Context {
	t.Helper()
	allocator, stop := chromedp.NewExecAllocator(context.Background(), append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox)...)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(func() { cancel(); stop() })
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(width, 4000)))
	_, err := chromedp.Call(ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	require.NoError(t, err)
	return ctx
}

// aValue is what differs between the addresses of one kind of page.
var aValue = regexp.MustCompile(`[0-9a-f]{8}-[0-9a-f-]{27}|\b\d+\b|\?.*`)

var aPaper = regexp.MustCompile(`[./](pdf|zip)(\?|$)`)

// pagesOnce are the addresses of the shop's pages, one of each kind, and the steps of
// measuring.
func pagesOnce(t *testing.T, base string, set rules.Set) []string {
	t.Helper()
	var paths []string
	kinds := map[string]bool{}
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	c := &crawler{t: t, set: set, base: base, client: &http.Client{Jar: jar}, seen: map[string]bool{}}
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
