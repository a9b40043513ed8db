package stack

import (
	"math"

	"wellstowed/measure/student"
)

// A Hinge is one judged constant that carries most of the give or take, and how large it
// could be before the word falls.
type Hinge struct {
	Source Source
	Share  float64 // of the variance of the volume, a ratio
	// Taken is what it is taken as where a shortage is judged, and Most how large it
	// could at least be with short still said: ratios of the volume, one standard uncertainty.
	// Both are 0 where the result isn't short.
	Taken float64
	Most  float64
	// GoodTo is the factor that what is taken is good to.
	GoodTo float64
}

// Loose tells whether the word would fall within what the constant is good to.
func (h *Hinge) Loose() bool { return h.Taken > 0 && h.Most < h.GoodTo*h.Taken }

// hingeShare is the share of the variance from which one constant is said to carry most
// of it.
const hingeShare = 0.5

// Hinge gives the constant that carries most of a result's give or take, where how
// tightly the wood is stowed does; nil where nothing judged does, and for results of
// model 1.
func (r *Result) Hinge() *Hinge {
	if len(r.Doubt) == 0 || r.Doubt[0].Source != Stowage || r.Doubt[0].Share <= hingeShare || r.AgainstShortage <= 0 {
		return nil
	}
	h := &Hinge{Source: Stowage, Share: r.Doubt[0].Share, GoodTo: stowageGoodTo}
	if f := r.Finding; f != nil && f.Word == Short {
		h.Taken, h.Most = stowageCounted, r.mostStowage()
	}
	return h
}

// mostStowage is how large the constant of stowing could at least be with short still
// said. What else is judged stays, and its degrees of freedom; only u grows, until t₁₋α·u
// has grown by what lies between the result and the word. Where the rounding wasn't said,
// the readings at the top of their division decide with a u of their own, and that one
// grows faster.
func (r *Result) mostStowage() float64 {
	f := r.Finding
	u := float64(r.AgainstShortage)
	squares, tail := u*u, 0.0
	for _, c := range r.Doubt {
		part := float64(c.Standard)
		switch degrees := float64(c.Degrees); {
		case c.Source == RoundingNotSaid:
			squares -= part * part
		case c.Source != Stowage && !math.IsInf(degrees, 1):
			tail += part * part * part * part / degrees
		}
	}
	reach := func(grown float64) float64 {
		c := summed(squares+grown, tail)
		return student.Upper(f.Alpha, c.degrees) * c.u
	}
	most := reach(0) + float64(f.ShortOf()-f.ShortAbove)
	low, high := 0.0, most*most // t₁₋α is above 1
	for range 100 {
		if middle := (low + high) / 2; reach(middle) < most {
			low = middle
		} else {
			high = middle
		}
	}
	volume := float64(r.Quantity.Volume)
	return math.Sqrt(stowageCounted*stowageCounted + low/(volume*volume))
}
