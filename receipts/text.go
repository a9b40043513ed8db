package receipts

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// missing gives the characters of text that the fonts lack, each once, in the order
// they stand in. A byte that isn't UTF-8 counts as U+FFFD.
func (l *letters) missing(text string) []rune {
	var lack []rune
	for _, r := range tidy(text) {
		if !l.letter(r).held && r != '\n' && !slices.Contains(lack, r) {
			lack = append(lack, r)
		}
	}
	return lack
}

// tidy brings a text into the form that is printed: composed letters (NFC), one
// kind of line end, blanks for tabs.
func tidy(text string) string {
	if plain(text) {
		return text
	}
	text = norm.NFC.String(strings.ToValidUTF8(text, string(utf8.RuneError)))
	return lineEnds.Replace(text)
}

var lineEnds = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\t", " ")

// plain tells whether a text is in the printed form already, as most are.
func plain(text string) bool {
	const composed, dashes, bullets, minus = 0x300, 0x2010, 0x2030, 0x2212 // letters and signs that nothing composes
	for _, r := range text {
		if r == '\r' || r == '\t' || r >= composed && (r < dashes || r > bullets) && r != minus {
			return false
		}
	}
	return true
}

// A named text is one that a person typed, with the name of its field.
type named struct{ field, text string }

// printable returns an *act.Error of Kind Invalid that names each field whose
// text has characters the fonts lack.
func (l *letters) printable(texts []named) error {
	var faults []*measure.InputError
	for _, t := range texts {
		if lack := l.missing(t.text); len(lack) > 0 {
			faults = append(faults, unprintable(t, lack))
		}
	}
	if len(faults) == 0 {
		return nil
	}
	return &act.Error{
		Kind:    act.Invalid,
		Message: measure.Say("Some of the text can’t be printed: %s", measure.Say("%s", faults[0].Error())),
		Fields:  faults,
	}
}

// lawful returns an *act.Error of Kind Invalid that names each field that
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
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Some of the text may not be printed."), Fields: faults}
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
