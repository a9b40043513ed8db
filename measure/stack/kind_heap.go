package stack

import (
	"encoding/json"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A Heap is wood thrown on the ground. It is never short or full: the answer is to
// stack it and measure that.
type Heap struct {
	Shape  HeapForm
	Length measure.Length // along the ground
	Width  measure.Length
	Height measure.Length // at the top
	Pieces Pieces         // zero: not known
}

// HeapForm is the shape of a heap. Thrown wood lies at its angle of repose and has no
// upright rim.
type HeapForm string

// The shapes of a heap.
const (
	RoundedHeap     HeapForm = "rounded" // cone to paraboloid on an oval foot
	RidgeHeap       HeapForm = "ridge"   // with a ridge along its length
	HeapFormNotSaid HeapForm = "not said"
)

// A HeapDocument is the "stack" of a document whose kind is "heap".
type HeapDocument struct {
	Kind    string    `json:"kind"`
	Shape   Reading   `json:"shape,omitempty"` // "rounded", "ridge" or "not said"
	Length  Reading   `json:"length"`
	Width   Reading   `json:"width"`
	Height  Reading   `json:"height"`
	Pieces  []Reading `json:"pieces,omitempty"`
	Nominal Reading   `json:"nominal,omitempty"`
}

// How well a heap is known, and the row that it is to be stacked in: practice.
const (
	heapReading  = 0.05 // half-width of a reading, of itself
	stackedShare = 0.04 // U of a stack well measured, of its volume
	stackHeight  = 4 * measure.Foot
	stackMinutes = 120 // a cord
)

// Kind is "heap".
func (s Heap) Kind() string { return "heap" }

// Basis is Loose.
func (s Heap) Basis() measure.Basis { return measure.Loose }

func (s Heap) estimate(t *Tally) (estimate, error) {
	height := s.Height - t.Raised
	switch {
	case s.Shape != RoundedHeap && s.Shape != RidgeHeap && s.Shape != HeapFormNotSaid:
		return estimate{}, unfit("stack.shape", "unknown", string(s.Shape), measure.Say("this isn’t a shape of a heap"), measure.Say("rounded, ridge or not said"))
	case s.Length <= 0 || s.Width <= 0:
		return estimate{}, unfit("stack.length", "too-small", "", measure.Say("a heap is longer and wider than 0"), measure.Say("lengths such as 10 ft"))
	case height <= 0:
		return estimate{}, unfit("stack.height", "too-small", "", measure.Say("the height is not above the %s that the wood is raised", t.Raised), measure.Say("a height above it"))
	}
	b := budget{tally: t, basis: measure.Loose}
	low, high := s.Shape.factor()
	box := inches(s.Length) * inches(s.Width) * inches(height)
	b.value = (low + high) / 2 * box
	b.add(HeapShape, 0, rectangular((high-low)/2*box))
	for _, reading := range []Source{HeapLength, HeapWidth, HeapHeight} {
		b.add(reading, 0, rectangular(heapReading*b.value))
	}
	b.note("A heap (%s) is taken as %.3g to %.3g of its length × width × height, each of the three as ± %.3g of itself: common practice.",
		measure.Say(string(s.Shape)), low, high, heapReading)
	b.noteLoose()
	e := b.estimate("heap", s.Pieces.length(t))
	e.never = true
	return e, nil
}

// factor is the heap's volume as a share of length × width × height, a range:
// practice. An oval cone is π/12 = 0.262 of it, an oval paraboloid π/8 = 0.393.
func (s HeapForm) factor() (low, high float64) {
	switch s {
	case RoundedHeap:
		return 0.26, 0.39
	case RidgeHeap:
		return 0.33, 0.55
	}
	return 0.26, 0.55
}

func decodeHeap(raw json.RawMessage, path string, errs *measure.InputErrors) Stack {
	var d HeapDocument
	strict.Into(raw, &d, path, errs)
	r := &rowsReader{path: path, errs: errs}
	s := Heap{Shape: HeapForm(d.Shape)}
	if s.Shape == "" {
		s.Shape = HeapFormNotSaid
	}
	oneOf(string(s.Shape), strict.Member(path, "shape"), errs, string(RoundedHeap), string(RidgeHeap), string(HeapFormNotSaid))
	s.Length = r.need(strict.Member(path, "length"), d.Length, MaxRowLength)
	s.Width = r.need(strict.Member(path, "width"), d.Width, MaxRowLength)
	s.Height = r.need(strict.Member(path, "height"), d.Height, MaxHeight)
	s.Pieces = r.readPieces(path, d.Pieces, d.Nominal)
	return s
}

// checkReadings notes a height that is not above the part taken off.
func (s Heap) checkReadings(t *Tally, errs *measure.InputErrors) {
	if s.Height > 0 && s.Height <= t.Raised {
		errs.Add("stack.height", "not-above-raised", "", measure.Say("the height %s is not above the %s taken off below the wood", s.Height, t.Raised),
			measure.Say("a height read from the same place as what is taken off"))
	}
}
