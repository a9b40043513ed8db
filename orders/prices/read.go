package prices

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A Request is a line as typed.
type Request struct {
	Kind        string `json:"kind"`
	Species     string `json:"species"`      // empty: any
	PieceLength string `json:"piece_length"` // empty: any
	Seasoning   string `json:"seasoning"`    // empty: any
	Per         string `json:"per"`          // how much the price is for; empty: one unit of sale
	Place       string `json:"place"`
	Price       string `json:"price"`
	From        string `json:"from"` // "2006-01-02"; empty: today in the shop's zone
	// Confirmed says that a price far from the one before is meant: it holds that price.
	Confirmed string `json:"confirmed"`
}

// A Market is what of a shop's settings its prices go by.
type Market struct {
	Zone     string // IANA
	Units    act.Units
	RuleSet  string // code
	Currency string
	// Located tells that a person said the zone and the currency.
	Located bool
}

// A reader turns what was typed into a line and gathers the faults.
type reader struct {
	act.Fields
	Market
	set   rules.Set
	font  act.Font
	today act.Date
	now   time.Time
}

func (s *Service) reader(tx Tx) (*reader, error) {
	m, err := tx.Market()
	if err != nil {
		return nil, err
	}
	set, err := act.RulesOf(s.book, m.RuleSet)
	now := s.acts.Now()
	in := &reader{Market: m, set: set, font: s.font, today: act.DayIn(now, m.Zone), now: now}
	if !m.Located {
		in.Missing("shop.zone", measure.Say("the shop’s time zone and currency, in the shop's settings"))
	}
	return in, err
}

// line reads one line; what its kind has no use for must be empty.
func (in *reader) line(r Request) Line {
	l := Line{Item: Item{Kind: Kind(r.Kind)}, From: in.from(r.From), Created: in.now}
	switch l.Kind {
	case Wood:
		in.unused(r.Place, "place")
		in.wood(&l.Item, r)
		l.Per = in.per(r.Per, true)
		l.Price = in.price(r.Price, false)
	case Delivery:
		in.woodless(r)
		in.unused(r.Per, "per")
		if l.Place = in.printed("place", r.Place); r.Place == "" {
			in.Missing("place", measure.Say("where to, such as Corinth and Topsham, or within 10 miles"))
		}
		l.Price = in.price(r.Price, true)
	case Stacking:
		in.woodless(r)
		in.unused(r.Place, "place")
		l.Per = in.per(r.Per, true)
		l.Price = in.price(r.Price, false)
	case Least:
		in.woodless(r)
		in.unused(r.Place, "place")
		in.unused(r.Price, "price")
		l.Per = in.per(r.Per, false)
	default:
		in.Add("kind", "unknown", r.Kind, measure.Say("no such line of a price list is known"), measure.Say("wood, delivery, stacking or least"))
	}
	return l
}

func (in *reader) wood(i *Item, r Request) {
	i.Species = in.printed("species", r.Species)
	if wood.StatesShares(i.Species) {
		_, err := wood.ParseStated(i.Species)
		in.Parsed("species", err)
	}
	i.PieceLength = in.PieceOf(in.set, in.Units, "piece_length", r.PieceLength)
	in.Refused("piece_length", r.PieceLength, in.set.RefusePieces(i.PieceLength))
	for _, known := range yard.Seasonings() {
		if yard.Seasoning(r.Seasoning) == known {
			i.Seasoning = known
		}
	}
	if r.Seasoning != "" && i.Seasoning == "" {
		in.Add("seasoning", "unknown", r.Seasoning, measure.Say("no such statement is known"), measure.Say("green, seasoned or kiln-dried, or nothing"))
	}
}

// woodless refuses what speaks of wood on a line that doesn't.
func (in *reader) woodless(r Request) {
	in.unused(r.Species, "species")
	in.unused(r.PieceLength, "piece_length")
	in.unused(r.Seasoning, "seasoning")
}

func (in *reader) unused(text, field string) {
	if text != "" {
		in.Add(field, "not-asked", text, measure.Say("this kind of line has none"), measure.Say("nothing"))
	}
}

// per reads how much wood a price is for. Words that name no legal quantity are refused: a
// price list is printed.
func (in *reader) per(text string, unitless bool) measure.Quantity {
	if text == "" && unitless {
		if one := in.set.SoldIn(in.Units == act.Metric).Volume(); one > 0 {
			return measure.Quantity{Volume: one, Basis: measure.Ranked}
		}
	}
	if text == "" {
		in.Missing("per", act.AcceptedQuantities())
		return measure.Quantity{}
	}
	said := in.SaidUnder(in.set, in.Units, "per", text, 0)
	if said.Barred != "" {
		in.Add("per", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
			measure.Say("%s", act.Spell(in.set, in.Units, said.Quantity)))
	}
	in.Refused("per", text, in.set.Refuse(said.Quantity, 0))
	return said.Quantity
}

// price reads an amount; one of nothing is refused unless it may be free.
func (in *reader) price(text string, free bool) money.Money {
	if text == "" {
		in.Missing("price", money.Accepted(in.Currency))
		return money.Money{}
	}
	m, err := money.Parse(text, in.Currency)
	if in.Parsed("price", err) && m.Minor == 0 && !free {
		in.Add("price", "nothing", text, measure.Say("a price of nothing isn’t an offer"), measure.Say("an amount above 0"))
	}
	return m
}

// from reads the day a line is from: today or later, since what was asked on days past
// stays as it was.
func (in *reader) from(text string) act.Date {
	if text == "" {
		return in.today
	}
	day, err := act.ParseDate(text)
	if in.Parsed("from", err) && in.today.After(day) {
		in.Add("from", "past", text, measure.Say("prices of days past stay as they were"), measure.Say("a day from %s on", in.today.String()))
	}
	return day
}

// printed reads one line that will be printed.
func (in *reader) printed(field, text string) string {
	text = in.Printable(in.font, field, in.Line(field, text))
	in.Barred(in.set, field, text)
	return text
}

// farFrom is how many times a price may be the one before, or that one it, before it is
// asked about.
const farFrom = 2

// asks asks whether a price far from the one before is meant.
func (in *reader) asks(l Line, list List, confirmed string) {
	for _, before := range list.Lines {
		if before.key() != l.key() || l.Price.Minor == 0 || before.Price.Minor == 0 {
			continue
		}
		a, b := l.Price.Minor, before.Price.Minor
		if (a > b*farFrom || b > a*farFrom) && confirmed != l.Price.String() {
			in.Add("confirmed", "read-back", "", measure.Say("%s is far from the price now, which is %s", l.Price.String(), before.Price.String()), measure.Say("%s", l.Price.String()))
		}
	}
}
