package lot

import (
	"strconv"
	"strings"

	"wellstowed/measure"
)

// A draft is a lot as text, before its values are parsed; nil is a field that was
// left out.
type draft struct {
	format, labelled, lotSize, seed, limit *string
	drawn                                  *string // seeds with commas between them
	packages                               []draftPackage
	at                                     places
	read                                   map[string]string // text by its place
}

type draftPackage struct{ number, volume, length, area *string }

// lot parses every value. Those that can't be parsed are noted and the rest is
// checked too.
func (d *draft) lot(errs *faults) Lot {
	d.read = map[string]string{}
	d.checkFormat(errs)
	l := Lot{Labelled: d.volume(-1, "labelled", d.labelled, errs), LotSize: d.whole(-1, "lot_size", d.lotSize, errs)}
	if d.seed != nil {
		l.Seed = d.seedOf(errs)
	}
	if d.drawn != nil {
		l.Drawn = d.draws(errs)
	}
	if d.limit != nil {
		limit := d.volume(-1, "limit", d.limit, errs)
		l.Limit = &limit
	}
	for i, p := range d.packages {
		l.Packages = append(l.Packages, d.pack(i, p, errs))
	}
	refused := len(*errs) > 0
	for _, e := range l.check(d.at) {
		if !refused || e.Field != d.at(-1, "packages") { // a refused line is why none is there
			*errs = append(*errs, e)
		}
	}
	return l
}

func (d *draft) checkFormat(errs *faults) {
	path, accepts := d.at(-1, "format"), measure.Say("format 1")
	switch {
	case d.format == nil:
		errs.add(path, "missing", "", measure.Say("the format number is missing"), accepts)
	case *d.format != strconv.Itoa(Format):
		errs.add(path, "wrong-format", *d.format, measure.Say("this format of a lot is not known"), accepts)
	}
}

func (d *draft) seedOf(errs *faults) *uint64 {
	seed, err := strconv.ParseUint(*d.seed, 10, 64)
	if err != nil {
		errs.add(d.at(-1, "seed"), "not-a-number", *d.seed, measure.Say("this is not a seed"), measure.Say("a whole number from 0 to 18446744073709551615"))
	}
	return &seed
}

// draws reads the seeds that were drawn for the lot.
func (d *draft) draws(errs *faults) []uint64 {
	var seeds []uint64
	for _, text := range strings.Split(*d.drawn, ",") {
		seed, err := strconv.ParseUint(strings.TrimSpace(text), 10, 64)
		if err != nil {
			errs.add(d.at(-1, "drawn"), "not-a-number", strings.TrimSpace(text), measure.Say("this is not a seed"), measure.Say("seeds with commas between them, in the order they were drawn"))
			return nil
		}
		seeds = append(seeds, seed)
	}
	return seeds
}

// pack parses a package: its volume, or the length and end it is worked out from.
func (d *draft) pack(i int, p draftPackage, errs *faults) Package {
	out := Package{Number: d.whole(i, "number", p.number, errs)}
	accepts := measure.Say("a “volume”, or a “length” and an “area”")
	switch {
	case p.volume != nil && (p.length != nil || p.area != nil):
		errs.add(d.at(i, ""), "too-much", "", measure.Say("there is a volume and also what it could be worked out from"), accepts)
		out.Volume = 1 // refused already
		return out
	case p.volume == nil && p.length == nil && p.area == nil:
		errs.add(d.at(i, "volume"), "missing", "", measure.Say("the volume is missing"), accepts)
		return out
	case p.volume != nil:
		out.Volume = d.volume(i, "volume", p.volume, errs)
		return out
	}
	before := len(*errs)
	out.Length = d.length(i, p.length, errs)
	out.Area = d.area(i, p.area, errs)
	if out.Volume = out.Area.By(out.Length); len(*errs) > before {
		out.Volume = 1
	}
	return out
}

// missing notes a value that is left out, and keeps the text of one that is there.
func (d *draft) missing(i int, field string, text *string, accepts string, errs *faults) bool {
	if text == nil {
		errs.add(d.at(i, field), "missing", "", measure.Say("the %s is missing", measure.Say(plain(field))), measure.Say(accepts))
		return true
	}
	d.read[d.at(i, field)] = *text
	return false
}

func plain(field string) string {
	if field == "lot_size" {
		return "lot size"
	}
	return field
}

func (d *draft) whole(i int, field string, text *string, errs *faults) int {
	if d.missing(i, field, text, "a whole number, such as 30", errs) {
		return 0
	}
	n, err := strconv.ParseUint(*text, 10, 31)
	if err != nil {
		errs.add(d.at(i, field), "not-a-number", *text, measure.Say("this is not a whole number, or far too large"), measure.Say("a whole number, such as 30"))
	}
	return int(n)
}

func (d *draft) volume(i int, field string, text *string, errs *faults) measure.Volume {
	if d.missing(i, field, text, "a volume with its unit, such as 0.75 cu ft", errs) {
		return 0
	}
	v, err := measure.ParseVolume(*text)
	if err != nil {
		errs.addAt(d.at(i, field), err)
	}
	return v
}

func (d *draft) length(i int, text *string, errs *faults) measure.Length {
	if d.missing(i, "length", text, "a length with its unit, such as 16 in", errs) {
		return 0
	}
	l, err := measure.ParseLength(*text)
	if err != nil {
		errs.addAt(d.at(i, "length"), err)
	}
	return l
}

func (d *draft) area(i int, text *string, errs *faults) Area {
	if d.missing(i, "area", text, "an area with its unit, such as 81 sq in", errs) {
		return 0
	}
	a, err := ParseArea(*text)
	if err != nil {
		errs.addAt(d.at(i, "area"), err)
	}
	return a
}
