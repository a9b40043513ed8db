package receipts

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A paper whose names were erased says so, has no name and no lines to sign, and comes
// out as the same bytes each time.
func TestErasedPapersSayThatTheyAre(t *testing.T) {
	p := newPainter(t)
	on := act.Date{Year: 2027, Month: time.April, Day: 9}
	r := sampleReceipt(orders.Letter)
	name := r.Purchaser.Name
	require.NotEmpty(t, name)
	r.Purchaser, r.Erased = orders.Party{}, on
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	again, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	assert.Equal(t, pdf, again)
	sound(t, pdf)
	text := textOf(t, pdf)
	for _, want := range []string{"Names erased on 9 April 2027. This isn’t the paper that was delivered.", r.Facts.Vendor.Name, sealText} {
		assert.Contains(t, text, want)
	}
	for _, gone := range []string{name, "Signature"} {
		assert.NotContains(t, text, gone)
	}

	s := sampleSheet(t, orders.A4, unsettledTally)
	s.Purchaser, s.ReadBy, s.Erased = orders.Party{}, "", on
	pdf, err = p.Sheet(s)
	require.NoError(t, err)
	assert.Contains(t, textOf(t, pdf), "Names erased on 9 April 2027. This isn’t the paper that was delivered.")
}
