package wood

import "wellstowed/measure"

// Solid wood in a cord of 128 ft³: 80 ft³ is what the published tables
// of cord weights come out at (worked back from 17 rows: mean 79.9, standard
// deviation 3.7), 70 to 90 the range that is published (second-hand). It hangs on
// how straight, how thick and how well stacked the pieces are, so none of what
// follows from it is a measurement.
const (
	SolidLow   = 70 * measure.CubicFoot
	SolidUsual = 80 * measure.CubicFoot
	SolidHigh  = 90 * measure.CubicFoot
)

// Thrown wood takes up more room: 180 ft³ of it is 115 to 124 ft³ ranked (a state's
// trade practice, second-hand).
const (
	thrownFor  = 180.0
	rankedLow  = 115.0
	rankedHigh = 124.0
)

// An Estimate is what is to be expected of a load: nothing in it was weighed.
type Estimate struct {
	Mix      Mix              `json:"mix"`
	Quantity measure.Quantity `json:"quantity"`
	Moisture Moisture         `json:"moisture"`
	// Density is that of the solid wood, the mean by share.
	Density Density `json:"density_milligrams_per_cubic_metre"`
	// Solid is the wood itself, without the air in the stack.
	SolidLow  measure.Volume `json:"solid_low_nanolitres"`
	SolidMid  measure.Volume `json:"solid_mid_nanolitres"`
	SolidHigh measure.Volume `json:"solid_high_nanolitres"`
	Weight    MassRange      `json:"weight"`
	Ovendry   MassRange      `json:"ovendry"` // without any water
	// Gross is the heat at the higher heating value; Net what is left of it
	// once all water has left as steam. A stove delivers less than Net.
	Gross HeatRange `json:"gross_heat"`
	Net   HeatRange `json:"net_heat"`
	// Shrinkage is how much less the same wood takes up than when green, in
	// percent: a ratio.
	Shrinkage float64 `json:"shrinkage_percent"`
	// Drying is how long it takes to DefaultLimit outdoors, nil where it is there.
	Drying      *Forecast      `json:"drying,omitempty"`
	Assumptions []measure.Text `json:"-"`
	Notes       []measure.Text `json:"-"`
}

// Weigh estimates the weight and heat of a quantity of wood, measured at moisture
// m. Wood in a container is refused: how it lies there is not known. The error is a
// *measure.InputError.
func Weigh(mix Mix, q measure.Quantity, m Moisture) (Estimate, error) {
	if len(mix) == 0 {
		return Estimate{}, badMix("", measure.Say("no species was named"))
	}
	if m.basis != Dry && m.basis != Wet {
		return Estimate{}, noBasis("")
	}
	e := Estimate{Mix: mix, Quantity: q, Moisture: m}
	if err := e.fill(q); err != nil {
		return Estimate{}, err
	}
	dry := Density(0)
	for _, p := range mix {
		e.Density += Density(nearest(p.Share * float64(p.Species.Density(m))))
		dry += Density(nearest(p.Share * float64(p.Species.ovendry(m))))
		e.Shrinkage += p.Share * p.Species.ShrinkageAt(m)
	}
	e.Weight = e.of(e.Density)
	e.Ovendry = e.of(dry)
	e.Gross = HeatRange{gross(e.Ovendry.Low), gross(e.Ovendry.Mid), gross(e.Ovendry.High)}
	e.Net = HeatRange{net(e.Ovendry.Low, m), net(e.Ovendry.Mid, m), net(e.Ovendry.High, m)}
	if m.dryPercent() > DefaultLimit().Percent() {
		f, err := Dries(m, DefaultLimit(), OutdoorEquilibrium())
		if err != nil {
			return Estimate{}, err
		}
		e.Drying = &f
	}
	e.explain()
	return e, nil
}

// fill sets the range of solid wood in a quantity.
func (e *Estimate) fill(q measure.Quantity) error {
	low, mid, high := 1.0, 1.0, 1.0
	switch q.Basis {
	case measure.Ranked:
	case measure.Loose:
		low, high = rankedLow/thrownFor, rankedHigh/thrownFor
		mid = (low + high) / 2
	default:
		return &measure.InputError{
			Field: "quantity", Code: "wrong-basis",
			Reason:  measure.Say("how much of a container is wood is not known"),
			Accepts: measure.Say("wood in rows, such as 1 cord, or thrown, such as 180 cu ft loose"),
		}
	}
	share := func(solid measure.Volume, ranked float64) measure.Volume {
		return measure.Volume(nearest(float64(q.Volume) * ranked * solid.In(measure.Cord)))
	}
	e.SolidLow, e.SolidMid, e.SolidHigh = share(SolidLow, low), share(SolidUsual, mid), share(SolidHigh, high)
	return nil
}

// of is the mass of the solid range at a density.
func (e *Estimate) of(d Density) MassRange {
	return MassRange{d.Of(e.SolidLow), d.Of(e.SolidMid), d.Of(e.SolidHigh)}
}

// explain says what the figures rest on.
func (e *Estimate) explain() {
	e.Assumptions = []measure.Text{
		measure.Say("128 ft³ of stacked wood is taken to hold 80 ft³ of solid wood, and 70 to 90 ft³ for the range."),
		measure.Say("Ovendry wood of any species is taken to hold 8,600 Btu a pound (20.0 MJ a kilogram); resinous softwoods hold a little more."),
		measure.Say("The volume is taken as measured at this moisture: wood measured green and then dried weighs less and fills less room."),
	}
	if e.Quantity.Basis == measure.Loose {
		e.Assumptions = append(e.Assumptions, measure.Say("180 ft³ of thrown wood is taken as 115 to 124 ft³ ranked."))
	}
	for _, p := range e.Mix {
		if p.Species.Note != "" {
			e.Notes = append(e.Notes, measure.Say("%s: %s.", p.Species.Name, measure.Say(p.Species.Note)))
		}
	}
	e.Notes = append(e.Notes,
		measure.Say("Trees of one species differ by about a tenth in weight; bark is not counted."),
		measure.Say("A stove delivers less than the net heat: multiply by its efficiency."))
}
