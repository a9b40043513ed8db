package receipts

import (
	"encoding/binary"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// perEm is a size at which sfnt gives lengths in thousandths of the em square.
const perEm = fixed.Int26_6(1000 << 6)

// Texts are as wide as their font has them, and the file says of the font what another
// reader of fonts finds in it; else lines run over their column or end short of it.
func TestLettersAreAsWideAsTheirFontHasThem(t *testing.T) {
	l, err := theLetters()
	require.NoError(t, err)
	for bold, file := range map[bool][]byte{false: goregular.TTF, true: gobold.TTF} {
		theirs, err := sfnt.Parse(file)
		require.NoError(t, err)
		var b sfnt.Buffer
		for r, at := range l.of {
			glyph, err := theirs.GlyphIndex(&b, r)
			require.NoError(t, err)
			advance, err := theirs.GlyphAdvance(&b, glyph, perEm, font.HintingNone)
			require.NoError(t, err)
			require.InDelta(t, float64(advance)/64, float64(l.font(at.page, bold).textWidth(string([]byte{at.code}))), 1, "%q", r)
		}
		opened, err := openFont(file)
		require.NoError(t, err)
		d := opened.describe(77)
		metrics, err := theirs.Metrics(&b, perEm, font.HintingNone)
		require.NoError(t, err)
		require.InDelta(t, float64(metrics.Ascent)/64, float64(d.Ascent), 2)
		require.InDelta(t, -float64(metrics.Descent)/64, float64(d.Descent), 2)
		require.InDelta(t, float64(metrics.CapHeight)/64, float64(d.CapHeight), 2)
		bounds, err := theirs.Bounds(&b, perEm, font.HintingNone)
		require.NoError(t, err)
		require.InDelta(t, float64(bounds.Min.X)/64, float64(d.FontBBox.Xmin), 2)
		require.InDelta(t, float64(bounds.Max.X)/64, float64(d.FontBBox.Xmax), 2)
		require.InDelta(t, -float64(bounds.Max.Y)/64, float64(d.FontBBox.Ymin), 2)
		require.InDelta(t, -float64(bounds.Min.Y)/64, float64(d.FontBBox.Ymax), 2)
		require.Equal(t, 77, d.StemV)
	}
}

// A cut font is put together as OpenType has font files (Microsoft, OpenType specification
// 1.9, "Organization of an OpenType font": table directory, checksums, alignment; from
// memory): tables in the order of their names, each on a multiple of four bytes and with
// the sum of its numbers, and nothing after the last but padding.
func TestACutFontIsPutTogetherAsFontFilesAre(t *testing.T) {
	whole, err := openFont(goregular.TTF)
	require.NoError(t, err)
	for _, runes := range dealt(whole, whole) {
		file, err := whole.cut(runes, whole.glyph)
		require.NoError(t, err)
		n := int(be16(file, 4))
		power := 1 << int(math.Log2(float64(n)))
		require.Equal(t, []uint16{uint16(16 * power), uint16(math.Log2(float64(n))), uint16(16 * (n - power))},
			[]uint16{be16(file, 6), be16(file, 8), be16(file, 10)}, "for searching by halves")
		var names []string
		end := 12 + 16*n
		for i := range n {
			entry := file[12+16*i:]
			names = append(names, string(entry[:4]))
			sum, at, long := be32(entry, 4), int(be32(entry, 8)), int(be32(entry, 12))
			require.Equal(t, end, at, "%s begins where the one before it ends", entry[:4])
			end = (at + long + 3) / 4 * 4
			require.LessOrEqual(t, end, len(file))
			var added uint32
			for k := at; k < end; k += 4 {
				added += binary.BigEndian.Uint32(file[k:])
			}
			require.Equal(t, added, sum, "%s", entry[:4])
		}
		require.Equal(t, len(file), end)
		require.True(t, slices.IsSorted(names), "%v", names)

		cut, err := sfnt.Parse(file)
		require.NoError(t, err)
		var b sfnt.Buffer
		require.GreaterOrEqual(t, cut.NumGlyphs(), len(runes)+1)
		for _, r := range runes {
			small, err := cut.GlyphIndex(&b, r)
			require.NoError(t, err)
			large, err := whole.names.GlyphIndex(&b, r)
			require.NoError(t, err)
			require.Equal(t, whole.bearing(uint16(large)), be16(tableOf(file, "hmtx"), 4*int(small)+2), "%q begins where it did", r)
		}
		missing, err := cut.GlyphIndex(&b, '漢')
		require.NoError(t, err)
		require.Zero(t, missing)
	}
}

// tableOf is a table of a font file.
func tableOf(file []byte, name string) []byte {
	for i := range int(be16(file, 4)) {
		entry := file[12+16*i:]
		if string(entry[:4]) == name {
			at := be32(entry, 8)
			return file[at : at+be32(entry, 12)]
		}
	}
	return nil
}
