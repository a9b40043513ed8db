package storage

import (
	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Status says how a figure is known.
type Status = wood.Status

// The statuses.
const (
	Read       = wood.Read
	SecondHand = wood.SecondHand
	FromMemory = wood.FromMemory
	Derived    = wood.Derived
	Practice   = Status("common practice, no source") // a default that can be set otherwise
)

// A Ground is a figure that an answer rests on, and how it is known.
type Ground struct {
	Text   measure.Text `json:"text"`
	Source string       `json:"source,omitempty"` // none for common practice
	Status Status       `json:"status"`
}

// A WoodKind is a kind of wood, as far as weight and heat go.
type WoodKind string

// The kinds. The zero kind is AnyWood.
const (
	AnyWood       WoodKind = ""         // not known
	HeavyHardwood WoodKind = "heavy"    // oak, hickory, beech, sugar maple, locust
	LightHardwood WoodKind = "light"    // aspen, soft maple, birch, yellow-poplar
	Softwood      WoodKind = "softwood" // pine, spruce, fir, cedar
)

// WoodKinds are all of them, in the order to offer them in.
func WoodKinds() []WoodKind { return []WoodKind{AnyWood, HeavyHardwood, LightHardwood, Softwood} }

// Name is what people call the kind.
func (k WoodKind) Name() measure.Text {
	switch k {
	case HeavyHardwood:
		return measure.Say("heavy hardwood: oak, hickory, beech, sugar maple")
	case LightHardwood:
		return measure.Say("lighter hardwood: aspen, birch, soft maple, poplar")
	case Softwood:
		return measure.Say("softwood: pine, spruce, fir, cedar")
	}
	return measure.Say("not known, or mixed")
}

// A Wood is what wood weighs and gives, as ranges.
type Wood struct {
	Green Range[wood.Density] // of solid wood, fresh
	Dry   Range[wood.Density] // of solid wood at 20 % moisture, dry basis
	Solid Range[measure.Volume]
	Heat  Range[wood.Heat] // of a cord at 20 % moisture, before any loss in the appliance
	Moist wood.Moisture    // fresh: a middle figure
}

// Wood gives the figures of a kind. Densities are those of the species that the
// kind takes in, from the least to the most, rounded outward; so is the heat. An
// unknown kind is AnyWood.
func (k WoodKind) Wood() Wood {
	switch k {
	case HeavyHardwood:
		return kind(54, 68, 40, 53, 22, 31, 70)
	case LightHardwood:
		return kind(41, 57, 24, 44, 14, 25, 80)
	case Softwood:
		return kind(27, 55, 22, 43, 12, 25, 80)
	}
	return kind(27, 68, 22, 53, 12, 31, 75)
}

// woodOf gives the figures of named species, or of a kind where none is named. Of
// several that it may be the range takes in all.
func woodOf(k WoodKind, species []wood.Mix) Wood {
	w := k.Wood()
	wet := 0.0
	for i, mix := range species {
		green, dry, err := ofMix(mix)
		if err != nil {
			return k.Wood()
		}
		if i == 0 {
			w.Green, w.Dry = Range[wood.Density]{green.Density, green.Density}, Range[wood.Density]{dry.Density, dry.Density}
			w.Heat = Range[wood.Heat]{dry.Gross.Low, dry.Gross.High}
		}
		w.Green, w.Dry = w.Green.with(green.Density, green.Density), w.Dry.with(dry.Density, dry.Density)
		w.Heat = w.Heat.with(dry.Gross.Low, dry.Gross.High)
		wet += mix.Green().Percent() / float64(len(species))
	}
	if len(species) > 0 {
		w.Moist = dryBasis(wet)
	}
	return w
}

// with is the range that takes in another.
func (r Range[T]) with(low, high T) Range[T] { return Range[T]{min(r.Low, low), max(r.High, high)} }

// ofMix estimates a cord of a load, green and at 20 % moisture.
func ofMix(mix wood.Mix) (green, dry wood.Estimate, err error) {
	cord := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	green, err = wood.Weigh(mix, cord, mix.Green())
	if err != nil {
		return green, dry, err
	}
	dry, err = wood.Weigh(mix, cord, wood.DefaultLimit())
	return green, dry, err
}

// kind makes a Wood from whole pounds a cubic foot, million Btu a cord, and the
// percentage of water in it fresh, dry basis.
func kind(green0, green1, dry0, dry1 wood.Density, heat0, heat1 wood.Heat, wet float64) Wood {
	return Wood{
		Green: Range[wood.Density]{green0 * wood.PoundPerCubicFoot, green1 * wood.PoundPerCubicFoot},
		Dry:   Range[wood.Density]{dry0 * wood.PoundPerCubicFoot, dry1 * wood.PoundPerCubicFoot},
		Solid: Range[measure.Volume]{wood.SolidLow, wood.SolidHigh},
		Heat:  Range[wood.Heat]{heat0 * wood.MillionBtu, heat1 * wood.MillionBtu},
		Moist: dryBasis(wet),
	}
}

// dryBasis is a moisture of a percentage that wood may have.
func dryBasis(percent float64) wood.Moisture {
	m, _ := wood.DryBasis(percent) // percentages of the table and of kinds, all in range
	return m
}

// GreenWeight is the weight of v of it, ranked and fresh.
func (w Wood) GreenWeight(v measure.Volume) Range[wood.Mass] { return w.weight(w.Green, v) }

// DryWeight is the weight of v of it, ranked, at 20 % moisture.
func (w Wood) DryWeight(v measure.Volume) Range[wood.Mass] { return w.weight(w.Dry, v) }

func (w Wood) weight(d Range[wood.Density], v measure.Volume) Range[wood.Mass] {
	return Range[wood.Mass]{
		massOf(d.Low, w.Solid.Low.In(measure.Cord), v),
		massOf(d.High, w.Solid.High.In(measure.Cord), v),
	}
}

// GreenPressure is the pressure under a row of it of this height, fresh, spread
// over the row's own footprint.
func (w Wood) GreenPressure(height measure.Length) Range[Pressure] {
	return w.pressure(w.Green, height)
}

// DryPressure is the same at 20 % moisture.
func (w Wood) DryPressure(height measure.Length) Range[Pressure] { return w.pressure(w.Dry, height) }

func (w Wood) pressure(d Range[wood.Density], height measure.Length) Range[Pressure] {
	return Range[Pressure]{
		pressureUnder(d.Low, w.Solid.Low.In(measure.Cord), height),
		pressureUnder(d.High, w.Solid.High.In(measure.Cord), height),
	}
}

// BarkAndSnow is what bark, rain and snow may add to the weight of a load, a
// ratio: common practice, no source.
const BarkAndSnow = 0.15

// LoadWeight is the most that v of it, ranked, is to be reckoned at on a vehicle:
// green, 90 ft³ solid in a cord, with bark and snow on top.
func (w Wood) LoadWeight(v measure.Volume) wood.Mass {
	return massOf(w.Green.High, wood.SolidHigh.In(measure.Cord)*(1+BarkAndSnow), v)
}

// weightGrounds are what weights rest on.
func weightGrounds(species []wood.Mix) []Ground {
	all := []Ground{
		{measure.Say("Weight of solid wood, green and at 20 % dry basis: by species."),
			"USDA Forest Service, Research Note NRS-38 (2009); Wood Handbook FPL-GTR-282 (2021), eq. 4-13 and 4-14", SecondHand},
		{measure.Say("Solid wood in a cord: %s to %s.", wood.SolidLow, wood.SolidHigh), "University of Missouri and Utah State University extension tables", SecondHand},
	}
	if len(species) > 1 {
		all = append(all, Ground{measure.Say("%d species in the table go by that name: the range takes in all of them. The full name makes it narrower.", len(species)), "", Derived})
	}
	return all
}
