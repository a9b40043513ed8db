package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// sampleMoisture is an invented set of readings.
func sampleMoisture(t testing.TB) *yard.MoistureFact {
	t.Helper()
	mean, err := wood.DryBasis(16.4)
	require.NoError(t, err)
	bound, err := wood.DryBasis(19.1)
	require.NoError(t, err)
	return &yard.MoistureFact{
		Mean: mean, Wettest: mean, Bound: &bound, Accuracy: 2, Limit: wood.DefaultLimit(), AtMost: true, Verdict: wood.Below, Pieces: 8, Method: wood.PinMeter,
		By: "Wren Okafor", On: act.Date{Year: 2026, Month: time.March, Day: 7},
	}
}

func TestReceiptPrintsWhatWasReadOfTheWood(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		r := sampleReceipt(paper)
		r.Facts.Moisture = sampleMoisture(t)
		pdf, err := newPainter(t).Receipt(r, sealText)
		require.NoError(t, err)
		require.Equal(t, "1", pages(t, pdf))
		text := textOf(t, pdf)
		for _, want := range []string{"seasoned (stated by seller)", "measured: mean 16.4 % dry basis (at most 19.1 % dry basis, the meter ±2.0 points), pin meter, 8 pieces, by Wren Okafor, 7 March 2026"} {
			require.Contains(t, text, want)
		}
		require.NotContains(t, text, "not measured")
	}
}

func TestReceiptRefusesAReaderItCannotPrint(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Moisture = sampleMoisture(t)
	r.Facts.Moisture.By = "木村"
	_, err := newPainter(t).Receipt(r, sealText)
	require.ErrorContains(t, err, "moisture.by")
}
