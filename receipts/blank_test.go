package receipts

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestBlankTallyIsOnePageWithEveryReading(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		for units, want := range map[act.Units]string{act.Imperial: "Write inches", act.Metric: "Write centimetres"} {
			p := newPainter(t)
			pdf, err := p.BlankTally("en", paper, units)
			require.NoError(t, err)
			sound(t, pdf)
			require.Equal(t, "1", pages(t, pdf))
			text := textOf(t, pdf)
			for _, label := range []string{
				want, "Sold (as said)", "Not in the stack", "Smallest mark of the tape", "straightedge", "by eye",
				"Raised", "checked", "Between two marks", "nearest mark", "mark below", "The tape is made of", "steel", "cloth", "Gaps a test stick goes into", "Among how many pieces", "Ends, gaps", "inspector", "Printed name", "Day and time",
			} {
				require.Contains(t, text, label)
			}
			again, err := p.BlankTally("en", paper, units)
			require.NoError(t, err)
			require.Equal(t, pdf, again)
		}
	}
}
