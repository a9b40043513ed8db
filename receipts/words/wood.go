//go:build !wasm

package words

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Fact is a figure or a statement with what it is of.
type Fact struct {
	Label string `json:"label"`
	Text  string `json:"text"`
}

// Wood gives an estimate of a load for people, each figure as a range.
func (p *Printer) Wood(e wood.Estimate) []Fact {
	facts := []Fact{
		{p.say("Wood"), p.Mix(e.Mix)},
		{p.say("Quantity"), p.Quantity(e.Quantity)},
		{p.say("Moisture"), p.BothBases(e.Moisture)},
		{p.say("Weight"), p.MassRange(e.Weight)},
		{p.say("Heat in the wood"), p.HeatRange(e.Gross)},
		{p.say("Heat once the water has left as steam"), p.HeatRange(e.Net)},
		{p.say("Density of the solid wood"), p.Density(e.Density)},
		{p.say("Solid wood"), p.say("%s to %s", e.SolidLow, e.SolidHigh)},
	}
	if e.Shrinkage > 0 {
		facts = append(facts, Fact{p.say("Shrinkage"), p.say("%s %% smaller in volume than when green", p.decimal(e.Shrinkage, 1))})
	}
	if e.Drying != nil {
		facts = append(facts, Fact{p.say("Time to dry"), p.Drying(*e.Drying)})
	}
	return facts
}

// Mix names the species of a load, with their shares where there are several.
func (p *Printer) Mix(mix wood.Mix) string {
	text := ""
	for i, part := range mix {
		item := part.Species.Name
		if len(mix) > 1 {
			item = p.say("%s %s %%", item, p.share(part.Share))
		}
		if i > 0 {
			item = p.say("%s, %s", text, item)
		}
		text = item
	}
	return text
}

// share is percent of a load; what is in it is never said to be 0.
func (p *Printer) share(of float64) string {
	if of > 0 && of < 0.001 {
		return p.say("less than %s", p.decimal(0.1, 1))
	}
	return p.decimal(100*of, 1)
}

// Drying words a forecast as a band: a plan, not a promise.
func (p *Printer) Drying(f wood.Forecast) string {
	return p.say("%s to %s months to %s; winter months count little. A plan: then measure.",
		p.decimal(math.Floor(f.Soonest.Months()), 0), p.decimal(math.Ceil(f.Latest.Months()), 0), p.Moisture(f.To))
}

// MassRange words a mass known between two bounds, in pounds or kilograms.
func (p *Printer) MassRange(r wood.MassRange) string {
	if p.metric() {
		return p.band("%s to %s kg", r.Low.In(wood.Kilogram), r.High.In(wood.Kilogram))
	}
	return p.band("%s to %s lb", r.Low.In(wood.Pound), r.High.In(wood.Pound))
}

// HeatRange words a heat known between two bounds, in million Btu or gigajoules.
func (p *Printer) HeatRange(r wood.HeatRange) string {
	if p.metric() {
		return p.say("%s (%s)", p.band("%s to %s GJ", r.Low.In(wood.Gigajoule), r.High.In(wood.Gigajoule)),
			p.band("%s to %s kWh", r.Low.In(wood.KilowattHour), r.High.In(wood.KilowattHour)))
	}
	return p.band("%s to %s million Btu", r.Low.In(wood.MillionBtu), r.High.In(wood.MillionBtu))
}

// band words two bounds to as many digits as published tables of one species agree
// to: two of the higher bound, three where it begins with 1.
func (p *Printer) band(key string, low, high float64) string {
	places := 0
	if high > 0 {
		places = 1 - int(math.Floor(math.Log10(high)))
		if high < 2*math.Pow10(1-places) {
			places++
		}
	}
	scale := math.Pow10(places)
	round := func(x float64) string { return p.decimal(math.Round(x*scale)/scale, max(places, 0)) }
	return p.say(key, round(low), round(high))
}

// Density words a density: "44.1 lb/ft³", or in metric "707 kg/m³".
func (p *Printer) Density(d wood.Density) string {
	if p.metric() {
		return p.say("%s kg/m³", p.DensityFigure(d))
	}
	return p.say("%s lb/ft³", p.DensityFigure(d))
}

// DensityFigure is a density without its unit, as Density words it.
func (p *Printer) DensityFigure(d wood.Density) string {
	if p.metric() {
		return p.decimal(d.In(wood.KilogramPerCubicMetre), 0)
	}
	return p.decimal(d.In(wood.PoundPerCubicFoot), 1)
}

// HeatFigures is a heat known between two bounds without its unit, as HeatRange words it.
func (p *Printer) HeatFigures(r wood.HeatRange) string {
	unit := wood.MillionBtu
	if p.metric() {
		unit = wood.Gigajoule
	}
	return p.band("%s to %s", r.Low.In(unit), r.High.In(unit))
}

// InAir says what wood comes to in air.
func (p *Printer) InAir(m wood.Moisture) string {
	return p.say("Wood left in that air dries to %s.", p.BothBases(m))
}

// AirAnswer gives it as data.
func (p *Printer) AirAnswer(m wood.Moisture) AirJSON {
	return AirJSON{p.InAir(m), m.Dry().Percent(), m.Wet().Percent(), m}
}

// AirJSON is what wood comes to in air, as data.
type AirJSON struct {
	Sentence        string        `json:"sentence"`
	DryBasisPercent float64       `json:"moisture_dry_basis_percent"`
	WetBasisPercent float64       `json:"moisture_wet_basis_percent"`
	Equilibrium     wood.Moisture `json:"equilibrium"`
}

// WoodSources name where the figures come from, a line each.
func (p *Printer) WoodSources() []string {
	sources := wood.Sources()
	lines := make([]string, len(sources))
	for i, s := range sources {
		lines[i] = p.say("%s: %s (%s).", p.Say(s.Said), s.Where, p.say(string(s.Status)))
	}
	return lines
}

// SpeciesFacts give what the table holds of one species, and how each figure came
// to be known.
func (p *Printer) SpeciesFacts(s wood.Species) []Fact {
	facts := []Fact{
		{p.say("Basic specific gravity"), p.say("%s (%s)", p.decimal(s.BasicGravity, 2), p.say(string(s.GravityStatus)))},
		{p.say("Specific gravity at 12 %"), p.say("%s (%s)", p.decimal(s.Gravity12, 2), p.say(string(s.GravityStatus)))},
		{p.say("Green moisture"), p.say("%s (%s)", p.Moisture(s.Green), p.say(string(s.GreenStatus)))},
		{p.say("Shrinkage to ovendry"), p.say("%s %% (%s)", p.decimal(s.Shrinkage, 1), p.say(string(s.ShrinkageStatus)))},
	}
	part := func(label string, m *wood.Moisture) {
		if m != nil {
			facts = append(facts, Fact{p.say(label), p.say("%s (%s)", p.Moisture(*m), p.say(string(s.PartsStatus)))})
		}
	}
	part("Green heartwood", s.GreenHeart)
	part("Green sapwood", s.GreenSap)
	return facts
}

// WoodJSON is an estimate of a load as data.
type WoodJSON struct {
	Mix                wood.Mix         `json:"mix"`
	Quantity           measure.Quantity `json:"quantity"`
	DryBasisPercent    float64          `json:"moisture_dry_basis_percent"`
	WetBasisPercent    float64          `json:"moisture_wet_basis_percent"`
	PoundsPerCubicFoot float64          `json:"density_pounds_per_cubic_foot"`
	KilogramsPerCubicM float64          `json:"density_kilograms_per_cubic_metre"`
	SolidCubicFeet     ThreeJSON        `json:"solid_cubic_feet"`
	WeightPounds       ThreeJSON        `json:"weight_pounds"`
	WeightKilograms    ThreeJSON        `json:"weight_kilograms"`
	OvendryPounds      ThreeJSON        `json:"ovendry_pounds"`
	GrossMillionBtu    ThreeJSON        `json:"gross_heat_million_btu"`
	GrossGigajoules    ThreeJSON        `json:"gross_heat_gigajoules"`
	NetMillionBtu      ThreeJSON        `json:"net_heat_million_btu"`
	NetGigajoules      ThreeJSON        `json:"net_heat_gigajoules"`
	ShrinkagePercent   float64          `json:"shrinkage_percent"`
	DryingDays         *ThreeJSON       `json:"drying_days,omitempty"`
	Assumptions        []string         `json:"assumptions"`
	Notes              []string         `json:"notes"`
	Sources            []wood.Source    `json:"sources"`
}

// ThreeJSON is a range with its middle.
type ThreeJSON struct {
	Low  float64 `json:"low"`
	Mid  float64 `json:"mid"`
	High float64 `json:"high"`
}

// WoodAnswer gives an estimate as data.
func (p *Printer) WoodAnswer(e wood.Estimate) WoodJSON {
	mass := func(r wood.MassRange, unit wood.Mass) ThreeJSON {
		return ThreeJSON{r.Low.In(unit), r.Mid.In(unit), r.High.In(unit)}
	}
	heat := func(r wood.HeatRange, unit wood.Heat) ThreeJSON {
		return ThreeJSON{r.Low.In(unit), r.Mid.In(unit), r.High.In(unit)}
	}
	foot := measure.CubicFoot
	out := WoodJSON{
		Mix: e.Mix, Quantity: e.Quantity,
		DryBasisPercent: e.Moisture.Dry().Percent(), WetBasisPercent: e.Moisture.Wet().Percent(),
		PoundsPerCubicFoot: e.Density.In(wood.PoundPerCubicFoot), KilogramsPerCubicM: e.Density.In(wood.KilogramPerCubicMetre),
		SolidCubicFeet: ThreeJSON{e.SolidLow.In(foot), e.SolidMid.In(foot), e.SolidHigh.In(foot)},
		WeightPounds:   mass(e.Weight, wood.Pound), WeightKilograms: mass(e.Weight, wood.Kilogram), OvendryPounds: mass(e.Ovendry, wood.Pound),
		GrossMillionBtu: heat(e.Gross, wood.MillionBtu), GrossGigajoules: heat(e.Gross, wood.Gigajoule),
		NetMillionBtu: heat(e.Net, wood.MillionBtu), NetGigajoules: heat(e.Net, wood.Gigajoule),
		ShrinkagePercent: e.Shrinkage, Assumptions: p.texts(e.Assumptions), Notes: p.texts(e.Notes), Sources: wood.Sources(),
	}
	if d := e.Drying; d != nil {
		out.DryingDays = &ThreeJSON{float64(d.Soonest), float64(d.Likely), float64(d.Latest)}
	}
	return out
}
