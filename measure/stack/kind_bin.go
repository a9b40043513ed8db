package stack

import (
	"encoding/json"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A Bin is wood in a bin, crate or rack, by its inside.
type Bin struct {
	Arrangement measure.Basis // Ranked, or Container as it fills it
	Box         Box
	Lie         Lie    // of ranked wood
	Pieces      Pieces // zero: not known
	Window      Window // of ranked wood, where pieces were counted
}

// A BinDocument is the "stack" of a document whose kind is "bin".
type BinDocument struct {
	Kind        string          `json:"kind"`
	Arrangement Reading         `json:"arrangement"` // "ranked" or "container"
	Length      Reading         `json:"length"`
	Width       Reading         `json:"width"`
	Heights     []Reading       `json:"heights"`
	Positions   []Reading       `json:"positions,omitempty"`
	Lie         Reading         `json:"lie,omitempty"` // of ranked wood: "across" or "along"
	Pieces      []Reading       `json:"pieces,omitempty"`
	Nominal     Reading         `json:"nominal,omitempty"`
	Window      *WindowDocument `json:"window,omitempty"`
}

// Kind is "bin".
func (s Bin) Kind() string { return "bin" }

// Basis is Ranked where the wood was put in in rows of pieces whose length is known,
// and Container else.
func (s Bin) Basis() measure.Basis {
	if s.Arrangement == measure.Ranked && !s.Pieces.Given() {
		return measure.Container
	}
	return s.Arrangement
}

// estimate takes the inside up to the heights; of ranked wood the whole rows that fit.
func (s Bin) estimate(t *Tally) (estimate, error) {
	if s.Arrangement != measure.Ranked && s.Arrangement != measure.Container {
		return estimate{}, unfit("stack.arrangement", "unknown", string(s.Arrangement), measure.Say("it is not said how the wood was put in"), measure.Say("ranked or container"))
	}
	if err := s.Box.check("stack", t.Raised); err != nil {
		return estimate{}, err
	}
	b := budget{tally: t, basis: s.Basis(), division: divisionOf(t.Tape, s.Box.Heights), window: s.Window}
	d, fault := b.bedOf(&s.Box, s.Lie, s.Pieces)
	if fault != nil {
		fault.Field = strict.Member("stack", fault.Field)
		return estimate{}, fault
	}
	b.addBox(&d)
	b.addSides(&d, b.value)
	b.addFace(s.Pieces)
	b.addStowage(1)
	b.addTape(3)
	if b.basis == measure.Container {
		b.note("The volume is the room of the container up to the top of the wood, not ranked wood.")
	}
	e := b.estimate("bin", s.Pieces.length(t))
	e.holds = d.holds(b.basis, len(s.Box.Heights), false)
	e.at = viewFunc(func(v view) float64 { return d.high(t.Raised, v) * d.counted(v) })
	return e, nil
}

// addFace works out the face of ranked wood, for the count of its pieces.
func (b *budget) addFace(p Pieces) {
	piece := p.length(b.tally)
	if piece == 0 {
		piece = usualPiece
	}
	b.face = b.value / piece
}

func decodeBin(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d BinDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Bin{Arrangement: r.readArrangement(d.Arrangement, string(measure.Ranked), string(measure.Container))}
	s.Box = r.readBox(path, &BoxDocument{Length: d.Length, Width: d.Width, Heights: d.Heights, Positions: d.Positions})
	s.Lie = r.readLie(d.Lie, s.Arrangement)
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	s.Window = r.readWindow(d.Window, s.Arrangement == measure.Ranked)
	return s
}

// checkReadings notes heights that are not above the part taken off.
func (s Bin) checkReadings(t *Tally, errs *measure.InputErrors) {
	checkAbove("stack.heights", s.Box.Heights, t.Raised, errs)
}
