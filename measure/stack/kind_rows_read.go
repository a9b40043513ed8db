package stack

import (
	"encoding/json"
	"math"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// maxVoids is the most voids a row may have.
const MaxVoids = 200

// A rowsReader turns a RowsDocument into Rows and notes every fault.
type rowsReader struct {
	path   string
	errs   *measure.InputErrors
	pieces int // read so far, in the whole stack
}

// decodeRows reads the "stack" object of kind "rows".
func decodeRows(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d RowsDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Rows{Pieces: r.readPieces(path, d.Pieces, d.Nominal)}
	if !r.counted(strict.Member(path, "rows"), len(d.Rows), 1, MaxRows, "rows") {
		return s
	}
	s.Window = r.readWindow(d.Window, true)
	served := d.Nominal != "" || len(d.Pieces) > 0
	for i, row := range d.Rows {
		at := strict.Item(strict.Member(path, "rows"), i)
		s.Rows = append(s.Rows, r.readRow(at, &row))
		if !served && row.Nominal == "" && len(row.Pieces) == 0 {
			errs.Add(strict.Member(path, "pieces"), "missing", "", measure.Say("row %d has no piece length", i+1),
				measure.Say("measured piece lengths or a nominal one, for the stack or the row"))
		}
	}
	return s
}

// counted notes a fault, and is false, where n things are fewer than low or more
// than high.
func (r *rowsReader) counted(path string, n, low, high int, things string) bool {
	switch {
	case n < low:
		r.errs.Add(path, "missing", "", measure.Say("there are no %s", things), measure.Say("%d to %d of them", low, high))
		return false
	case n > high:
		r.errs.Add(path, "too-many", strconv.Itoa(n), measure.Say("%d %s are over the limit of %d", n, things, high), measure.Say("%d to %d of them", low, high))
		return false
	}
	return true
}

func (r *rowsReader) readPieces(path string, sample []Reading, nominal Reading) Pieces {
	if len(sample) > 0 && nominal != "" {
		r.errs.Add(strict.Member(path, "nominal"), "both", string(nominal), measure.Say("there are measured pieces as well as a nominal length"), measure.Say("one of the two"))
	}
	var p Pieces
	r.pieces += len(sample)
	at := strict.Member(path, "pieces")
	if r.counted(at, r.pieces, 0, MaxPieces, "pieces") {
		p.Sample = r.lengths(at, sample, measure.MaxPieceLength)
	}
	if nominal != "" {
		p.Nominal = nominal.length(strict.Member(path, "nominal"), nominalLess+1, measure.MaxPieceLength, r.errs)
	}
	return p
}

// lengths reads a list of lengths above 0.
func (r *rowsReader) lengths(path string, readings []Reading, high measure.Length) []measure.Length {
	var ls []measure.Length
	for i, reading := range readings {
		ls = append(ls, reading.length(strict.Item(path, i), 1, high, r.errs))
	}
	return ls
}

func (r *rowsReader) readRow(path string, d *RowDocument) Row {
	row := Row{Ends: [2]End{{Kind: Upright, Unsaid: true}, {Kind: Upright, Unsaid: true}}}
	if d.Photo != nil && !d.taped() {
		r.readPhoto(path, d, &row)
		row.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
		return row
	}
	if d.Length == "" {
		r.errs.Add(strict.Member(path, "length"), "missing", "", measure.Say("the row’s length is missing"), measure.Say("a length up to %s", measure.Length(MaxRowLength)))
	} else {
		row.Length = d.Length.length(strict.Member(path, "length"), 1, MaxRowLength, r.errs)
	}
	r.readLengths(strict.Member(path, "lengths"), d, &row)
	if at := strict.Member(path, "heights"); r.counted(at, len(d.Heights), 1, MaxStations, "heights") {
		row.Heights = r.lengths(at, d.Heights, MaxHeight)
	}
	row.Positions = r.readPositions(strict.Member(path, "positions"), d, row.Length)
	if at := strict.Member(path, "ends"); r.counted(at, len(d.Ends), 0, len(row.Ends), "ends") {
		for i := range d.Ends {
			row.Ends[i] = r.readEnd(strict.Item(at, i), &d.Ends[i])
		}
	}
	if at := strict.Member(path, "voids"); r.counted(at, len(d.Voids), 0, MaxVoids, "voids") {
		row.Voids = r.readVoids(at, d.Voids, row.Length)
	}
	row.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	row.Back = r.readBack(strict.Member(path, "back"), d)
	row.Slope = r.readSlope(strict.Member(path, "slope"), d.Slope)
	if d.Photo != nil {
		row.Beside = r.seen(strict.Member(path, "photo"), d.Photo)
	}
	return row
}

// taped tells whether a tape was laid to the row, whether or not there is a photo of it too.
func (d *RowDocument) taped() bool { return d.Length != "" || len(d.Heights) > 0 }

// readLengths reads a row's length at other heights; its length is the mean of all.
func (r *rowsReader) readLengths(path string, d *RowDocument, row *Row) {
	if len(d.Lengths) == 0 || !r.counted(path, len(d.Lengths), 1, MaxLengths, "lengths") {
		return
	}
	more := r.lengths(path, d.Lengths, MaxRowLength)
	if row.Length == 0 { // a fault that is told already
		return
	}
	row.Lengths = append([]measure.Length{row.Length}, more...)
	row.Length = OfInches(MeanInches(row.Lengths))
}

// readBack reads the heights of the back face, one for each of the front.
func (r *rowsReader) readBack(path string, d *RowDocument) []measure.Length {
	if len(d.Back) == 0 {
		return nil
	}
	if len(d.Back) != len(d.Heights) {
		r.errs.Add(path, "mismatch", "", measure.Say("%d heights of the back face stand beside %d of the front", len(d.Back), len(d.Heights)),
			measure.Say("one for each height, at the same places, or none"))
		return nil
	}
	return r.lengths(path, d.Back, MaxHeight)
}

// readSlope reads how heights were held on a slope.
func (r *rowsReader) readSlope(path string, d *SlopeDocument) Slope {
	if d == nil {
		return Slope{}
	}
	s := Slope{Held: Held(d.Heights)}
	if !oneOf(string(d.Heights), strict.Member(path, "heights"), r.errs, string(Perpendicular), string(Vertical)) {
		return Slope{}
	}
	angled, ran := d.Degrees != nil, d.Rise != "" || d.Run != ""
	switch {
	case s.Held == Perpendicular && (angled || ran):
		r.errs.Add(path, "out-of-place", "", measure.Say("heights held perpendicular to the slope count as read"), measure.Say("no rise, run or degrees"))
	case s.Held == Vertical && angled == ran:
		r.errs.Add(path, "one-of", "", measure.Say("how steep the slope is, is given in two ways, or in none"), measure.Say("“rise” and “run”, or “degrees”"))
	case ran:
		s.Rise = d.Rise.length(strict.Member(path, "rise"), 0, MaxRowLength, r.errs)
		s.Run = r.need(strict.Member(path, "run"), d.Run, MaxRowLength)
		if s.Run > 0 && s.Rise > s.Run {
			r.errs.Add(strict.Member(path, "rise"), "too-large", string(d.Rise), measure.Say("this is steeper than 45 degrees"), measure.Say("a rise up to %s", s.Run))
		}
	case angled:
		const run = 100 * measure.Metre
		steep := number(strict.Member(path, "degrees"), d.Degrees, 0, 45, r.errs)
		s.Run, s.Rise = run, measure.Length(math.Round(math.Tan(steep*math.Pi/180)*float64(run)))
	}
	return s
}

// readPositions reads where the heights were taken: one for each, going up, within
// the row.
func (r *rowsReader) readPositions(path string, d *RowDocument, length measure.Length) []measure.Length {
	if len(d.Positions) == 0 {
		return nil
	}
	if len(d.Positions) != len(d.Heights) {
		r.errs.Add(path, "mismatch", "", measure.Say("%d positions stand beside %d heights", len(d.Positions), len(d.Heights)), measure.Say("one position for each height, or none"))
		return nil
	}
	var positions []measure.Length
	for i, reading := range d.Positions {
		before := len(*r.errs)
		x := reading.length(strict.Item(path, i), 0, MaxRowLength, r.errs)
		sound := len(*r.errs) == before
		switch {
		case sound && length > 0 && x > length:
			r.errs.Add(strict.Item(path, i), "out-of-range", string(reading), measure.Say("this is past the end of the row, %s", length), measure.Say("a length up to %s", length))
		case sound && i > 0 && x <= positions[i-1]:
			r.errs.Add(strict.Item(path, i), "out-of-order", string(reading), measure.Say("this is not past the position before it, %s", positions[i-1]), measure.Say("positions that go up along the row"))
		}
		positions = append(positions, x)
	}
	return positions
}

func (r *rowsReader) readEnd(path string, d *EndDocument) End {
	e := End{Kind: EndKind(d.Kind)}
	if !oneOf(d.Kind, strict.Member(path, "kind"), r.errs, string(Upright), string(Shouldered), string(Tapered), string(Cribbed), string(EndNotSaid)) {
		return e
	}
	if e.Kind == EndNotSaid {
		e = End{Kind: Upright, Unsaid: true}
	}
	if r.belongs(strict.Member(path, "over"), string(d.Over), e.Kind, e.Kind != Upright) {
		e.Over = d.Over.length(strict.Member(path, "over"), 1, MaxRowLength, r.errs)
	}
	if r.belongs(strict.Member(path, "drop"), string(d.Drop), e.Kind, e.Kind == Shouldered) {
		e.Drop = d.Drop.length(strict.Member(path, "drop"), 1, MaxHeight, r.errs)
	}
	if e.Kind == Cribbed {
		e.Share = cribShare
	}
	if d.Share != nil {
		r.readShare(strict.Member(path, "share"), *d.Share, &e)
	}
	return e
}

// belongs tells whether a reading of an end is there to be read, and notes a fault
// where it is missing or out of place.
func (r *rowsReader) belongs(path, text string, kind EndKind, needed bool) bool {
	switch {
	case needed && text == "":
		r.errs.Add(path, "missing", "", measure.Say("a %s end needs this length", measure.Say(string(kind))), measure.Say("a length such as 10 in"))
	case !needed && text != "":
		r.errs.Add(path, "out-of-place", text, measure.Say("a %s end has no such length", measure.Say(string(kind))), measure.Say("nothing here"))
	}
	return needed && text != ""
}

func (r *rowsReader) readShare(path string, share float64, e *End) {
	got := strconv.FormatFloat(share, 'g', -1, 64)
	switch {
	case e.Kind != Cribbed:
		r.errs.Add(path, "out-of-place", got, measure.Say("only a cribbed end has a share that is wood"), measure.Say("nothing here"))
	case share < 0 || share > 1:
		r.errs.Add(path, "out-of-range", got, measure.Say("this isn’t a share"), measure.Say("a number from 0 to 1"))
	default:
		e.Share, e.Judged = share, true
	}
}

func (r *rowsReader) readVoids(path string, voids []VoidDocument, length measure.Length) []Void {
	high := measure.Length(MaxRowLength)
	if length > 0 {
		high = length
	}
	var read []Void
	for i, v := range voids {
		at := strict.Item(path, i)
		read = append(read, Void{
			Width:  v.Width.length(strict.Member(at, "width"), 1, high, r.errs),
			Height: v.Height.length(strict.Member(at, "height"), 1, MaxHeight, r.errs),
		})
	}
	return read
}

// checkReadings notes what does not go together: heights that are not above the
// part taken off, shoulders and voids that do not fit their row. Readings that
// were not understood are 0 and left alone.
func (s Rows) checkReadings(t *Tally, errs *measure.InputErrors) {
	for i := range s.Rows {
		s.Rows[i].checkReadings(strict.Item("stack.rows", i), t.Raised, errs)
	}
}

func (r *Row) checkReadings(path string, raised measure.Length, errs *measure.InputErrors) {
	if r.Photo != nil { // what it shows goes from the underside of the lowest pieces
		return
	}
	sound := r.Length > 0 && len(r.Heights) > 0
	checkAbove(strict.Member(path, "heights"), r.Heights, raised, errs)
	checkAbove(strict.Member(path, "back"), r.Back, raised, errs)
	for _, h := range r.Heights {
		sound = sound && h > raised
	}
	for _, h := range r.Back {
		sound = sound && h > raised
	}
	if !sound {
		return
	}
	shoulders := r.checkShoulders(strict.Member(path, "ends"), raised, errs)
	if area, _ := r.area(raised, inches(r.Length), 0); shoulders+r.gaps() >= area {
		errs.Add(strict.Member(path, "voids"), "more-than-face", "", measure.Say("the voids and shoulders take up the whole face of the row"),
			measure.Say("voids and shoulders smaller than the row they are in"))
	}
}

// checkShoulders notes shoulders that do not fit the row, and gives the face that
// all of them take off in square inches.
func (r *Row) checkShoulders(path string, raised measure.Length, errs *measure.InputErrors) float64 {
	var run measure.Length
	var face float64
	for i, e := range r.Ends {
		if e.Kind != Shouldered {
			continue
		}
		height := measure.Length(r.WoodAt(i*(len(r.Heights)-1), raised, 0) * float64(measure.Inch))
		if e.Drop > height {
			errs.Add(strict.Member(strict.Item(path, i), "drop"), "too-large", "", measure.Say("a drop of %s is more than the height beside it, %s", e.Drop, height),
				measure.Say("a length up to %s", height))
		}
		if run += e.Over; run > r.Length {
			errs.Add(strict.Member(strict.Item(path, i), "over"), "too-large", "", measure.Say("shoulders over %s are longer than the row, %s", run, r.Length),
				measure.Say("shoulders inside the row length"))
		}
		face += inches(e.Drop) * inches(e.Over) / 2
	}
	return face
}

// gaps is the area of the row's voids in square inches.
func (r *Row) gaps() float64 {
	var area float64
	for _, v := range r.Voids {
		area += inches(v.Width) * inches(v.Height)
	}
	return area
}
