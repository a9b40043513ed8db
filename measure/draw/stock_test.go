package draw

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
)

// The parts of each bar read back from the drawing are the volumes, one on the other.
func TestStockReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := rapid.Map(rapid.IntRange(0, 400), func(n int) measure.Volume { return measure.Cord / 8 * measure.Volume(n) })
		bars := make([]StockBar, 12)
		for i := range bars {
			bars[i] = StockBar{Name: measure.Say("%s", "Jan"), Promised: some.Draw(t, "promised"), Dry: some.Draw(t, "dry"), Green: some.Draw(t, "green")}
		}
		d := Stock(bars, measure.Cord, measure.Say("cords"), measure.Length(rapid.IntRange(80, 200).Draw(t, "width"))*measure.Millimetre)
		var zero, top measure.Length
		var most float64
		for _, l := range d.Labels {
			if l.Role != "tick" {
				continue
			}
			n, err := strconv.ParseFloat(l.Text.String(), 64)
			require.NoError(t, err)
			if n == 0 {
				zero = l.At.Y
			}
			if n >= most {
				most, top = n, l.At.Y
			}
		}
		perCord := float64(zero-top) / most
		read := make([]StockBar, len(bars))
		for _, p := range d.Polygons {
			if p.Index == 0 {
				continue // of the key
			}
			tall := measure.Volume(float64(p.Points[2].Y-p.Points[0].Y) / perCord * float64(measure.Cord))
			to := map[string]*measure.Volume{"promised": &read[p.Index-1].Promised, "dry": &read[p.Index-1].Dry, "green": &read[p.Index-1].Green}[p.Role]
			require.NotNil(t, to)
			*to = tall
		}
		for i, b := range bars {
			assert.InDelta(t, b.Promised.In(measure.Cord), read[i].Promised.In(measure.Cord), 0.01)
			assert.InDelta(t, b.Dry.In(measure.Cord), read[i].Dry.In(measure.Cord), 0.01)
			assert.InDelta(t, b.Green.In(measure.Cord), read[i].Green.In(measure.Cord), 0.01)
		}
	})
}
