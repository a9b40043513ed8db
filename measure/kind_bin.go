package measure

import "encoding/json"

// A Bin is wood in a bin, crate or rack, by its inside.
type Bin struct {
	Arrangement Basis // Ranked, or Container as it fills it
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

// Basis is Ranked or Container, as the wood was put in.
func (s Bin) Basis() Basis { return s.Arrangement }

// estimate takes the inside up to the heights.
func (s Bin) estimate(t *Tally) (estimate, error) {
	if s.Arrangement != Ranked && s.Arrangement != Container {
		return estimate{}, unfit("stack.arrangement", "unknown", string(s.Arrangement), Say("it is not said how the wood was put in"), Say("ranked or container"))
	}
	if err := s.Box.check("stack", t.Raised); err != nil {
		return estimate{}, err
	}
	b := budget{tally: t, basis: s.Arrangement}
	b.addBox(&s.Box)
	b.addSides(&s.Box, b.value)
	b.addStowage()
	if s.Arrangement == Container {
		b.note("The volume is the room of the container up to the top of the wood, not ranked wood.")
	}
	e := b.estimate("bin", s.Pieces.length())
	e.window = s.Window
	return e, nil
}

func decodeBin(raw json.RawMessage, path string, errs *InputErrors) Stack {
	var d BinDocument
	decodeStrict(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Bin{Arrangement: r.readArrangement(d.Arrangement, string(Ranked), string(Container))}
	s.Box = r.readBox(path, &BoxDocument{Length: d.Length, Width: d.Width, Heights: d.Heights, Positions: d.Positions})
	s.Lie = r.readLie(d.Lie, s.Arrangement)
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	s.Window = r.readWindow(d.Window, s.Arrangement == Ranked)
	return s
}

// checkReadings notes heights that are not above the part taken off.
func (s Bin) checkReadings(t *Tally, errs *InputErrors) {
	checkAbove("stack.heights", s.Box.Heights, t.Raised, errs)
}
