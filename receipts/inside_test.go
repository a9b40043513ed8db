package receipts

import (
	"bytes"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A sheet can be measured again from its PDF alone: the tally inside gives the result that
// the sheet prints, for every kind of stack.
func TestASheetIsMeasuredAgainFromItsPDF(t *testing.T) {
	p := newPainter(t)
	docs := stacksMeasured()
	for _, name := range slices.Sorted(maps.Keys(docs)) {
		s := sampleSheet(t, orders.Letter, docs[name])
		pdf, err := p.Sheet(s)
		require.NoError(t, err)
		doc, err := TallyIn(pdf)
		require.NoError(t, err, name)
		tally, err := stack.ParseTally(doc)
		require.NoError(t, err, name)
		again, err := stack.Measure(tally)
		require.NoError(t, err, name)
		require.Equal(t, s.Result, again, name)
	}
}

// A reader of other make finds the file too, and nothing wrong with the PDF.
func TestTheTallyInsideASheetIsAnOrdinaryAttachment(t *testing.T) {
	pdf, err := newPainter(t).Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	sound(t, pdf)
	doc, err := TallyIn(pdf)
	require.NoError(t, err)
	require.Contains(t, string(doc), `"48 1/2 in"`, "as it was read")
	require.Equal(t, string(doc), string(attachmentOf(t, pdf, "tally.json")))
}

// What isn't such a PDF, or is damaged, is refused with what would be taken.
func TestAPDFWithoutATallyIsRefused(t *testing.T) {
	p := newPainter(t)
	form, err := p.BlankTally("en", orders.Letter, act.Imperial)
	require.NoError(t, err)
	sheet, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	at := embedded.FindIndex(sheet)
	require.NotNil(t, at)
	cut := sheet[:at[1]+40]
	torn := bytes.Clone(sheet)
	copy(torn[at[1]+20:], "torn torn torn torn")
	for name, row := range map[string]struct {
		pdf  []byte
		code string
	}{
		"a form": {form, "no-tally"}, "nothing": {nil, "no-tally"}, "cut off": {cut, "damaged"}, "torn": {torn, "damaged"},
		"too large": {append(bytes.Clone(sheet), make([]byte, MaxSheetBytes)...), "too-large"},
	} {
		_, err := TallyIn(row.pdf)
		var in *measure.InputError
		require.ErrorAs(t, err, &in, name)
		require.Equal(t, row.code, in.Code, name)
		require.NotEmpty(t, in.Accepts.Key, name)
	}
	for n := range sheet { // however much of it arrived
		if n%997 == 0 {
			_, _ = TallyIn(sheet[:n])
		}
	}
}

// A file inside a PDF that unpacks to more than a tally may be is read no further.
func TestALargeFileInsideAPDFIsNotUnpackedWhole(t *testing.T) {
	w := newPainter(t).paper(setup{title: measure.Say("large"), paper: orders.Letter})
	d := stack.Document{Condition: stack.Reading(strings.Repeat("x", 4*stack.MaxTallyBytes))}
	require.NoError(t, w.inside(d))
	pdf, err := w.bytes()
	require.NoError(t, err)
	doc, err := TallyIn(pdf)
	require.NoError(t, err)
	require.Len(t, doc, stack.MaxTallyBytes+1)
	_, err = stack.ParseTally(doc)
	require.ErrorContains(t, err, "over the limit")
}
