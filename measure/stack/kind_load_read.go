package stack

import (
	"encoding/json"
	"strconv"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A LoadDocument is the "stack" of a document whose kind is "load". One of heights,
// grid and calibrated says how high it is filled.
type LoadDocument struct {
	Kind        string              `json:"kind"`
	Arrangement Reading             `json:"arrangement"` // "thrown" or "ranked"
	Length      Reading             `json:"length,omitempty"`
	Width       Reading             `json:"width,omitempty"`
	Heights     []Reading           `json:"heights,omitempty"`
	Positions   []Reading           `json:"positions,omitempty"`
	Grid        [][]Reading         `json:"grid,omitempty"`
	Calibrated  *CalibratedDocument `json:"calibrated,omitempty"`
	Wells       []WellDocument      `json:"wells,omitempty"`
	Crown       *CrownDocument      `json:"crown,omitempty"`
	Lie         Reading             `json:"lie,omitempty"` // of ranked wood: "across" or "along"
	Pieces      []Reading           `json:"pieces,omitempty"`
	Nominal     Reading             `json:"nominal,omitempty"`
	Window      *WindowDocument     `json:"window,omitempty"`
}

// A WellDocument is one sort of wheel well; no count is one of them.
type WellDocument struct {
	Length Reading `json:"length"`
	Width  Reading `json:"width"`
	Height Reading `json:"height"`
	Count  int     `json:"count,omitempty"`
}

// A CrownDocument is what stands above the heights.
type CrownDocument struct {
	Shape Reading   `json:"shape,omitempty"`
	Crest []Reading `json:"crest"`
}

// A CalibratedDocument is a body that was taped once: its volume up to the line as
// said, or the box that was taped.
type CalibratedDocument struct {
	Volume Reading      `json:"volume,omitempty"`
	Box    *BoxDocument `json:"box,omitempty"`
	On     Reading      `json:"on"` // YYYY-MM-DD
	By     Reading      `json:"by"`
	Line   Reading      `json:"line,omitempty"`
}

// A BoxDocument is the inside of a body up to its line.
type BoxDocument struct {
	Length    Reading        `json:"length"`
	Width     Reading        `json:"width"`
	Heights   []Reading      `json:"heights"`
	Positions []Reading      `json:"positions,omitempty"`
	Wells     []WellDocument `json:"wells,omitempty"`
}

const Thrown = "thrown" // the word for Loose in a document

func decodeLoad(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d LoadDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Load{Arrangement: r.readArrangement(d.Arrangement, Thrown, string(measure.Ranked))}
	r.readFill(&s, &d)
	s.Crown = r.readCrown(&d)
	s.Lie = r.readLie(d.Lie, s.Arrangement)
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	s.Window = r.readWindow(d.Window, s.Arrangement == measure.Ranked)
	return s
}

// readArrangement reads how the wood was put in.
func (r *rowsReader) readArrangement(reading Reading, words ...string) measure.Basis {
	if !oneOf(string(reading), strict.Member(r.path, "arrangement"), r.errs, words...) {
		return ""
	}
	if reading == Thrown {
		return measure.Loose
	}
	return measure.Basis(reading)
}

// readFill reads the one way in which it is said how high the body is filled.
func (r *rowsReader) readFill(s *Load, d *LoadDocument) {
	ways := 0
	for _, given := range []bool{len(d.Heights) > 0, len(d.Grid) > 0, d.Calibrated != nil} {
		if given {
			ways++
		}
	}
	if ways != 1 {
		r.errs.Add(strict.Member(r.path, "heights"), "one-of", "", measure.Say("it is said in %d ways how high the bed is filled", ways),
			measure.Say("one of “heights”, “grid” and “calibrated”"))
		return
	}
	switch {
	case d.Calibrated != nil:
		r.readCalibrated(s, d)
	case len(d.Grid) > 0:
		r.readSides(s, d)
		s.Grid = r.readGrid(d.Grid)
		r.none("positions", len(d.Positions) > 0)
		r.none("crown", d.Crown != nil)
		s.Wells = r.readWells(strict.Member(r.path, "wells"), d.Wells, &s.Box)
	default:
		s.Box = r.readBox(r.path, &BoxDocument{Length: d.Length, Width: d.Width, Heights: d.Heights, Positions: d.Positions})
		s.Wells = r.readWells(strict.Member(r.path, "wells"), d.Wells, &s.Box)
	}
}

// none notes a field that is out of place.
func (r *rowsReader) none(name string, given bool) {
	if given {
		r.errs.Add(strict.Member(r.path, name), "out-of-place", "", measure.Say("this does not go with the way the fill is given"), measure.Say("nothing here"))
	}
}

func (r *rowsReader) readSides(s *Load, d *LoadDocument) {
	s.Box.Length = r.need(strict.Member(r.path, "length"), d.Length, MaxRowLength)
	s.Box.Width = r.need(strict.Member(r.path, "width"), d.Width, MaxRowLength)
}

// need reads a length that has to be there.
func (r *rowsReader) need(path string, reading Reading, high measure.Length) measure.Length {
	if reading == "" {
		r.errs.Add(path, "missing", "", measure.Say("this length is missing"), measure.Say("a length up to %s", high))
		return 0
	}
	return reading.length(path, 1, high, r.errs)
}

func (r *rowsReader) readBox(path string, d *BoxDocument) Box {
	x := Box{
		Length: r.need(strict.Member(path, "length"), d.Length, MaxRowLength),
		Width:  r.need(strict.Member(path, "width"), d.Width, MaxRowLength),
	}
	if at := strict.Member(path, "heights"); r.counted(at, len(d.Heights), 1, MaxStations, "heights") {
		x.Heights = r.lengths(at, d.Heights, MaxHeight)
	}
	x.Positions = r.readPositions(strict.Member(path, "positions"), &RowDocument{Heights: d.Heights, Positions: d.Positions}, x.Length)
	return x
}

func (r *rowsReader) readWells(path string, wells []WellDocument, x *Box) []Well {
	if !r.counted(path, len(wells), 0, MaxWells, "wheel wells") {
		return nil
	}
	var read []Well
	sound := x.Length > 0 && x.Width > 0
	for i, d := range wells {
		at := strict.Item(path, i)
		w := Well{
			Length: r.need(strict.Member(at, "length"), d.Length, MaxRowLength),
			Width:  r.need(strict.Member(at, "width"), d.Width, MaxRowLength),
			Height: r.need(strict.Member(at, "height"), d.Height, MaxHeight),
			Count:  max(d.Count, 1),
		}
		if d.Count < 0 || d.Count > maxWellSame {
			r.errs.Add(strict.Member(at, "count"), "out-of-range", strconv.Itoa(d.Count), measure.Say("this isn’t a number of wheel wells"), measure.Say("a whole number from 1 to %d", maxWellSame))
		}
		sound = sound && w.Length > 0 && w.Width > 0
		read = append(read, w)
	}
	if sound && len(read) > 0 && wellFloor(read) >= x.floor() {
		r.errs.Add(path, "too-large", "", measure.Say("the wheel wells take up the whole floor"), measure.Say("wells smaller than the floor they are on"))
	}
	return read
}

func (r *rowsReader) readCrown(d *LoadDocument) Crown {
	if d.Crown == nil {
		return Crown{}
	}
	path := strict.Member(r.path, "crown")
	c := Crown{Shape: CrownShape(d.Crown.Shape)}
	if c.Shape == "" {
		c.Shape = ShapeNotSaid
	}
	oneOf(string(c.Shape), strict.Member(path, "shape"), r.errs, crownShapes()...)
	if at := strict.Member(path, "crest"); r.counted(at, len(d.Crown.Crest), 1, MaxStations, "crests") {
		c.Crest = r.lengths(at, d.Crown.Crest, MaxHeight)
	}
	return c
}

// A grid has lines enough to show the crown across, and heights enough along.
const (
	MinGridLines   = 2
	MinGridHeights = 2
	MaxGridLines   = 50
)

func (r *rowsReader) readGrid(grid [][]Reading) [][]measure.Length {
	path := strict.Member(r.path, "grid")
	if len(grid) < MinGridLines {
		r.errs.Add(path, "missing", "", measure.Say("a grid of heights has more than one line"), measure.Say("%d to %d lines", MinGridLines, MaxGridLines))
		return nil
	}
	if !r.counted(path, len(grid), MinGridLines, MaxGridLines, "lines of heights") {
		return nil
	}
	var read [][]measure.Length
	for i, line := range grid {
		at := strict.Item(path, i)
		switch {
		case len(line) < MinGridHeights:
			r.errs.Add(at, "missing", "", measure.Say("a line of a grid has more than one height"), measure.Say("%d to %d heights", MinGridHeights, MaxStations))
		case len(line) != len(grid[0]):
			r.errs.Add(at, "mismatch", "", measure.Say("%d heights stand in a line, and %d in the first", len(line), len(grid[0])), measure.Say("as many heights in each line"))
		}
		if r.counted(at, len(line), 0, MaxStations, "heights") {
			read = append(read, r.lengths(at, line, MaxHeight))
		}
	}
	return read
}

// readCalibrated reads a body filled to a line. The body's own length and width are
// read only for a crown over a volume as said.
func (r *rowsReader) readCalibrated(s *Load, d *LoadDocument) {
	path, c := strict.Member(r.path, "calibrated"), &Calibrated{}
	s.Calibrated = c
	r.none("positions", len(d.Positions) > 0)
	r.none("wells", len(d.Wells) > 0)
	switch read := d.Calibrated; {
	case (read.Volume == "") == (read.Box == nil):
		r.errs.Add(strict.Member(path, "volume"), "one-of", string(read.Volume), measure.Say("the volume up to the line is given in two ways, or in none"), measure.Say("one of “volume” and “box”"))
	case read.Box != nil:
		r.none("length", d.Length != "")
		r.none("width", d.Width != "")
		c.Box = r.readBox(strict.Member(path, "box"), read.Box)
		c.Wells = r.readWells(strict.Member(strict.Member(path, "box"), "wells"), read.Box.Wells, &c.Box)
	default:
		c.Volume = r.readVolume(strict.Member(path, "volume"), read.Volume, measure.MaxQuantity)
		if d.Crown != nil || d.Length != "" || d.Width != "" {
			r.readSides(s, d)
		}
	}
	c.On = r.readDay(strict.Member(path, "on"), d.Calibrated.On)
	c.By = r.readName(strict.Member(path, "by"), d.Calibrated.By, true)
	c.Line = r.readName(strict.Member(path, "line"), d.Calibrated.Line, false)
}

func (r *rowsReader) readVolume(path string, reading Reading, high measure.Volume) measure.Volume {
	v, err := measure.ParseVolume(string(reading))
	switch {
	case err != nil:
		r.errs.AddAt(path, err)
	case v <= 0:
		r.errs.Add(path, "not-positive", string(reading), measure.Say("this is not more than nothing"), measure.Say("a volume up to %s", high))
	case v > high:
		r.errs.Add(path, "too-large", string(reading), measure.Say("this is over the limit of %s", high), measure.Say("a volume up to %s", high))
	default:
		return v
	}
	return 0
}

func (r *rowsReader) readDay(path string, reading Reading) string {
	if _, err := time.Parse(time.DateOnly, string(reading)); err != nil {
		r.errs.Add(path, "not-a-date", string(reading), measure.Say("this isn’t a day"), measure.Say("a day such as 2026-05-01"))
		return ""
	}
	return string(reading)
}

func (r *rowsReader) readName(path string, reading Reading, needed bool) string {
	if needed && reading == "" {
		r.errs.Add(path, "missing", "", measure.Say("this is missing"), measure.Say("a name"))
		return ""
	}
	if reading != "" {
		if fault := measure.CheckText(string(reading), measure.Say("a few words")); fault != nil {
			r.errs.AddAt(path, fault)
		}
	}
	return string(reading)
}

// checkReadings notes heights that are not above the part taken off.
func (s Load) checkReadings(t *Tally, errs *measure.InputErrors) {
	if s.Calibrated != nil && t.Raised != 0 {
		errs.Add("raised", "out-of-place", "", measure.Say("a bed filled to its line has nothing taken off below the wood"), measure.Say("nothing here"))
	}
	checkAbove("stack.heights", s.Box.Heights, t.Raised, errs)
	for i, line := range s.Grid {
		checkAbove(strict.Item("stack.grid", i), line, t.Raised, errs)
	}
}

// checkAbove notes heights that are not above the part taken off. Readings that
// were not understood are 0 and left alone.
func checkAbove(path string, heights []measure.Length, raised measure.Length, errs *measure.InputErrors) {
	for i, h := range heights {
		if h > 0 && h <= raised {
			errs.Add(strict.Item(path, i), "not-above-raised", "", measure.Say("the height %s is not above the %s taken off below the wood", h, raised),
				measure.Say("a height read from the same place as what is taken off"))
		}
	}
}
