//go:build !wasm

package words

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

// StorageJSON is where wood finds room, as data.
type StorageJSON struct {
	Sentence          string            `json:"sentence"`
	Fits              bool              `json:"fits"`
	AskedCubicFeet    float64           `json:"asked_cubic_feet"`
	CapacityCubicFeet float64           `json:"capacity_cubic_feet"`
	LeftCubicFeet     float64           `json:"left_cubic_feet"`
	Place             storage.PlaceKind `json:"place"`
	Tight             string            `json:"tight,omitempty"`
	Layouts           []LayoutJSON      `json:"layouts"`
	DeckPSF           float64           `json:"decks_commonly_psf"`
	Burns             BurnsJSON         `json:"burns_well"`
	Then              []StorageJSON     `json:"then,omitempty"` // the next places, for what found no room
	Cautions          []string          `json:"cautions"`
	Grounds           []SupportedJSON   `json:"grounds"`
}

// LayoutJSON is one way to stow. Lengths are in inches.
type LayoutJSON struct {
	Rows          int            `json:"rows"`
	Across        bool           `json:"front_to_back"` // the rows run from front to back
	RowLength     float64        `json:"row_length_inches"`
	Height        float64        `json:"height_inches"`
	Heights       []float64      `json:"heights_inches,omitempty"` // of the rows from the back, where they differ
	Top           float64        `json:"top_inches"`
	Width         float64        `json:"width_inches"`
	Depth         float64        `json:"depth_inches"`
	OffGround     float64        `json:"off_ground_inches"`
	GapBehind     float64        `json:"gap_behind_inches"`
	GapBetween    float64        `json:"gap_between_rows_inches"`
	GapAside      float64        `json:"gap_at_the_sides_inches,omitempty"`
	StowsFeet     float64        `json:"stows_cubic_feet"`
	FloorFeet     float64        `json:"floor_square_feet"`
	BelowShoulder bool           `json:"top_at_or_below_shoulder"`
	Drying        storage.Drying `json:"drying"`
	GreenPounds   BandJSON       `json:"green_pounds"`
	DryPounds     BandJSON       `json:"dry_pounds"`
	GreenPSF      BandJSON       `json:"green_psf"`
	DryPSF        BandJSON       `json:"dry_psf"`
	GreenKPa      BandJSON       `json:"green_kpa"`
	DryKPa        BandJSON       `json:"dry_kpa"`
}

// BandJSON is a range.
type BandJSON struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// SupportedJSON is a figure that an answer rests on.
type SupportedJSON struct {
	Text   string         `json:"text"`
	Source string         `json:"source,omitempty"`
	Status storage.Status `json:"status"`
}

// BurnsJSON is when wood burns well, as data: months from when it is stacked, and
// days where that, or when it is wanted, is said.
type BurnsJSON struct {
	From     float64     `json:"moisture_dry_basis_percent"`
	To       float64     `json:"to_dry_basis_percent"`
	Months   ThreeJSON   `json:"months"`
	WellFrom *WindowJSON `json:"from,omitempty"`
	StackBy  *WindowJSON `json:"stack_by,omitempty"`
	Sentence string      `json:"sentence"`
}

// WindowJSON is three days, "2027-08-14".
type WindowJSON struct {
	Soonest string `json:"soonest"`
	Likely  string `json:"likely"`
	Latest  string `json:"latest"`
}

func window(w wood.Window) *WindowJSON {
	if w.Likely.IsZero() {
		return nil
	}
	return &WindowJSON{w.Soonest.Format(time.DateOnly), w.Likely.Format(time.DateOnly), w.Latest.Format(time.DateOnly)}
}

func (p *Printer) burnsJSON(b storage.Burning) BurnsJSON {
	f := b.Forecast
	return BurnsJSON{From: f.From.Dry().Percent(), To: f.To.Dry().Percent(),
		Months:   ThreeJSON{f.Soonest.Months(), f.Likely.Months(), f.Latest.Months()},
		WellFrom: window(b.Ready), StackBy: window(b.StackBy), Sentence: p.Burns(b)}
}

// StorageAll gives the answers for several places as data: the first, with the others
// in it.
func (p *Printer) StorageAll(all []storage.Answer) StorageJSON {
	out := p.Storage(all[0])
	out.Sentence = p.FitsAll(all)
	for _, a := range all[1:] {
		out.Then = append(out.Then, p.Storage(a))
	}
	return out
}

// Storage gives an answer as data.
func (p *Printer) Storage(a storage.Answer) StorageJSON {
	out := StorageJSON{
		Place: a.Request.Place.Kind, Burns: p.burnsJSON(a.Burns),
		Sentence: p.Fits(a), Fits: a.Fits, AskedCubicFeet: a.Request.Volume.In(measure.CubicFoot),
		CapacityCubicFeet: a.Capacity.In(measure.CubicFoot), LeftCubicFeet: a.Left().In(measure.CubicFoot),
		Tight: p.Say(a.Tight), DeckPSF: storage.DeckLoad.In(storage.PoundPerSquareFoot),
		Cautions: p.texts(a.Cautions), Grounds: p.supported(a.Grounds), Layouts: []LayoutJSON{},
	}
	for _, l := range a.Layouts {
		out.Layouts = append(out.Layouts, layoutJSON(l))
	}
	return out
}

func layoutJSON(l storage.Layout) LayoutJSON {
	in := func(x measure.Length) float64 { return x.In(measure.Inch) }
	return LayoutJSON{
		Rows: l.Rows, Across: l.Across, GapAside: in(l.SideGap), RowLength: in(l.RowLength), Height: in(l.Height), Top: in(l.Top), Width: in(l.Width), Depth: in(l.Depth),
		Heights: heights(l), OffGround: in(l.OffGround), GapBehind: in(l.WallGap), GapBetween: in(l.RowGap),
		StowsFeet: l.Volume.In(measure.CubicFoot), FloorFeet: l.Area.In(storage.SquareFoot), BelowShoulder: l.Easy, Drying: l.Drying,
		GreenPounds: band(l.GreenMass, wood.Pound), DryPounds: band(l.DryMass, wood.Pound),
		GreenPSF: band(l.Green, storage.PoundPerSquareFoot), DryPSF: band(l.Dry, storage.PoundPerSquareFoot),
		GreenKPa: band(l.Green, storage.Kilopascal), DryKPa: band(l.Dry, storage.Kilopascal),
	}
}

// heights are those of the rows in inches, where they differ.
func heights(l storage.Layout) []float64 {
	var inches []float64
	for _, h := range l.Heights {
		inches = append(inches, h.In(measure.Inch))
	}
	return inches
}

// band is a range in a unit.
func band[T ~int64](r storage.Range[T], unit T) BandJSON {
	return BandJSON{float64(r.Low) / float64(unit), float64(r.High) / float64(unit)}
}

func (p *Printer) supported(grounds []storage.Ground) []SupportedJSON {
	all := make([]SupportedJSON, len(grounds))
	for i, g := range grounds {
		all[i] = SupportedJSON{p.Say(g.Text), g.Source, g.Status}
	}
	return all
}

// TripsJSON is how often a vehicle goes, as data.
type TripsJSON struct {
	Sentence      string            `json:"sentence"`
	Trips         int               `json:"trips"`
	ByVolume      int               `json:"by_volume"`
	ByWeight      int               `json:"by_weight"`
	Decides       string            `json:"decides"`
	LoadCubicFeet float64           `json:"load_cubic_feet"`
	LoadPounds    float64           `json:"load_pounds"`
	CarriesPounds float64           `json:"carries_pounds"`
	Limit         storage.LimitKind `json:"limit"`
	Cautions      []string          `json:"cautions"`
	Grounds       []SupportedJSON   `json:"grounds"`
}

// TripsData gives an answer as data.
func (p *Printer) TripsData(t storage.Trips) TripsJSON {
	return TripsJSON{
		Sentence: p.Trips(t), Trips: t.Trips, ByVolume: t.ByVolume, ByWeight: t.ByWeight, Decides: t.Decides,
		LoadCubicFeet: t.Load.In(measure.CubicFoot), LoadPounds: t.Heavy.In(wood.Pound), CarriesPounds: t.Carries.In(wood.Pound),
		Limit: t.By, Cautions: p.texts(t.Cautions), Grounds: p.supported(t.Grounds),
	}
}

// NeedJSON is how much wood a winter takes, as data.
type NeedJSON struct {
	Sentence   string          `json:"sentence"`
	Cords      BandJSON        `json:"cords"`
	MillionBtu BandJSON        `json:"million_btu"`
	Burns      BurnsJSON       `json:"burns_well"`
	Notes      []string        `json:"notes"`
	Grounds    []SupportedJSON `json:"grounds"`
}

// NeedData gives an answer as data.
func (p *Printer) NeedData(n storage.Need) NeedJSON {
	return NeedJSON{
		Sentence: p.Need(n), Burns: p.burnsJSON(n.Burns), Cords: band(n.Wood, measure.Cord), MillionBtu: band(n.Heat, wood.MillionBtu),
		Notes: p.texts(n.Notes), Grounds: p.supported(n.Grounds),
	}
}
