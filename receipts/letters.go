package receipts

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/jung-kurt/gofpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// The letters of the papers' fonts are dealt out onto code pages, each a small font
// of at most 223 letters and a blank cut once for all papers. A paper carries the pages that its
// text needs, most often the first alone. Parsing a whole font for each paper cost
// more than painting it.

// firstPage holds what papers are worded in, besides ASCII; names may need others.
const firstPage = "’‘“”–—…·°±×÷−²³½¼¾⅛⅜⅝⅞≤≥€£§é"

// firstCode is the lowest code of a page. It stands for the blank on all of them.
const firstCode = ' '

// A codePage is one cut font in both weights, ready for the PDF library.
type codePage struct {
	name          string
	regular, bold cutFont
}

// A cutFont is a font file, compressed, with its description as the library reads it.
type cutFont struct {
	definition, file []byte
	width            [256]int // of each code, in thousandths of the em square
}

// A letter is where a rune is printed from, and how wide it is in both weights, in
// thousandths of the em square.
type letter struct {
	page          int
	code          byte
	held          bool
	regular, bold int
}

// letters are the fonts that paper is printed in.
type letters struct {
	of    map[rune]letter
	ascii [128]letter // of these the map is not asked
	pages []codePage
}

// theLetters cuts the fonts when the first paper asks for them.
var theLetters = sync.OnceValues(cutLetters)

func cutLetters() (*letters, error) {
	regular, err := openFont(goregular.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the regular font: %w", err)
	}
	bold, err := openFont(gobold.TTF)
	if err != nil {
		return nil, fmt.Errorf("reading the bold font: %w", err)
	}
	all := &letters{of: map[rune]letter{}}
	for n, runes := range dealt(regular, bold) {
		page := codePage{name: fmt.Sprintf("go%d", n)}
		if page.regular, err = regular.prepare(runes, fmt.Sprintf("WELLR%c+Go-Regular", 'A'+n), stemRegular); err != nil {
			return nil, err
		}
		if page.bold, err = bold.prepare(runes, fmt.Sprintf("WELLB%c+Go-Bold", 'A'+n), stemBold); err != nil {
			return nil, err
		}
		all.pages = append(all.pages, page)
		for place, r := range runes {
			if _, held := all.of[r]; !held {
				code := byte(firstCode + place)
				all.of[r] = letter{page: n, code: code, held: true, regular: page.regular.width[code], bold: page.bold.width[code]}
			}
		}
	}
	for r := range all.ascii {
		all.ascii[r] = all.of[rune(r)]
	}
	return all, nil
}

// dealt is the runes that both fonts hold, page by page: ASCII and what papers are
// worded in first.
func dealt(regular, bold openedFont) [][]rune {
	holds := func(r rune) bool { return regular.glyph(r) != 0 && bold.glyph(r) != 0 }
	var first, rest []rune
	for r := rune(firstCode); r < 127; r++ {
		first = append(first, r)
	}
	for _, r := range firstPage {
		if holds(r) {
			first = append(first, r)
		}
	}
	for r := rune(0xA0); r < 0xFFFF; r++ {
		if r != utf8.RuneError && !strings.ContainsRune(firstPage, r) && holds(r) {
			rest = append(rest, r)
		}
	}
	pages := [][]rune{first}
	for more := range slices.Chunk(rest, 256-firstCode-1) {
		pages = append(pages, append([]rune{' '}, more...))
	}
	return pages
}

// An openedFont is a font's tables and its map of characters.
type openedFont struct {
	trueType
	names *sfnt.Font
}

func openFont(file []byte) (openedFont, error) {
	tables, err := parseTrueType(file)
	if err != nil {
		return openedFont{}, err
	}
	names, err := sfnt.Parse(file)
	if err != nil {
		return openedFont{}, err
	}
	return openedFont{trueType: tables, names: names}, nil
}

// glyph is the glyph of a rune, 0 where the font lacks it.
func (f openedFont) glyph(r rune) uint16 {
	glyph, err := f.names.GlyphIndex(nil, r)
	if err != nil {
		return 0
	}
	return uint16(glyph)
}

// Stem widths in thousandths of the em square, for readers that lack the font file;
// judged by eye.
const (
	stemRegular = 85
	stemBold    = 140
)

// prepare cuts a page and describes it to the PDF library.
func (f openedFont) prepare(runes []rune, name string, stem int) (cutFont, error) {
	file, err := f.cut(runes, f.glyph)
	if err != nil {
		return cutFont{}, err
	}
	var packed bytes.Buffer
	w, err := zlib.NewWriterLevel(&packed, zlib.BestCompression)
	if err != nil {
		return cutFont{}, err
	}
	if _, err = w.Write(file); err != nil {
		return cutFont{}, err
	}
	if err = w.Close(); err != nil {
		return cutFont{}, err
	}
	out := cutFont{file: packed.Bytes()}
	differences := ""
	for n, r := range runes {
		out.width[firstCode+n] = f.thousandths(int(f.advance(f.glyph(r))))
		if differences == "" && r == rune(firstCode+n) { // named by the encoding that all fonts begin with
			continue
		}
		if differences == "" {
			differences = fmt.Sprint(firstCode + n)
		}
		differences += fmt.Sprintf(" /uni%04X", r)
	}
	out.definition, err = json.Marshal(map[string]any{
		"Tp": "TrueType", "Name": name, "File": name + ".z", "OriginalSize": len(file),
		"Diff": differences, "Cw": out.width[:], "Desc": f.describe(stem),
	})
	return out, err
}

func (f openedFont) thousandths(units int) int { return (units*1000 + f.em/2) / f.em }

// describe is the font's descriptor as PDF asks for it.
func (f openedFont) describe(stem int) gofpdf.FontDescType {
	scaled := func(table string, at int) int { return int(int16(be16(f.tables[table], at))) * 1000 / f.em }
	d := gofpdf.FontDescType{
		Ascent: scaled("hhea", 4), Descent: scaled("hhea", 6), CapHeight: scaled("OS/2", 88),
		Flags: gofpdf.FontFlagNonsymbolic, StemV: stem,
	}
	d.FontBBox.Xmin, d.FontBBox.Ymin = scaled("head", 36), scaled("head", 38)
	d.FontBBox.Xmax, d.FontBBox.Ymax = scaled("head", 40), scaled("head", 42)
	return d
}

// A run is a piece of text printed from one page.
type run struct {
	page int
	text string // codes, one byte a letter
}

// letter is where a rune is printed from; of one that isn't held it says so.
func (l *letters) letter(r rune) letter {
	if r >= 0 && int(r) < len(l.ascii) {
		return l.ascii[r]
	}
	return l.of[r]
}

// runs divides a text, all of whose letters are held, by the pages it is printed
// from.
func (l *letters) runs(text string) []run {
	var all []run
	codes := make([]byte, 0, len(text))
	page := 0
	end := func() {
		if len(codes) > 0 {
			all, codes = append(all, run{page: page, text: string(codes)}), codes[:0]
		}
	}
	for _, r := range text {
		at := l.letter(r)
		if at.page != page {
			end()
			page = at.page
		}
		codes = append(codes, at.code)
	}
	end()
	return all
}

// font is the cut font of a page in a weight.
func (l *letters) font(page int, bold bool) *cutFont {
	if bold {
		return &l.pages[page].bold
	}
	return &l.pages[page].regular
}

// textWidth is the width of a run in thousandths of its size.
func (c *cutFont) textWidth(codes string) (sum int) {
	for n := range len(codes) {
		sum += c.width[codes[n]]
	}
	return sum
}
