package web_test

import (
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
	"wellstowed/web"
)

// routeOf is the line of the access table that a request for the path meets.
func routeOf(table []web.Access, method, path string) (web.Access, bool) {
	given := strings.Split(path, "/")
	i := slices.IndexFunc(table, func(r web.Access) bool {
		parts := strings.Split(r.Path, "/")
		return r.Method == method && len(parts) == len(given) && !slices.ContainsFunc(parts, func(p string) bool {
			at := slices.Index(parts, p)
			return !strings.HasPrefix(p, ":") && p != given[at]
		})
	})
	if i < 0 {
		return web.Access{}, false
	}
	return table[i], true
}

// A driver and an auditor are shown no link and no button that would be refused them:
// every page they may open is opened, beginning at the first one, and whatever on it
// leads on is looked up in the access table.
func TestNothingShownIsRefused(t *testing.T) {
	d := withOwner(t)
	actingPages(d)
	d.saveShortTally(d.takeOrder("2 cords"))
	d.takeFor("Alma Reed", "1 cord", "tomorrow")
	d.putUp("June oak", "3 cords")
	d.buyersLink(1)
	d.planned()
	table := d.server.AccessTable()
	for role, who := range map[act.Role]*desk{act.Driver: d.phoneOf("Tam Birch", "driver"), act.Auditor: d.phoneOf("Iris Low", "auditor")} {
		opened := walkShown(t, who, role, table)
		assert.Greater(t, opened, 25, "%s", role)
	}
}

// walkShown opens what a person is led to, and gives how many pages that were.
func walkShown(t *testing.T, who *desk, role act.Role, table []web.Access) int {
	t.Helper()
	seen, next := map[string]bool{"/": true}, []string{"/"}
	for at := 0; at < len(next); at++ {
		page := next[at]
		a := who.get(page)
		require.Less(t, a.status, 400, "%s by %s", page, role)
		if a.doc == nil {
			continue
		}
		meet := func(method, to string) {
			path, _, _ := strings.Cut(to, "#")
			path, _, _ = strings.Cut(path, "?")
			if !strings.HasPrefix(path, "/") {
				return
			}
			r, there := routeOf(table, method, path)
			require.True(t, there, "%s %s on %s leads nowhere", method, path, page)
			if r.May != nil && !slices.Contains(r.May, role) {
				t.Errorf("%s on %s is shown to the %s and refused him", r.Method+" "+r.Path, page, role)
				return
			}
			if method == http.MethodGet && !seen[path] && !strings.HasSuffix(path, "pdf") {
				seen[path] = true
				next = append(next, to)
			}
		}
		a.doc.Find("a[href]").Each(func(_ int, s *selection) { meet(http.MethodGet, s.AttrOr("href", "")) })
		a.doc.Find("form[action]").Each(func(_ int, s *selection) {
			meet(strings.ToUpper(s.AttrOr("method", "get")), s.AttrOr("action", ""))
		})
		a.doc.Find("button[formaction]").Each(func(_ int, s *selection) { meet(http.MethodPost, s.AttrOr("formaction", "")) })
	}
	return len(next)
}

// What a page asks about the access table is in it: a route spelled wrong would hide
// something from everybody.
func TestPagesAskAboutRoutesThatAre(t *testing.T) {
	known := map[string]bool{}
	for _, r := range newDesk(t).server.AccessTable() {
		known[r.Method+" "+r.Path] = true
	}
	asked := regexp.MustCompile(`\.May "([^"]*)"`)
	files, err := filepath.Glob("pages/*.html")
	require.NoError(t, err)
	found := 0
	for _, name := range files {
		page, err := os.ReadFile(name)
		require.NoError(t, err)
		for _, m := range asked.FindAllStringSubmatch(string(page), -1) {
			found++
			assert.True(t, known[m[1]], "%s: %s", name, m[1])
		}
	}
	assert.Greater(t, found, 10)
}
