package web

import (
	"log/slog"
	"testing"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Every route the router knows stands in the access table, and the other way
// round; a route that takes a body has a limit and a form token.
func TestEveryRouteIsInTheAccessTable(t *testing.T) {
	s, err := New(Config{Clock: time.Now, Log: slog.Default()})
	require.NoError(t, err)
	table := map[string]route{}
	for _, r := range s.routes() {
		table[r.method+" "+r.path] = r
		if r.method == fiber.MethodPost {
			assert.Positive(t, r.body, "%s has no body limit", r.path)
			if !r.takesFiles() {
				assert.LessOrEqual(t, r.body, tallyBytes, "%s", r.path)
			}
			assert.Less(t, r.body, bodyLimit, "%s", r.path)
			assert.True(t, r.csrf, "%s takes a form without a token", r.path)
		} else {
			assert.Zero(t, r.body, "%s takes a body", r.path)
		}
	}
	known := map[string]bool{}
	for _, r := range s.app.GetRoutes(false) {
		method := r.Method
		if method == fiber.MethodHead {
			method = fiber.MethodGet // the router answers HEAD by the GET of the same path
		}
		key := method + " " + r.Path
		known[key] = true
		assert.Contains(t, table, key, "a route that is not in the access table")
	}
	assert.Len(t, known, len(table))
}

func TestEveryPageParses(t *testing.T) {
	pages, err := loadViews()
	require.NoError(t, err)
	for _, name := range []string{
		"order_list", "order_form", "order_show", "load_form", "receipt_show", "measure", "sheet_show", "guide", "buying", "case_list", "case_form", "case_show", "case_seller", "case_link", "case_tally", "brought_show", "shop_form", "seal_show", "message", "again", "storage", "trips", "winter", "wood_show", "moisture_form", "batch_list", "batch_form", "batch_show", "audit_list", "audit_form", "audit_show", "measurer_wait",
	} {
		require.Contains(t, pages, name)
		assert.NotNil(t, pages[name].Lookup("main"), name)
	}
}

func TestStyleIsSmall(t *testing.T) {
	files, err := loadAssets()
	require.NoError(t, err)
	assert.Less(t, len(files["style.css"].content), 10_000)
	assert.Less(t, len(files["board.css"].content), 3_000)
}
