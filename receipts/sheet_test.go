package receipts

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestSheetHoldsAnswerReadingsAndDoubt(t *testing.T) {
	pdf, err := newPainter(t).Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	for _, want := range []string{
		"Measurement 7", "Short by 0.04 cord", "0.96 of 1 cord is here, 4.8 ft³ less.", "19 times in 20",
		"123.2 ft³ here, ± 5.2 ft³", "Speak to the seller first",
		"Receipt 12 of 9 March 2026, seal " + sealText, "Ida Thornquist (buyer)",
		"1/4 in", "with a straightedge", "check 1, α = 0.05", "15 3/4 in", "48 1/2 in", "3 96 1/2 in 46 1/2 in 45 in 46 in 44 1/2 in 45 in", "to the nearest mark", "How the rows end was not said",
		"how tightly the wood is stowed", "60.2 %", "13 smaller ones", "not an official result",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "page 1 of")
}

// The working of a sheet has the whole budget, and the sources of what nobody measured.
func TestTheWorkingHoldsBudgetAndSources(t *testing.T) {
	pdf, err := newPainter(t).Working(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	for _, want := range []string{
		"Working of measurement 7", "Short by 0.04 cord", "0.96 cord (123.2 ft³)", "0.04 cord (5.2 ft³)", "how tightly the wood is stowed", "2.05 ft³", "60.2 %",
		"expanded uncertainty, 95 %", "common practice", "a simulation of stacks, no published source", "Measure five more pieces", "not an official result",
	} {
		require.Contains(t, text, want)
	}
	look(t, "working", pdf)
}

func TestSheetShowsEveryKindOfEnd(t *testing.T) {
	pdf, err := newPainter(t).Sheet(sampleSheet(t, orders.A4, unsettledTally))
	require.NoError(t, err)
	text := textOf(t, pdf)
	for _, want := range []string{
		"Can’t tell yet", "0.03 cord is missing by these readings, but too few pieces were measured to call it short.", "shouldered, 8 in down over 10 in", "tapered over 20 in",
		"cribbed over 18 in", "gap 12 in × 6 in", "114 in", "18 in as said, not measured", "P = 0.218:", "by eye", "not checked",
	} {
		require.Contains(t, text, want)
	}
}

// The largest tally that measure takes must come out whole, on many pages.
func TestLargestSheet(t *testing.T) {
	heights := strings.TrimSuffix(strings.Repeat(`"4 ft",`, stack.MaxStations), ",")
	row := fmt.Sprintf(`{"length": "300 ft", "heights": [%s]}`, heights)
	rows := strings.TrimSuffix(strings.Repeat(row+",", stack.MaxRows), ",")
	doc := `{"format": 1, "tape": "1 in", "stack": {"kind": "rows", "nominal": "16 in", "rows": [` + rows + `]}}`
	require.Less(t, len(doc), stack.MaxTallyBytes)
	pdf, err := newPainter(t).Sheet(sampleSheet(t, orders.Letter, doc))
	require.NoError(t, err)
	sound(t, pdf)
	n, err := strconv.Atoi(pages(t, pdf))
	require.NoError(t, err)
	text := textOf(t, pdf)
	require.True(t, strings.Contains(text, fmt.Sprintf("page %d of %d", n, n)), "the last page is not numbered")
	require.True(t, strings.Contains(text, "Row 60: 3600 in long"), "the last row is missing")
}

func TestSheetWithoutASaleOrAReceipt(t *testing.T) {
	doc := `{"format": 1, "tape": "1 cm", "stack": {"kind": "rows", "nominal": "40 cm", "rows": [{"length": "4 m", "heights": ["120 cm", "1.2 m"]}]}}`
	s := sampleSheet(t, orders.A4, doc)
	s.Units, s.Receipts, s.ReadBy = act.Metric, nil, ""
	pdf, err := newPainter(t).Sheet(s)
	require.NoError(t, err)
	text := textOf(t, pdf)
	require.Contains(t, text, "No receipt was issued when this was measured.")
	require.Contains(t, text, "Give or take 0.25 m³")
	require.Contains(t, text, "120 cm")
	require.Contains(t, text, "not said")
}

func TestSheetRefusesReadingsItCannotRead(t *testing.T) {
	s := sampleSheet(t, orders.Letter, shortTally)
	s.Tally.Format = 99
	_, err := newPainter(t).Sheet(s)
	require.Equal(t, act.Invalid, act.KindOf(err))
}

var stroke = regexp.MustCompile(`(?m)^([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l S$`)

// The drawing in the PDF must be to scale: heights of stations are read back from
// the page's own strokes and held against the readings.
func TestStationsAreToScale(t *testing.T) {
	p := newPainter(t)
	p.plain = true
	pdf, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	read := []float64{48, 47, 48.5, 46.5, 47.5, 47, 48, 46, 47.5, 46.5, 46.5, 45, 46, 44.5, 45}
	upright := uprights(t, pdf)
	scale := scaleOf(upright, read)
	require.NotZero(t, scale, "no scale fits the readings among the strokes %v", upright)
}

// uprights are the lengths in points of the vertical strokes of 20 pt and more.
func uprights(t *testing.T, pdf []byte) []float64 {
	t.Helper()
	var all []float64
	for _, m := range stroke.FindAllStringSubmatch(string(pdf), -1) {
		x1, y1, x2, y2 := number(t, m[1]), number(t, m[2]), number(t, m[3]), number(t, m[4])
		if x1 == x2 && math.Abs(y1-y2) > 20 {
			all = append(all, math.Abs(y1-y2))
		}
	}
	return all
}

// scaleOf is the points an inch takes at which every reading has its stroke,
// within 0.5 %.
func scaleOf(strokes, read []float64) float64 {
	for _, first := range strokes {
		scale := first / read[0]
		fits := true
		for _, inches := range read {
			fits = fits && hasNear(strokes, inches*scale)
		}
		if fits {
			return scale
		}
	}
	return 0
}

func hasNear(strokes []float64, want float64) bool {
	for _, got := range strokes {
		if math.Abs(got-want) <= 0.005*want {
			return true
		}
	}
	return false
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

var placed = regexp.MustCompile(`BT (-?[\d.]+) (-?[\d.]+) Td`)

// textPlaces are where the texts of an uncompressed PDF begin, in points.
func textPlaces(t *testing.T, pdf []byte) [][2]float64 {
	t.Helper()
	var all [][2]float64
	for _, m := range placed.FindAllStringSubmatch(string(pdf), -1) {
		all = append(all, [2]float64{number(t, m[1]), number(t, m[2])})
	}
	return all
}
