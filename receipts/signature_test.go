package receipts

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/signed"
)

// signedReceipt is the sample, paid in cash and signed on a screen.
func signedReceipt() orders.Receipt {
	r := sampleReceipt(orders.Letter)
	r.Facts.Paid = usd(32500)
	r.Facts.Handed = &orders.HandedFact{Method: orders.Cash, Amount: usd(32500)}
	wave := make([]string, 60)
	for i := range wave {
		wave[i] = fmt.Sprintf("%d,%d", 20+i*9, 75+(i%6-3)*20)
	}
	r.Signature = &signed.Signature{By: "Ida Thornquist-Vale", Strokes: strings.Join(wave, " ") + ";0,0;600,150", At: time.Date(2026, 3, 9, 18, 40, 0, 0, time.UTC)}
	return r
}

// A name put under a delivery on a screen is printed, with the lines as drawn and with what
// it is for; so is money that came with it.
func TestReceiptSignedOnAScreen(t *testing.T) {
	p := newPainter(t)
	pdf, err := p.Receipt(signedReceipt(), sealText)
	require.NoError(t, err)
	sound(t, pdf)
	keep(t, "receipt-signed.pdf", pdf)
	text := textOf(t, pdf)
	for _, want := range []string{
		"Signed on the screen 9 March 2026, 14:40 EDT, for: 1 cord (128 ft³) delivered on 9 March 2026, all paid.", "Ida Thornquist-Vale",
		"Paid on delivery, cash", "-$325.00",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "Paid since")
	plain := signedReceipt()
	plain.Signature.Strokes = ""
	named, err := p.Receipt(plain, sealText)
	require.NoError(t, err)
	assert.False(t, bytes.Equal(pdf, named))
	assert.Contains(t, textOf(t, named), "Name given on the screen 9 March 2026, 14:40")
}
