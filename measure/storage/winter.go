package storage

import (
	"math"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Fuel is what kept a house warm last winter, or another way to say how much heat
// it takes.
type Fuel string

// The ways to say it.
const (
	Oil         Fuel = "oil"         // gallons of No. 2 heating oil
	Propane     Fuel = "propane"     // gallons
	NaturalGas  Fuel = "gas"         // therms
	Electricity Fuel = "electricity" // kWh, baseboards or an electric furnace
	HeatPump    Fuel = "heat pump"   // kWh
	WoodFuel    Fuel = "wood"        // cords in the same appliance
	House       Fuel = "house"       // floor area and climate: a rough band
	Fires       Fuel = "fires"       // now and then: how many fires
)

// Fuels are all of them, in the order to offer them in.
func Fuels() []Fuel {
	return []Fuel{Oil, Propane, NaturalGas, Electricity, HeatPump, WoodFuel, House, Fires}
}

// Name is what people call it, with its unit.
func (f Fuel) Name() measure.Text {
	switch f {
	case Oil:
		return measure.Say("heating oil, gallons")
	case Propane:
		return measure.Say("propane, gallons")
	case NaturalGas:
		return measure.Say("natural gas, therms")
	case Electricity:
		return measure.Say("electric heat, kWh")
	case HeatPump:
		return measure.Say("heat pump, kWh")
	case WoodFuel:
		return measure.Say("wood, cords")
	case House:
		return measure.Say("not known: from the floor area")
	case Fires:
		return measure.Say("none: a fire now and then, number of fires")
	}
	return measure.Say(string(f))
}

// A Climate is how cold the winters are, and an Appliance what burns the wood.
type (
	Climate   string
	Appliance string
)

// Climates and appliances.
const (
	Mild     Climate = "mild"
	Moderate Climate = "moderate"
	Cold     Climate = "cold"
	VeryCold Climate = "very cold"

	NewStove  Appliance = "new stove" // certified
	OldStove  Appliance = "old stove"
	Furnace   Appliance = "furnace" // or boiler
	Fireplace Appliance = "fireplace"
)

// Climates are all of them, from mild to cold.
func Climates() []Climate { return []Climate{Mild, Moderate, Cold, VeryCold} }

// Appliances are all of them, in the order to offer them in.
func Appliances() []Appliance { return []Appliance{NewStove, OldStove, Furnace, Fireplace} }

// Name is what people call it.
func (a Appliance) Name() measure.Text {
	switch a {
	case OldStove:
		return measure.Say("older stove")
	case Furnace:
		return measure.Say("wood furnace or boiler")
	case Fireplace:
		return measure.Say("open fireplace")
	}
	return measure.Say("newer stove")
}

// Name is what people call it.
func (c Climate) Name() measure.Text {
	switch c {
	case Mild:
		return measure.Say("mild: little frost")
	case Cold:
		return measure.Say("cold: frost for months")
	case VeryCold:
		return measure.Say("very cold: long, hard frost")
	}
	return measure.Say("moderate: frost for weeks")
}

// A Band is a ratio from the lowest to the highest that is to be reckoned with.
type Band struct{ Low, High float64 }

// Efficiency is the share of the wood's heat that an appliance gives to the house,
// a ratio: from memory.
func (a Appliance) Efficiency() Band {
	switch a {
	case OldStove:
		return Band{0.40, 0.60}
	case Furnace:
		return Band{0.50, 0.75}
	case Fireplace:
		return Band{0.05, 0.15}
	}
	return Band{0.60, 0.80}
}

// perSquareFoot is the heat a floor takes in a winter, from a well insulated house
// to a draughty one.
func (c Climate) perSquareFoot() Range[wood.Heat] {
	const thousandBtu = wood.MillionBtu / 1000
	switch c {
	case Mild:
		return Range[wood.Heat]{5 * thousandBtu, 20 * thousandBtu}
	case Cold:
		return Range[wood.Heat]{20 * thousandBtu, 50 * thousandBtu}
	case VeryCold:
		return Range[wood.Heat]{30 * thousandBtu, 70 * thousandBtu}
	}
	return Range[wood.Heat]{10 * thousandBtu, 35 * thousandBtu}
}

// A Winter is what is known of a house's need of heat.
type Winter struct {
	Fuel      Fuel
	Amount    int64 // of the fuel, or fires, in thousandths; above 0 but for House
	Floor     Area  // House only
	Climate   Climate
	Appliance Appliance
	Wood      WoodKind
	Species   []wood.Mix    // what it may be: goes before Wood
	Share     float64       // of the heat that wood is to give, a ratio above 0 and at most 1
	Moisture  wood.Moisture // as it is stacked; the zero one is green
	Wanted    time.Time     // when it is to burn well; the zero time: not said
	Today     time.Time     // what a day to stack by is past of; the zero time: none is
}

// A Need is how much wood a winter takes.
type Need struct {
	Winter  Winter
	Heat    Range[wood.Heat] // into the house, of which wood gives its share; 0 for Fires
	Wood    Range[measure.Volume]
	Burns   Burning
	Notes   []measure.Text
	Grounds []Ground
}

// MaxAmount is the most of a fuel that is read.
const MaxAmount = 1_000_000

// Plan reckons how much ranked, seasoned wood gives the heat. A winter out of its
// bounds is measure.InputErrors.
func (w Winter) Plan() (Need, error) {
	if faults := w.check(); len(faults) > 0 {
		return Need{}, faults
	}
	burns, err := burning(w.Moisture, w.Wood, w.Species)
	if err != nil {
		return Need{}, err
	}
	if !w.Wanted.IsZero() {
		burns.Wanted, burns.StackBy = w.Wanted, burns.Forecast.StackBy(w.Wanted)
		burns.Tight, burns.TooLate = w.Today.After(burns.StackBy.Likely), w.Today.After(burns.StackBy.Latest)
	}
	n := Need{Winter: w, Burns: burns, Grounds: append(w.grounds(), dryingGrounds(w.Wood, w.Species)...), Notes: w.notes()}
	switch w.Fuel {
	case Fires:
		n.Wood = scaleVolume(Range[measure.Volume]{3 * measure.CubicFoot / 4, 3 * measure.CubicFoot / 2}, w.amount())
		return n, nil
	case WoodFuel:
		n.Wood = scaleVolume(Range[measure.Volume]{measure.Cord, measure.Cord}, w.amount()*w.Share)
		heat, eff := woodOf(w.Wood, w.Species).Heat, w.Appliance.Efficiency()
		n.Heat = Range[wood.Heat]{scaleHeat(heat.Low, w.amount()*eff.Low), scaleHeat(heat.High, w.amount()*eff.High)}
		return n, nil
	}
	n.Heat = w.heat()
	gives, eff := woodOf(w.Wood, w.Species).Heat, w.Appliance.Efficiency()
	n.Wood = Range[measure.Volume]{
		cordsFor(n.Heat.Low, w.Share, float64(gives.High)*eff.High),
		cordsFor(n.Heat.High, w.Share, float64(gives.Low)*eff.Low),
	}
	return n, nil
}

func (w Winter) amount() float64 { return float64(w.Amount) / 1000 }

// heat is what the house took.
func (w Winter) heat() Range[wood.Heat] {
	if w.Fuel == House {
		each := w.Climate.perSquareFoot()
		feet := w.Floor.In(SquareFoot)
		return Range[wood.Heat]{scaleHeat(each.Low, feet), scaleHeat(each.High, feet)}
	}
	each := w.Fuel.heat()
	return Range[wood.Heat]{scaleHeat(each.Low, w.amount()), scaleHeat(each.High, w.amount())}
}

// heat is what a unit of the fuel gives to the house, after its appliance.
func (f Fuel) heat() Range[wood.Heat] {
	const btu = wood.MillionBtu / 1000 // a thousand of them
	switch f {
	case Oil:
		return Range[wood.Heat]{115 * btu, 115 * btu}
	case Propane:
		return Range[wood.Heat]{71 * btu, 71 * btu}
	case NaturalGas:
		return Range[wood.Heat]{82 * btu, 82 * btu}
	case HeatPump:
		return Range[wood.Heat]{2 * wood.KilowattHour, 7 * wood.KilowattHour / 2}
	}
	return Range[wood.Heat]{wood.KilowattHour, wood.KilowattHour}
}

func scaleHeat(h wood.Heat, by float64) wood.Heat {
	return wood.Heat(math.RoundToEven(float64(h) * by))
}

func scaleVolume(r Range[measure.Volume], by float64) Range[measure.Volume] {
	return Range[measure.Volume]{measure.Volume(math.RoundToEven(float64(r.Low) * by)), measure.Volume(math.RoundToEven(float64(r.High) * by))}
}

func cordsFor(h wood.Heat, share, perCord float64) measure.Volume {
	return measure.Volume(math.RoundToEven(float64(h) * share / perCord * float64(measure.Cord)))
}

func (w Winter) check() measure.InputErrors {
	var faults measure.InputErrors
	add := func(field string, reason, accepts measure.Text) {
		faults = append(faults, &measure.InputError{Field: field, Code: "out-of-range", Reason: reason, Accepts: accepts})
	}
	if w.Fuel != House && (w.Amount <= 0 || w.Amount > MaxAmount*1000) {
		add("amount", measure.Say("that isn’t an amount"), measure.Say("a number above 0, up to %d", MaxAmount))
	}
	if w.Fuel == House && (w.Floor <= 0 || w.Floor > maxFloor) {
		add("floor", measure.Say("the heated floor is not said"), measure.Say("a floor area with its unit, such as 1800 sq ft or 170 m²"))
	}
	if !(w.Share > 0 && w.Share <= 1) {
		add("share", measure.Say("that isn’t a share"), measure.Say("1 to 100 percent"))
	}
	return faults
}

func (w Winter) notes() []measure.Text {
	notes := []measure.Text{measure.Say("Seasoned wood, 20 % dry basis or less. Green wood gives less heat and leaves creosote: have the chimney swept.")}
	if w.Wood == AnyWood && len(w.Species) == 0 && w.Fuel != Fires && w.Fuel != WoodFuel {
		notes = append(notes, measure.Say("Say which kind of wood, and the range gets narrower."))
	}
	if w.Fuel == House {
		notes = append(notes, measure.Say("A rough band: insulation, draughts and wishes differ more than climates. Last winter’s fuel says more."))
	}
	if w.Fuel != Fires && w.Fuel != WoodFuel {
		notes = append(notes, measure.Say("A summer’s hot water or cooking on the same bill is not heat for the house: leave it out."))
	}
	return notes
}

func (w Winter) grounds() []Ground {
	const fpl = "USDA Forest Products Laboratory, fuel value sheet, 5th edition"
	gives := woodOf(w.Wood, w.Species).Heat
	burned := []Ground{
		{measure.Say("Heat in a cord of this wood at 20 %% dry basis: %d to %d million Btu.", million(gives.Low), million(gives.High)),
			"extension tables: University of Missouri, Utah State University, University of Nebraska", SecondHand},
		{measure.Say("Of that, what burns it gives the house %d to %d %%.", percent(w.Appliance.Efficiency().Low), percent(w.Appliance.Efficiency().High)), "", FromMemory},
	}
	switch w.Fuel {
	case Oil:
		return append([]Ground{{measure.Say("A gallon of oil gives the house 115,000 Btu."), fpl, Read}}, burned...)
	case Propane:
		return append([]Ground{{measure.Say("A gallon of propane gives the house 71,000 Btu."), fpl, Read}}, burned...)
	case NaturalGas:
		return append([]Ground{{measure.Say("A therm of gas gives the house 82,000 Btu."), fpl, Read}}, burned...)
	case Electricity:
		return append([]Ground{{measure.Say("A kWh is 3,412 Btu, all of it heat."), "NIST SP 811, Appendix B.8", FromMemory}}, burned...)
	case HeatPump:
		return append([]Ground{{measure.Say("A heat pump gives 2 to 3.5 kWh of heat for each kWh."), "", FromMemory}}, burned...)
	case House:
		each := w.Climate.perSquareFoot()
		return append([]Ground{{measure.Say("A winter takes %d to %d thousand Btu a square foot here, from well insulated to draughty.",
			int(math.Round(each.Low.In(wood.MillionBtu)*1000)), int(math.Round(each.High.In(wood.MillionBtu)*1000))), "", Practice}}, burned...)
	case Fires:
		return []Ground{{measure.Say("A fire of an evening takes %s to %s of ranked wood.", 3*measure.CubicFoot/4, 3*measure.CubicFoot/2), "", Practice}}
	}
	return []Ground{{measure.Say("As much wood as last winter, burned in the same way."), "", Practice}}
}

func million(h wood.Heat) int { return int(math.Round(h.In(wood.MillionBtu))) }

func percent(ratio float64) int { return int(math.Round(100 * ratio)) }

// TypedWinter is a winter as a person typed it.
type TypedWinter struct {
	Fuel      string `json:"fuel"`
	Amount    string `json:"amount"` // a number in the fuel's unit; empty for a house
	Floor     string `json:"floor"`
	Climate   string `json:"climate"`
	Appliance string `json:"appliance"`
	Wood      string `json:"wood"`
	Species   string `json:"species"`
	Share     string `json:"share"`    // percent; empty: all of it
	Moisture  string `json:"moisture"` // as it is stacked: "30 % dry"; empty or "green": green
	Wanted    string `json:"wanted"`   // the month it is to burn well in: "2027-10", "October 2027"; empty: not said
}

// Read turns what was typed into a winter. The error is measure.InputErrors with
// everything that was not understood.
func (t TypedWinter) Read(u Units) (Winter, error) {
	d := door{units: u}
	w := Winter{
		Fuel:      Fuel(d.choice("fuel", t.Fuel, kindNames(Fuels()))),
		Appliance: Appliance(d.choice("appliance", t.Appliance, kindNames(Appliances()))),
		Climate:   Climate(d.choice("climate", t.Climate, kindNames(Climates()))),
		Wood:      WoodKind(d.choice("wood", t.Wood, kindNames(WoodKinds()))),
		Species:   d.species("species", t.Species),
		Share:     1,
		Moisture:  d.moisture("moisture", t.Moisture),
		Wanted:    d.month("wanted", t.Wanted),
		Today:     u.Today,
	}
	if w.Fuel == House {
		w.Floor = d.floor("floor", t.Floor)
	} else {
		w.Amount = d.fuel(w.Fuel, t.Amount)
	}
	if share := strings.TrimSuffix(strings.TrimSpace(t.Share), "%"); share != "" {
		w.Share = float64(d.number("share", share, measure.Say("1 to 100 percent"))) / 100_000
	}
	if len(d.faults) > 0 {
		return Winter{}, d.faults
	}
	if faults := w.check(); len(faults) > 0 {
		return Winter{}, faults
	}
	return w, nil
}

// fuel reads how much of a fuel was burned, in thousandths of its unit. Wood may be typed
// as a quantity too; under rules whose cord depends on the wood, it has to be.
func (d *door) fuel(f Fuel, text string) int64 {
	_, unit, fault := splitNumber(text)
	bare := fault == nil && unit == ""
	if f != WoodFuel || bare && d.plainCord() {
		return d.number("amount", text, measure.Say("a number, such as 600"))
	}
	words, faults := text, len(d.faults)
	if bare {
		words = strings.TrimSpace(text) + " cords"
	}
	v, _ := d.ranked("amount", d.quantity("amount", words, 0), 0)
	for _, fault := range d.faults[faults:] {
		fault.Got = text
	}
	return int64(math.Round(1000 * v.In(measure.Cord)))
}

// plainCord tells whether a cord is 128 ft³ whatever the wood.
func (d *door) plainCord() bool {
	said, err := d.units.rules().ParseQuantity("1 cord", 0)
	return err == nil && said.Quantity.Volume == measure.Cord
}

func (d *door) floor(field, text string) Area {
	if strings.TrimSpace(text) == "" {
		d.missing(field, measure.Say("a floor area with its unit, such as 1800 sq ft or 170 m²"))
		return 0
	}
	a, err := parseAreaIn(text, d.units.Area)
	if err != nil {
		d.refuse(field, err)
	}
	return a
}

// month reads a month; empty is the zero time.
func (d *door) month(field, text string) time.Time {
	if strings.TrimSpace(text) == "" {
		return time.Time{}
	}
	t, fault := parseMonth(text, d.units.Today)
	if fault != nil {
		d.refuse(field, fault)
	}
	return t
}

// number reads a plain number, in thousandths.
func (d *door) number(field, text string, accepts measure.Text) int64 {
	n, rest, fault := splitNumber(text)
	if fault == nil && rest != "" {
		fault = &measure.InputError{Code: "trailing", Got: text, Reason: measure.Say("“%s” is not understood after the number", rest)}
	}
	if fault != nil {
		fault.Accepts = accepts
		d.refuse(field, fault)
	}
	return int64(n)
}
