package form

import (
	"encoding/json"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure/stack"
)

// A Tally is the measuring form: every reading still text as typed. Its fields are
// named by their paths in the tally document, "stack.rows[0].heights[2]".
type Tally struct {
	Sold, Tape, Top, Stowed, Raised, By, ReadBy, Condition string
	// Apart is empty (not answered), "not known", "none" or "some"; ApartSome is how much.
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
	Photo     Photo // none where the row is read with a tape
	Both      bool  // the tape is asked for beside the photo
}

// An End is one end of a row.
type End struct{ Kind, Over, Drop string }

// A Void is one gap in a row's face.
type Void struct{ Width, Height string }

// Unit is the one unit that a bare number on the form is taken in, as stack.WithUnit
// writes it.
type Unit string

// The units a page may be filled in with.
const (
	Inches      Unit = "in"
	Centimetres Unit = "cm"
)

// Units are the units to choose from.
func Units() []Unit { return []Unit{Inches, Centimetres} }

// known is the unit, or inches where it is none of those to choose from.
func (u Unit) known() Unit {
	if slices.Contains(Units(), u) {
		return u
	}
	return Inches
}

// with writes the unit onto a length that was typed without one.
func (u Unit) with(typed string) stack.Reading { return stack.WithUnit(typed, string(u)) }

// mark is the smallest mark of the tape that a page begins with.
func (u Unit) mark() string {
	if u == Centimetres {
		return "0.5"
	}
	return "1/4"
}

// Blank is the form before anything is typed.
func Blank(unit Unit, by stack.Party) Tally {
	return Tally{
		Unit: unit, By: string(by), Tape: unit.mark(),
		Pieces: make([]string, 5), Rows: []Row{{Heights: make([]string, 4), Ends: upright()}},
	}
}

// upright are the ends of a row of which nothing is said.
func upright() [2]End { return [2]End{{Kind: string(stack.Upright)}, {Kind: string(stack.Upright)}} }

const rowsKind = "rows"

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
	t.Unit = t.Unit.known()
	return t
}

func (t *Tally) set(name, value string) {
	if into := t.plain(name); into != nil {
		*into = value
		return
	}
	if m := rowPath.FindStringSubmatch(name); m != nil {
		if row := grown(&t.Rows, m[1], stack.MaxRows); row != nil {
			row.set(m[2], value)
		}
		return
	}
	if m := indexPath.FindStringSubmatch(name); m != nil && m[1] == "stack.pieces" {
		if piece := grown(&t.Pieces, m[2], stack.MaxPieces); piece != nil {
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
	if of, found := strings.CutPrefix(name, "photo."); found {
		if into := r.Photo.field(of); into != nil {
			*into = value
		}
		return
	}
	m := indexPath.FindStringSubmatch(name)
	if m == nil {
		return
	}
	var into *string
	switch m[1] {
	case "heights":
		into = grown(&r.Heights, m[2], stack.MaxStations)
	case "positions":
		into = grown(&r.Positions, m[2], stack.MaxStations)
	case "ends":
		if m[2] == "0" || m[2] == "1" {
			into = r.Ends[m[2][0]-'0'].field(m[3])
		}
	case "voids":
		if void := grown(&r.Voids, m[2], stack.MaxStations); void != nil {
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
// "heights+2" and "voids+2" for the third row, "photo+2", "both+2" and "tape+2" for a photo
// in place of its tape, for both, and back; "untap+2" takes its photo's last point back and "look+2" shows its picture. It
// tells whether it knew the change.
func (t *Tally) Change(do string) bool {
	switch do {
	case "row+":
		t.addRow()
		return true
	case "row-":
		t.Rows = t.Rows[:max(len(t.Rows)-1, min(len(t.Rows), 1))]
		return true
	case "pieces+":
		room := max(stack.MaxPieces-len(t.Pieces), 0)
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
	case kind == "heights" && len(r.Heights)+2 <= stack.MaxStations:
		r.Heights = append(r.Heights, "", "")
	case kind == "voids" && len(r.Voids) < stack.MaxStations:
		r.Voids = append(r.Voids, Void{})
	case kind == "photo":
		r.Photo.On = "yes"
	case kind == "tape":
		r.Photo.On = ""
	case kind == "both":
		r.Both = true
	case kind == "untap":
		r.Photo.Unpress()
	}
	return slices.Contains([]string{"heights", "voids", "photo", "tape", "both", "untap", "look"}, kind)
}

// addRow adds a row with as many stations as the last one has.
func (t *Tally) addRow() {
	if len(t.Rows) >= stack.MaxRows {
		return
	}
	stations := 4
	if len(t.Rows) > 0 {
		stations = max(stations, len(t.Rows[len(t.Rows)-1].Heights))
	}
	t.Rows = append(t.Rows, Row{Heights: make([]string, stations), Ends: upright()})
}

// In changes the unit of the form: what was typed without a unit gets the one it was
// meant in, so that no reading changes.
func (t *Tally) In(unit Unit) {
	was := t.Unit.known()
	for _, typed := range t.lengths() {
		*typed = string(was.with(*typed))
	}
	t.Unit = unit.known()
}

// lengths are the readings of the form that are lengths.
func (t *Tally) lengths() []*string {
	all := []*string{&t.Tape, &t.Raised, &t.Nominal}
	each := func(list []string) {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	each(t.Pieces)
	for i := range t.Rows {
		r := &t.Rows[i]
		all = append(all, &r.Length)
		each(r.Heights)
		each(r.Positions)
		all = append(all, r.Photo.lengths()...)
		for e := range r.Ends {
			all = append(all, &r.Ends[e].Over, &r.Ends[e].Drop)
		}
		for v := range r.Voids {
			all = append(all, &r.Voids[v].Width, &r.Voids[v].Height)
		}
	}
	return all
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
	return !r.Photo.Taken() && r.Length == "" && len(filled(r.Heights)) == 0 && len(filled(r.Positions)) == 0
}

// Shaped tells whether anything is said of the row's ends, gaps or places.
func (r Row) Shaped() bool {
	for _, e := range r.Ends {
		if e.Kind != "" && e.Kind != string(stack.Upright) {
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
	read := stack.RowsDocument{Kind: rowsKind, Rows: []stack.RowDocument{}}
	for _, piece := range filled(t.Pieces) {
		read.Pieces = append(read.Pieces, t.Unit.with(piece))
	}
	if len(read.Pieces) == 0 {
		read.Nominal = t.Unit.with(t.Nominal)
	}
	rows := t.Rows
	for len(rows) > 1 && rows[len(rows)-1].empty() {
		rows = rows[:len(rows)-1]
	}
	for _, row := range rows {
		read.Rows = append(read.Rows, row.document(t.Unit))
	}
	raw, err := json.Marshal(read)
	if err != nil {
		return nil, err
	}
	return json.Marshal(stack.Document{
		Format: stack.TallyFormat, Sold: stack.Reading(t.Sold), By: stack.Reading(t.By),
		Apart: t.apart(), Tape: t.Unit.with(t.Tape), Top: stack.Reading(t.Top),
		Stowed: stack.Reading(t.Stowed), Raised: t.Unit.with(t.Raised),
		Condition: stack.Reading(t.Condition), Stack: raw,
	})
}

func (t Tally) apart() stack.Reading {
	return stack.Reading(apart(t.Apart, t.ApartSome))
}

// apart is what a form says of wood that is elsewhere; "not known" is not said.
func apart(chosen, some string) string {
	switch chosen {
	case "some":
		return some
	case "not known":
		return ""
	}
	return chosen
}

func (r Row) document(unit Unit) stack.RowDocument {
	doc := stack.RowDocument{Length: unit.with(r.Length), Heights: []stack.Reading{}, Photo: r.Photo.document(unit)}
	for _, h := range filled(r.Heights) {
		doc.Heights = append(doc.Heights, unit.with(h))
	}
	for _, p := range filled(r.Positions) {
		doc.Positions = append(doc.Positions, unit.with(p))
	}
	if doc.Photo != nil && len(doc.Heights) == 0 && len(doc.Positions) == 0 {
		return doc // the ends and gaps are those of the outline
	}
	for _, e := range r.Ends {
		doc.Ends = append(doc.Ends, e.document(unit))
	}
	for _, v := range r.Voids {
		if v != (Void{}) {
			doc.Voids = append(doc.Voids, stack.VoidDocument{
				Width: unit.with(v.Width), Height: unit.with(v.Height)})
		}
	}
	return doc
}

// document leaves out what does not belong to the kind of end chosen, so that a
// number left behind after changing one's mind does no harm.
func (e End) document(unit Unit) stack.EndDocument {
	doc := stack.EndDocument{Kind: e.Kind}
	switch stack.EndKind(e.Kind) {
	case "":
		doc.Kind = string(stack.Upright)
	case stack.Shouldered:
		doc.Over, doc.Drop = unit.with(e.Over), unit.with(e.Drop)
	case stack.Tapered, stack.Cribbed:
		doc.Over = unit.with(e.Over)
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
