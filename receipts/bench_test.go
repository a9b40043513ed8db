package receipts

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A stroke of a pen on a paper, in points from the lower left.
type bareLine struct{ x1, y1, x2, y2 float64 }

// A bare page is the glyphs, lines and areas of a paper, to be painted without any of what
// this package does besides.
type barePage struct {
	texts []bareText
	lines []bareLine
	areas [][]gofpdf.PointType
}

type bareText struct {
	font, style string
	size, x, y  float64
	codes       string
}

var (
	anyLine = regexp.MustCompile(`^(-?[\d.]+) (-?[\d.]+) m (-?[\d.]+) (-?[\d.]+) l S$`)
	corner  = regexp.MustCompile(`^(-?[\d.]+) (-?[\d.]+) [ml]$`)
)

// bareOf reads back what a paper of one page paints.
func bareOf(t testing.TB, p *Painter, pdf []byte) (bare barePage) {
	t.Helper()
	fonts := map[string]bareText{}
	starts := objectStart.FindAllSubmatchIndex(pdf, -1)
	objects := map[string][]byte{}
	for i, at := range starts {
		end := len(pdf)
		if i+1 < len(starts) {
			end = starts[i+1][0]
		}
		objects[string(pdf[at[2]:at[3]])] = pdf[at[1]:end]
	}
	for _, ref := range fontRef.FindAllSubmatch(pdf, -1) {
		name := fontName.FindSubmatch(objects[string(ref[2])])
		require.NotNil(t, name)
		style := map[byte]string{'R': "", 'B': "B"}[name[1][0]]
		fonts[string(ref[1])] = bareText{font: p.letters.pages[int(name[2][0]-'A')].name, style: style}
	}
	var now bareText
	var area []gofpdf.PointType
	page := kids.FindSubmatch(pdf)
	content := objects[string(contents.FindSubmatch(objects[string(reference.FindSubmatch(page[1])[1])])[1])]
	for line := range bytes.SplitSeq(content, []byte("\n")) {
		if m := setFont.FindSubmatch(line); m != nil {
			now = fonts[string(m[1])]
			now.size = points(t, m[2])
		}
		for _, m := range showText.FindAllSubmatch(line, -1) {
			now.x, now.y, now.codes = points(t, m[1]), points(t, m[2]), unescaped(string(m[3]))
			bare.texts = append(bare.texts, now)
		}
		if m := anyLine.FindSubmatch(line); m != nil {
			bare.lines = append(bare.lines, bareLine{points(t, m[1]), points(t, m[2]), points(t, m[3]), points(t, m[4])})
		}
		if m := corner.FindSubmatch(bytes.TrimSpace(line)); m != nil {
			area = append(area, gofpdf.PointType{X: points(t, m[1]), Y: points(t, m[2])})
		} else if len(area) > 0 {
			bare.areas, area = append(bare.areas, area), nil
		}
	}
	require.NotEmpty(t, bare.texts)
	require.NotEmpty(t, bare.lines)
	return bare
}

func unescaped(codes string) string {
	return strings.NewReplacer(`\\`, `\`, `\(`, `(`, `\)`, `)`, `\r`, "\r").Replace(codes)
}

// paint paints it with the PDF library alone, in the fonts that papers have ready.
func (b barePage) paint(l *letters) ([]byte, error) {
	pdf := gofpdf.New("P", "pt", "Letter", "")
	for n := range l.pages {
		for _, style := range []string{"", "B"} {
			if slices.ContainsFunc(b.texts, func(t bareText) bool { return t.font == l.pages[n].name && t.style == style }) {
				font := l.font(n, style == "B")
				pdf.AddFontFromBytes(l.pages[n].name, style, font.definition, font.file)
			}
		}
	}
	pdf.SetMargins(0, 0, 0)
	pdf.AddPage()
	_, high := pdf.GetPageSize()
	for _, a := range b.areas {
		pdf.Polygon(a, "D")
	}
	for _, l := range b.lines {
		pdf.Line(l.x1, high-l.y1, l.x2, high-l.y2)
	}
	for _, t := range b.texts {
		pdf.SetFont(t.font, t.style, t.size)
		pdf.Text(t.x, high-t.y, t.codes)
	}
	var out bytes.Buffer
	err := pdf.Output(&out)
	return out.Bytes(), err
}

// What a receipt costs beside the same glyphs and lines by the PDF library alone, painted in
// turns so that both meet the same machine: the metric ×bare is how many times as much, the median of all.
func BenchmarkReceipt(b *testing.B) {
	p := newPainter(b)
	plain := *p
	plain.plain = true
	r := sampleReceipt(orders.Letter)
	pdf, err := plain.Receipt(r, sealText)
	require.NoError(b, err)
	bare := bareOf(b, p, pdf)
	var ratios []float64 // one by one: another program's turn on this machine meets one of them, not all
	size := 0
	for b.Loop() {
		at := time.Now()
		pdf, err := p.Receipt(r, sealText)
		ours := time.Since(at)
		require.NoError(b, err)
		at = time.Now()
		_, err = bare.paint(p.letters)
		ratios = append(ratios, float64(ours)/float64(time.Since(at)))
		require.NoError(b, err)
		size = len(pdf)
	}
	slices.Sort(ratios)
	b.ReportMetric(ratios[len(ratios)/2], "×bare")
	b.ReportMetric(float64(size), "bytes")
}
