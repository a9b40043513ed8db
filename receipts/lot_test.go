package receipts

import (
	"os"
	"path/filepath"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// sampleLot is an invented lot: n of its packages measured, each off the label of
// 0.75 cu ft by a few cubic inches.
func sampleLot(size, n int) lot.Lot {
	seed := uint64(12345)
	l := lot.Lot{Labelled: 1296 * measure.CubicInch, LotSize: size, Seed: &seed}
	for i, number := range lot.Pick(size, n, seed) {
		l.Packages = append(l.Packages, lot.Package{Number: number, Volume: 1296*measure.CubicInch + measure.Volume(i%7-4)*4*measure.CubicInch})
	}
	return l
}

func lotPDF(t *testing.T, l lot.Lot, paper orders.Paper, units act.Units) []byte {
	t.Helper()
	v, err := lot.Judge(rules.Set{}, l)
	require.NoError(t, err)
	pdf, err := newPainter(t).Lot("en", rules.Set{}, l, v, paper, units, time.Date(2026, 11, 20, 14, 5, 0, 0, time.UTC))
	require.NoError(t, err)
	sound(t, pdf)
	if dir := os.Getenv("LOOK"); dir != "" {
		name := "lot-" + string(paper) + "-" + strconv.Itoa(len(l.Packages)) + ".pdf"
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), pdf, 0o600))
	}
	return pdf
}

// The figures are worked by hand: in cubic inches the twelve errors are −16, −12,
// −8, −4, 0, 4, 8, −16, −12, −8, −4, 0; the mean is −68/12 = −5.667 and
// s = √((1040 − 68²/12)/11) = 7.715, the limit 0.635 s = 4.899; 1 ft³ is 1728 in³.
func TestLotReport(t *testing.T) {
	l := sampleLot(30, 12)
	pdf := lotPDF(t, l, orders.Letter, act.Imperial)
	require.Equal(t, "1", pages(t, pdf))
	text := textOf(t, pdf)
	for _, want := range []string{
		"Packaged lot", "Labelled: 0.7500 ft³", "Packages in the lot: 30", "20 November 2026, 14:05 UTC",
		"Fail: on the average of 12 packages", "Volunteer measurement, not an official result.",
		"−0.0033 ft³", "0.0045 ft³", "0.0028 ft³", "0.635", "Seed 12345 draws packages 3, 6, 9,", "PCG-DXSM",
		"0.7407 ft³", "−0.0093 ft³", "+0.0046 ft³", "from memory: NIST Handbook 133", "Table 2-1", "read: Handbook 133 worksheet",
		"Printed name", "Signature",
	} {
		require.Contains(t, text, want)
	}
	require.Equal(t, pdf, lotPDF(t, l, orders.Letter, act.Imperial), "the same bytes each time")
}

func TestLotReportWithReadingsAndALimit(t *testing.T) {
	l := sampleLot(30, 12)
	limit := 10 * measure.CubicInch
	l.Limit = &limit
	l.Packages[0] = lot.Package{Number: l.Packages[0].Number, Length: 40 * measure.Centimetre, Area: 500 * lot.SquareCentimetre, Volume: 20 * measure.Litre}
	pdf := lotPDF(t, l, orders.A4, act.Metric)
	require.Equal(t, "1", pages(t, pdf))
	text := textOf(t, pdf)
	for _, want := range []string{
		"Fail: too many packages are short by more than the individual limit.", "Individual limit, as given: 0.164 L",
		"40 cm", "500 cm²", "20.000 L", "* −1.238 L", "* short by more than the individual limit", "Labelled: 21.238 L",
	} {
		require.Contains(t, text, want)
	}
}

func TestLotReportThatCannotBeJudged(t *testing.T) {
	l := sampleLot(1, 1)
	l.Seed = nil
	text := textOf(t, lotPDF(t, l, orders.Letter, act.Imperial))
	for _, want := range []string{"Can’t be judged on the average.", "A lot of one package has no sample error limit", "The seed of the draw was not given"} {
		require.Contains(t, text, want)
	}
	require.Regexp(t, `Sample error limit −0\.0093 ft³ none none`, text)
	require.NotContains(t, text, "draws packages")
}

// The most packages a lot may have measured come out whole.
func TestLargestLotReport(t *testing.T) {
	l := sampleLot(lot.MaxLotSize, lot.MaxPackages)
	text := textOf(t, lotPDF(t, l, orders.Letter, act.Imperial))
	require.Contains(t, text, strconv.Itoa(l.Packages[lot.MaxPackages-1].Number))
	require.Contains(t, text, "page 1 of")
	require.Contains(t, text, "Signature")
}

// Each page that packages stand on says what their columns are.
func TestEachPageOfALotNamesItsColumns(t *testing.T) {
	l, p := sampleLot(300, 100), plainPainter(t)
	v, err := lot.Judge(rules.Set{}, l)
	require.NoError(t, err)
	pdf, err := p.Lot("en", rules.Set{}, l, v, orders.Letter, act.Imperial, printedAt)
	require.NoError(t, err)
	named, filled := map[int]bool{}, map[int]bool{}
	for _, text := range readPDF(t, p, pdf) {
		switch text.text {
		case "Picked":
			named[text.page] = true
		case "typed", "drawn":
			filled[text.page] = true
		}
	}
	require.Len(t, filled, 2)
	require.Equal(t, filled, named)
}

// The report says which packages the seed drew and which were typed, goes by the factor
// of the number measured, and names every seed that was drawn for the lot.
func TestLotReportSaysWhatWasDrawnAndWhatWasTyped(t *testing.T) {
	l := sampleLot(300, 30)
	l.Drawn = []uint64{777, 12345}
	pdf := lotPDF(t, l, orders.Letter, act.Imperial)
	text := textOf(t, pdf)
	for _, want := range []string{"Factor for the 30 measured", "0.373", "Drawn 2 times for this lot, in this order: seeds 777, 12345.", "drawn", "typed", "Measured: 30, of them drawn by the seed: 24."} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "0.422")
}
