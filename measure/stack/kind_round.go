package stack

import (
	"encoding/json"
	"math"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A Round is a round stack: a drum of wood, pieces pointing to its middle, with a
// cone of wood on top or none. Its diameter comes of several readings across, or
// of one round it.
type Round struct {
	Diameters     []measure.Length
	Circumference measure.Length   // 0 where diameters were read
	Heights       []measure.Length // of the drum's wall
	Cone          measure.Length   // height of the cone above the wall; 0: none
	Pieces        Pieces           // zero: not known
}

// A RoundDocument is the "stack" of a document whose kind is "round".
type RoundDocument struct {
	Kind          string    `json:"kind"`
	Diameters     []Reading `json:"diameters,omitempty"`
	Circumference Reading   `json:"circumference,omitempty"`
	Heights       []Reading `json:"heights"`
	Cone          Reading   `json:"cone,omitempty"`
	Pieces        []Reading `json:"pieces,omitempty"`
	Nominal       Reading   `json:"nominal,omitempty"`
}

// Half-widths at a round stack: practice, no source.
const (
	diameterHalf    = 2.0 // inches, mean of fewer than four diameters
	girthHalf       = 3.0 // inches, on a circumference
	coneShare       = 0.25
	diameterMinutes = 2
)

// Kind is "round".
func (s Round) Kind() string { return "round" }

// Basis is Container.
func (s Round) Basis() measure.Basis { return measure.Container }

// estimate is πD²/4·H + πD²/12·h.
func (s Round) estimate(t *Tally) (estimate, error) {
	if err := s.check(t); err != nil {
		return estimate{}, err
	}
	b := budget{tally: t, basis: measure.Container, division: divisionOf(t.Tape, s.Heights)}
	across := s.across()
	wall := Row{Length: measure.Foot, Heights: s.Heights}
	high := meanFrom(s.Heights, wall.fewHalf())
	d := s.wide(across.value, t.up(b.division, view{}))
	floor := math.Pi * d * d / 4
	hill := floor * inches(s.Cone) / 3
	at := func(v view) float64 {
		d := s.wide(across.value, t.up(b.division, v))
		return math.Pi * d * d / 4 * (high.value - inches(t.Raised) + t.up(b.division, v) + t.over(v) + inches(s.Cone)/3)
	}
	b.value = at(view{})
	slope := 2 * b.value / d
	code := measureDiameters
	if s.Circumference > 0 {
		code = ""
	}
	b.observe(DiameterMean, across, slope, code, diameterMinutes)
	b.observe(HeightMean, high, floor, readWall, boxMinutes)
	b.add(ConeShape, 0, rectangular(coneShare*hill))
	b.addLevel(floor)
	b.add(TapeOnSides, 0, rectangular(tapeHalf)*slope)
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*floor)
	b.roundHeights(floor, high.spread)
	b.roundLength(SizeReading, 0, slope)
	b.addTape(3)
	b.noteRound(&s)
	e := b.estimate("round", s.Pieces.length(t))
	e.at = viewFunc(at)
	return e, nil
}

// wide is the diameter of a mean whose readings are raised by so many inches; the way
// round is π times as long.
func (s *Round) wide(mean, up float64) float64 {
	if s.Circumference > 0 {
		up /= math.Pi
	}
	return mean + up
}

func (b *budget) noteRound(s *Round) {
	switch {
	case s.Circumference > 0:
		b.note("The way round is taken as ± %s: common practice.", measure.Length(girthHalf*float64(measure.Inch)))
	case len(s.Diameters) < fewPieces:
		b.note("The mean of fewer than four diameters is taken as ± %s, or half their range where that is larger: common practice.",
			measure.Length(diameterHalf*float64(measure.Inch)))
		b.note("What more diameters would bring is worked out on a spread of at least %s between them: common practice.",
			measure.Length(diameterHalf/2*float64(measure.Inch)))
	}
	if s.Cone > 0 {
		b.note("The cone is taken as ± %.3g of itself: common practice.", coneShare)
	}
	b.note("The volume is the room that the round stack takes, not ranked wood.")
}

// across is the mean diameter.
func (s *Round) across() mean {
	if s.Circumference > 0 {
		u := rectangular(girthHalf) / math.Pi
		return mean{value: inches(s.Circumference) / math.Pi, u: u, degrees: math.Inf(1), afterU: u, afterNu: math.Inf(1)}
	}
	return meanFrom(s.Diameters, diameterHalf)
}

func (s *Round) check(t *Tally) error {
	if s.Circumference <= 0 && len(s.Diameters) == 0 {
		return unfit("stack.diameters", "missing", "", measure.Say("nothing is known of how wide the stack is"), measure.Say("diameters, or a circumference"))
	}
	for i, d := range s.Diameters {
		if d <= 0 {
			return unfit(at("stack.diameters", i), "too-small", "", measure.Say("a diameter is above 0"), measure.Say("a length such as 7 ft"))
		}
	}
	if len(s.Heights) == 0 || s.Cone < 0 {
		return unfit("stack.heights", "missing", "", measure.Say("the stack has no height"), measure.Say("at least one height"))
	}
	for i, h := range s.Heights {
		if h <= t.Raised {
			return unfit(at("stack.heights", i), "too-small", "", measure.Say("the height %s is not above the %s that the wood is raised", h, t.Raised),
				measure.Say("a height taken from the same place as the part taken off"))
		}
	}
	return nil
}

func decodeRound(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d RoundDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	var s Round
	across := strict.Member(path, "diameters")
	switch {
	case d.Circumference != "" && len(d.Diameters) > 0:
		errs.Add(strict.Member(path, "circumference"), "both", string(d.Circumference), measure.Say("there are diameters as well as a circumference"), measure.Say("one of the two"))
	case d.Circumference != "":
		s.Circumference = d.Circumference.length(strict.Member(path, "circumference"), 1, MaxRowLength, errs)
	case r.counted(across, len(d.Diameters), 1, MaxStations, "diameters"):
		s.Diameters = r.lengths(across, d.Diameters, MaxRowLength)
	}
	if at := strict.Member(path, "heights"); r.counted(at, len(d.Heights), 1, MaxStations, "heights") {
		s.Heights = r.lengths(at, d.Heights, MaxHeight)
	}
	if d.Cone != "" {
		s.Cone = d.Cone.length(strict.Member(path, "cone"), 0, MaxHeight, errs)
	}
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	return s
}

// checkReadings notes heights that are not above the part taken off.
func (s Round) checkReadings(t *Tally, errs *measure.InputErrors) {
	checkAbove("stack.heights", s.Heights, t.Raised, errs)
}
