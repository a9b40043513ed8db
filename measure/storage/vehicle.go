package storage

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
)

// A Bed is what a vehicle carries wood in: inside, up to the top of the sideboards.
// Lengths are above 0 and at most MaxBed.
type Bed struct {
	Length, Width, Sides measure.Length
	Wells                Wells
}

// Wells are boxes in a bed that no wood goes into, all of one size; none is 0.
type Wells struct {
	Count                 int
	Length, Width, Height measure.Length
}

// MaxBed is the largest side of a bed.
const MaxBed = 60 * measure.Foot

// Volume is what the bed holds level with its sides, less the wells.
func (b Bed) Volume() measure.Volume {
	box := b.Length.In(measure.Foot) * b.Width.In(measure.Foot) * b.Sides.In(measure.Foot)
	well := b.Wells.Length.In(measure.Foot) * b.Wells.Width.In(measure.Foot) * min(b.Wells.Height, b.Sides).In(measure.Foot)
	return measure.Volume(math.RoundToEven((box - float64(b.Wells.Count)*well) * float64(measure.CubicFoot)))
}

// A Limit is what a vehicle may carry as its papers say. There is no default: one
// of the two ways must be given whole.
type Limit struct {
	// Placard is the figure of a light vehicle's own placard, for everybody and
	// everything in it; People is the weight of who rides along.
	Placard, People wood.Mass
	// Gross is the gross rating and Registered the registered gross weight, either
	// may be 0; Scale is the weight on a scale, fuelled and with its driver (of a
	// trailer: empty).
	Gross, Registered, Scale wood.Mass
}

// A LimitKind names the figure that decides what may be carried.
type LimitKind string

// The figures.
const (
	ByPlacard    LimitKind = "placard"
	ByGross      LimitKind = "gross rating"
	ByRegistered LimitKind = "registered gross weight"
)

// Carries is the mass of wood that may be loaded, and the figure that says so: the
// placard less the people for a light vehicle, else the lower of gross rating and
// registered gross weight less the scale weight. Where both ways are given the
// lower holds. It may be below 0, where the vehicle is too heavy as it stands.
func (l Limit) Carries() (wood.Mass, LimitKind) {
	rated, by := l.rated()
	if l.Placard == 0 {
		return rated, by
	}
	light := l.Placard - l.People
	if by != "" && rated < light {
		return rated, by
	}
	return light, ByPlacard
}

func (l Limit) rated() (wood.Mass, LimitKind) {
	switch {
	case l.Scale == 0 || l.Gross == 0 && l.Registered == 0:
		return 0, ""
	case l.Registered == 0 || l.Gross > 0 && l.Gross <= l.Registered:
		return l.Gross - l.Scale, ByGross
	}
	return l.Registered - l.Scale, ByRegistered
}

// A Haul is wood to be carried on a vehicle.
type Haul struct {
	Volume      measure.Volume // ranked
	PieceLength measure.Length
	Wood        WoodKind
	Species     []wood.Mix // what it may be: goes before Wood
	Thrown      bool       // into the bed, not ranked
	Bed         Bed
	Limit       Limit
}

// Trips is how often a vehicle goes.
type Trips struct {
	Haul     Haul
	Trips    int
	ByVolume int // if only room counted
	ByWeight int // if only weight counted
	// Decides is "volume" or "weight", whichever asks for the smaller load.
	Decides string
	Bed     measure.Volume // what the bed holds, level
	Room    measure.Volume // of ranked wood in it: thrown wood makes less
	Lifts   measure.Volume // of ranked wood that may be carried by weight
	Load    measure.Volume // a trip: the smaller of Room and Lifts
	Carries wood.Mass      // of wood, by the limit
	By      LimitKind
	Heavy   wood.Mass        // a trip of Load, at the most that wood weighs
	All     Range[wood.Mass] // of everything, dry and light to green with bark and snow
	// Cautions are one line each.
	Cautions []measure.Text
	Grounds  []Ground
}

// maxTrips is the most that is answered.
const maxTrips = 100_000

// Plan works out the trips. The decision rests on the most the wood may weigh. A
// haul out of its bounds is measure.InputErrors.
func (h Haul) Plan() (Trips, error) {
	if faults := h.check(); len(faults) > 0 {
		return Trips{}, faults
	}
	w := woodOf(h.Wood, h.Species)
	t := Trips{Haul: h, Bed: h.Bed.Volume(), Cautions: haulCautions(h), Grounds: haulGrounds(h)}
	t.Carries, t.By = h.Limit.Carries()
	t.Room = t.Bed
	if h.Thrown {
		low, _ := stack.ThrownShare(h.PieceLength)
		t.Room = measure.Volume(t.Bed.In(measure.Nanolitre) * low)
	}
	cord := w.LoadWeight(measure.Cord)
	t.Lifts = measure.Volume(t.Carries.In(cord) * float64(measure.Cord))
	t.Load, t.Decides = t.Room, "volume"
	if t.Lifts < t.Room {
		t.Load, t.Decides = t.Lifts, "weight"
	}
	t.ByVolume, t.ByWeight = times(h.Volume, t.Room), times(h.Volume, t.Lifts)
	t.Trips = max(t.ByVolume, t.ByWeight)
	t.Load = min(t.Load, h.Volume)
	t.Heavy = w.LoadWeight(t.Load)
	t.All = Range[wood.Mass]{w.DryWeight(h.Volume).Low, w.LoadWeight(h.Volume)}
	if t.Load <= 0 || t.Trips > maxTrips {
		return Trips{}, measure.InputErrors{{Field: "bed_length", Code: "too-small", Reason: measure.Say("that would take more trips than can be planned"),
			Accepts: measure.Say("a vehicle that carries more of it")}}
	}
	return t, nil
}

// times is how often a load of one goes into all, and one more for the rest.
func times(all, one measure.Volume) int {
	if one <= 0 {
		return maxTrips + 1
	}
	return int(min((all+one-1)/one, maxTrips+1))
}

func (h Haul) check() measure.InputErrors {
	var faults measure.InputErrors
	if in, is := check(h.Volume, h.PieceLength).(*measure.InputError); is && in != nil {
		if in.Field == "volume" {
			in.Field = "quantity"
		}
		faults = append(faults, in)
	}
	b := h.Bed
	faults = within(faults, "bed_length", b.Length, measure.Inch, MaxBed)
	faults = within(faults, "bed_width", b.Width, measure.Inch, MaxBed)
	faults = within(faults, "bed_sides", b.Sides, measure.Inch, MaxBed)
	if b.Wells.Length > b.Length || measure.Length(b.Wells.Count)*b.Wells.Width > b.Width {
		faults = append(faults, &measure.InputError{Field: "well_width", Code: "too-large", Got: b.Wells.Width.String(),
			Reason: measure.Say("the wheel wells take up the whole bed"), Accepts: measure.Say("the size of one wheel well, inside the bed")})
	}
	return append(faults, h.Limit.check()...)
}

func (l Limit) check() measure.InputErrors {
	room, by := l.Carries()
	accepts := measure.Say("what the placard says people and load may weigh together, or the gross rating and the scale weight")
	switch {
	case l.Placard == 0 && by == "" && l.Scale > 0:
		return measure.InputErrors{{Field: "gross", Code: "missing", Reason: measure.Say("the scale weight needs a gross rating or a registered gross weight"), Accepts: accepts}}
	case l.Placard == 0 && by == "" && (l.Gross > 0 || l.Registered > 0):
		return measure.InputErrors{{Field: "scale", Code: "missing", Reason: measure.Say("the scale weight, fuelled and with its driver, is not said"), Accepts: accepts}}
	case l.Placard == 0 && by == "":
		return measure.InputErrors{{Field: "placard", Code: "missing", Reason: measure.Say("what the vehicle may carry is not said, and is never guessed"), Accepts: accepts}}
	case l.Placard > 0 && l.People == 0:
		return measure.InputErrors{{Field: "people", Code: "missing", Reason: measure.Say("the placard counts people too: their weight is not said"), Accepts: measure.Say("the weight of everybody who rides along, such as 180 lb")}}
	case room <= 0:
		return measure.InputErrors{{Field: limitField(by), Code: "no-load", Got: "", Reason: measure.Say("nothing is left for wood: the vehicle is at its limit already"), Accepts: accepts}}
	}
	return nil
}

func limitField(by LimitKind) string {
	if by == ByPlacard {
		return "placard"
	}
	return "scale"
}

func haulCautions(h Haul) []measure.Text {
	said := []measure.Text{
		measure.Say("Tyres, axles, hitch and brakes have limits of their own: the lowest holds."),
		measure.Say("Secure and cover the load as your state’s law asks."),
		measure.Say("Pests travel in firewood: ask your state’s rules before it crosses a county or state line."),
	}
	if h.Thrown {
		said = append(said, measure.Say("Wood heaped above the sides isn’t counted: it falls off."))
	}
	return said
}

func haulGrounds(h Haul) []Ground {
	all := []Ground{
		{measure.Say("Taken at the most it may weigh: green, %s solid in a cord, and 15 %% for bark and snow.", wood.SolidHigh), "", Practice},
		weightGrounds(nil)[0],
		{measure.Say("A light vehicle’s placard counts people and load together."), "49 CFR 571.110", SecondHand},
	}
	all = append(all, weightGrounds(h.Species)[2:]...)
	if h.Thrown {
		low, high := stack.ThrownShare(h.PieceLength)
		all = append(all, Ground{measure.Say("Thrown wood makes %.2f to %.2f of its volume when it is ranked; the lower is used.", low, high), "", Practice})
	}
	return all
}
