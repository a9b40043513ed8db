package receipts

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"

	"wellstowed/orders"
)

// A cut font must hold the outlines and widths of the whole one. Both are read by
// x/image/font/sfnt, which had no part in the cutting.
func TestCutFontsKeepEveryGlyph(t *testing.T) {
	for name, file := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF} {
		t.Run(name, func(t *testing.T) {
			whole, err := openFont(file)
			require.NoError(t, err)
			for _, runes := range dealt(whole, whole) {
				cut, err := whole.cut(runes, whole.glyph)
				require.NoError(t, err)
				small, err := sfnt.Parse(cut)
				require.NoError(t, err)
				for _, r := range runes {
					assert.Equal(t, outlineOf(t, whole.names, r), outlineOf(t, small, r), "%q", r)
				}
			}
		})
	}
}

func outlineOf(t *testing.T, f *sfnt.Font, r rune) sfnt.Segments {
	t.Helper()
	var b sfnt.Buffer
	glyph, err := f.GlyphIndex(&b, r)
	require.NoError(t, err)
	require.NotZero(t, glyph, "%q", r)
	segments, err := f.LoadGlyph(&b, glyph, 2048<<6, nil)
	require.NoError(t, err)
	return append(sfnt.Segments{}, segments...)
}

// Every letter the fonts hold comes out of the PDF as it went in, beside others of
// its page and of the other pages.
func TestEveryLetterIsPrintedAndReadBack(t *testing.T) {
	p := newPainter(t)
	r := sampleReceipt(orders.Letter)
	name := "Łukasz Žižka, Ελένη Παπαδάκη, Пётр Щукин, Ñandú Œuvre"
	r.Purchaser.Name = name
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	for word := range strings.FieldsSeq(name) {
		require.Contains(t, text, word)
	}
}

// A receipt in plain English carries two small fonts, tagged as cut.
func TestReceiptIsSmallAndItsFontsAreSubsets(t *testing.T) {
	pdf, err := newPainter(t).Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(pdf), 25_000)
	out, err := exec.Command(tool(t, "pdffonts"), fileOf(t, pdf)).Output()
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(out)), "\n")[2:]
	require.Len(t, lines, 2, string(out))
	for _, line := range lines {
		assert.Regexp(t, `^WELL[RB]A\+Go-(Regular|Bold) +TrueType +\S+ +yes yes`, line)
	}
}

// A damaged font is an error and never a crash.
func FuzzCutFont(f *testing.F) {
	f.Add(50, byte(255))
	whole, err := openFont(goregular.TTF)
	require.NoError(f, err)
	f.Fuzz(func(t *testing.T, at int, b byte) {
		damaged := append([]byte{}, goregular.TTF...)
		damaged[uint(at)%uint(len(damaged))] = b
		if tables, err := parseTrueType(damaged); err == nil {
			_, _ = tables.cut([]rune("Aé½"), whole.glyph)
		}
	})
}
