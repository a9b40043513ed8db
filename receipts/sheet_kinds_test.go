package receipts

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A kindOnSheet is a stack of a kind, and some of what its sheet says.
type kindOnSheet struct {
	name, doc string
	says      []string
}

func kindsOnSheets() []kindOnSheet {
	return []kindOnSheet{
		{"load", `{"kind":"load","arrangement":"thrown","length":"8 ft","width":"5 ft","heights":["44 in","47 in"],
			"wells":[{"length":"30 in","width":"8 in","height":"10 in","count":2}],"crown":{"shape":"rounded","crest":["10 in"]},"nominal":"16 in"}`,
			[]string{"Once stacked it is likely", "Heights of the fill", "2 of 30 in × 8 in × 10 in", "Shape of the crown: rounded", "thrown in"}},
		{"grid", `{"kind":"load","arrangement":"ranked","length":"8 ft","width":"5 ft","grid":[["24 in","25 in"],["26 in","27 1/8 in"]],"nominal":"16 in"}`,
			[]string{"Heights of line 2", "27 1/8 in", "pieces."}},
		{"line", `{"kind":"load","arrangement":"ranked","calibrated":{"volume":"64 cu ft","on":"2026-05-01","by":"the owner","line":"lower board"}}`,
			[]string{"Volume up to the line: 64 ft³", "2026-05-01, by the owner", "Filled to the line: lower board"}},
		{"heap", `{"kind":"heap","shape":"rounded","length":"12 ft","width":"8 ft","height":"4 ft","nominal":"16 in"}`,
			[]string{"Stack it in rows 48 in high: expect about 10 ft to 22 ft of row", "Height at the top: 48 in", "what shape the heap has"}},
		{"bin", `{"kind":"bin","arrangement":"ranked","length":"8 ft","width":"16 in","heights":["45 in"],"pieces":["16 in"],"window":{"width":"2 ft","height":"2 ft","pieces":27}}`,
			[]string{"Inside length: 96 in", "27 in 24 in × 24 in of the face", "All that is here is about", "8 ft long"}},
		{"round", `{"kind":"round","circumference":"22 ft","heights":["5 ft","61 in"],"cone":"18 in"}`,
			[]string{"All the way round: 264 in", "Heights of the wall", "Height of the cone: 18 in"}},
		{"packaged", `{"kind":"packaged","method":"bundle","ends":[{"squares":118.25,"edge":"1 in"},{"squares":120,"edge":"1 in"}],"pieces":["16 in","16 in","16 in","16 in","16 in"]}`,
			[]string{"118.25 squares of 1 in", "By the published procedure", "tracing the ends and counting squares"}},
		{"rows", `{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":["48 in","47 in"],"back":["46 in","45 7/8 in"],"slope":{"heights":"perpendicular"}}]}`,
			[]string{"back 46 in 45 7/8 in", "Slope: heights held perpendicular"}},
	}
}

// Every kind of stack has its readings, its drawing's caption and its sentences on
// its sheet.
func TestSheetOfEveryKind(t *testing.T) {
	for _, row := range kindsOnSheets() {
		t.Run(row.name, func(t *testing.T) {
			s := sampleSheet(t, orders.Letter, `{"format":1,"stack":`+row.doc+`}`)
			pdf, err := newPainter(t).Sheet(s)
			require.NoError(t, err)
			sound(t, pdf)
			working, err := newPainter(t).Working(s)
			require.NoError(t, err)
			text := textOf(t, pdf) + textOf(t, working)
			for _, want := range row.says {
				require.Contains(t, text, want)
			}
		})
	}
}

// A row read from a photo stands on its sheet with all that was tapped, and with no height
// that nobody read.
func TestSheetOfAPhoto(t *testing.T) {
	doc, err := os.ReadFile("../testdata/example-photo.json")
	require.NoError(t, err)
	pdf, err := newPainter(t).Sheet(sampleSheet(t, orders.Letter, string(doc)))
	require.NoError(t, err)
	sound(t, pdf)
	look(t, "sheet-photo", pdf)
	text := textOf(t, pdf)
	for _, want := range []string{"Row 1: its face read from a photo", "Picture of 4000 × 3000 pixels, taken 168 in away", "sticks set with a level, 1 in nearer",
		"−2 in along and 60 in up at 1336, 1096", "Outline tapped, 11 points: 2677, 2132; 1387, 2033;", "That is a face of 24.8 sq ft", "tapping points on the photo"} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "Row 1: 81", "a length that nobody read")
}
