package main

import (
	"maps"
	"net/http"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// aName is a part of an address that differs from record to record.
var aName = regexp.MustCompile(`:(id|number|code|photo)`)

// keptAddresses opens every address that pages linked to on 27 November 2026, as
// somebody does who kept one: each answers or leads on. testdata/links.txt lists them,
// with what differs from record to record as a name; of the records that the crawler saw
// one has to answer, since not every page is open to each.
func (c *crawler) keptAddresses(t *testing.T) {
	list, err := os.ReadFile("testdata/links.txt")
	require.NoError(t, err)
	kept := strings.Fields(string(list))
	require.Greater(t, len(kept), 100)
	for _, address := range kept {
		tried := c.likely(address)
		answered := slices.ContainsFunc(tried, func(path string) bool { return c.status(path) < http.StatusBadRequest })
		assert.True(t, answered, "%s: nothing answers where pages once led, of %d tried", address, len(tried))
	}
}

// likely are addresses of that form, with the names of records that the crawler saw in
// the same place: behind the same part of an address.
func (c *crawler) likely(address string) []string {
	found := []string{""}
	rest := address
	for at := aName.FindStringIndex(rest); at != nil; at = aName.FindStringIndex(rest) {
		before := rest[:at[0]]
		var longer []string
		for _, start := range found {
			for _, name := range c.namesAfter(start + before) {
				longer = append(longer, start+before+name)
			}
		}
		found, rest = longer, rest[at[1]:]
	}
	for i := range found {
		found[i] += rest
	}
	return found
}

// namesAfter are what follows a beginning in the addresses that the crawler saw; in a
// query, what follows the same question anywhere.
func (c *crawler) namesAfter(beginning string) []string {
	if _, query, asks := strings.Cut(beginning, "?"); asks {
		beginning = query
	}
	names := map[string]bool{}
	for seen := range c.seen {
		if _, after, has := strings.Cut(seen, beginning); has {
			name, _, _ := strings.Cut(strings.FieldsFunc(after+"/", func(r rune) bool { return strings.ContainsRune("/?&", r) })[0], "#")
			names[name] = name != "new"
		}
	}
	maps.DeleteFunc(names, func(_ string, is bool) bool { return !is })
	return slices.Sorted(maps.Keys(names))
}

func (c *crawler) status(path string) int {
	req, err := http.NewRequestWithContext(c.t.Context(), http.MethodGet, c.base+path, nil)
	require.NoError(c.t, err)
	req.Header.Set("Accept", "text/html,application/pdf")
	res, err := c.client.Do(req)
	require.NoError(c.t, err)
	require.NoError(c.t, res.Body.Close())
	return res.StatusCode
}
