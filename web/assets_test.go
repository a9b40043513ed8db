package web_test

import (
	"bytes"
	"compress/gzip"
	"net/http"
	"regexp"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var anImport = regexp.MustCompile(`(?m)^import .*"(.+)";$`)

// A browser may keep each script for good, since its address changes with it and with
// what it imports.
func TestEveryScriptThatAPageImportsMayBeKept(t *testing.T) {
	d := withShop(t)
	seen := map[string]bool{}
	var follow func(path string)
	follow = func(path string) {
		if seen[path] {
			return
		}
		seen[path] = true
		script := d.get(path)
		require.Equal(t, http.StatusOK, script.status, path)
		assert.Contains(t, script.header.Get("Content-Type"), "javascript", path)
		assert.Contains(t, script.header.Get("Cache-Control"), "immutable", path)
		for _, m := range anImport.FindAllStringSubmatch(script.body, -1) {
			follow(m[1])
		}
	}
	page := d.get("/measure")
	follow(page.doc.Find("script[type=module]").AttrOr("src", ""))
	assert.Greater(t, len(seen), 4, "the script is in parts")
	page.doc.Find("link[rel=stylesheet], link[rel=icon]").Each(func(_ int, l *goquery.Selection) { seen[l.AttrOr("href", "")] = true })
	sent := compressed(t, page.body)
	for path := range seen {
		sent += compressed(t, d.get(path).body)
	}
	t.Logf("the first view of the measuring page is %d bytes, compressed", sent)
	assert.LessOrEqual(t, sent, 60_000)
}

func compressed(t *testing.T, text string) int {
	t.Helper()
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	_, err := w.Write([]byte(text))
	require.NoError(t, err)
	require.NoError(t, w.Close())
	return b.Len()
}
