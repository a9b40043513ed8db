package receipts

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// Margins and measures of a page, in millimetres.
const (
	marginLeft   = 22.0 // room for punching
	marginRight  = 15.0
	marginTop    = 15.0
	marginBottom = 14.0
	hairline     = 0.15
	ruleLine     = 0.5 // at sections
	headLine     = 1.4
	pointInMM    = 25.4 / 72
)

// A face is a size of type in points, regular or bold.
type face struct {
	size float64
	bold bool
}

// lead is the height of a line of this face, in millimetres.
func (f face) lead() float64 { return f.size * pointInMM * 1.24 }

// The faces of a paper, of five sizes: labels and sources, text and tables, the lead, heads,
// and the one number with what is to pay beside it. Nothing is set smaller.
func noteFace() face    { return face{8.5, false} }
func labelFace() face   { return face{8.5, true} }
func mainFace() face    { return face{10.5, false} }
func boldFace() face    { return face{10.5, true} }
func leadFace() face    { return face{12.5, false} }
func strongFace() face  { return face{12.5, true} }
func headFace() face    { return face{15, true} }
func verdictFace() face { return face{34, true} }
func numberFace() face  { return face{40, true} }
func payFace() face     { return face{28, true} }

// sizes are those that type may be made smaller to where a text doesn't fit.
func sizes() []float64 { return []float64{28, 15, 12.5, 10.5, 8.5} }

// A paper is a document being painted from top to bottom.
type paper struct {
	pdf           *gofpdf.Fpdf
	letters       *letters
	print         *words.Printer
	units         act.Units
	width, height float64 // of the page
	y             float64 // where the next thing goes
	x, wide       float64 // the column that is painted into, and its width
	whole         bool    // pages don't turn
	air           float64 // more of it above each section
	dry           bool    // nothing is painted, only its height is found
	footer        string  // printed on each page of more than one
	struck        bool    // text is struck through, and stays legible
	now           inUse
	pen           pen
	wrapped       map[wrapKey][]string
	grained       map[*grainTile]bool // those that are in the file
	faults        error               // the first text that could not be printed
	about         string              // title, whose and when, for the file
	language      string              // of the text, as BCP 47 has it
	reached       []string            // telephone numbers, linked wherever they stand
	sections      []section
}

// facts of a paper that its set-up rests on.
type setup struct {
	title    measure.Text
	paper    orders.Paper
	units    act.Units
	unit     rules.UnitCode // of quantities
	language string
	made     time.Time // stands in the file; the zero time is the layout's own
	whose    string    // the seller, or what else tells the paper from others of its kind
	zone     string    // that its day is in; empty: the title names no day
}

// layoutMade stands in papers that have no time of their own.
func layoutMade() time.Time { return time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC) }

func (p *Painter) paper(s setup) *paper {
	size := "Letter"
	if s.paper == orders.A4 {
		size = "A4"
	}
	if s.made.IsZero() {
		s.made = layoutMade()
	}
	pdf := gofpdf.New("P", "mm", size, "")
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(s.made.UTC())
	pdf.SetModificationDate(s.made.UTC())
	pdf.SetCompression(!p.plain)
	print := words.New(s.language, s.units).SoldIn(s.unit)
	about := s.about(print)
	pdf.SetTitle(about, true)
	pdf.SetXmpMetadata(metadata(about, s.language, s.made))
	pdf.SetCreator("Wellstowed", true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	w := &paper{
		pdf: pdf, letters: p.letters, units: s.units, footer: print.Say(s.title), print: print,
		about: about, language: s.language, wrapped: map[wrapKey][]string{}, grained: map[*grainTile]bool{}, now: inUse{page: -1},
	}
	w.width, w.height = pdf.GetPageSize()
	w.x, w.wide = marginLeft, w.width-marginLeft-marginRight
	w.turn()
	return w
}

// about is the title that a reader's window and a list of files show: which paper it is,
// whose, and of what day.
func (s setup) about(print *words.Printer) string {
	parts := []string{print.Say(s.title)}
	if s.whose != "" {
		parts = append(parts, oneLine(s.whose))
	}
	if s.zone != "" {
		parts = append(parts, print.Day(s.made, s.zone))
	}
	return strings.Join(parts, ", ")
}

// turn begins a new page.
func (w *paper) turn() {
	w.pdf.AddPage()
	w.pen = pen{}
	w.y = marginTop
}

// bytes ends the paper.
func (w *paper) bytes() ([]byte, error) {
	w.footers()
	if w.faults != nil {
		return nil, w.faults
	}
	w.outline()
	var out bytes.Buffer
	if err := w.pdf.Output(&out); err != nil {
		return nil, fmt.Errorf("painting %s: %w", w.footer, err)
	}
	return catalogued(out.Bytes(), w.language)
}

// footers numbers the pages of a paper that has more than one.
func (w *paper) footers() {
	pages := w.pdf.PageCount()
	if pages < 2 {
		return
	}
	for n := 1; n <= pages; n++ {
		w.goTo(n)
		y := w.height - 8
		w.at(w.left(), y, noteFace(), w.footer)
		w.rightAt(w.right(), y, noteFace(), w.print.Page(n, pages))
	}
}

// left, right and inner are of the column that is painted into.
func (w *paper) left() float64   { return w.x }
func (w *paper) right() float64  { return w.x + w.wide }
func (w *paper) inner() float64  { return w.wide }
func (w *paper) bottom() float64 { return w.height - marginBottom }

// need turns the page where less than h is left of it.
func (w *paper) need(h float64) {
	if !w.dry && !w.whole && w.y+h > w.bottom()+0.01 {
		w.turn()
	}
}

func (w *paper) gap(h float64) { w.y += h }

// full tells whether the last page is at least a third full.
func (w *paper) full() bool { return w.y-marginTop >= (w.bottom()-marginTop)/3 }

// inUse is the font that text is set in: its code page and its face.
type inUse struct {
	page int
	face face
}

// forget has font and pen taken up again for what comes next: where clipping or turning
// ends, the page is set in the font that it was set in before.
func (w *paper) forget() { w.now, w.pen = inUse{page: -1}, pen{} }

// goTo goes to a page that was painted before. The library takes the font there for the one
// that it set last anywhere, so one is taken up that nothing is set in.
func (w *paper) goTo(page int) {
	w.pdf.SetPage(page)
	w.pen = pen{}
	w.use(0, face{size: 1})
}

// use takes up the font of a code page; a page new to the paper is put into it.
func (w *paper) use(page int, f face) {
	if w.now == (inUse{page, f}) {
		return
	}
	w.now = inUse{page, f}
	style := ""
	if f.bold {
		style = "B"
	}
	name := w.letters.pages[page].name
	font := w.letters.font(page, f.bold)
	w.pdf.AddFontFromBytes(name, style, font.definition, font.file) // does nothing the second time
	w.pdf.SetFont(name, style, f.size)
}

// at paints one line with its baseline at y. It is the only way of text into the
// PDF: what the font lacks is an error, never a gap.
func (w *paper) at(x, y float64, f face, text string) {
	if text == "" || w.dry {
		return
	}
	if len(w.letters.missing(text)) > 0 {
		if w.faults == nil {
			w.faults = w.letters.printable([]named{{"text", text}})
		}
		return
	}
	from := x
	for _, r := range w.letters.runs(oneLine(text)) {
		w.use(r.page, f)
		w.pdf.Text(from, y, r.text)
		from += w.runWidth(f, r)
	}
	w.linkPhones(x, y, f, text)
	if w.struck {
		middle := y - f.size*pointInMM*0.26
		w.line(x, middle, x+w.measure(f, text), middle, 0.25)
	}
}

func (w *paper) rightAt(x, y float64, f face, text string) {
	w.at(x-w.measure(f, text), y, f, text)
}

func (w *paper) middleAt(x, y float64, f face, text string) {
	w.at(x-w.measure(f, text)/2, y, f, text)
}

// measure is the width of a line in millimetres; 0 where it can't be printed,
// which at reports.
func (w *paper) measure(f face, text string) float64 {
	sum := 0
	for _, r := range tidy(text) {
		if r == '\n' {
			r = ' '
		}
		at := w.letters.letter(r)
		switch {
		case !at.held:
			return 0
		case f.bold:
			sum += at.bold
		default:
			sum += at.regular
		}
	}
	return f.wide(sum)
}

// wide is so many thousandths of the em square in millimetres.
func (f face) wide(thousandths int) float64 {
	return float64(thousandths) / 1000 * f.size * pointInMM
}

// runWidth is the width of a run in millimetres.
func (w *paper) runWidth(f face, r run) float64 {
	return f.wide(w.letters.font(r.page, f.bold).textWidth(r.text))
}

// oneLine is a text as it is painted on one line.
func oneLine(text string) string { return strings.ReplaceAll(tidy(text), "\n", " ") }

// A pen is what lines without dashes are drawn with.
type pen struct {
	thickness float64
	grey      int
}

// stroke sets ink and thickness, in millimetres, unless they are set.
func (w *paper) stroke(thickness float64, grey int) {
	if w.pen == (pen{thickness, grey}) {
		return
	}
	w.pen = pen{thickness, grey}
	w.pdf.SetDrawColor(grey, grey, grey)
	w.pdf.SetLineWidth(thickness)
	w.pdf.SetDashPattern(nil, 0)
}

func (w *paper) line(x1, y1, x2, y2, thickness float64) {
	if w.dry {
		return
	}
	w.stroke(thickness, 0)
	w.pdf.Line(x1, y1, x2, y2)
}

// frame draws a box from its top left corner.
func (w *paper) frame(x, y, wide, high, thickness float64) {
	if w.dry {
		return
	}
	w.stroke(thickness, 0)
	w.pdf.Rect(x, y, wide, high, "D")
}

// rule draws a line across the page.
func (w *paper) rule(thickness float64) { w.line(w.left(), w.y, w.right(), w.y, thickness) }
