package orders

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

// fields gathers the faults of one request, in reading order.
type fields struct{ faults []*measure.InputError }

// add notes a fault. Whatever was parsed from the same text is not used.
func (f *fields) add(field, code, got string, reason, accepts measure.Text) {
	f.faults = append(f.faults, &measure.InputError{Field: field, Code: code, Got: got, Reason: reason, Accepts: accepts})
}

// missing notes a field that must be filled in.
func (f *fields) missing(field string, accepts measure.Text) {
	f.add(field, "missing", "", measure.Say("nothing was filled in"), accepts)
}

// parsed notes err, from a parser of one value, as a fault of field. It returns
// whether there was none.
func (f *fields) parsed(field string, err error) bool {
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
	f.faults = append(f.faults, fault)
	return false
}

// err is nil without faults, else an Invalid *Error with all of them.
func (f *fields) err() error {
	if len(f.faults) == 0 {
		return nil
	}
	return &Error{Kind: Invalid, Message: measure.Say("something is missing or was not understood"), Fields: f.faults}
}

// invalid is an *Error of one field.
func invalid(field, code, got string, reason, accepts measure.Text) error {
	var f fields
	f.add(field, code, got, reason, accepts)
	return f.err()
}

// inputs notes measure's faults of a whole document. It returns any other error.
func (f *fields) inputs(err error) error {
	var many measure.InputErrors
	var one *measure.InputError
	switch {
	case errors.As(err, &many):
		f.faults = append(f.faults, many...)
	case errors.As(err, &one):
		f.faults = append(f.faults, one)
	default:
		return err
	}
	return nil
}

// line tidies a text of one line and checks it.
func (f *fields) line(field, text string) string {
	return f.text(field, text, false)
}

// lines tidies a text that may have line ends and checks it.
func (f *fields) lines(field, text string) string {
	return f.text(field, strings.ReplaceAll(text, "\r\n", "\n"), true)
}

func (f *fields) text(field, text string, newlines bool) string {
	text = strings.TrimSpace(text)
	accepts := measure.Say("up to %d characters of plain text", measure.MaxText)
	if !utf8.ValidString(text) {
		f.add(field, "bad-text", "", measure.Say("it holds bytes that are no text"), accepts)
		return ""
	}
	text = norm.NFC.String(text)
	if n := utf8.RuneCountInString(text); n > measure.MaxText {
		f.add(field, "too-long", "", measure.Say("it has %d characters", n), accepts)
		return ""
	}
	if strings.ContainsFunc(text, func(r rune) bool { return hidden(r) && (r != '\n' || !newlines) }) {
		f.add(field, "bad-text", "", measure.Say("it holds control characters"), accepts)
		return ""
	}
	return text
}

// hidden tells characters that are not seen but change what is: control
// characters, and those that turn the direction of writing.
func hidden(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
}

// barred notes terms in a text for print that are no legal quantity. The fault
// does not repeat them.
func (f *fields) barred(set rules.Set, field, text string) {
	if len(set.BarredIn(text)) > 0 {
		f.addBarred(field)
	}
}

// barredInName is barred for names, addresses and notes, where a term of one word
// ("rick", "pile") is a name or an everyday word: only those of several count.
func (f *fields) barredInName(set rules.Set, field, text string) {
	if slices.ContainsFunc(set.BarredIn(text), func(term string) bool { return strings.Contains(term, " ") }) {
		f.addBarred(field)
	}
}

func (f *fields) addBarred(field string) {
	f.add(field, "barred", "", measure.Say("it holds a term that may not stand for a quantity of wood on any paper"),
		measure.Say("the same without that term"))
}

// hush keeps faults from repeating what was typed where that holds a barred term.
func (f *fields) hush(set rules.Set) {
	for i, fault := range f.faults {
		if len(set.BarredIn(fault.Got)) > 0 {
			hushed := *fault
			hushed.Got = ""
			f.faults[i] = &hushed
		}
	}
}
