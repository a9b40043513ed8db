package receipts

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A sheet with many heights in a row and many pieces stays inside its margins, no reading
// over another, and has them all in their order.
func TestACrowdedSheetIsLegible(t *testing.T) {
	var heights, positions, pieces []string
	for i := range 24 {
		heights = append(heights, fmt.Sprintf(`"%d 3/16 in"`, 40+i%9))
		positions = append(positions, fmt.Sprintf(`"%d in"`, 4+8*i))
	}
	for i := range 37 {
		pieces = append(pieces, fmt.Sprintf(`"15 %d/16 in"`, 1+2*(i%8)))
	}
	doc := fmt.Sprintf(`{"format": 2, "sold": "2 cords", "apart": "none", "tape": "1/16 in", "stack": {"kind": "rows", "pieces": [%s],
		"rows": [{"length": "200 in", "heights": [%s], "back": [%[2]s], "positions": [%s]}, {"length": "200 in", "heights": [%[2]s]}]}}`,
		strings.Join(pieces, ", "), strings.Join(heights, ", "), strings.Join(positions, ", "))
	p := plainPainter(t)
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		pdf, err := p.Sheet(sampleSheet(t, paper, doc))
		require.NoError(t, err)
		all := readPDF(t, p, pdf)
		requireLegible(t, string(paper), pdf, all)
		text := asPainted(all)
		for i, h := range heights[:9] {
			require.GreaterOrEqual(t, strings.Count(text, strings.Trim(h, `"`)), 6, "height %d", i)
		}
	}
}
