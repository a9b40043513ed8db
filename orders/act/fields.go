package act

import (
	"errors"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// Fields gathers the faults of one request, in reading order.
type Fields struct{ Faults []*measure.InputError }

// Add notes a fault. Whatever was parsed from the same text is not used.
func (f *Fields) Add(field, code, got string, reason, accepts measure.Text) {
	f.Faults = append(f.Faults, &measure.InputError{Field: field, Code: code, Got: got, Reason: reason, Accepts: accepts})
}

// Missing notes a field that must be filled in.
func (f *Fields) Missing(field string, accepts measure.Text) {
	f.Add(field, "missing", "", measure.Say("nothing was filled in"), accepts)
}

// Parsed notes err, from a parser of one value, as a fault of field. It returns
// whether there was none.
func (f *Fields) Parsed(field string, err error) bool {
	if err == nil {
		return true
	}
	fault := &measure.InputError{Code: "not-understood", Reason: measure.Say("it was not understood")}
	var one *measure.InputError
	if errors.As(err, &one) {
		copied := *one
		fault = &copied
	}
	fault.Field = field
	f.Faults = append(f.Faults, fault)
	return false
}

// Err is nil without faults, else an Invalid *Error with all of them.
func (f *Fields) Err() error {
	if len(f.Faults) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Message: measure.Say("something is missing or was not understood"), Fields: f.Faults}
}

// NewInvalid is an Invalid *Error of one field.
func NewInvalid(field, code, got string, reason, accepts measure.Text) error {
	var f Fields
	f.Add(field, code, got, reason, accepts)
	return f.Err()
}

// Inputs notes measure's faults of a whole document. It returns any other error.
func (f *Fields) Inputs(err error) error {
	var many measure.InputErrors
	var one *measure.InputError
	switch {
	case errors.As(err, &many):
		f.Faults = append(f.Faults, many...)
	case errors.As(err, &one):
		f.Faults = append(f.Faults, one)
	default:
		return err
	}
	return nil
}

// Line tidies a text of one line and checks it.
func (f *Fields) Line(field, text string) string {
	return f.text(field, text, false)
}

// Lines tidies a text that may have line ends and checks it.
func (f *Fields) Lines(field, text string) string {
	return f.text(field, strings.ReplaceAll(text, "\r\n", "\n"), true)
}

func (f *Fields) text(field, text string, newlines bool) string {
	text = strings.TrimSpace(text)
	accepts := measure.Say("up to %d characters of plain text", measure.MaxText)
	if !utf8.ValidString(text) {
		f.Add(field, "bad-text", "", measure.Say("it holds bytes that are no text"), accepts)
		return ""
	}
	text = norm.NFC.String(text)
	if n := utf8.RuneCountInString(text); n > measure.MaxText {
		f.Add(field, "too-long", "", measure.Say("it has %d characters", n), accepts)
		return ""
	}
	if strings.ContainsFunc(text, func(r rune) bool { return Hidden(r) && (r != '\n' || !newlines) }) {
		f.Add(field, "bad-text", "", measure.Say("it holds control characters"), accepts)
		return ""
	}
	return text
}

// Hidden tells characters that are not seen but change what is: control
// characters, and those that turn the direction of writing.
func Hidden(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
}

// Barred notes terms in a text for print that are no legal quantity. The fault
// does not repeat them.
func (f *Fields) Barred(set rules.Set, field, text string) {
	if len(set.BarredIn(text)) > 0 {
		f.addBarred(field)
	}
}

// BarredInName is Barred for names, addresses and notes, where a term of one word
// ("rick", "pile") is a name or an everyday word: only those of several count.
func (f *Fields) BarredInName(set rules.Set, field, text string) {
	if slices.ContainsFunc(set.BarredIn(text), func(term string) bool { return strings.Contains(term, " ") }) {
		f.addBarred(field)
	}
}

func (f *Fields) addBarred(field string) {
	f.Add(field, "barred", "", measure.Say("it holds a term that may not be used for a quantity of wood on any paper"),
		measure.Say("the same without that term"))
}

// Hush keeps faults from repeating what was typed where that holds a barred term.
func (f *Fields) Hush(set rules.Set) {
	for i, fault := range f.Faults {
		if len(set.BarredIn(fault.Got)) > 0 {
			hushed := *fault
			hushed.Got = ""
			f.Faults[i] = &hushed
		}
	}
}

// Fold is a text as it is compared with others: in small letters with single spaces.
func Fold(text string) string { return strings.Join(strings.Fields(strings.ToLower(text)), " ") }
