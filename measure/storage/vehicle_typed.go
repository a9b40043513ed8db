package storage

import "strings"

// TypedHaul is a haul as a person typed it.
type TypedHaul struct {
	Quantity    string `json:"quantity"`
	PieceLength string `json:"piece_length"`
	Wood        string `json:"wood"`
	Species     string `json:"species"`
	Loaded      string `json:"loaded"` // "ranked" or "thrown"
	BedLength   string `json:"bed_length"`
	BedWidth    string `json:"bed_width"`
	BedSides    string `json:"bed_sides"`
	WellLength  string `json:"well_length"` // of each of two wheel wells; all empty: none
	WellWidth   string `json:"well_width"`
	WellHeight  string `json:"well_height"`
	Placard     string `json:"placard"`
	People      string `json:"people"`
	Gross       string `json:"gross"`
	Registered  string `json:"registered"`
	Scale       string `json:"scale"`
}

// Read turns what was typed into a haul. The error is measure.InputErrors with
// everything that was not understood.
func (t TypedHaul) Read(u Units) (Haul, error) {
	d := door{units: u}
	h := Haul{
		PieceLength: d.length("piece_length", t.PieceLength, u.Small, true),
		Wood:        WoodKind(d.choice("wood", t.Wood, kindNames(WoodKinds()))),
		Species:     d.species("species", t.Species),
		Thrown:      d.choice("loaded", t.Loaded, []string{"ranked", "thrown"}) == "thrown",
		Bed: Bed{
			Length: d.length("bed_length", t.BedLength, u.Long, true),
			Width:  d.length("bed_width", t.BedWidth, u.Long, true),
			Sides:  d.length("bed_sides", t.BedSides, u.Small, true),
			Wells:  t.wells(&d),
		},
		Limit: TypedLimit{t.Placard, t.People, t.Gross, t.Registered, t.Scale}.read(&d),
	}
	said := d.quantity("quantity", t.Quantity, h.PieceLength)
	h.Volume, _ = d.ranked("quantity", said, h.PieceLength)
	d.kind(&h.Species, t.Species, said)
	if len(d.faults) > 0 {
		return Haul{}, d.faults
	}
	if faults := h.check(); len(faults) > 0 {
		return Haul{}, faults
	}
	return h, nil
}

// wells are the two wheel wells, where any of their sizes is given.
func (t TypedHaul) wells(d *door) Wells {
	if strings.TrimSpace(t.WellLength+t.WellWidth+t.WellHeight) == "" {
		return Wells{}
	}
	return Wells{
		Count:  2,
		Length: d.length("well_length", t.WellLength, d.units.Small, true),
		Width:  d.length("well_width", t.WellWidth, d.units.Small, true),
		Height: d.length("well_height", t.WellHeight, d.units.Small, true),
	}
}

// A TypedLimit is what a vehicle's papers say, as a person typed it.
type TypedLimit struct {
	Placard    string `json:"placard"`
	People     string `json:"people"`
	Gross      string `json:"gross"`
	Registered string `json:"registered"`
	Scale      string `json:"scale"`
}

func (t TypedLimit) read(d *door) Limit {
	return Limit{
		Placard: d.mass("placard", t.Placard, false), People: d.mass("people", t.People, false),
		Gross: d.mass("gross", t.Gross, false), Registered: d.mass("registered", t.Registered, false),
		Scale: d.mass("scale", t.Scale, false),
	}
}

// Read turns what was typed into a limit. The error is measure.InputErrors with everything that
// was not understood, or that leaves nothing to carry.
func (t TypedLimit) Read(u Units) (Limit, error) {
	d := door{units: u}
	l := t.read(&d)
	if len(d.faults) == 0 {
		d.faults = l.check()
	}
	if len(d.faults) > 0 {
		return Limit{}, d.faults
	}
	return l, nil
}
