package receipts

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

// pens are the pen of each level line that a paper drew: its thickness, its grey and its
// dashes, as PDF writes them.
func pens(t *testing.T, pdf []byte) (all []string) {
	t.Helper()
	set := regexp.MustCompile(`^(?:([\d.]+) w|([\d.]+) G|(\[[\d. ]*\]) [\d.]+ d)$`)
	var thick, grey, dashes string
	for _, content := range pageStreams(t, pdf) {
		for line := range strings.SplitSeq(string(content), "\n") {
			if m := set.FindStringSubmatch(line); m != nil {
				thick, grey, dashes = last(m[1], thick), last(m[2], grey), last(m[3], dashes)
			}
			if lineDrawn.MatchString(line) {
				all = append(all, thick+" "+grey+" "+dashes)
			}
		}
	}
	return all
}

func last(said, before string) string {
	if said == "" {
		return before
	}
	return said
}

// Each sort of line has the pen that the drawings count on to tell wood, limits and hatching
// apart (measure/draw), whichever was drawn before it, and text after it is not dashed.
func TestEachSortOfLineHasItsPen(t *testing.T) {
	const plain, dashed = "[]", "[4.54 3.12]" // points: 1.6 and 1.1 mm
	styles := []draw.Style{draw.Outline, draw.Light, draw.Dashed, draw.Thin, draw.Dashed, draw.Outline, draw.Thin, draw.Light}
	want := map[draw.Style]string{
		draw.Outline: "1.42 0.000 " + plain, draw.Thin: "0.57 0.000 " + plain, // 0.5 and 0.2 mm
		draw.Light: "0.57 0.000 " + plain, draw.Dashed: "0.85 0.000 " + dashed, // 0.2, which a printer of one bit keeps, and 0.3 mm
	}
	var d draw.Drawing
	var expected []string
	for i, style := range styles {
		y := onPaper(float64(10 + i))
		d.Lines = append(d.Lines, draw.Line{A: draw.Point{Y: y}, B: draw.Point{X: onPaper(50), Y: y}, Style: style})
		expected = append(expected, want[style])
	}
	w := blankPaper(t, plainPainter(t))
	w.drawing(d, w.left(), w.y)
	w.pdf.Line(w.left(), 100, w.right(), 100)
	pdf, err := w.bytes()
	require.NoError(t, err)
	got := pens(t, pdf)
	require.Equal(t, expected, got[:len(styles)])
	require.NotContains(t, got[len(styles)], dashed)
}

// A drawing with no place to cut it, higher than a page, goes on overleaf: each of its
// captions is seen, in order, on paper and off the margins.
func TestADrawingWithNoPlaceToCutGoesOnOverleaf(t *testing.T) {
	for _, top := range []float64{marginTop, 150} {
		d := draw.Drawing{Width: onPaper(80), Height: onPaper(700)}
		var captions []string
		for y := 8.0; y < 695; y += 10 {
			text := fmt.Sprintf("at %.0f", y)
			captions = append(captions, text)
			d.Labels = append(d.Labels, draw.Label{At: draw.Point{Y: onPaper(y)}, Size: 3 * measure.Millimetre, Text: measure.Say("%s", text)})
		}
		p := plainPainter(t)
		w := blankPaper(t, p)
		w.y = top
		w.inTwo(d, measure.Say("The stack as measured"))
		pdf, err := w.bytes()
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, at := range readPDF(t, p, pdf) {
			if at.y > marginBottom*mmInPoints && at.y < (w.height-marginTop)*mmInPoints {
				seen[at.text] = true
			}
		}
		for _, text := range captions {
			require.True(t, seen[text], "%q is on no page, begun at %.0f mm", text, top)
		}
		require.True(t, seen["THE STACK AS MEASURED, CONTINUED"], "what is overleaf says what it is")
	}
}
