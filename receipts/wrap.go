package receipts

import (
	"regexp"
	"strings"
	"unicode"
	"unicode/utf8"
)

// wrap breaks a text into lines no wider than width millimetres: at its own line
// ends, at blanks, and inside a word only where the word alone is wider.
func (w *paper) wrap(f face, text string, width float64) []string {
	key := wrapKey{f, text, width}
	if lines, known := w.wrapped[key]; known {
		return lines
	}
	var lines []string
	for _, part := range strings.Split(tidy(text), "\n") {
		lines = append(lines, w.wrapLine(f, part, width)...)
	}
	w.wrapped[key] = lines
	return lines
}

// A wrapKey is a text that was wrapped: its height is asked for before it is painted.
type wrapKey struct {
	face  face
	text  string
	width float64
}

func (w *paper) wrapLine(f face, text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range unbroken(text) {
		pieces := w.breakWord(f, word, width)
		for i, piece := range pieces {
			joined := piece
			if line != "" && i == 0 {
				joined = line + " " + piece
			}
			switch {
			case line == "" || i == 0 && w.measure(f, joined) <= width:
				line = joined
			default:
				lines = append(lines, line)
				line = piece
			}
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// unbroken are the words of a text; what belongs to the figure before it stays with it: a
// fraction, a unit, the zone of a time.
func unbroken(text string) []string {
	var words []string
	for _, word := range strings.Fields(text) {
		if n := len(words); n > 0 && belongs(words[n-1], word) {
			words[n-1] += " " + word
			continue
		}
		words = append(words, word)
	}
	return words
}

// sealNumber is a seal as it is printed, with what ends a sentence.
var sealNumber = regexp.MustCompile(`^[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}\W*$`)

// belongs tells whether a word goes with the one before it: "1 1/3 cords", "48 ½ in",
// "15:05 EDT", "seal ABCD-EFGH-JKMN", and what is in brackets after a figure: "1 cord
// (128 ft³)".
func belongs(before, word string) bool {
	const longest = 6 // of a unit
	last, first := lastOf(before), firstOf(word)
	if first == '(' {
		return unicode.IsNumber(firstOf(before))
	}
	if sealNumber.MatchString(word) {
		return unicode.IsLetter(last)
	}
	if !unicode.IsNumber(last) {
		return false
	}
	if unicode.IsDigit(first) {
		return strings.Contains(word, "/")
	}
	return utf8.RuneCountInString(word) <= longest && unicode.IsLetter(first) || unicode.IsNumber(first)
}

func lastOf(text string) rune {
	last, _ := utf8.DecodeLastRuneInString(text)
	return last
}

func firstOf(text string) rune {
	first, _ := utf8.DecodeRuneInString(text)
	return first
}

// breakWord cuts a word that is wider than width into pieces that are not, one of several
// parts between them first.
func (w *paper) breakWord(f face, word string, width float64) []string {
	if w.measure(f, word) <= width {
		return []string{word}
	}
	var pieces []string
	if parts := strings.Fields(word); len(parts) > 1 {
		for _, part := range parts {
			pieces = append(pieces, w.breakWord(f, part, width)...)
		}
		return pieces
	}
	piece := ""
	for _, r := range word {
		if piece != "" && w.measure(f, piece+string(r)) > width {
			pieces = append(pieces, piece)
			piece = ""
		}
		piece += string(r)
	}
	return append(pieces, piece)
}

// paragraph paints a text across the page and goes on below it.
func (w *paper) paragraph(f face, text string) { w.block(w.left(), w.inner(), f, text) }

// block paints a text in a column and goes on below it.
func (w *paper) block(x, width float64, f face, text string) {
	for _, line := range w.wrap(f, text, width) {
		w.need(f.lead())
		w.y += f.lead()
		w.at(x, w.y-f.lead()*0.24, f, line)
	}
}

// item paints a text behind a tick of the scale.
func (w *paper) item(f face, text string) {
	w.need(f.lead())
	y := w.y + f.lead()*0.5
	w.line(w.left(), y, w.left()+2.2, y, ruleLine)
	w.block(w.left()+4, w.inner()-4, f, text)
}

// A written line is one line of a column with its face.
type written struct {
	face face
	text string
}

// lines wraps texts of one face for a column.
func (w *paper) lines(f face, width float64, texts ...string) []written {
	var out []written
	for _, text := range texts {
		for _, line := range w.wrap(f, text, width) {
			out = append(out, written{f, line})
		}
	}
	return out
}

// A column is lines beginning at x, or ending there.
type column struct {
	x     float64
	lines []written
	right bool
}

// columns paints columns side by side, on one page where a page holds them, else
// line by line from page to page.
func (w *paper) columns(cols ...column) {
	if h := highest(cols); h < w.bottom()-marginTop {
		w.need(h)
	}
	for i := 0; ; i++ {
		lead := 0.0
		for _, c := range cols {
			if i < len(c.lines) {
				lead = max(lead, c.lines[i].face.lead())
			}
		}
		if lead == 0 {
			return
		}
		w.need(lead)
		w.y += lead
		for _, c := range cols {
			if i >= len(c.lines) {
				continue
			}
			if f, text := c.lines[i].face, c.lines[i].text; c.right {
				w.rightAt(c.x, w.y-lead*0.24, f, text)
			} else {
				w.at(c.x, w.y-lead*0.24, f, text)
			}
		}
	}
}

// highest is the height of the longest column.
func highest(cols []column) float64 {
	most := 0.0
	for _, c := range cols {
		h := 0.0
		for _, line := range c.lines {
			h += line.face.lead()
		}
		most = max(most, h)
	}
	return most
}

// heading begins a section: a rule, and its name under it.
func (w *paper) heading(text string, keep float64) {
	f := labelFace()
	lines := w.wrap(f, strings.ToUpper(text), w.inner())
	w.need(float64(len(lines))*f.lead() + 2.5 + keep)
	w.gap(2.6 + w.air)
	w.rule(ruleLine)
	if !w.dry {
		w.sections = append(w.sections, section{w.pdf.PageNo(), w.y, text})
	}
	w.gap(0.6)
	for _, line := range lines {
		w.y += f.lead()
		w.at(w.left(), w.y-f.lead()*0.14, f, line)
	}
	w.gap(0.6)
}
