package stack

import (
	"bytes"
	"encoding/json"
	"strconv"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// What a reading may be.
const (
	maxLook     = 1_000
	maxTapeMark = measure.Foot
)

// ParseTally reads a tally document of format 2 or 1: one JSON object of at most
// MaxTallyBytes, field names to the letter, each once. The error is InputErrors:
// all faults found, the first of each field, in reading order, with their paths;
// where they are over 200, the last says how many more there are.
func ParseTally(doc []byte) (Tally, error) { return ParseTallyUnder(measure.Terms{}, doc) }

// ParseTallyUnder reads a tally document as ParseTally does, what was sold
// and what is apart under these terms.
func ParseTallyUnder(terms measure.Terms, doc []byte) (Tally, error) {
	doc = bytes.TrimSpace(doc)
	if fault := checkDocument(doc); fault != nil {
		return Tally{}, measure.InputErrors{fault}
	}
	var errs measure.InputErrors
	var d Document
	strict.Into(doc, &d, "", &errs)
	t := d.tally(doc, terms, &errs)
	if len(errs) > 0 {
		strict.SortAsWritten(errs, doc)
		return Tally{}, errs.Listed()
	}
	return t, nil
}

// checkDocument refuses what cannot be taken apart as one JSON document.
func checkDocument(doc []byte) *measure.InputError {
	accepts := measure.Say("one JSON object with “format” %d", TallyFormat)
	switch {
	case len(doc) == 0:
		return &measure.InputError{Code: "empty", Reason: measure.Say("the tally is missing"), Accepts: accepts}
	case len(doc) > MaxTallyBytes:
		return &measure.InputError{Code: "too-large", Reason: measure.Say("a tally of %d bytes is over the limit of %d", len(doc), MaxTallyBytes), Accepts: accepts}
	case !utf8.Valid(doc):
		return &measure.InputError{Code: "bad-text", Reason: measure.Say("this is not valid UTF-8 text"), Accepts: accepts}
	case strict.TooDeep(doc):
		return &measure.InputError{Code: "too-deep", Reason: measure.Say("brackets are nested more than %d deep", strict.MaxNesting), Accepts: accepts}
	}
	return strict.CheckJSON(doc, accepts)
}

// tally parses every reading of d, quantities under the terms; doc is what d was
// decoded from.
func (d *Document) tally(doc []byte, terms measure.Terms, errs *measure.InputErrors) Tally {
	t := Tally{By: Party(d.By), Look: d.Look, Tape: defaultTapeMark, Top: ByEye, Condition: string(d.Condition)}
	members, _ := strict.FieldsOf(doc)
	d.checkFormat(members, errs)
	d.readSold(&t, terms, errs)
	oneOf(string(d.By), "by", errs, "", string(Seller), string(Buyer), string(Inspector))
	d.readApart(&t, terms, errs)
	d.readLook(&t, members, errs)
	d.readTape(&t, errs)
	if oneOf(string(d.Top), "top", errs, "", string(ByEye), string(Straightedge)) && d.Top != "" {
		t.Top = Top(d.Top)
	}
	d.readHabits(&t, errs)
	d.readStowing(&t, errs)
	d.readStacked(&t, errs)
	if d.Raised != "" {
		t.Raised = d.Raised.length("raised", 0, MaxHeight, errs)
	}
	if fault := measure.CheckText(string(d.Condition), measure.Say("a word or two, such as green or seasoned")); fault != nil {
		errs.AddAt("condition", fault)
	}
	d.readDrying(&t, errs)
	d.readLooseCord(&t, errs)
	d.readConfirmed(&t, errs)
	d.readStack(&t, errs)
	if d.Format == FirstFormat {
		d.refuseLater(&t, members, errs)
	}
	return t
}

func has(members []strict.Field, name string) bool {
	for _, m := range members {
		if m.Name == name {
			return true
		}
	}
	return false
}

func (d *Document) checkFormat(members []strict.Field, errs *measure.InputErrors) {
	accepts := measure.Say("“format”: %d, or %d", TallyFormat, FirstFormat)
	switch {
	case !has(members, "format"):
		errs.Add("format", "missing", "", measure.Say("the format number is missing"), accepts)
	case d.Format != TallyFormat && d.Format != FirstFormat:
		errs.Add("format", "wrong-format", strconv.Itoa(d.Format), measure.Say("this format of a tally is not known"), accepts)
	}
}

func (d *Document) readSold(t *Tally, terms measure.Terms, errs *measure.InputErrors) {
	if d.Sold == "" {
		return
	}
	said, err := terms.ParseQuantity(string(d.Sold))
	if err != nil {
		errs.AddAt("sold", err)
		return
	}
	t.Sold = &said
}

func (d *Document) readApart(t *Tally, terms measure.Terms, errs *measure.InputErrors) {
	text := string(d.Apart)
	t.Apart.Answered = text != ""
	if word := strings.TrimSpace(text); text == "" || strings.EqualFold(word, "none") {
		return
	}
	said, err := terms.ParseQuantity(text)
	if err != nil {
		fault := err.(*measure.InputError)
		if terms.Cord == nil { // else the fault knows better what the rules take
			fault.Accepts = measure.Say("“none”, or a quantity such as 1/4 cord")
		}
		errs.AddAt("apart", fault)
		return
	}
	t.Apart.Quantity = said.Quantity
	switch {
	case d.Sold == "":
		errs.Add("apart", "needs-sold", text, measure.Say("nothing was sold that this could be a part of"), measure.Say("“none”, or what was sold as well"))
	case t.Sold == nil:
	case said.Quantity.Basis != t.Sold.Quantity.Basis:
		errs.Add("apart", "wrong-basis", text, measure.Say("this is piled in another way than what was sold"), measure.Say("a quantity of wood as it was sold"))
	case said.Quantity.Volume > t.Sold.Quantity.Volume:
		errs.Add("apart", "more-than-sold", text, measure.Say("this is more than the %s that was sold", t.Sold.Quantity), measure.Say("at most what was sold"))
	}
}

func (d *Document) readLook(t *Tally, members []strict.Field, errs *measure.InputErrors) {
	if !has(members, "look") {
		t.Look = 1
		return
	}
	if d.Look < 1 || d.Look > maxLook {
		errs.Add("look", "out-of-range", strconv.Itoa(d.Look), measure.Say("checks are counted from 1"), measure.Say("a whole number from 1 to %d", maxLook))
	}
}

func (d *Document) readTape(t *Tally, errs *measure.InputErrors) {
	if d.Tape != "" {
		t.Tape = d.Tape.length("tape", 1, maxTapeMark, errs)
	}
}

// readStack finds the kind of the stack and lets it read the rest.
func (d *Document) readStack(t *Tally, errs *measure.InputErrors) {
	if len(d.Stack) == 0 {
		errs.Add("stack", "missing", "", measure.Say("how the wood is piled is missing"), measure.Say("an object with a “kind”: %s", kindNames()))
		return
	}
	members, ok := strict.FieldsOf(d.Stack)
	if !ok {
		strict.WrongType(d.Stack, "stack", measure.Say("an object with a “kind”: %s", kindNames()), errs)
		return
	}
	kind := ""
	for _, m := range members {
		if m.Name == "kind" && json.Unmarshal(m.Value, &kind) != nil {
			strict.WrongType(m.Value, "stack.kind", measure.Say("one of: %s", kindNames()), errs)
			return
		}
	}
	for _, k := range kinds() {
		if k.name == kind {
			t.Stack = k.decode(d.Stack, "stack", errs)
			t.checkStack(errs)
			return
		}
	}
	code := "unknown-kind"
	if kind == "" {
		code = "missing"
	}
	errs.Add("stack.kind", code, kind, measure.Say("the kind of the stack is missing or not known"), measure.Say("one of: %s", kindNames()))
}

// checkStack lets a stack that has more to check against the rest of the tally
// do so.
func (t *Tally) checkStack(errs *measure.InputErrors) {
	if s, ok := t.Stack.(interface {
		checkReadings(*Tally, *measure.InputErrors)
	}); ok {
		s.checkReadings(t, errs)
	}
}

func kindNames() string {
	names := make([]string, len(kinds()))
	for i, k := range kinds() {
		names[i] = k.name
	}
	return strings.Join(names, ", ")
}

// oneOf notes a fault, and is false, where text is none of words; an empty word
// stands for a field that is left out.
func oneOf(text, path string, errs *measure.InputErrors, words ...string) bool {
	var named []string
	for _, w := range words {
		if text == w {
			return true
		}
		if w != "" {
			named = append(named, w)
		}
	}
	errs.Add(path, "not-one-of", text, measure.Say("this word is not known here"), measure.Say("one of: %s", strings.Join(named, ", ")))
	return false
}

// length parses a reading that stands at path and notes a fault where it is none
// or not within low and high; it is 0 then.
func (r Reading) length(path string, low, high measure.Length, errs *measure.InputErrors) measure.Length {
	l, err := measure.ParseLength(string(r))
	switch {
	case err != nil:
		errs.AddAt(path, err)
	case l < low && low <= 1:
		errs.Add(path, "not-positive", string(r), measure.Say("this is not more than nothing"), measure.Say("a length up to %s", high))
	case l < low:
		errs.Add(path, "too-small", string(r), measure.Say("this is too short"), measure.Say("a length from %s to %s", low, high))
	case l > high:
		errs.Add(path, "too-large", string(r), measure.Say("this is over the limit of %s", high), measure.Say("a length up to %s", high))
	default:
		return l
	}
	return 0
}
