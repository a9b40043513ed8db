package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCSVIsTheDocument holds a line of CSV against the document it stands for.
func TestCSVIsTheDocument(t *testing.T) {
	head := "sold,look,tape,top,stack.pieces[] (in),stack.rows[0].length,stack.rows[0].heights[] (in),stack.rows[0].ends[1].kind,stack.rows[0].ends[0].kind,stack.rows[0].ends[0].share,stack.rows[0].ends[0].over\n"
	line := `1 cord,2,1/4 in,straightedge,16; 15 1/2 ;16.25;16,8 ft,"48; 47""; 48.5 in; 1 m",upright,cribbed,0.75,10 in` + "\n"
	doc := `{"format":1,"sold":"1 cord","look":2,"tape":"1/4 in","top":"straightedge","stack":{"kind":"rows","pieces":["16 in","15 1/2 in","16.25 in","16 in"],
		"rows":[{"length":"8 ft","heights":["48 in","47 in","48.5 in","1 m"],"ends":[{"kind":"cribbed","share":0.75,"over":"10 in"},{"kind":"upright"}]}]}}`
	var compact bytes.Buffer
	require.NoError(t, json.Compact(&compact, []byte(doc)))
	want := program(t, compact.String()+"\n", "measure", "-", "--json", "--lines")
	require.Equal(t, exitDone, want.code, want.out+want.err)
	got := program(t, "\ufeff"+head+line, "measure", "-", "--json", "--csv")
	require.Equal(t, exitDone, got.code, got.out+got.err)
	assert.Equal(t, want.out, got.out)
}

func TestCSVBadLinesArePassedOver(t *testing.T) {
	head := "stack.nominal,stack.rows[0].length,stack.rows[0].heights[] (in)\n"
	good := "16 in,8 ft,48; 48; 48; 48\n"
	r := program(t, head+good+"16 in,8 ft\n"+`16 in,"8 ft,48`+"\n\n"+"16 in,8,48\n"+strings.Repeat("x", 300_000)+"\n"+good, "measure", "-", "--csv", "--json")
	assert.Equal(t, exitRefused, r.code)
	lines := strings.Split(strings.TrimSpace(r.out), "\n")
	require.Len(t, lines, 6)
	for i, says := range []string{`"model":2`, `"line":3`, `"line":4`, `"line":6`, `"line":7`, `"model":2`} {
		assert.Contains(t, lines[i], says)
	}
	assert.Contains(t, lines[3], "no-unit")
}

func TestCSVHeadingIsChecked(t *testing.T) {
	for _, head := range []string{"\n", "Sold\n", "stack.rows[].length\n", "stack.rows[9999].length\n", "sold,,apart\n"} {
		r := program(t, head+"x\n", "measure", "-", "--csv")
		assert.Equal(t, exitRefused, r.code, head)
		assert.Contains(t, r.err, "line 1", head)
	}
}

// FuzzCSV asks of any table only that each line is answered and nothing panics.
func FuzzCSV(f *testing.F) {
	f.Add("sold,stack.rows[0].length\n1 cord,8 ft\n")
	f.Add("stack[0].rows,stack.kind\nx,rows\n")
	f.Add("look,stack.rows[0].heights[] (in)\n1e9,48;;47\n")
	f.Fuzz(func(t *testing.T, text string) {
		r := program(t, text, "measure", "-", "--csv", "--json")
		if r.code == exitFailed {
			t.Fatalf("%q: %s", text, r.err)
		}
	})
}
