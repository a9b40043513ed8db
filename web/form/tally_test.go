package form_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/web/form"
)

func read(fields ...string) form.Tally {
	return form.ReadTally(func(field func(name, value string)) {
		for i := 0; i < len(fields); i += 2 {
			field(fields[i], fields[i+1])
		}
	})
}

func document(t *testing.T, f form.Tally) (stack.Document, stack.RowsDocument) {
	t.Helper()
	raw, err := f.Document()
	require.NoError(t, err)
	var doc stack.Document
	var rows stack.RowsDocument
	require.NoError(t, json.Unmarshal(raw, &doc))
	require.NoError(t, json.Unmarshal(doc.Stack, &rows))
	return doc, rows
}

// One unit serves every field: a bare 96 is 96 inches for a row length too, and nothing
// is read in feet by itself.
func TestBareNumbersGetThePagesUnit(t *testing.T) {
	for unit, want := range map[string]measure.Length{
		"in": measure.Inch, "cm": measure.Centimetre, "": measure.Inch, "ft+in": measure.Inch, "furlong": measure.Inch,
	} {
		_, rows := document(t, read("unit", unit, "stack.rows[0].length", "96", "stack.rows[0].heights[0]", "96",
			"stack.rows[0].positions[0]", "96", "stack.pieces[0]", "16 in"))
		for _, text := range []stack.Reading{rows.Rows[0].Length, rows.Rows[0].Heights[0], rows.Rows[0].Positions[0]} {
			got, err := measure.ParseLength(string(text))
			require.NoError(t, err, "%s %q", unit, text)
			assert.Equal(t, 96*want, got, unit)
		}
		piece, err := measure.ParseLength(string(rows.Pieces[0]))
		require.NoError(t, err)
		assert.Equal(t, 16*measure.Inch, piece, "a unit that was typed stands")
	}
}

// Changing the unit changes no reading: what was typed bare keeps the one it had.
func TestChangingTheUnitKeepsEveryReading(t *testing.T) {
	f := read("unit", "in", "stack.rows[0].length", "96", "stack.rows[0].heights[0]", "48 1/2", "stack.rows[0].heights[1]", "118 cm",
		"stack.rows[0].voids[0].width", "12", "stack.rows[0].voids[0].height", "6", "stack.rows[0].ends[0].kind", "tapered",
		"stack.rows[0].ends[0].over", "10", "stack.pieces[0]", "16", "tape", "1/4", "raised", "x")
	_, before := document(t, f)
	f.In(form.Centimetres)
	assert.Equal(t, form.Centimetres, f.Unit)
	assert.Equal(t, "x", f.Raised, "what cannot be read stays as typed")
	_, after := document(t, f)
	assert.Equal(t, before, after)
	k := readStack(t, "heap", "unit", "in", "stack.length", "144", "stack.width", "8 ft", "stack.shape", "ridge")
	was, _ := k.Document()
	k.In(form.Centimetres)
	now, _ := k.Document()
	assert.JSONEq(t, string(was), string(now))
}

func TestWhatIsEmptyAtTheEndIsLeftOut(t *testing.T) {
	_, rows := document(t, read("stack.rows[0].length", "8", "stack.rows[0].heights[0]", "48", "stack.rows[0].heights[1]", "",
		"stack.rows[0].heights[2]", "47", "stack.rows[0].heights[3]", " ", "stack.pieces[0]", "", "stack.pieces[1]", "16",
		"stack.rows[1].length", "", "stack.rows[1].heights[0]", "", "stack.rows[0].voids[0].width", "", "stack.nominal", "18"))
	require.Len(t, rows.Rows, 1)
	assert.Len(t, rows.Rows[0].Heights, 3, "a height left out in the middle is not passed over in silence")
	assert.Len(t, rows.Pieces, 1)
	assert.Empty(t, rows.Nominal, "a piece was measured")
	assert.Empty(t, rows.Rows[0].Voids)
}

func TestNumbersLeftBehindByAnotherKindOfEndDoNoHarm(t *testing.T) {
	_, rows := document(t, read("stack.rows[0].length", "8", "stack.rows[0].ends[0].kind", "upright", "stack.rows[0].ends[0].over", "10",
		"stack.rows[0].ends[1].kind", "tapered", "stack.rows[0].ends[1].over", "10", "stack.rows[0].ends[1].drop", "3"))
	assert.Equal(t, stack.EndDocument{Kind: "upright"}, rows.Rows[0].Ends[0])
	assert.Empty(t, rows.Rows[0].Ends[1].Drop)
	assert.NotEmpty(t, rows.Rows[0].Ends[1].Over)
}

func TestApart(t *testing.T) {
	for _, row := range [][3]string{{"", "", ""}, {"none", "1 cord", "none"}, {"some", "1/8 cord", "1/8 cord"}} {
		doc, _ := document(t, read("apart", row[0], "apart_some", row[1]))
		assert.Equal(t, stack.Reading(row[2]), doc.Apart)
	}
}

// A hostile form makes neither a huge list nor a panic.
func TestIndexesAreBounded(t *testing.T) {
	f := read("stack.rows[99999].length", "8", "stack.rows[-1].length", "8", "stack.rows[0].heights[99999]", "8",
		"stack.rows[0].ends[2].kind", "x", "stack.rows[0].ends[0].kind[3]", "x", "stack.pieces[500]", "16",
		"stack.rows[99999999999999999999].length", "8", "stack.rows[60].length", "8", "stack.pieces[501]", "16")
	assert.Len(t, f.Rows, stack.MaxRows+1)
	assert.Len(t, f.Pieces, stack.MaxPieces+1)
	assert.Empty(t, f.Rows[0].Heights)
	_, err := f.Document()
	require.NoError(t, err)
}

func TestChange(t *testing.T) {
	f := form.Blank(form.Inches, stack.Buyer)
	for range 70 {
		f.Change("row+")
	}
	assert.Len(t, f.Rows, stack.MaxRows)
	for range 200 {
		f.Change("heights+0")
		f.Change("pieces+")
	}
	assert.Len(t, f.Rows[0].Heights, stack.MaxStations)
	assert.Len(t, f.Pieces, stack.MaxPieces)
	assert.True(t, f.Change("voids+0"))
	assert.Len(t, f.Rows[0].Voids, 1)
	assert.Len(t, f.Rows[0].Heights, stack.MaxStations, "room for a gap isn’t room for a height")
	for range 200 {
		assert.True(t, f.Change("voids+0"), "a list that is full stays as it is")
	}
	assert.Len(t, f.Rows[0].Voids, stack.MaxStations)
	for _, do := range []string{"", "heights+", "heights+-1", "heights+60", "heights+x", "rows+0", "nonsense"} {
		assert.False(t, f.Change(do), do)
	}
	for range 70 {
		f.Change("row-")
	}
	assert.Len(t, f.Rows, 1, "one row stays")
}

func TestReadFillsARequestByItsJSONNames(t *testing.T) {
	sent := map[string]string{"customer_name": "Ada", "quantity": "1 cord", "version": "7"}
	r, faults := form.Read[orders.OrderRequest](func(name string) string { return sent[name] })
	assert.Empty(t, faults)
	assert.Equal(t, orders.OrderRequest{CustomerName: "Ada", Quantity: "1 cord", Version: 7}, r)
	for _, bad := range []string{"x", "1.5", "99999999999999999999"} {
		_, faults = form.Read[orders.OrderRequest](func(string) string { return bad })
		require.Len(t, faults, 1, bad)
		assert.Equal(t, "version", faults[0].Field, fmt.Sprint(bad))
	}
}
