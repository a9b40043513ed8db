package measure

import (
	"encoding/json"
	"math"
)

// A Heap is wood thrown on the ground. Its volume is at best within ± 30 %: the
// answer is to stack it and measure that.
type Heap struct {
	Shape  HeapForm
	Length Length // along the ground, the longer way
	Width  Length
	Height Length // at the top
	Pieces Pieces // zero: not known
}

// HeapForm is the solid that a heap is taken for.
type HeapForm string

// The forms of a heap.
const (
	HalfEllipsoid HeapForm = "rounded" // π/6 · length · width · height
	RidgeHeap     HeapForm = "ridge"   // sloping to all four sides: h·b(3l − b)/6
)

// A HeapDocument is the "stack" of a document whose kind is "heap".
type HeapDocument struct {
	Kind    string    `json:"kind"`
	Shape   Reading   `json:"shape"` // "rounded" or "ridge"
	Length  Reading   `json:"length"`
	Width   Reading   `json:"width"`
	Height  Reading   `json:"height"`
	Pieces  []Reading `json:"pieces,omitempty"`
	Nominal Reading   `json:"nominal,omitempty"`
}

// How well a heap is known, and the row that it is to be stacked in: practice.
const (
	heapShare    = 0.30 // half-width of the volume, of itself
	stackedShare = 0.04 // U of a stack well measured, of its volume
	stackHeight  = 4 * Foot
	stackMinutes = 120 // a cord
)

// Kind is "heap".
func (s Heap) Kind() string { return "heap" }

// Basis is Loose.
func (s Heap) Basis() Basis { return Loose }

func (s Heap) estimate(t *Tally) (estimate, error) {
	height := s.Height - t.Raised
	switch {
	case s.Shape != HalfEllipsoid && s.Shape != RidgeHeap:
		return estimate{}, unfit("stack.shape", "unknown", string(s.Shape), Say("this is no shape of a heap"), Say("rounded or ridge"))
	case s.Length <= 0 || s.Width <= 0:
		return estimate{}, unfit("stack.length", "too-small", "", Say("a heap is longer and wider than 0"), Say("lengths such as 10 ft"))
	case height <= 0:
		return estimate{}, unfit("stack.height", "too-small", "", Say("the height is not above the %s that the wood is raised", t.Raised), Say("a height above it"))
	}
	b := budget{tally: t, basis: Loose}
	b.value = s.solid(inches(height))
	b.judge(HeapShape, rectangular(heapShare*b.value))
	b.note("A heap is no box: its volume is taken as ± %.3g of itself, at best: common practice.", heapShare)
	b.noteLoose()
	return b.estimate("heap", s.Pieces.length()), nil
}

// solid is the volume in cubic inches at a height in inches.
func (s *Heap) solid(height float64) float64 {
	long, short := inches(max(s.Length, s.Width)), inches(min(s.Length, s.Width))
	if s.Shape == RidgeHeap {
		return height * short * (3*long - short) / 6
	}
	return math.Pi / 6 * long * short * height
}

func decodeHeap(raw json.RawMessage, path string, errs *InputErrors) Stack {
	var d HeapDocument
	decodeStrict(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Heap{Shape: HeapForm(d.Shape)}
	oneOf(string(d.Shape), member(path, "shape"), errs, string(HalfEllipsoid), string(RidgeHeap))
	s.Length = r.need(member(path, "length"), d.Length, MaxRowLength)
	s.Width = r.need(member(path, "width"), d.Width, MaxRowLength)
	s.Height = r.need(member(path, "height"), d.Height, MaxHeight)
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	return s
}

// checkReadings notes a height that is not above the part taken off.
func (s Heap) checkReadings(t *Tally, errs *InputErrors) {
	if s.Height > 0 && s.Height <= t.Raised {
		errs.add("stack.height", "not-above-raised", "", Say("the height %s is not above the %s taken off below the wood", s.Height, t.Raised),
			Say("a height read from the same place as what is taken off"))
	}
}
