package receipts

import (
	"bytes"
	"cmp"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A painted text is one that a PDF paints, where it begins and where it ends, in points
// from the lower left.
type painted struct {
	page     int
	x, y, to float64
	size     float64 // of the type, in points
	text     string
}

var (
	objectStart = regexp.MustCompile(`(?m)^(\d+) 0 obj\n`)
	fontName    = regexp.MustCompile(`/BaseFont /WELL([RB])([A-Z])\+`)
	fontRef     = regexp.MustCompile(`/F([0-9a-f]{40}) (\d+) 0 R`)
	kids        = regexp.MustCompile(`/Kids \[([^\]]*)\]`)
	contents    = regexp.MustCompile(`/Contents (\d+) 0 R`)
	reference   = regexp.MustCompile(`(\d+) 0 R`)
	setFont     = regexp.MustCompile(`^BT /F([0-9a-f]{40}) ([\d.]+) Tf ET`)
	showText    = regexp.MustCompile(`BT (-?[\d.]+) (-?[\d.]+) Td \(((?:[^\\)]|\\.)*)\) Tj ET`)
)

// readPDF reads back the text of a paper that was painted plain, with Go alone.
func readPDF(t testing.TB, p *Painter, pdf []byte) (all []painted) {
	t.Helper()
	require.True(t, p.plain, "only a plain paper can be read")
	objects := map[string][]byte{}
	starts := objectStart.FindAllSubmatchIndex(pdf, -1)
	for i, at := range starts {
		end := len(pdf)
		if i+1 < len(starts) {
			end = starts[i+1][0]
		}
		objects[string(pdf[at[2]:at[3]])] = pdf[at[1]:end]
	}
	fonts := map[string]readFont{} // by their names on a page
	for _, ref := range fontRef.FindAllSubmatch(pdf, -1) {
		name := fontName.FindSubmatch(objects[string(ref[2])])
		require.NotNil(t, name, "font %s is none of ours", ref[1])
		page := int(name[2][0] - 'A')
		fonts[string(ref[1])] = readFont{runes: p.letters.onPage(page), widths: p.letters.font(page, name[1][0] == 'B')}
	}
	order := kids.FindSubmatch(pdf)
	require.NotNil(t, order, "there are no pages")
	for n, page := range reference.FindAllSubmatch(order[1], -1) {
		stream := contents.FindSubmatch(objects[string(page[1])])
		require.NotNil(t, stream)
		all = append(all, readStream(t, n, objects[string(stream[1])], fonts)...)
	}
	require.NotEmpty(t, all)
	return all
}

// onPage is what the codes of a code page stand for.
func (l *letters) onPage(page int) map[byte]rune {
	of := map[byte]rune{firstCode: ' '}
	for r, at := range l.of {
		if at.page == page {
			of[at.code] = r
		}
	}
	return of
}

// A readFont is what the codes of a font stand for and how wide they are.
type readFont struct {
	runes  map[byte]rune
	widths *cutFont
	size   float64
}

// readStream reads the texts of one page, those that go on where the last one ended as
// one text with it.
func readStream(t testing.TB, page int, content []byte, fonts map[string]readFont) (all []painted) {
	t.Helper()
	var font readFont
	end := 0.0
	var kept []readFont // where a part with a clip or a turn of its own begins
	for line := range bytes.SplitSeq(content, []byte("\n")) {
		switch {
		case bytes.HasPrefix(line, []byte("q ")) || bytes.Equal(line, []byte("q")):
			kept = append(kept, font)
		case bytes.Equal(bytes.TrimSpace(line), []byte("Q")) && len(kept) > 0:
			font, kept = kept[len(kept)-1], kept[:len(kept)-1]
		}
		if m := setFont.FindSubmatch(line); m != nil {
			font = fonts[string(m[1])]
			require.NotNil(t, font.runes)
			font.size = points(t, m[2])
		}
		for _, m := range showText.FindAllSubmatch(line, -1) {
			now := painted{page: page, x: points(t, m[1]), y: points(t, m[2]), size: font.size}
			var codes string
			now.text, codes = font.read(t, m[3])
			if n := len(all); n > 0 && all[n-1].y == now.y && math.Abs(end-now.x) < 0.3 {
				all[n-1].text += now.text
			} else {
				all = append(all, now)
			}
			end = now.x + float64(font.widths.textWidth(codes))/1000*font.size
			all[len(all)-1].to = end
		}
	}
	return all
}

var mediaBox = regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`)

// requireLegible holds that no text of a paper leaves the page or lies over another.
func requireLegible(t testing.TB, name string, pdf []byte, all []painted) {
	t.Helper()
	box := mediaBox.FindSubmatch(pdf)
	require.NotNil(t, box)
	wide, high := points(t, box[1]), points(t, box[2])
	const margin, apart, line, blank = marginRight*72/25.4 - 0.5, 0.5, 2.0, 2.0 // points
	byPage := map[int][]painted{}
	for _, text := range all {
		require.True(t, text.x >= 0 && text.to <= wide-margin && text.y >= 0 && text.y <= high, "%s: “%s” leaves the page", name, text.text)
		byPage[text.page] = append(byPage[text.page], text)
	}
	for _, page := range byPage {
		slices.SortFunc(page, func(a, b painted) int { return cmp.Compare(a.y, b.y) })
		for i, a := range page {
			for _, b := range page[i+1:] {
				if b.y-a.y >= line {
					break
				}
				require.False(t, a.x < b.to-blank-apart && b.x < a.to-blank-apart, "%s: “%s” lies over “%s”", name, a.text, b.text)
			}
		}
	}
}

func points(t testing.TB, text []byte) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(string(text), 64)
	require.NoError(t, err)
	return x
}

// read turns escaped codes into what they stand for, and gives the codes bare.
func (f readFont) read(t testing.TB, escaped []byte) (text, codes string) {
	t.Helper()
	var runes []rune
	var bare []byte
	for i := 0; i < len(escaped); i++ {
		if escaped[i] == '\\' {
			i++
		}
		r, known := f.runes[escaped[i]]
		require.True(t, known, "code %d of %q", escaped[i], escaped)
		runes, bare = append(runes, r), append(bare, escaped[i])
	}
	return string(runes), string(bare)
}

// onLines puts what stands beside each other on one line together, page by page, from
// the top, and what follows without a gap to one text.
func onLines(all []painted) string {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b painted) int {
		return cmp.Or(a.page-b.page, -cmp.Compare(math.Round(a.y*2), math.Round(b.y*2)), cmp.Compare(a.x, b.x))
	})
	return joined(all)
}

// inColumns reads each column from its top to its end, so that a text which was broken
// into lines reads on.
func inColumns(all []painted) string {
	all = slices.Clone(all)
	slices.SortStableFunc(all, func(a, b painted) int {
		return cmp.Or(a.page-b.page, cmp.Compare(math.Round(a.x), math.Round(b.x)), -cmp.Compare(a.y, b.y))
	})
	return joined(all)
}

// asPainted is the text in the order in which it was painted.
func asPainted(all []painted) string { return joined(all) }

func joined(all []painted) string {
	texts := make([]string, len(all))
	for i, p := range all {
		texts[i] = p.text
	}
	return strings.Join(strings.Fields(strings.Join(texts, " ")), " ")
}

// plainPainter paints papers that tests can read without any tool.
func plainPainter(t testing.TB) *Painter {
	t.Helper()
	p := *newPainter(t)
	p.plain = true
	return &p
}

// What is read back with Go alone is what another reader reads.
func TestAPaperReadsBackAsAnotherReaderReadsIt(t *testing.T) {
	p := plainPainter(t)
	r := sampleReceipt(orders.Letter)
	r.Purchaser.Name = "Ιόλη Ødegård (née Łapiński) \\ Жукова"
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	mine := readPDF(t, p, pdf)
	require.Contains(t, inColumns(mine), "Ιόλη Ødegård (née Łapiński) \\ Жукова")
	theirs := strings.Fields(textOf(t, pdf))
	var words []string
	for _, m := range mine {
		words = append(words, strings.Fields(m.text)...)
	}
	slices.Sort(words)
	slices.Sort(theirs)
	require.Equal(t, theirs, words)
}
