package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"net"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// ran is what a run of the program left.
type ran struct {
	code     int
	out, err string
}

// program runs the whole program in this process.
func program(t *testing.T, in string, args ...string) ran {
	t.Helper()
	return programWith(t, nil, in, args...)
}

func programWith(t *testing.T, env map[string]string, in string, args ...string) ran {
	t.Helper()
	return programAs(t, time.Now, env, in, args...)
}

// programAt runs it with a clock that stands still.
func programAt(t *testing.T, now time.Time, args ...string) ran {
	t.Helper()
	return programAs(t, func() time.Time { return now }, nil, "", args...)
}

func programAs(t *testing.T, clock func() time.Time, env map[string]string, in string, args ...string) ran {
	t.Helper()
	var out, errs bytes.Buffer
	m := machine{
		in: strings.NewReader(in), out: &out, err: &errs, clock: clock,
		env: func(name string) (string, bool) { text, ok := env[name]; return text, ok },
	}
	code := m.run(t.Context(), args)
	return ran{code, out.String(), errs.String()}
}

// makeShop writes the demonstration into a database file.
func makeShop(t *testing.T, path string) {
	t.Helper()
	file, err := demoFile()
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, file, 0o600))
}

// demoFile is a database with the demonstration, made once.
var demoFile = sync.OnceValues(func() (file []byte, err error) {
	path := filepath.Join(kept, "demo.db")
	if err := seedFile(path); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// seedFile writes the demonstration, with chains of its own, into a new file.
func seedFile(path string) error {
	db, err := store.Open(context.Background(), path)
	if err != nil {
		return err
	}
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	err = seedDemo(context.Background(), db, painter, testNow())
	return errors.Join(err, db.Close()) // closing writes the log into the file
}

const exampleShort = root + "/testdata/example-short.json"

// TestMeasurePrintsTheModelsFigures holds the printed JSON against the model's
// first worked example, which was computed apart from this program.
func TestMeasurePrintsTheModelsFigures(t *testing.T) {
	r := program(t, "", "measure", exampleShort, "--json")
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Model       int
		Volume      map[string]float64
		Uncertainty map[string]float64
		Finding     struct {
			Word        string
			Probability float64
		}
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	assert.Equal(t, 2, got.Model)
	assert.InDelta(t, 123.160786, got.Volume["cubic_feet"], 1e-6)
	assert.InDelta(t, 0.9621936374240452, got.Volume["cord"], 1e-12)
	assert.InDelta(t, 2.646746, got.Uncertainty["standard_cubic_feet"], 1e-6)
	assert.InDelta(t, 408.977, got.Uncertainty["degrees_of_freedom"], 1e-3)
	assert.InDelta(t, 1.965781, got.Uncertainty["coverage_factor"], 1e-6)
	assert.InDelta(t, 2.303559, got.Uncertainty["against_shortage_cubic_feet"], 1e-6)
	assert.InDelta(t, 5.202924, got.Uncertainty["expanded_cubic_feet"], 1e-6)
	assert.Equal(t, "short", got.Finding.Word)
	assert.InDelta(t, 0.0183649, got.Finding.Probability, 1e-7)
}

func TestMeasureForPeople(t *testing.T) {
	r := program(t, "", "measure", exampleShort)
	require.Equal(t, exitDone, r.code, r.err)
	first, _, _ := strings.Cut(r.out, "\n")
	assert.Contains(t, first, "Short by 0.04 cord")
	assert.Contains(t, r.out, "How sure is this?")
}

// A reading that is hardly meant is asked about before anything is said, until the tally
// says that it is.
func TestMeasureAsksFirst(t *testing.T) {
	doc := func(confirmed string) string {
		return `{"format":2,"sold":"1 cord",` + confirmed + `"stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"96 ft","heights":["48 in","48 in","48 in"]}]}}`
	}
	r := program(t, doc(""), "measure", "-")
	require.Equal(t, exitDone, r.code, r.err)
	first, _, _ := strings.Cut(r.out, "\n")
	assert.Equal(t, "Before this is relied on", first)
	assert.Contains(t, r.out, "Row 1 is 96 ft long. Is that right? In the other unit it would be 8 ft.")
	var got struct{ Questions []struct{ Key string } }
	j := program(t, doc(""), "measure", "-", "--json")
	require.NoError(t, json.Unmarshal([]byte(j.out), &got), j.out)
	require.Len(t, got.Questions, 2)
	keys, err := json.Marshal([]string{got.Questions[0].Key, got.Questions[1].Key})
	require.NoError(t, err)
	assert.NotContains(t, program(t, doc(`"confirmed":`+string(keys)+`,`), "measure", "-").out, "Before this is relied on")
}

func TestMeasureRefusesAndSaysWhy(t *testing.T) {
	for _, row := range []struct{ name, doc, says string }{
		{"a bare number", `{"format":1,"stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":[48]}]}}`, "48"},
		{"an unknown field", `{"format":1,"sould":"1 cord","stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":["48 in"]}]}}`, "sould"},
		{"not JSON", `eight feet`, "JSON"},
		{"nothing", ``, ""},
	} {
		r := program(t, row.doc, "measure", "-")
		assert.Equal(t, exitRefused, r.code, row.name)
		assert.Contains(t, r.err, row.says, row.name)
		r = program(t, row.doc, "measure", "-", "--json")
		assert.Equal(t, exitRefused, r.code, row.name)
		assert.Contains(t, r.out, `"error"`, row.name)
	}
}

func TestMeasurePrintsItsSchema(t *testing.T) {
	r := program(t, "", "measure", "--schema")
	require.Equal(t, exitDone, r.code, r.err)
	var schema map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &schema))
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", schema["$schema"])
	assert.Equal(t, exitRefused, program(t, "", "measure", "--schema", "x").code)
	assert.Equal(t, exitRefused, program(t, "", "measure").code)
}

func TestMeasureLines(t *testing.T) {
	doc, err := os.ReadFile(exampleShort)
	require.NoError(t, err)
	var one bytes.Buffer
	require.NoError(t, json.Compact(&one, doc))
	long := strings.Repeat("x", 400_000)
	r := program(t, one.String()+"\nnonsense\n\n"+long+"\n"+one.String()+"\n", "measure", "-", "--json")
	assert.Equal(t, exitRefused, r.code, "a line was refused")
	lines := strings.Split(strings.TrimSpace(r.out), "\n")
	require.Len(t, lines, 4)
	assert.Contains(t, lines[0], `"short"`)
	assert.Contains(t, lines[1], `"line":2`)
	assert.Contains(t, lines[2], `"line":4`)
	assert.Equal(t, lines[0], lines[3], "the rest go on")
	people := program(t, one.String()+"\n", "measure", "-")
	assert.Contains(t, people.out, "How sure is this?", "a lone tally is answered in full to people")
	alone := program(t, one.String()+"\n", "measure", "-", "--json", "--lines")
	assert.Equal(t, exitDone, alone.code)
}

func TestServeRefusesWhatOthersCanReach(t *testing.T) {
	for _, address := range []string{"0.0.0.0:8128", ":8128", "[::]:8128", "192.0.2.7:80", "nonsense"} {
		r := program(t, "", "serve", "--demo", "--listen", address)
		assert.Equal(t, exitRefused, r.code, address)
		assert.Contains(t, r.err, "127.0.0.1:8128", "says what is accepted: "+address)
	}
	r := programWith(t, map[string]string{"WELLSTOWED_LISTEN": "0.0.0.0:1"}, "", "serve", "--demo")
	assert.Equal(t, exitRefused, r.code, "the variable sets the flag")
	require.NoError(t, loopbackOnly(context.Background(), "[::1]:0"))
}

func TestServeSaysThatAPortIsTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer taken.Close()
	r := program(t, "", "serve", "--db", filepath.Join(t.TempDir(), "s.db"), "--listen", taken.Addr().String())
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "--listen")
}

func TestReceiptAndVerify(t *testing.T) {
	dir := t.TempDir()
	db, out := filepath.Join(dir, "shop.db"), filepath.Join(dir, "r.pdf")
	makeShop(t, db)

	r := program(t, "", "receipt", "1", "--db", db, "-o", out)
	require.Equal(t, exitDone, r.code, r.err)
	pdf, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	again := program(t, "", "receipt", "1", "--db", db, "-o", "-")
	assert.Equal(t, string(pdf), again.out, "the stored bytes, each time")
	assert.Equal(t, exitRefused, program(t, "", "receipt", "1", "--db", db, "-o", out).code, "a file is never overwritten")
	assert.Equal(t, exitRefused, program(t, "", "receipt", "one", "--db", db, "-o", "-").code)
	assert.Equal(t, exitRefused, program(t, "", "receipt", "1", "-o", "-", "--db", filepath.Join(dir, "none.db")).code)
	assert.NoFileExists(t, filepath.Join(dir, "none.db"), "reading makes no database")
	none := program(t, "", "receipt", "99", "--db", db, "-o", "-")
	assert.NotEqual(t, exitDone, none.code)
	assert.NotContains(t, none.err, "record not found", "no text of the store")

	v := program(t, "", "verify", "--db", db)
	require.Equal(t, exitDone, v.code, v.out+v.err)
	assert.Contains(t, v.out, "agree")
	assert.Contains(t, v.out, "rolled-back", "the limit is stated")
	wrong := program(t, "", "verify", "--db", db, "--seal", "1:AAAA-AAAA-AAAA")
	assert.Equal(t, exitFailed, wrong.code)
	assert.Contains(t, wrong.out, "1")
	assert.Equal(t, exitRefused, program(t, "", "verify", "--db", db, "--seal", "one").code)
}
