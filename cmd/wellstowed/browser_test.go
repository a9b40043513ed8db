package main

import (
	"context"
	"net/http"
	"net/http/cookiejar"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

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

// crawlDemo is a crawler of the demonstration under the model rules, served on a listener, and
// the file that it is kept in. It has been nowhere yet.
func crawlDemo(t *testing.T) (c *crawler, db string) {
	t.Helper()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	db = filepath.Join(t.TempDir(), "shop.db")
	service, painter := demoShop(t, db, set, "imperial", book)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	return &crawler{t: t, set: set, base: serveOn(t, db, service, painter), client: &http.Client{Jar: jar}, seen: map[string]bool{}}, db
}

// A browser shows the pages of a real listener.
type browser struct {
	t    *testing.T
	ctx  context.Context
	base string
}

// newBrowser is a phone's.
func newBrowser(t *testing.T, base string) *browser {
	t.Helper()
	b := bareBrowser(t, base)
	require.NoError(t, chromedp.Do(b.ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile)))
	_, err := chromedp.Call(b.ctx, emulation.SetFocusEmulationEnabled, emulation.SetFocusEmulationEnabledParams{Enabled: true})
	require.NoError(t, err)
	return b
}

// bareBrowser is one that no size has been given yet.
func bareBrowser(t *testing.T, base string) *browser {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium(t)), chromedp.NoSandbox,
		chromedp.Flag("disable-background-networking", true))
	limited, cancelTime := context.WithTimeout(t.Context(), 4*time.Minute)
	allocator, cancelAllocator := chromedp.NewExecAllocator(limited, options...)
	ctx, cancel := chromedp.NewContext(allocator)
	t.Cleanup(func() { cancel(); cancelAllocator(); cancelTime() })
	return &browser{t, ctx, base}
}

// chromium is where the browser is.
func chromium(t *testing.T) (program string) {
	t.Helper()
	var err error
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if program, err = exec.LookPath(name); err == nil {
			return program
		}
	}
	toolOr(t, err, "no chromium is installed; install it to run the browser tests:")
	return ""
}

// paint shows pages in a colour scheme.
func (b *browser) paint(scheme string) {
	b.t.Helper()
	_, err := chromedp.Call(b.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
	require.NoError(b.t, err)
}

// look evaluates an expression in the page; a promise is waited for.
func look[T any](b *browser, expression string) T {
	b.t.Helper()
	got, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err)
	return got
}
