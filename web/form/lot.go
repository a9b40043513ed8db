//go:build !wasm

package form

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/stack"
)

// A Lot is the form of a packaged lot as typed. Its fields bear the paths of the
// lot document.
type Lot struct {
	Name, Rules, Labelled, LotSize, Seed, Limit string
	Packages                                    []LotPackage
}

// A LotPackage is one package to be measured: a volume, or a length and the area
// of an end.
type LotPackage struct{ Number, Volume, Length, Area string }

// LotPath is the path of a package's field in the lot document.
func LotPath(i int, field string) string { return fmt.Sprintf("packages[%d].%s", i, field) }

// ReadLot reads the form as sent: packages up to the first without a number.
func ReadLot(get Values) Lot {
	l := Lot{Name: get("lot"), Rules: get("rules"), Labelled: get("labelled"), LotSize: get("lot_size"), Seed: get("seed"), Limit: get("limit")}
	for i := range lot.MaxPackages {
		p := LotPackage{Number: get(LotPath(i, "number")), Volume: get(LotPath(i, "volume")),
			Length: get(LotPath(i, "length")), Area: get(LotPath(i, "area"))}
		if p.Number == "" {
			break
		}
		l.Packages = append(l.Packages, p)
	}
	return l
}

// Knows tells whether a form that was read so has a field of that name.
func (l Lot) Knows(name string) bool {
	switch name {
	case "lot", "rules", "labelled", "lot_size", "seed", "limit":
		return true
	}
	for i := range l.Packages {
		for _, field := range []string{"number", "volume", "length", "area"} {
			if name == LotPath(i, field) {
				return true
			}
		}
	}
	return false
}

func (p LotPackage) empty() bool { return p.Volume == "" && p.Length == "" && p.Area == "" }

// Picked gives the form with the packages of those numbers, keeping what was typed
// for any of them, and behind them those typed that are not among the numbers.
func (l Lot) Picked(numbers []int) Lot {
	typed := map[string]LotPackage{}
	for _, p := range l.Packages {
		typed[p.Number] = p
	}
	var packages []LotPackage
	for _, n := range numbers {
		p := typed[strconv.Itoa(n)]
		p.Number = strconv.Itoa(n)
		packages = append(packages, p)
		delete(typed, p.Number)
	}
	for _, p := range l.Packages {
		if _, left := typed[p.Number]; left && !p.empty() {
			packages = append(packages, p)
		}
	}
	l.Packages = packages
	return l
}

// Parse reads the lot; packages with nothing typed are not measured. Bare numbers
// are inches and square inches, or centimetres and square centimetres; a bare
// volume is cubic inches, or litres. The error is measure.InputErrors, whose fields
// are those of the form.
func (l Lot) Parse(metric bool) (lot.Lot, error) {
	doc, at, faults := l.document(unitsOf(metric))
	parsed, err := lot.ParseJSON(doc)
	if found, ok := err.(measure.InputErrors); ok {
		for _, e := range found {
			e.Field = at(e.Field)
		}
		return lot.Lot{}, append(faults, found...)
	}
	if len(faults) > 0 {
		return lot.Lot{}, faults
	}
	return parsed, err
}

type lotUnits struct{ length, area, volume string }

func unitsOf(metric bool) lotUnits {
	if metric {
		return lotUnits{"cm", "sq cm", "L"}
	}
	return lotUnits{"in", "sq in", "cu in"}
}

// document is the lot document of what was typed, the place on the form of each of
// its paths, and the faults of what no document can hold.
func (l Lot) document(u lotUnits) (doc []byte, at func(string) string, faults measure.InputErrors) {
	whole := func(field, text string) json.RawMessage {
		if _, err := strconv.ParseUint(text, 10, 64); err == nil {
			return json.RawMessage(strings.TrimLeft(text[:len(text)-1], "0") + text[len(text)-1:])
		}
		faults = append(faults, &measure.InputError{Field: field, Code: "not-a-number", Got: text,
			Reason: measure.Say("this is not a whole number"), Accepts: measure.Say("a whole number such as 30")})
		return json.RawMessage("1")
	}
	fields := map[string]any{"format": lot.Format, "lot_size": whole("lot_size", l.LotSize), "labelled": withUnit(l.Labelled, u.volume)}
	if l.Seed != "" {
		fields["seed"] = whole("seed", l.Seed)
	}
	if l.Limit != "" {
		fields["limit"] = withUnit(l.Limit, u.volume)
	}
	packages := []map[string]any{}
	places := map[string]string{}
	for i, p := range l.Packages {
		if p.empty() {
			continue
		}
		places[fmt.Sprintf("packages[%d]", len(packages))] = fmt.Sprintf("packages[%d]", i)
		fields := map[string]any{"number": whole(LotPath(i, "number"), p.Number)}
		for name, text := range map[string]string{"volume": withUnit(p.Volume, u.volume), "length": withUnit(p.Length, u.length), "area": withUnit(p.Area, u.area)} {
			if text != "" {
				fields[name] = text
			}
		}
		packages = append(packages, fields)
	}
	fields["packages"] = packages
	doc, _ = json.Marshal(fields) // maps of text and digits always encode
	return doc, func(path string) string {
		head, tail, _ := strings.Cut(path, "]")
		if place, found := places[head+"]"]; found {
			return place + strings.TrimSuffix(tail, "]")
		}
		return path
	}, faults
}

// withUnit puts a unit behind a bare number and leaves other text as it stands.
func withUnit(text, unit string) string {
	text = strings.TrimSpace(text)
	if string(stack.WithUnit(text, "in")) == text {
		return text
	}
	return text + " " + unit
}
