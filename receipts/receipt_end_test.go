package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

func formerOf(f orders.Facts) *orders.Former {
	return &orders.Former{
		Issued: time.Date(2026, 3, 9, 19, 5, 0, 0, time.UTC), Seal: "WXYZ-2345-6789", DeliveredOn: f.DeliveredOn, Delivered: f.Delivered,
		Priced: f.Priced, Species: f.Species, PieceLength: f.PieceLength, Seasoning: f.Seasoning, Total: f.Price.Total(), Deposit: f.Deposit,
	}
}

// A correction prints which receipt it corrects, each thing that changed, and why.
func TestCorrectionOnPaper(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = orders.CorrectionReceipt, 11, "The last row was not unloaded", formerOf(r.Facts)
	r.Facts.Delivered, r.Facts.Seasoning, r.Facts.Storage = ranked(measure.Cord*3/4), orders.Green, nil
	r.WasPurchaser = &orders.Party{Name: "Ida Thornqvist", Address: r.Purchaser.Address}
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	require.Equal(t, "1", pages(t, pdf))
	text := textOf(t, pdf)
	for _, want := range []string{
		"Corrects receipt 11 of 9 March 2026.", "Delivered: was 1 cord (128 ft³), is 3/4 cord (96 ft³)", "Purchaser: was Ida Thornqvist, is Ida Thornquist",
		"Seasoning: was seasoned, is green", "Why: The last row was not unloaded", "WXYZ-2345-6789", "$425.00",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "Address: was", "what stayed is not listed")
}

// A void prints what it ends and why, and asks for no money.
func TestVoidOnPaper(t *testing.T) {
	r := sampleReceipt(orders.A4)
	r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = orders.VoidReceipt, 11, "The load came back", formerOf(r.Facts)
	r.Facts.Delivered, r.Facts.Priced, r.Facts.DeliveredOn = measure.Quantity{}, measure.Quantity{}, orders.Date{}
	r.Facts.Price, r.Facts.Storage, r.Facts.Moisture = orders.Price{Wood: usd(0)}, nil, nil
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	for _, want := range []string{"Makes receipt 11 of 9 March 2026 void.", "1 cord (128 ft³) delivered on 9 March 2026", "Total: $425.00", "Why: The load came back", sealText} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "To pay")
}
