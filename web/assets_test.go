package web_test

import (
	"net/http"
	"regexp"
	"testing"

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
	follow(d.get("/measure").doc.Find("script[type=module]").AttrOr("src", ""))
	assert.Greater(t, len(seen), 4, "the script is in parts")
}
