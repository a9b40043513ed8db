package main

import (
	"encoding/json"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

func TestRulesVerb(t *testing.T) {
	list := program(t, "", "rules")
	require.Equal(t, exitDone, list.code, list.err)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		code := set.Code
		assert.Contains(t, list.out, code+" ")
		one := program(t, "", "rules", code)
		require.Equal(t, exitDone, one.code, one.err)
		assert.Contains(t, one.out, "A reading of the law, not legal advice.", code)
		assert.Contains(t, one.out, "Wood is sold by", code)
		data := program(t, "", "rules", code, "--json")
		require.Equal(t, exitDone, data.code, data.err)
		set, err := rules.Parse([]byte(data.out))
		require.NoError(t, err, "what is printed is a file of one's own: "+code)
		assert.Equal(t, code, set.Code)
	}
	none := program(t, "", "rules", "atlantis")
	assert.Equal(t, exitRefused, none.code)
	assert.Contains(t, none.err, "accepted: california")
}

func TestARuleFileOfTheShopsOwn(t *testing.T) {
	file := filepath.Join(t.TempDir(), "valley.json")
	require.NoError(t, os.WriteFile(file, []byte(`{
 "code": "valley", "name": "The valley's ordinance", "edition": "2", "date": "2026-02-01",
 "extends": "us-model", "source": "town office", "status": "read",
 "barred": [{"name": "barrow", "source": "town office", "status": "read"}]
}`), 0o600))
	one := program(t, "", "rules", "valley", "--rules", file)
	require.Equal(t, exitDone, one.code, one.err)
	assert.Contains(t, one.out, "barrow")
	assert.Contains(t, one.out, "truckload", "with all of the set it extends")
	byEnv := programWith(t, map[string]string{"WELLSTOWED_RULES": file}, "", "rules")
	assert.Contains(t, byEnv.out, "valley")

	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), `"status": "read"}]`, `"status": "hearsay"}]`, 1)), 0o600))
	for _, args := range [][]string{{"rules", "--rules", file}, {"serve", "--demo", "--rules", file, "--listen", "127.0.0.1:0"}} {
		bad := program(t, "", args...)
		assert.Equal(t, exitRefused, bad.code, args)
		assert.Contains(t, bad.err, "valley.json: line 4: barred[0].status:", args)
		assert.Contains(t, bad.err, "hearsay", args)
	}
	assert.Equal(t, exitRefused, program(t, "", "rules", "--rules", file+".none").code)
}

func TestMeasureUnderRules(t *testing.T) {
	r := program(t, "", "measure", exampleShort, "--under", "massachusetts")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Measured      123.2 ft³ stacked")
	assert.Equal(t, exitRefused, program(t, "", "measure", exampleShort, "--under", "atlantis").code)
}

// A rule set of the shop's own, from its file to the receipt: it extends the model law
// with loose wood, a barred term and a field that the receipt must hold.
func TestARuleFileFromEndToEnd(t *testing.T) {
	file := filepath.Join(t.TempDir(), "valley.json")
	require.NoError(t, os.WriteFile(file, []byte(`{
 "code": "valley", "name": "The valley's ordinance", "edition": "2", "date": "2026-02-01",
 "extends": "us-model", "source": "town office", "status": "read",
 "units": [{"name": "cubic foot", "unit": "cubic-foot", "basis": "loose", "source": "town office, on loose wood", "status": "read"},
  {"name": "cubic foot", "unit": "cubic-foot", "basis": "ranked", "source": "town office", "status": "read"}],
 "barred": [{"name": "barrow", "source": "town office", "status": "read"}],
 "required": [{"code": "seasoning", "name": "green or dry", "source": "town office", "status": "read"}]
}`), 0o600))
	book, err := ruleBook(file)
	require.NoError(t, err)
	set, err := book.Get("valley")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	t.Cleanup(func() { db.Close() })
	painter, err := receipts.New()
	require.NoError(t, err)
	service := orders.New(db, painter, testNow, orders.UnderRules(book))
	c := &crawler{t: t, set: set, base: serveOn(t, path, service, painter), client: &http.Client{}, seen: map[string]bool{}}

	send := func(path, body string) (int, string) {
		req, err := http.NewRequestWithContext(t.Context(), http.MethodPost, c.base+path, strings.NewReader(body))
		require.NoError(t, err)
		req.Header.Set("Content-Type", "application/json")
		req.Header.Set("Accept", "application/json")
		res, err := c.client.Do(req)
		require.NoError(t, err)
		defer res.Body.Close()
		text, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		return res.StatusCode, string(text)
	}
	status, text := send("/shop", `{"version": 1, "name": "Alder Bend Firewood", "address": "2 Kiln Road", "zone": "America/New_York", "currency": "USD", "rule_set": "valley"}`)
	require.Equal(t, http.StatusOK, status, text)
	_, page := c.fetch("/rules/valley", "text/html")
	for _, says := range []string{"The valley&#39;s ordinance", "The shop sells under these rules.", "Cubic foot, thrown loose", "Read: town office, on loose wood", "truckload", "barrow"} {
		assert.Contains(t, string(page), says)
	}

	order := func(quantity, species, seasoning string) (int, string) {
		body := `"customer_name": "Ada Quill", "customer_address": "7 Ferry Lane", "quantity": "` + quantity + `", "species": "` + species + `",
			"piece_length": "16 in", "seasoning": "` + seasoning + `", "price_total": "210"}`
		var read struct{ Confirmed string }
		if status, text := send("/orders/price", "{"+body); status == http.StatusOK {
			require.NoError(t, json.Unmarshal([]byte(text), &read))
		}
		return send("/orders", `{"confirmed": "`+read.Confirmed+`", `+body)
	}
	status, text = order("180 cu ft", "red oak", "green")
	require.Equal(t, http.StatusUnprocessableEntity, status)
	assert.Contains(t, text, "stacked or loose?", "both are sold, so it is asked")
	status, text = order("64 cu ft stacked", "a barrow of oak", "green")
	require.Equal(t, http.StatusUnprocessableEntity, status)
	assert.Contains(t, text, `"code":"barred"`)
	var taken orders.Order
	status, text = order("180 cu ft loose", "red oak", "")
	require.Equal(t, http.StatusCreated, status, text)
	require.NoError(t, json.Unmarshal([]byte(text), &taken))
	status, text = send("/orders/"+taken.ID+"/deliver", `{}`)
	require.Equal(t, http.StatusUnprocessableEntity, status)
	assert.Contains(t, text, "order.seasoning", "the receipt must hold it")
	_, text = order("180 cu ft loose", "red oak", "green")
	require.NoError(t, json.Unmarshal([]byte(text), &taken))
	status, text = send("/orders/"+taken.ID+"/deliver", `{}`)
	require.Equal(t, http.StatusCreated, status, text)
	_, receipt := c.fetch("/receipts/1", "text/html")
	assert.Contains(t, string(receipt), "180 ft³ loose")
	assert.Contains(t, string(receipt), "The valley&#39;s ordinance")
	_, paper := c.fetch("/receipts/1/pdf", "application/pdf")
	if printed := pdfText(t, paper); printed != "" {
		assert.Contains(t, strings.Join(strings.Fields(printed), " "), "Issued under: The valley's ordinance, edition 2", "the paper names its rules")
	}
	shown := program(t, "", "verify", "--db", path)
	assert.Equal(t, exitDone, shown.code, shown.err)
}

// Every item that is missing or without a source is told, each with its line.
func TestRulesCheck(t *testing.T) {
	dir := t.TempDir()
	bad := filepath.Join(dir, "bad.json")
	require.NoError(t, os.WriteFile(bad, []byte("{\n\"code\": \"x\", \"name\": \"X\",\n\"units\": [{\"name\": \"cord\", \"unit\": \"cord\", \"basis\": \"ranked\"}],\n\"barred\": [{\"name\": \"heap\", \"source\": \"town\", \"status\": \"hearsay\"}]\n}"), 0o600))
	r := program(t, "", "rules", "--check", bad)
	require.Equal(t, exitRefused, r.code)
	for _, want := range []string{"edition: is missing", "line 3: units[0].source: is missing", "line 3: units[0].status:", `line 4: barred[0].status: "hearsay" is none of`, "required: "} {
		assert.Contains(t, r.out, want)
	}
	good := filepath.Join(dir, "good.json")
	require.NoError(t, os.WriteFile(good, []byte(program(t, "", "rules", "maine", "--json").out), 0o600))
	r = program(t, "", "rules", "--check", good)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "no fault was found")
	assert.Contains(t, r.out, "are from memory.\nWhat it does not hold\n  ")
	none := filepath.Join(dir, "none.json")
	require.NoError(t, os.WriteFile(none, []byte("nonsense"), 0o600))
	assert.Contains(t, program(t, "", "rules", "--check", none).out, "line 1:")
}

// The table has a line for every set and names no term that any of them bars.
func TestRulesSideBySide(t *testing.T) {
	r := program(t, "", "rules", "--table")
	require.Equal(t, exitDone, r.code, r.err)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		assert.Contains(t, r.out, set.Code+" ")
		assert.Empty(t, set.BarredIn(r.out), set.Code)
	}
	assert.Contains(t, r.out, "in steps")
	assert.Contains(t, r.out, "seasoned: 6 months")
}
