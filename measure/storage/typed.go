package storage

import (
	"math"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
)

// Typed is a request as a person typed it, in a form, in JSON or on the command
// line.
type Typed struct {
	Quantity    string `json:"quantity"`
	PieceLength string `json:"piece_length"`
	Place       string `json:"place"` // a PlaceKind
	Width       string `json:"width"`
	Depth       string `json:"depth"`
	Height      string `json:"height"`      // empty under the open sky
	BackHeight  string `json:"back_height"` // empty where the roof does not slope
	Braced      string `json:"braced"`      // "yes" where ends and back are built to hold it
	Wood        string `json:"wood"`        // a WoodKind
	Species     string `json:"species"`     // as wood.ParseMixes reads it; empty: by Wood
	Shoulder    string `json:"shoulder"`    // empty: the default
	Moisture    string `json:"moisture"`    // "30 % dry"; empty or "green": green
	Stacked     string `json:"stacked"`     // the day, "2026-11-25"; empty: not said
	// The next place, for what finds no room in the first; all empty: none.
	ThenPlace      string `json:"then_place"`
	ThenWidth      string `json:"then_width"`
	ThenDepth      string `json:"then_depth"`
	ThenHeight     string `json:"then_height"`
	ThenBackHeight string `json:"then_back_height"`
	ThenBraced     string `json:"then_braced"`
}

// Units are those of bare numbers in a form; a zero one asks for a unit.
type Units struct {
	Long  measure.Length // of rooms and vehicles
	Small measure.Length // of pieces and boards
	Mass  wood.Mass
	Area  Area
	Today time.Time // for a month without its year
	Rules Rules     // of a sale; nil: none, and a cord is 128 ft³
}

// Rules read what is typed as some rules of sale take it. The errors are
// *measure.InputError.
type Rules interface {
	// ParseQuantity reads a quantity of wood in pieces of a length, 0 where that is not
	// known.
	ParseQuantity(text string, piece measure.Length) (measure.Said, error)
	// ParseLength reads a length, a bare number in unit unless that is 0.
	ParseLength(text string, unit measure.Length) (measure.Length, error)
}

// noRules reads what is typed where no rules of sale are known.
type noRules struct{}

func (noRules) ParseQuantity(text string, piece measure.Length) (measure.Said, error) {
	return measure.ParseQuantityOf(text, piece)
}

func (noRules) ParseLength(text string, unit measure.Length) (measure.Length, error) {
	return measure.Terms{}.ParseLength(text, unit)
}

func (u Units) rules() Rules {
	if u.Rules == nil {
		return noRules{}
	}
	return u.Rules
}

// Read turns what was typed into a request. The error is measure.InputErrors with
// everything that was not understood.
func (t Typed) Read(u Units) (Request, error) {
	d := door{units: u}
	r := Request{
		PieceLength: d.length("piece_length", t.PieceLength, u.Small, true),
		Place:       d.place("", typedPlace{t.Place, t.Width, t.Depth, t.Height, t.BackHeight, t.Braced}),
		Wood:        WoodKind(d.choice("wood", t.Wood, kindNames(WoodKinds()))),
		Species:     d.species("species", t.Species),
		Shoulder:    d.length("shoulder", t.Shoulder, u.Small, false),
		Moisture:    d.moisture("moisture", t.Moisture),
		Stacked:     d.day("stacked", t.Stacked),
	}
	then := typedPlace{t.ThenPlace, t.ThenWidth, t.ThenDepth, t.ThenHeight, t.ThenBackHeight, t.ThenBraced}
	if !then.empty() {
		r.Then = []Place{d.place("then_", then)}
	}
	said := d.quantity("quantity", t.Quantity, r.PieceLength)
	r.Volume, r.Thrown = d.ranked("quantity", said, r.PieceLength)
	d.kind(&r.Species, t.Species, said)
	if len(d.faults) > 0 {
		return Request{}, d.faults
	}
	if faults := r.withDefaults().checkAll(); len(faults) > 0 {
		return Request{}, faults
	}
	return r, nil
}

// A typedPlace is a place as typed.
type typedPlace struct{ kind, width, depth, height, back, braced string }

func (t typedPlace) empty() bool {
	return strings.TrimSpace(t.kind+t.width+t.depth+t.height+t.back+t.braced) == ""
}

// place reads a place; prefix stands before the names of its fields.
func (d *door) place(prefix string, t typedPlace) Place {
	u := d.units
	return Place{
		Kind:   PlaceKind(d.choice(prefix+"place", t.kind, kindNames(PlaceKinds()))),
		Width:  d.length(prefix+"width", t.width, u.Long, true),
		Depth:  d.length(prefix+"depth", t.depth, u.Long, true),
		Height: d.length(prefix+"height", t.height, u.Long, PlaceKind(t.kind).Traits().Roof),
		Back:   d.length(prefix+"back_height", t.back, u.Long, false),
		Braced: d.choice(prefix+"braced", t.braced, []string{"", "yes"}) == "yes",
	}
}

func (r Request) withDefaults() Request {
	if r.Shoulder == 0 {
		r.Shoulder = DefaultShoulder
	}
	return r
}

func kindNames[T ~string](kinds []T) []string {
	names := make([]string, len(kinds))
	for i, k := range kinds {
		names[i] = string(k)
	}
	return names
}

// A door reads typed fields and gathers their faults in reading order.
type door struct {
	units  Units
	faults measure.InputErrors
}

// refuse notes a fault of a field; an error that is no InputError can't come from
// the parsers.
func (d *door) refuse(field string, err error) {
	in, is := err.(*measure.InputError)
	if !is {
		in = &measure.InputError{Code: "unreadable", Reason: measure.Say("%s", err.Error())}
	}
	at := *in
	at.Field = field
	d.faults = append(d.faults, &at)
}

func (d *door) missing(field string, accepts measure.Text) {
	d.faults = append(d.faults, &measure.InputError{Field: field, Code: "missing", Reason: measure.Say("it is not said"), Accepts: accepts})
}

// length reads a length; empty is 0 where it is not needed.
func (d *door) length(field, text string, bare measure.Length, needed bool) measure.Length {
	if strings.TrimSpace(text) == "" {
		if needed {
			d.missing(field, measure.Say("a length with its unit, such as 6 ft, 16 in or 1.8 m"))
		}
		return 0
	}
	l, err := d.units.rules().ParseLength(text, bare)
	if err != nil {
		d.refuse(field, err)
	}
	return l
}

func (d *door) mass(field, text string, needed bool) wood.Mass {
	if strings.TrimSpace(text) == "" {
		if needed {
			d.missing(field, measure.Say("a weight with its unit, such as 1500 lb or 680 kg"))
		}
		return 0
	}
	m, err := parseMassIn(text, d.units.Mass)
	if err != nil {
		d.refuse(field, err)
	}
	return m
}

// species reads what species the wood may be; empty is none named.
func (d *door) species(field, text string) []wood.Mix {
	if strings.TrimSpace(text) == "" {
		return nil
	}
	mixes, err := wood.ParseMixes(text)
	if err != nil {
		d.refuse(field, err)
	}
	return mixes
}

// moisture reads a moisture with its basis; empty or “green” is the zero one.
func (d *door) moisture(field, text string) wood.Moisture {
	if said := strings.ToLower(strings.TrimSpace(text)); said == "" || said == "green" {
		return wood.Moisture{}
	}
	m, err := wood.ParseMoisture(text, "")
	if err != nil {
		d.refuse(field, err)
	}
	return m
}

// day reads a day; empty is the zero time.
func (d *door) day(field, text string) time.Time {
	if strings.TrimSpace(text) == "" {
		return time.Time{}
	}
	t, fault := parseDay(text)
	if fault != nil {
		d.refuse(field, fault)
	}
	return t
}

func (d *door) choice(field, text string, of []string) string {
	for _, one := range of {
		if text == one {
			return text
		}
	}
	var names []string
	for _, one := range of {
		if one != "" {
			names = append(names, one)
		}
	}
	reason := measure.Say("this is not one of them")
	if text == "" {
		reason = measure.Say("it is not said")
	}
	d.faults = append(d.faults, &measure.InputError{Field: field, Code: "unknown", Got: text, Reason: reason,
		Accepts: measure.Say("%s", strings.Join(names, ", "))})
	return ""
}

// quantity reads a quantity of wood as the rules of sale take it, the zero one where it
// can't be read. A piece length in its words that is not the one typed is refused.
func (d *door) quantity(field, text string, piece measure.Length) measure.Said {
	said, err := d.units.rules().ParseQuantity(text, piece)
	if err != nil {
		d.refuse(field, err)
		return measure.Said{}
	}
	if said.PieceLength != 0 && piece != 0 && said.PieceLength != piece {
		d.faults = append(d.faults, &measure.InputError{Field: field, Code: "two-lengths", Got: text,
			Reason:  measure.Say("the words say pieces of %s, and the piece length is %s", said.PieceLength, piece),
			Accepts: measure.Say("the same piece length in both")})
	}
	return said
}

// kind takes the species from a quantity's words where none is typed, and refuses words
// beside another that is.
func (d *door) kind(species *[]wood.Mix, typed string, said measure.Said) {
	words := strings.Join(said.Rest, ", ")
	switch {
	case words == "" || strings.EqualFold(strings.TrimSpace(typed), words):
	case strings.TrimSpace(typed) == "":
		*species = d.species("quantity", words)
	default:
		d.faults = append(d.faults, &measure.InputError{Field: "species", Code: "conflict", Got: typed,
			Reason:  measure.Say("the quantity says %s, and this says %s", words, typed),
			Accepts: measure.Say("the same in both")})
	}
}

// ranked gives a quantity as ranked wood; thrown wood is reckoned at the most that
// it makes when it is ranked, so that there is room for it.
func (d *door) ranked(field string, said measure.Said, piece measure.Length) (ranked, thrown measure.Volume) {
	switch v := said.Quantity.Volume; said.Quantity.Basis {
	case measure.Ranked:
		return v, 0
	case measure.Loose:
		_, high := stack.ThrownShare(piece)
		return measure.Volume(math.Ceil(float64(v) * high)), v
	case measure.Container:
		d.faults = append(d.faults, &measure.InputError{Field: field, Code: "wrong-basis", Got: said.Words,
			Reason:  measure.Say("wood in a container has no volume in rows"),
			Accepts: measure.Say("a quantity such as 1 1/3 cords, 64 cu ft, 3.6 m³ stacked or 180 cu ft loose")})
	}
	return 0, 0
}
