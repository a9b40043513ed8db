package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

func sampleBatch() *orders.BatchFact {
	return &orders.BatchFact{
		ID: "b", Name: "north bay", Species: "red oak", PieceLength: 16 * measure.Inch,
		Cut: orders.Date{Year: 2025, Month: time.January, Day: 12}, Split: orders.Date{Year: 2025, Month: time.April, Day: 20},
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
			"measured on the batch: mean 16.4 % dry basis, pin meter, 8 pieces, by Wren Okafor, 7 March 2026",
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
	r.Facts.Batch.Cut, r.Facts.Species = orders.Date{}, "Red oak"
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
