package receipts

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	pixels "image/draw"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

var update = flag.Bool("update", false, "write README's pictures")

// shown is where one of README's pictures lies.
func shown(name string) string { return filepath.Join("..", "testdata", "pictures", name) }

// TestPictureOfTheAnswer draws README's picture of an answer: the gauge and the stack of
// the worked example that README shows, on white so that a dark page can show it.
func TestPictureOfTheAnswer(t *testing.T) {
	doc, err := os.ReadFile(filepath.Join("..", "testdata", "example-short.json"))
	require.NoError(t, err)
	tally, err := stack.ParseTally(doc)
	require.NoError(t, err)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	say := words.New("en", act.Imperial)
	got := onWhite(t, say, draw.Gauge(result, 100*measure.Millimetre, say.GaugeUnit()), draw.Stack(tally, result, 100*measure.Millimetre))
	if *update {
		require.NoError(t, os.WriteFile(shown("answer.svg"), got, 0o644))
		return
	}
	want, err := os.ReadFile(shown("answer.svg"))
	require.NoError(t, err)
	require.True(t, bytes.Equal(want, got), "testdata/pictures/answer.svg isn't what the program draws now: go test ./receipts -run Picture -update, and look at it")
}

// onWhite puts drawings of one width below each other.
func onWhite(t *testing.T, say *words.Printer, drawings ...draw.Drawing) []byte {
	t.Helper()
	const gap = 6 // mm
	var body bytes.Buffer
	high := 0.0
	for _, d := range drawings {
		fmt.Fprintf(&body, `<g transform="translate(0 %.3f)">`+"\n", high)
		var one bytes.Buffer
		require.NoError(t, draw.SVG(&one, d, say.Say))
		tall := float64(d.Height) / float64(measure.Millimetre)
		body.WriteString(strings.Replace(one.String(), `width="100%"`, fmt.Sprintf(`width="100" height="%.3f"`, tall), 1) + "</g>\n")
		high += tall + gap
	}
	return fmt.Appendf(nil, `<svg xmlns="http://www.w3.org/2000/svg" width="500" viewBox="0 0 100 %.3f">`+"\n"+
		`<rect width="100" height="%.3f" fill="#fff"/>`+"\n%s</svg>\n", high, high, body.Bytes())
}

// TestPictureOfTheReceipt holds README's picture of a receipt against one painted now.
// Renderers differ in shades of grey at the edges of letters, so a pixel may be a
// quarter lighter or darker, and a few may differ by more.
func TestPictureOfTheReceipt(t *testing.T) {
	pdf, err := newPainter(t).Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	base := filepath.Join(t.TempDir(), "receipt")
	out, err := exec.Command(tool(t, "pdftoppm"), "-r", "80", "-gray", "-png", "-singlefile", fileOf(t, pdf), base).CombinedOutput()
	require.NoError(t, err, string(out))
	now := grey(t, base+".png")
	if *update {
		file, err := os.Create(shown("receipt.png"))
		require.NoError(t, err)
		require.NoError(t, png.Encode(file, now))
		require.NoError(t, file.Close())
		return
	}
	kept := grey(t, shown("receipt.png"))
	require.Equal(t, kept.Rect, now.Rect)
	apart := 0
	for i := range now.Pix {
		if d := int(now.Pix[i]) - int(kept.Pix[i]); d > 64 || d < -64 {
			apart++
		}
	}
	require.LessOrEqual(t, apart, 60, "testdata/pictures/receipt.png isn't what the program paints now: go test ./receipts -run Picture -update, and look at it")
}

// grey reads a PNG without its colours.
func grey(t *testing.T, path string) *image.Gray {
	t.Helper()
	file, err := os.Open(path)
	require.NoError(t, err)
	defer file.Close()
	img, err := png.Decode(file)
	require.NoError(t, err)
	g := image.NewGray(img.Bounds())
	pixels.Draw(g, g.Rect, img, g.Rect.Min, pixels.Src)
	return g
}
