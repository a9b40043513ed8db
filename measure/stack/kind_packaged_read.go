package stack

import (
	"encoding/json"
	"math"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A PackagedDocument is the "stack" of a document whose kind is "packaged". Boxed
// has sections; crosshatched has heights, lengths and pieces; a bundle has ends and
// pieces.
type PackagedDocument struct {
	Kind     string            `json:"kind"`
	Method   Reading           `json:"method"`
	Sections []SectionDocument `json:"sections,omitempty"`
	Heights  []Reading         `json:"heights,omitempty"`
	Lengths  []Reading         `json:"lengths,omitempty"`
	Ends     []TracedDocument  `json:"ends,omitempty"`
	Pieces   []Reading         `json:"pieces,omitempty"`
}

// A SectionDocument is one section of a box.
type SectionDocument struct {
	Inside    Reading   `json:"inside"`
	Headspace []Reading `json:"headspace"`
	Widths    []Reading `json:"widths"`
	Pieces    []Reading `json:"pieces"`
}

// A TracedDocument is one traced end of a bundle: squares counted to the quarter.
type TracedDocument struct {
	Squares *float64 `json:"squares"` // a count
	Edge    Reading  `json:"edge"`    // of a square: "1 in", "1 cm"
}

const (
	MaxSections = 2
	maxSquares  = 100_000
)

func decodePackaged(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d PackagedDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Packaged{Method: PackageMethod(d.Method)}
	if !oneOf(string(d.Method), strict.Member(path, "method"), errs, string(Boxed), string(Crosshatched), string(Bundled)) {
		return s
	}
	r.checkMethod(&d)
	switch s.Method {
	case Boxed:
		s.Sections = r.readSections(d.Sections)
	case Crosshatched:
		s.Heights = r.least("heights", d.Heights, PackHeights, MaxHeight)
		s.Lengths = r.least("lengths", d.Lengths, PackLengths, MaxRowLength)
	default:
		s.Ends = r.readTraced(d.Ends)
	}
	if s.Method != Boxed {
		s.Pieces.Sample = r.least("pieces", d.Pieces, PackPieces, measure.MaxPieceLength)
	}
	return s
}

// checkMethod notes readings that belong to another method.
func (r *rowsReader) checkMethod(d *PackagedDocument) {
	method := PackageMethod(d.Method)
	for _, f := range []struct {
		name   string
		given  bool
		places bool
	}{
		{"sections", len(d.Sections) > 0, method == Boxed},
		{"heights", len(d.Heights) > 0, method == Crosshatched},
		{"lengths", len(d.Lengths) > 0, method == Crosshatched},
		{"ends", len(d.Ends) > 0, method == Bundled},
		{"pieces", len(d.Pieces) > 0, method != Boxed},
	} {
		if f.given && !f.places {
			r.errs.Add(strict.Member(r.path, f.name), "out-of-place", "", measure.Say("the method “%s” has no such readings", measure.Say(string(method))), measure.Say("nothing here"))
		}
	}
}

// least reads a list of which the procedure asks for so many.
func (r *rowsReader) least(name string, readings []Reading, n int, high measure.Length) []measure.Length {
	return r.leastAt(strict.Member(r.path, name), name, readings, n, 1, high)
}

func (r *rowsReader) leastAt(path, name string, readings []Reading, n int, low, high measure.Length) []measure.Length {
	if len(readings) < n {
		r.errs.Add(path, "too-few", strconv.Itoa(len(readings)), measure.Say("the procedure asks for %d readings at least", n), measure.Say("%d to %d %s", n, MaxPieces, name))
		return nil
	}
	if !r.counted(path, len(readings), n, MaxPieces, name) {
		return nil
	}
	var ls []measure.Length
	for i, reading := range readings {
		ls = append(ls, reading.length(strict.Item(path, i), low, high, r.errs))
	}
	return ls
}

func (r *rowsReader) readSections(sections []SectionDocument) []Section {
	path := strict.Member(r.path, "sections")
	if !r.counted(path, len(sections), 1, MaxSections, "sections") {
		return nil
	}
	var read []Section
	for i, d := range sections {
		at, before := strict.Item(path, i), len(*r.errs)
		s := Section{
			Inside:    r.need(strict.Member(at, "inside"), d.Inside, MaxHeight),
			Headspace: r.leastAt(strict.Member(at, "headspace"), "headspaces", d.Headspace, PackHeadspaces, 0, MaxHeight),
			Widths:    r.leastAt(strict.Member(at, "widths"), "widths", d.Widths, PackWidths, 1, MaxRowLength),
			Pieces:    r.leastAt(strict.Member(at, "pieces"), "pieces", d.Pieces, PackPieces, 1, measure.MaxPieceLength),
		}
		if len(*r.errs) == before && MeanInches(s.Headspace) >= inches(s.Inside) {
			r.errs.Add(strict.Member(at, "headspace"), "no-wood", "", measure.Say("the headspace takes up the whole box"), measure.Say("headspace less than %s", s.Inside))
		}
		read = append(read, s)
	}
	return read
}

func (r *rowsReader) readTraced(ends []TracedDocument) (read [2]Traced) {
	path := strict.Member(r.path, "ends")
	if !r.counted(path, len(ends), len(read), len(read), "traced ends") {
		return read
	}
	for i, d := range ends {
		at := strict.Item(path, i)
		read[i] = Traced{Quarters: r.readSquares(strict.Member(at, "squares"), d.Squares), Edge: r.need(strict.Member(at, "edge"), d.Edge, measure.Foot)}
	}
	return read
}

func (r *rowsReader) readSquares(path string, squares *float64) int {
	accepts := measure.Say("a number of squares in quarters, such as 118.25, up to %d", maxSquares)
	if squares == nil {
		r.errs.Add(path, "missing", "", measure.Say("the squares were not counted"), accepts)
		return 0
	}
	got := strconv.FormatFloat(*squares, 'g', -1, 64)
	switch quarters := *squares * 4; {
	case *squares <= 0 || *squares > maxSquares:
		r.errs.Add(path, "out-of-range", got, measure.Say("this isn’t a number of squares"), accepts)
	case quarters != math.Trunc(quarters):
		r.errs.Add(path, "not-quarters", got, measure.Say("squares are counted to the nearest quarter"), accepts)
	default:
		return int(quarters)
	}
	return 0
}

// checkReadings notes a part taken off below a package, which has none.
func (s Packaged) checkReadings(t *Tally, errs *measure.InputErrors) {
	if t.Raised != 0 {
		errs.Add("raised", "out-of-place", "", measure.Say("nothing is taken off below a package"), measure.Say("nothing here"))
	}
}
