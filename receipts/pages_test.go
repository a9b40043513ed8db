package receipts

import (
	"fmt"
	"maps"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/procedure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// pageCount is how many pages a paper painted plain has.
func pageCount(t *testing.T, p *Painter, pdf []byte) int {
	t.Helper()
	all := readPDF(t, p, pdf)
	return all[len(all)-1].page + 1
}

// requireFull holds that no page of a paper of several is under a third full: that its
// lowest line, but for the footer, is below the first third.
func requireFull(t *testing.T, name string, p *Painter, pdf []byte) {
	t.Helper()
	box := mediaBox.FindSubmatch(pdf)
	require.NotNil(t, box)
	high := points(t, box[2])
	lowest := map[int]float64{}
	for _, text := range readPDF(t, p, pdf) {
		if text.y < footersBelow {
			continue
		}
		if y, seen := lowest[text.page]; !seen || text.y < y {
			lowest[text.page] = text.y
		}
	}
	for page, y := range lowest {
		require.True(t, len(lowest) == 1 || y <= high*2/3, "%s: page %d of %d ends %.0f pt from the top", name, page+1, len(lowest), high-y)
	}
}

// A sheet of up to three rows is one page, with an office's procedure as well, and whoever
// signs sees on that page what is signed. Its working is a page or two, none of them nearly
// empty.
func TestASheetOfThreeRowsIsOnePage(t *testing.T) {
	p := plainPainter(t)
	docs := stacksMeasured()
	for _, name := range slices.Sorted(maps.Keys(docs)) {
		onEveryPaper(func(units act.Units, paper orders.Paper) {
			for _, named := range []bool{false, true} {
				s := sampleSheet(t, paper, docs[name])
				s.Units = units
				if tally, err := readTally(s.Tally); named {
					require.NoError(t, err)
					result := procedure.Of(tally, procedure.Reckoning{})
					s.Procedure = &result
				}
				pdf, err := p.Sheet(s)
				require.NoError(t, err)
				of := fmt.Sprintf("%s, %s, procedure: %t", name, units, named)
				require.Equal(t, 1, pageCount(t, p, pdf), of)
				requireSignedOnPage(t, of, p, pdf, 0, "Read by: printed name, signature, day")
				requireFull(t, of, p, pdf)
				pdf, err = p.Working(s)
				require.NoError(t, err)
				require.LessOrEqual(t, pageCount(t, p, pdf), 2, of)
				requireFull(t, of+", working", p, pdf)
			}
		})
	}
}

// requireSignedOnPage holds that a line to sign on is on a page, and none on another.
func requireSignedOnPage(t *testing.T, name string, p *Painter, pdf []byte, page int, line string) {
	t.Helper()
	found := 0
	for _, text := range readPDF(t, p, pdf) {
		if text.text == line {
			require.Equal(t, page, text.page, "%s: %s", name, line)
			found++
		}
	}
	require.Equal(t, 1, found, "%s: %s", name, line)
}
