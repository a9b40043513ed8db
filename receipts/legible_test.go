package receipts

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// shownWidths are those that drawings are shown at: on phones 320 and 358 pixels wide and on
// desks 474 and 664, with type of 15 pixels, and on paper a third, half and all of a page.
func shownWidths() []measure.Length {
	const pixel = 3_400_000 * measure.Nanometre / 15
	return []measure.Length{320 * pixel, 358 * pixel, 474 * pixel, 664 * pixel, onPaper(59), onPaper(88), onPaper(178)}
}

// anyDocument is a stack of any kind with readings of any size, as a tally document.
func anyDocument(t *rapid.T) string {
	inches := func(name string, most int) string {
		return fmt.Sprintf(`"%d %d/4 in"`, rapid.IntRange(8, most).Draw(t, name), rapid.IntRange(1, 3).Draw(t, name))
	}
	heights := func(most int) string {
		var all []string
		for range rapid.IntRange(1, most).Draw(t, "heights") {
			all = append(all, inches("height", 78))
		}
		return "[" + strings.Join(all, ",") + "]"
	}
	long := inches("long", 1799)
	kind := rapid.SampledFrom([]string{"rows", "heap", "ridge", "load", "bin", "round"}).Draw(t, "kind")
	switch kind {
	case "rows":
		var rows []string
		for range rapid.IntRange(1, 3).Draw(t, "rows") {
			rows = append(rows, fmt.Sprintf(`{"length":%s,"heights":%s}`, inches("length", 400), heights(12)))
		}
		return `{"kind":"rows","nominal":"16 in","rows":[` + strings.Join(rows, ",") + `]}`
	case "heap", "ridge":
		shape := map[string]string{"heap": "rounded", "ridge": "ridge"}[kind]
		return fmt.Sprintf(`{"kind":"heap","shape":"%s","length":%s,"width":%s,"height":%s,"nominal":"16 in"}`, shape, long, inches("wide", 1799), inches("high", 230))
	case "load":
		return fmt.Sprintf(`{"kind":"load","arrangement":"thrown","length":%s,"width":%s,"heights":%s,"nominal":"16 in"}`, long, inches("wide", 120), heights(9))
	case "bin":
		return fmt.Sprintf(`{"kind":"bin","arrangement":"ranked","length":%s,"width":%s,"heights":%s,"pieces":["16 in"]}`, long, inches("wide", 120), heights(9))
	}
	return fmt.Sprintf(`{"kind":"round","circumference":%s,"heights":%s}`, inches("round", 900), heights(6))
}

// labelled is what a label covers, in millimetres, worded and as wide as it is printed.
type labelled struct {
	left, right, top, foot float64
	text                   string
}

// No label of a drawing touches another or leaves the drawing, whatever was read, at every
// width that drawings are shown at and in both systems of units.
func TestLabelsNeverTouch(t *testing.T) {
	p := newPainter(t)
	printers := map[act.Units]*words.Printer{act.Imperial: words.New("en", act.Imperial), act.Metric: words.New("en", act.Metric)}
	rapid.Check(t, func(rt *rapid.T) {
		doc := `{"format":1,"apart":"none","sold":"` + rapid.SampledFrom([]string{"1 cord", "1/3 cord", "7 cords"}).Draw(rt, "sold") + `","stack":` + anyDocument(rt) + `}`
		tally, err := stack.ParseTally([]byte(doc))
		if err != nil {
			rt.Skip(err)
		}
		result, err := stack.Measure(tally)
		if err != nil {
			rt.Skip(err)
		}
		units := rapid.SampledFrom([]act.Units{act.Imperial, act.Metric}).Draw(rt, "units")
		print := printers[units]
		width := rapid.SampledFrom(shownWidths()).Draw(rt, "width")
		w := blankPaper(t, p)
		w.print = print
		for _, d := range []draw.Drawing{draw.Stack(tally, result, width), draw.Gauge(result, width, print.GaugeUnit())} {
			requireApart(rt, w, d)
		}
	})
}

func requireApart(t *rapid.T, w *paper, d draw.Drawing) {
	var all []labelled
	for _, l := range d.Labels {
		f := face{mm(l.Size) / pointInMM, l.Bold}
		text := w.print.Say(l.Text)
		wide := w.measure(f, text)
		b := labelled{left: mm(l.At.X), top: mm(l.At.Y) - 0.74*mm(l.Size), foot: mm(l.At.Y) + 0.2*mm(l.Size), text: text}
		switch l.Anchor {
		case draw.Middle:
			b.left -= wide / 2
		case draw.End:
			b.left -= wide
		}
		b.right = b.left + wide
		if b.left < -0.01 || b.right > mm(d.Width)+0.01 || b.top < 0 || b.foot > mm(d.Height)+0.01 {
			t.Fatalf("“%s” leaves a drawing %.0f mm wide", text, mm(d.Width))
		}
		for _, o := range all {
			if b.left < o.right && o.left < b.right && b.top < o.foot && o.top < b.foot {
				t.Fatalf("“%s” touches “%s” on a drawing %.0f mm wide", text, o.text, mm(d.Width))
			}
		}
		all = append(all, b)
	}
}

// What is drawn black on a printed sheet, less what stands above the dashed line, is what the
// stack is short by within 0.5 %, read back from the page's own areas.
func TestWhatIsMissingReadsBackFromThePage(t *testing.T) {
	p := plainPainter(t)
	s := sampleSheet(t, orders.Letter, shortTally)
	pdf, err := p.Sheet(s)
	require.NoError(t, err)
	read := []float64{48, 47, 48.5, 46.5, 47.5, 47, 48, 46, 47.5, 46.5, 46.5, 45, 46, 44.5, 45}
	inch := scaleOf(uprights(t, pdf), read)
	require.NotZero(t, inch)
	const depth = 15.875 // inches, the mean of the ten pieces: arithmetic
	black, open := filled(t, pdf)
	feet := (black - open) / (inch * inch) * depth / 1728
	short := float64(s.Result.Finding.Due-s.Result.Quantity.Volume) / float64(measure.CubicFoot)
	require.InEpsilon(t, short, feet, 0.005)
}

// filled adds up the black and the white areas of a page painted plain, in square points,
// but for the pointer of the gauge, which has three corners, and the line of what was sold,
// which is black and thin.
func filled(t *testing.T, pdf []byte) (black, white float64) {
	t.Helper()
	var area [][2]float64
	fill := ""
	const corners, thin = 4, 3 // of a triangle that is closed, and points
	for line := range strings.SplitSeq(string(pageStreams(t, pdf)[0]), "\n") {
		line = strings.TrimSpace(line)
		switch m := corner.FindStringSubmatch(line); {
		case m != nil:
			area = append(area, [2]float64{number(t, m[1]), number(t, m[2])})
			continue
		case strings.HasSuffix(line, " g") || strings.HasSuffix(line, " rg"):
			fill = line
		case strings.HasPrefix(line, "B") && len(area) > corners:
			size, wide := 0.0, 0.0
			for i, a := range area {
				b := area[(i+1)%len(area)]
				size += a[0]*b[1] - b[0]*a[1]
				wide = max(wide, math.Abs(a[0]-b[0]))
			}
			if wide > thin && strings.HasPrefix(fill, "0.000") {
				black += math.Abs(size) / 2
			} else if strings.HasPrefix(fill, "1.000") {
				white += math.Abs(size) / 2
			}
		}
		area = nil
	}
	return black, white
}
