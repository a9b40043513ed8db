package receipts

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/text/unicode/norm"

	"wellstowed/measure"
	"wellstowed/orders"
)

// faces are the fonts that paper is printed in, read for what letters they hold.
type faces struct{ regular, bold *sfnt.Font }

func readFaces() (faces, error) {
	regular, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		return faces{}, fmt.Errorf("reading the regular font: %w", err)
	}
	bold, err := sfnt.Parse(gobold.TTF)
	if err != nil {
		return faces{}, fmt.Errorf("reading the bold font: %w", err)
	}
	return faces{regular: regular, bold: bold}, nil
}

// missing gives the characters of text that either font lacks, each once, in the
// order they stand in. A byte that is no UTF-8 counts as U+FFFD.
func (f faces) missing(text string) []rune {
	var lack []rune
	for _, r := range tidy(text) {
		if r != '\n' && !f.holds(r) && !slices.Contains(lack, r) {
			lack = append(lack, r)
		}
	}
	return lack
}

// holds tells whether both fonts have a glyph of their own for r. Runes past
// U+FFFF are never printed: the PDF library holds no more.
func (f faces) holds(r rune) bool {
	if r == utf8.RuneError || r > 0xFFFF {
		return false
	}
	regular, err1 := f.regular.GlyphIndex(nil, r)
	bold, err2 := f.bold.GlyphIndex(nil, r)
	return err1 == nil && err2 == nil && regular != 0 && bold != 0
}

// tidy brings a text into the form that is printed: composed letters (NFC), one
// kind of line end, blanks for tabs.
func tidy(text string) string {
	text = norm.NFC.String(strings.ToValidUTF8(text, string(utf8.RuneError)))
	return strings.NewReplacer("\r\n", "\n", "\r", "\n", "\t", " ").Replace(text)
}

// A named text is one that a person typed, with the name of its field.
type named struct{ field, text string }

// printable returns an *orders.Error of Kind Invalid that names each field whose
// text has characters the fonts lack.
func (f faces) printable(texts []named) error {
	var faults []*measure.InputError
	for _, t := range texts {
		if lack := f.missing(t.text); len(lack) > 0 {
			faults = append(faults, unprintable(t, lack))
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return &orders.Error{
		Kind:    orders.Invalid,
		Message: measure.Say("Some of the text can’t be printed: %s", measure.Say("%s", faults[0].Error())),
		Fields:  faults,
	}
}

// lawful returns an *orders.Error of Kind Invalid that names each field that
// speaks of wood in a term that the rule set of a paper bars; a paper that names no
// set that is known is held against the model law.
func (p *Painter) lawful(under orders.RuleSet, texts ...named) error {
	set, err := p.rules.Get(under.Code)
	if err != nil {
		if set, err = p.rules.Get(modelLaw); err != nil {
			return err
		}
	}
	var faults []*measure.InputError
	for _, t := range texts {
		if len(set.BarredIn(t.text)) > 0 {
			faults = append(faults, &measure.InputError{
				Field: t.field, Code: "barred", Got: t.text, Reason: measure.Say("it holds a term that may not be printed"),
				Accepts: measure.Say("a description without that term"),
			})
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return &orders.Error{Kind: orders.Invalid, Message: measure.Say("Some of the text may not be printed."), Fields: faults}
}

// modelLaw is the code of the set that others are drawn from.
const modelLaw = "us-model"

func unprintable(t named, lack []rune) *measure.InputError {
	names := make([]string, len(lack))
	for i, r := range lack {
		names[i] = fmt.Sprintf("%q (%U)", r, r)
	}
	return &measure.InputError{
		Field: t.field, Code: "unprintable", Got: strings.ToValidUTF8(t.text, string(utf8.RuneError)),
		Reason:  measure.Say("the letters of the paper lack %s", strings.Join(names, ", ")),
		Accepts: measure.Say("Latin, Greek and Cyrillic letters; for another script, give a spelling in these to be printed"),
	}
}
