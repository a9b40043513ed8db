package orders

import (
	"cmp"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// Hear reads an order said in one line under a shop's rules, with the beds it has taped.
func Hear(set rules.Set, units act.Units, today act.Date, bodies []yard.Body, line string) spoken.Line {
	about := spoken.About{Today: today, Points: set.Terms(0).Points, LooseCords: len(set.Loose) > 0, AsksBasis: set.AsksBasis(), Units: spokenUnits(set, units)}
	for _, b := range bodies {
		about.Beds = append(about.Beds, spoken.Bed{ID: b.ID, Name: b.Name, Line: b.Line, Quantity: b.Quantity})
	}
	return spoken.Read(line, about)
}

// spokenUnits are what a shop sells wood in, as it is written after a number.
func spokenUnits(set rules.Set, units act.Units) []string {
	unit := map[rules.UnitCode]string{rules.Cord: "cords", rules.CubicFoot: "cu ft", rules.CubicMetre: "m³"}[set.SoldIn(units == act.Metric)]
	switch {
	case unit == "":
		return nil
	case unit == "cords":
		return []string{unit}
	case set.AsksBasis():
		return []string{unit + " stacked", unit + " loose"}
	}
	return []string{unit + " stacked"}
}

// hear reads the line, and asks what has to be asked unless a field answers it already.
func (in *orderReader) hear(tx Tx) error {
	if in.typed.Quantity == "" {
		in.Missing("quantity", act.AcceptedQuantities())
		return nil
	}
	bodies, err := tx.Bodies()
	if err != nil {
		return err
	}
	in.line = Hear(in.set, in.shop.Units, in.saidOn(), bodies, in.typed.Quantity)
	for _, q := range in.line.Questions {
		if !in.answered(q) {
			asked := *q
			in.Faults = append(in.Faults, &asked)
		}
	}
	return nil
}

// answered tells whether a field says what a question of the line asks.
func (in *orderReader) answered(q *measure.InputError) bool {
	r := in.typed
	switch q.Field {
	case "species":
		return r.Species != "" && holdsWords(r.Species, q.Got)
	case "seasoning":
		return r.Seasoning != "" && q.Code == "unclear"
	case "piece_length":
		return r.PieceLength != ""
	case "day":
		return r.Day != ""
	case "split":
		return r.Split != ""
	case "stacking":
		return r.Stacking != ""
	}
	return false
}

// carry takes what the line says to the order's fields where those are empty, and asks
// where a field says otherwise. What is not understood is a note.
func (in *orderReader) carry(o *Order) {
	in.carrySpecies(o)
	carryTo(in, "seasoning", in.typed.Seasoning, &o.Seasoning, yard.Seasoning(in.line.Seasoning))
	carryTo(in, "split", in.typed.Split, &o.Split, in.line.Split)
	carryTo(in, "stacking", in.typed.Stacking, &o.Stacking, in.line.Stacking)
	switch said := in.line.Day; {
	case said.IsZero():
	case in.typed.Day == "":
		o.Day = said
	case said != o.Day:
		in.Add("day", "conflict", in.typed.Day, measure.Say("the words say %s, and this says %s", said.Text(), o.Day.Text()), measure.Say("the same in both, or nothing here"))
	}
	for _, note := range in.line.Notes {
		if !strings.Contains(strings.ToLower(o.Notes), strings.ToLower(note)) {
			o.Notes = strings.TrimPrefix(o.Notes+"\n"+note, "\n")
		}
	}
}

// carryPrice takes the price that the line says to its field, and asks where a field says
// otherwise.
func (in *orderReader) carryPrice() {
	said := in.line.Price
	if said.Amount == "" {
		return
	}
	field, to := "price_total", &in.typed.PriceTotal
	if unit := in.set.SoldIn(in.shop.Units == act.Metric); said.Each && unit != rules.Cord && unit != "" {
		field, to = "price_per_unit", &in.typed.PricePerUnit
	} else if said.Each {
		field, to = "price_per_cord", &in.typed.PricePerCord
	}
	words, err := money.Parse(said.Amount, in.currency)
	typed := cmp.Or(*to, in.typed.PricePerCord, in.typed.PricePerUnit, in.typed.PriceTotal)
	if typed == "" {
		*to = said.Amount
		return
	}
	if is, fault := money.Parse(*to, in.currency); err != nil || fault != nil || is != words {
		in.Add(field, "conflict", *to, measure.Say("the words say %s, and a price is typed as well: %s", said.Amount, typed), measure.Say("the same in both, or one of them"))
	}
}

func (in *orderReader) carrySpecies(o *Order) {
	switch said := in.line.Species; {
	case said == "":
	case o.Species == "":
		o.Species = in.printedLine("species", said)
	case !holdsWords(o.Species, said):
		in.Add("species", "conflict", in.typed.Species, measure.Say("the words say %s, and this says %s", said, o.Species), measure.Say("the same in both"))
	}
}

// carryTo takes a word of a list to its field.
func carryTo[W ~string](in *orderReader, field, typed string, to *W, said W) {
	switch {
	case said == "":
	case *to == "":
		*to = said
	case *to != said:
		in.Add(field, "conflict", typed, measure.Say("the words say %s, and this says %s", measure.Say(string(said)), measure.Say(string(*to))), measure.Say("the same in both"))
	}
}

// oneOf reads a field that takes a word of a list.
func oneOf[W interface {
	~string
	Known() bool
}](in *orderReader, field, typed string, accepts measure.Text) W {
	if w := W(typed); w.Known() {
		return w
	}
	in.Add(field, "unknown", typed, measure.Say("this is none of the choices"), accepts)
	return ""
}

// holdsWords tells whether every word of part is one of whole's, in any case.
func holdsWords(whole, part string) bool {
	words := strings.Fields(strings.ToLower(whole))
	return !slices.ContainsFunc(strings.Fields(strings.ToLower(part)), func(w string) bool { return !slices.Contains(words, w) })
}

// pieces is how long an order's pieces are: as its field says, as its words say, or as
// they usually are. Field and words that differ are asked about.
func (in *orderReader) pieces(field, said, usual measure.Length) measure.Length {
	switch {
	case field != 0 && said != 0 && field != said:
		in.Add("piece_length", "conflict", in.typed.PieceLength, measure.Say("the words say %s, and this says %s", said, field), measure.Say("the same in both, or nothing here"))
		return field
	case field != 0:
		return field
	case said != 0:
		return said
	case usual == 0 && in.typed.PieceLength == "" && in.typed.UsualLength == "":
		in.Missing("piece_length", measure.Say("how long the pieces are, such as 16 in"))
	}
	return usual
}
