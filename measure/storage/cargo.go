package storage

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
)

// A Cargo is wood that goes along on a vehicle, perhaps beside other wood.
type Cargo struct {
	Wood        measure.Quantity // ranked or loose
	PieceLength measure.Length   // 0: not known
	Kind        WoodKind
	Species     []wood.Mix // what it may be: goes before Kind
	Dried       Dried
}

// Dried is how dry wood is said to be.
type Dried string

// How dry wood is said to be; the zero Dried is taken as fresh.
const (
	Fresh    Dried = ""
	AirDried Dried = "air"  // said to be seasoned
	KilnHot  Dried = "kiln" // said to be kiln-dried
)

// Seasoned wood is taken at 30 % of water, dry basis, and kiln-dried wood at the 20 % of
// Wood.Dry: common practice, no source.
const (
	dryAt      = 1.20
	seasonedAt = 1.30
)

// Heaviest is the most that the wood is to be taken at on a vehicle: 90 ft³ solid in a cord,
// with bark and snow on top; fresh, unless it is said to be dry.
func (c Cargo) Heaviest() wood.Mass {
	w := woodOf(c.Kind, c.Species)
	switch c.Dried {
	case AirDried:
		w.Green.High = min(w.Green.High, wood.Density(math.Ceil(float64(w.Dry.High)*seasonedAt/dryAt)))
	case KilnHot:
		w.Green.High = w.Dry.High
	}
	v := c.Wood.Volume
	if c.Wood.Basis != measure.Ranked {
		_, high := stack.ThrownShare(c.PieceLength)
		v = measure.Volume(math.Ceil(float64(v) * high))
	}
	return w.LoadWeight(v)
}

// Share is how much of a bed's room the wood takes, at the most, where the bed holds holds of
// pieces of its length: 1 fills it. Wood on another basis than the bed's is taken at the most
// room that it may need. It is +Inf where the bed holds nothing.
func (c Cargo) Share(holds measure.Quantity) float64 {
	v := float64(c.Wood.Volume)
	low, high := stack.ThrownShare(c.PieceLength)
	switch {
	case c.Wood.Basis == measure.Ranked && holds.Basis == measure.Loose:
		v /= low
	case c.Wood.Basis == measure.Loose && holds.Basis == measure.Ranked:
		v *= high
	}
	if holds.Volume <= 0 {
		return math.Inf(1)
	}
	return v / float64(holds.Volume)
}
