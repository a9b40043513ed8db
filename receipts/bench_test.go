package receipts

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

// What a receipt costs to paint, and the part of it that goes into setting up an
// empty paper.
func BenchmarkReceipt(b *testing.B) {
	p, err := New()
	require.NoError(b, err)
	r := sampleReceipt(orders.Letter)
	b.Run("empty", func(b *testing.B) {
		for b.Loop() {
			p.paper(setup{title: measure.Say("empty"), paper: orders.Letter})
		}
	})
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			_, err := p.Receipt(r, "ABCD-EFGH-JKLM")
			require.NoError(b, err)
		}
	})
}
