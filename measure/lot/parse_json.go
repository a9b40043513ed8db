package lot

import (
	"bytes"
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
)

// ParseJSON reads a lot document of format 1, at most MaxBytes:
//
//	{"format": 1, "labelled": "0.75 cu ft", "lot_size": 30, "seed": 12345, "drawn": "777, 12345",
//	 "packages": [{"number": 3, "volume": "0.74 cu ft"},
//	              {"number": 7, "length": "16 in", "area": "81 sq in"}],
//	 "limit": "0.05 cu ft"}
//
// Field names are to the letter, each once; seed, drawn (every seed
// that was drawn for the lot, in order) and limit may be left out.
// Volumes, lengths and areas are text with a unit. The error is
// measure.InputErrors: the faults found, the first of each place, with its path.
func ParseJSON(doc []byte) (Lot, error) {
	doc = bytes.TrimSpace(doc)
	if fault := checkBytes(doc, measure.Say("one JSON object with “format” 1")); fault != nil {
		return Lot{}, measure.InputErrors{fault}
	}
	if fault := checkJSON(doc); fault != nil {
		return Lot{}, measure.InputErrors{fault}
	}
	var errs faults
	d := draft{at: inDocument}
	d.fromJSON(doc, &errs)
	l := d.lot(&errs)
	if len(errs) > 0 {
		return Lot{}, errs.listed(d.read)
	}
	return l, nil
}

// checkBytes refuses what is no text of a size that is read.
func checkBytes(doc []byte, accepts measure.Text) *measure.InputError {
	switch {
	case len(doc) == 0:
		return &measure.InputError{Code: "empty", Reason: measure.Say("the lot is missing"), Accepts: accepts}
	case len(doc) > MaxBytes:
		return &measure.InputError{Code: "too-large", Reason: measure.Say("this is over the limit of %d bytes", MaxBytes), Accepts: accepts}
	case !utf8.Valid(doc):
		return &measure.InputError{Code: "bad-text", Reason: measure.Say("this is not valid UTF-8 text"), Accepts: accepts}
	}
	return nil
}

func checkJSON(doc []byte) *measure.InputError {
	var whole json.RawMessage
	err := json.Unmarshal(doc, &whole)
	if err == nil {
		return nil
	}
	line := 1
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		line += bytes.Count(doc[:min(int(syntax.Offset), len(doc))], []byte("\n"))
	}
	return &measure.InputError{
		Code: "bad-json", Reason: measure.Say("this is not a JSON document, at line %d: %s", line, err.Error()),
		Accepts: measure.Say("one JSON object with “format” 1"),
	}
}

// A jsonField is a field of an object: text in quotes, or a bare whole number.
type jsonField struct {
	name   string
	quoted bool
	into   **string
}

func (d *draft) fromJSON(doc json.RawMessage, errs *faults) {
	list := object(doc, "", []jsonField{
		{"format", false, &d.format}, {"labelled", true, &d.labelled}, {"lot_size", false, &d.lotSize},
		{"seed", false, &d.seed}, {"drawn", true, &d.drawn}, {"packages", false, nil}, {"limit", true, &d.limit},
	}, errs)
	var packages []json.RawMessage
	if list != nil && (list[0] != '[' || json.Unmarshal(list, &packages) != nil) {
		wrongType("packages", list, measure.Say("a list in square brackets"), errs)
		return
	}
	for i, raw := range packages {
		var p draftPackage
		object(raw, inDocument(i, ""), []jsonField{
			{"number", false, &p.number}, {"volume", true, &p.volume}, {"length", true, &p.length}, {"area", true, &p.area},
		}, errs)
		d.packages = append(d.packages, p)
	}
}

// object reads the fields of the object raw, which is valid JSON, and gives the
// value of the one that goes into nothing.
func object(raw json.RawMessage, path string, fields []jsonField, errs *faults) (rest json.RawMessage) {
	decoder := json.NewDecoder(bytes.NewReader(raw))
	if open, err := decoder.Token(); err != nil || open != json.Delim('{') {
		wrongType(path, raw, measure.Say("an object in curly brackets"), errs)
		return nil
	}
	told := map[string]bool{}
	for decoder.More() {
		token, err := decoder.Token()
		name, ok := token.(string)
		var value json.RawMessage
		if err != nil || !ok || decoder.Decode(&value) != nil {
			return rest // checkJSON has seen the whole already
		}
		at := strings.TrimPrefix(path+"."+shown(name), ".")
		i := slices.IndexFunc(fields, func(f jsonField) bool { return f.name == name })
		switch {
		case told[name]:
			errs.add(at, "duplicate-field", "", measure.Say("the field “%s” is here twice", shown(name)), measure.Say("each field once"))
		case i < 0:
			errs.add(at, "unknown-field", "", measure.Say("“%s” isn’t a field here", shown(name)), measure.Say("%s", names(fields)))
		case fields[i].into == nil:
			rest = value
		default:
			*fields[i].into = scalar(value, at, fields[i].quoted, errs)
		}
		told[name] = true
	}
	return rest
}

func names(fields []jsonField) string {
	all := make([]string, len(fields))
	for i, f := range fields {
		all[i] = f.name
	}
	return strings.Join(all, ", ")
}

// scalar gives the text of a value, and notes one of the wrong type; its text is
// then kept for the parser of the field to pass over.
func scalar(raw json.RawMessage, path string, quoted bool, errs *faults) *string {
	var text string
	if raw[0] == '"' && json.Unmarshal(raw, &text) != nil || raw[0] != '"' {
		text = string(raw)
	}
	bare := raw[0] >= '0' && raw[0] <= '9' || raw[0] == '-'
	switch {
	case quoted && bare:
		errs.add(path, "no-unit", text, measure.Say("the number has no unit"), measure.Say("text in quotes with a unit"))
	case quoted && raw[0] != '"':
		wrongType(path, raw, measure.Say("text in quotes with a unit"), errs)
	case !quoted && !bare:
		wrongType(path, raw, measure.Say("a whole number without quotes"), errs)
	}
	return &text
}

func wrongType(path string, raw json.RawMessage, accepts measure.Text, errs *faults) {
	errs.add(path, "wrong-type", string(raw), measure.Say("this is another kind of value than belongs here"), accepts)
}
