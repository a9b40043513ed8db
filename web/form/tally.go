package form

import (
	"encoding/json"
	"regexp"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// A Tally is the measuring form: every reading still text as typed. Its fields are
// named by their paths in the tally document, "stack.rows[0].heights[2]".
type Tally struct {
	Sold, Tape, Top, Stowed, Raised, By, ReadBy, Condition string
	// Apart is empty (not said), "none" or "some"; ApartSome is how much.
	Apart, ApartSome string
	Unit             Unit
	Pieces           []string
	Nominal          string
	Rows             []Row
}

// A Row is one row of the form.
type Row struct {
	Length    string
	Heights   []string
	Positions []string
	Ends      [2]End
	Voids     []Void
}

// An End is one end of a row.
type End struct{ Kind, Over, Drop string }

// A Void is one gap in a row's face.
type Void struct{ Width, Height string }

// Unit says in what unit a bare number on the form was meant.
type Unit string

// The units a page may be filled in with.
const (
	FeetAndInches Unit = "ft+in" // row lengths in feet, the rest in inches
	Inches        Unit = "in"
	MetresAndCm   Unit = "m+cm" // row lengths in metres, the rest in centimetres
	Centimetres   Unit = "cm"
)

// Units are the units to choose from, in the order shown.
func Units() []Unit { return []Unit{FeetAndInches, Inches, MetresAndCm, Centimetres} }

// Long is the unit of bare row lengths, Small that of every other bare length.
func (u Unit) Long() string {
	switch u {
	case FeetAndInches:
		return "ft"
	case MetresAndCm:
		return "m"
	}
	return u.Small()
}

// Small is the unit of bare heights, pieces, ends and gaps.
func (u Unit) Small() string {
	if u == MetresAndCm || u == Centimetres {
		return "cm"
	}
	return "in"
}

// Blank is the form before anything is typed.
func Blank(unit Unit, by measure.Party) Tally {
	row := Row{Heights: make([]string, 4)}
	row.Ends[0].Kind, row.Ends[1].Kind = string(measure.Upright), string(measure.Upright)
	tape := "1/4"
	if unit.Small() == "cm" {
		tape = "0.5"
	}
	return Tally{
		Unit: unit, By: string(by), Tape: tape, Top: string(measure.ByEye),
		Pieces: make([]string, 5), Rows: []Row{row},
	}
}

var (
	rowPath   = regexp.MustCompile(`^stack\.rows\[(\d{1,5})\]\.(.+)$`)
	indexPath = regexp.MustCompile(`^([a-z.]+)\[(\d{1,5})\](?:\.([a-z]+))?$`)
)

// ReadTally reads the form from every field sent. Readings past the limits of a
// tally are kept to one more than allowed, so that measuring it names the limit.
func ReadTally(each func(field func(name, value string))) Tally {
	var t Tally
	each(t.set)
	t.Pieces = together(t.Pieces)
	for i := range t.Rows {
		t.Rows[i].Voids = together(t.Rows[i].Voids)
	}
	if t.Unit != Inches && t.Unit != MetresAndCm && t.Unit != Centimetres {
		t.Unit = FeetAndInches
	}
	return t
}

func (t *Tally) set(name, value string) {
	if into := t.plain(name); into != nil {
		*into = value
		return
	}
	if m := rowPath.FindStringSubmatch(name); m != nil {
		if row := grown(&t.Rows, m[1], measure.MaxRows); row != nil {
			row.set(m[2], value)
		}
		return
	}
	if m := indexPath.FindStringSubmatch(name); m != nil && m[1] == "stack.pieces" {
		if piece := grown(&t.Pieces, m[2], measure.MaxPieces); piece != nil {
			*piece = value
		}
	}
}

func (t *Tally) plain(name string) *string {
	switch name {
	case "sold":
		return &t.Sold
	case "apart":
		return &t.Apart
	case "apart_some":
		return &t.ApartSome
	case "tape":
		return &t.Tape
	case "top":
		return &t.Top
	case "stowed":
		return &t.Stowed
	case "raised":
		return &t.Raised
	case "by":
		return &t.By
	case "read_by":
		return &t.ReadBy
	case "condition":
		return &t.Condition
	case "unit":
		return (*string)(&t.Unit)
	case "stack.nominal":
		return &t.Nominal
	}
	return nil
}

func (r *Row) set(name, value string) {
	if name == "length" {
		r.Length = value
		return
	}
	m := indexPath.FindStringSubmatch(name)
	if m == nil {
		return
	}
	var into *string
	switch m[1] {
	case "heights":
		into = grown(&r.Heights, m[2], measure.MaxStations)
	case "positions":
		into = grown(&r.Positions, m[2], measure.MaxStations)
	case "ends":
		if m[2] == "0" || m[2] == "1" {
			into = r.Ends[m[2][0]-'0'].field(m[3])
		}
	case "voids":
		if void := grown(&r.Voids, m[2], measure.MaxStations); void != nil {
			into = void.field(m[3])
		}
	}
	if into != nil {
		*into = value
	}
}

func (e *End) field(name string) *string {
	switch name {
	case "kind":
		return &e.Kind
	case "over":
		return &e.Over
	case "drop":
		return &e.Drop
	}
	return nil
}

func (v *Void) field(name string) *string {
	switch name {
	case "width":
		return &v.Width
	case "height":
		return &v.Height
	}
	return nil
}

// grown gives the place at index, making it; nil when index is past one more than
// the limit.
func grown[T any](list *[]T, index string, limit int) *T {
	n, err := strconv.Atoi(index)
	if err != nil || n > limit {
		return nil
	}
	for len(*list) <= n {
		var zero T
		*list = append(*list, zero)
	}
	return &(*list)[n]
}

// Change makes more or less room on the form: "row+", "row-", "pieces+",
// "heights+2" and "voids+2" for the third row. It tells whether it knew the change.
func (t *Tally) Change(do string) bool {
	switch do {
	case "row+":
		t.addRow()
		return true
	case "row-":
		t.Rows = t.Rows[:max(len(t.Rows)-1, min(len(t.Rows), 1))]
		return true
	case "pieces+":
		room := max(measure.MaxPieces-len(t.Pieces), 0)
		t.Pieces = append(t.Pieces, make([]string, min(5, room))...)
		return true
	}
	kind, index, _ := strings.Cut(do, "+")
	n, err := strconv.Atoi(index)
	if err != nil || n < 0 || n >= len(t.Rows) {
		return false
	}
	r := &t.Rows[n]
	switch {
	case kind == "heights" && len(r.Heights)+2 <= measure.MaxStations:
		r.Heights = append(r.Heights, "", "")
	case kind == "voids" && len(r.Voids) < measure.MaxStations:
		r.Voids = append(r.Voids, Void{})
	}
	return kind == "heights" || kind == "voids"
}

// addRow adds a row with as many stations as the last one has.
func (t *Tally) addRow() {
	if len(t.Rows) >= measure.MaxRows {
		return
	}
	stations := 4
	if len(t.Rows) > 0 {
		stations = len(t.Rows[len(t.Rows)-1].Heights)
	}
	fresh := Row{Heights: make([]string, stations)}
	fresh.Ends[0].Kind, fresh.Ends[1].Kind = string(measure.Upright), string(measure.Upright)
	t.Rows = append(t.Rows, fresh)
}

// Started tells whether any reading of a row has been typed.
func (t Tally) Started() bool {
	for _, r := range t.Rows {
		if !r.empty() {
			return true
		}
	}
	return false
}

func (r Row) empty() bool {
	return r.Length == "" && len(filled(r.Heights)) == 0 && len(filled(r.Positions)) == 0
}

// Shaped tells whether anything is said of the row's ends, gaps or places.
func (r Row) Shaped() bool {
	for _, e := range r.Ends {
		if e.Kind != "" && e.Kind != string(measure.Upright) {
			return true
		}
	}
	return len(r.Voids) > 0 || len(filled(r.Positions)) > 0
}

// Places are the row's positions, one for each height.
func (r Row) Places() []string {
	places := make([]string, len(r.Heights))
	copy(places, r.Positions)
	return places
}

// Document is the form as a tally document: bare numbers get the page's units,
// empty readings at the end of a list and empty rows at the end are left out.
func (t Tally) Document() ([]byte, error) {
	small := t.Unit.Small()
	stack := measure.RowsDocument{Kind: "rows", Rows: []measure.RowDocument{}}
	for _, piece := range filled(t.Pieces) {
		stack.Pieces = append(stack.Pieces, measure.WithUnit(piece, small))
	}
	if len(stack.Pieces) == 0 {
		stack.Nominal = measure.WithUnit(t.Nominal, small)
	}
	rows := t.Rows
	for len(rows) > 1 && rows[len(rows)-1].empty() {
		rows = rows[:len(rows)-1]
	}
	for _, row := range rows {
		stack.Rows = append(stack.Rows, row.document(t.Unit))
	}
	raw, err := json.Marshal(stack)
	if err != nil {
		return nil, err
	}
	return json.Marshal(measure.Document{
		Format: measure.TallyFormat, Sold: measure.Reading(t.Sold), By: measure.Reading(t.By),
		Apart: t.apart(), Tape: measure.WithUnit(t.Tape, small), Top: measure.Reading(t.Top),
		Stowed: measure.Reading(t.Stowed), Raised: measure.WithUnit(t.Raised, small),
		Condition: measure.Reading(t.Condition), Stack: raw,
	})
}

func (t Tally) apart() measure.Reading {
	if t.Apart == "some" {
		return measure.Reading(t.ApartSome)
	}
	return measure.Reading(t.Apart)
}

func (r Row) document(unit Unit) measure.RowDocument {
	small := unit.Small()
	doc := measure.RowDocument{Length: measure.WithUnit(r.Length, unit.Long()), Heights: []measure.Reading{}}
	for _, h := range filled(r.Heights) {
		doc.Heights = append(doc.Heights, measure.WithUnit(h, small))
	}
	for _, p := range filled(r.Positions) {
		doc.Positions = append(doc.Positions, measure.WithUnit(p, unit.Long()))
	}
	for _, e := range r.Ends {
		doc.Ends = append(doc.Ends, e.document(small))
	}
	for _, v := range r.Voids {
		if v != (Void{}) {
			doc.Voids = append(doc.Voids, measure.VoidDocument{
				Width: measure.WithUnit(v.Width, small), Height: measure.WithUnit(v.Height, small)})
		}
	}
	return doc
}

// document leaves out what does not belong to the kind of end chosen, so that a
// number left behind after changing one's mind does no harm.
func (e End) document(unit string) measure.EndDocument {
	doc := measure.EndDocument{Kind: e.Kind}
	switch measure.EndKind(e.Kind) {
	case "":
		doc.Kind = string(measure.Upright)
	case measure.Shouldered:
		doc.Over, doc.Drop = measure.WithUnit(e.Over, unit), measure.WithUnit(e.Drop, unit)
	case measure.Tapered, measure.Cribbed:
		doc.Over = measure.WithUnit(e.Over, unit)
	}
	return doc
}

// filled is the list without the empty readings at its end.
func filled(list []string) []string {
	for len(list) > 0 && strings.TrimSpace(list[len(list)-1]) == "" {
		list = list[:len(list)-1]
	}
	return list
}

// together moves what is empty to the end of a list in which order means nothing,
// so that the list sent and the list shown again have the same places.
func together[T comparable](list []T) []T {
	var zero T
	full := make([]T, 0, len(list))
	for _, item := range list {
		if item != zero {
			full = append(full, item)
		}
	}
	return append(full, make([]T, len(list)-len(full))...)
}
