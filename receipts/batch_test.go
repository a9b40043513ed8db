package receipts

import (
	"cmp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

func sampleBatch() *yard.BatchFact {
	return &yard.BatchFact{
		ID: "b", Name: "north bay", Species: "red oak", PieceLength: 16 * measure.Inch,
		Cut: act.Date{Year: 2025, Month: time.January, Day: 12}, Split: act.Date{Year: 2025, Month: time.April, Day: 20},
	}
}

// What stands behind “seasoned” is on the paper: the batch, when it was cut and split,
// and what was read of it.
func TestReceiptSaysWhichBatchAndWhatWasReadOfIt(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		r := sampleReceipt(paper)
		r.Facts.Batch, r.Facts.Moisture = sampleBatch(), sampleMoisture(t)
		r.Facts.Moisture.OfBatch = true
		r.Facts.Origin, r.Facts.Certificate = "Slate County, New York", "HT-0417"
		pdf, err := newPainter(t).Receipt(r, sealText)
		require.NoError(t, err)
		require.Equal(t, "1", pages(t, pdf))
		text := textOf(t, pdf)
		for _, want := range []string{
			"seasoned (stated by seller)", "From batch", "north bay, red oak; cut: 12 January 2025; split: 20 April 2025",
			"measured on the batch: mean 16.4 % dry basis (at most 19.1 % dry basis, the meter ±2.0 points), pin meter, 8 pieces, by Wren Okafor, 7 March 2026",
			"Slate County, New York", "Heat-treatment certificate", "HT-0417",
		} {
			require.Contains(t, text, want)
		}
		require.NotContains(t, text, "not measured")
	}
}

func TestReceiptOfABatchThatWasNotRead(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Batch = sampleBatch()
	r.Facts.Batch.Cut, r.Facts.Species = act.Date{}, "Red oak"
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	text := textOf(t, pdf)
	require.Contains(t, text, "north bay; cut: not known; split: 20 April 2025")
	require.Contains(t, text, "not measured")
	require.NotContains(t, text, "certificate")
	require.NotContains(t, text, "Moisture")
}

func TestReceiptRefusesABatchItCannotPrint(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Batch = sampleBatch()
	r.Facts.Batch.Name = "北"
	_, err := newPainter(t).Receipt(r, sealText)
	require.ErrorContains(t, err, "batch.name")
}

// A fuller receipt still is one page to sign: first the picture of the storage gives
// way, then all that is not signed for goes overleaf.
func TestReceiptKeepsWhatIsSignedOnOnePage(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		r := sampleReceipt(paper)
		r.Facts.Batch = sampleBatch()
		plan, err := storage.AlongWall(2*measure.Cord, 16*measure.Inch)
		require.NoError(t, err)
		r.Facts.Storage = &plan
		p := newPainter(t)
		paint := func() []byte {
			pdf, err := p.Receipt(r, sealText)
			require.NoError(t, err)
			return pdf
		}
		w := blankPaper(t, p)
		shares := pictureShares()
		require.True(t, slices.IsSortedFunc(shares, func(a, b float64) int { return cmp.Compare(b, a) }))
		cord := sampleReceipt(paper).Facts
		spared := w.high(w.ground(cord, shares[0])) - w.high(w.ground(cord, shares[len(shares)-1]))
		require.Greater(t, spared, 2*mainFace().lead(), "a smaller picture makes room for lines")
		pdf := paint()
		require.Equal(t, "1", pages(t, pdf))
		for pages(t, pdf) == "1" {
			require.Contains(t, textOf(t, pdf), "From the front")
			r.Facts.Price.Fees = append(r.Facts.Price.Fees, orders.PriceLine{Kind: orders.OtherLine, Words: "kindling", Amount: usd(800)})
			pdf = paint()
		}
		signed, after, _ := strings.Cut(textOf(t, pdf), "page 1 of 2")
		require.Contains(t, signed, "Signature")
		require.Contains(t, signed, sealText)
		require.Contains(t, after, "From the front")
		require.Contains(t, after, "A stack can topple")
	}
}
