package draw

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
)

// The bars and strokes read back from the drawing are the volumes, within the nanometre
// that paper is measured in; figures and names don't touch.
func TestMonthsReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bars := make([]MonthBar, 12)
		for i := range bars {
			bars[i] = MonthBar{Name: measure.Say("%s", []string{"Jan", "Mar", "Sep"}[i%3]),
				Now:  measure.Cord / 8 * measure.Volume(rapid.IntRange(0, 900).Draw(t, "now")),
				Last: measure.Cord / 8 * measure.Volume(rapid.IntRange(0, 900).Draw(t, "last"))}
		}
		d := Months(bars, measure.Cord, measure.Say("cords"), measure.Length(rapid.IntRange(80, 200).Draw(t, "width"))*measure.Millimetre)
		if len(d.Labels) == 0 {
			for _, b := range bars {
				require.Zero(t, b.Now+b.Last)
			}
			return
		}
		ticks := map[string]measure.Length{}
		for _, l := range d.Labels {
			if l.Role == "tick" {
				ticks[l.Text.String()] = l.At.Y - typeSize/3
			}
		}
		require.GreaterOrEqual(t, len(ticks), 3)
		zero := ticks["0"]
		perCord, found := 0.0, 0
		for name, y := range ticks {
			n, err := strconv.ParseFloat(name, 64)
			require.NoError(t, err)
			if n > 0 {
				perCord = float64(zero-y) / n
			}
		}
		for _, p := range d.Polygons {
			found++
			assert.InDelta(t, bars[p.Index-1].Now.In(measure.Cord), float64(zero-p.Points[0].Y)/perCord, 0.001*bars[p.Index-1].Now.In(measure.Cord)+1e-6)
		}
		for _, l := range d.Lines {
			if l.Role == "last" {
				found++
				assert.InDelta(t, bars[l.Index-1].Last.In(measure.Cord), float64(zero-l.A.Y)/perCord, 0.001*bars[l.Index-1].Last.In(measure.Cord)+1e-6)
			}
		}
		want := 0
		for _, b := range bars {
			if b.Now > 0 {
				want++
			}
			if b.Last > 0 {
				want++
			}
		}
		assert.Equal(t, want, found)
		end := measure.Length(0)
		for _, l := range d.Labels {
			if l.Role == "month" {
				w := textWidth(l.Text, typeSize)
				assert.GreaterOrEqual(t, l.At.X-w/2, end, "names don’t touch")
				end = l.At.X + w/2
			}
		}
	})
}
