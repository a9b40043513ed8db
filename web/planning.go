package web

import (
	"net/url"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// ask reads what a planning page was sent and works out its answer, nil where there is
// an error. What was typed is kept in typed.
func ask[T, A any](c *fiber.Ctx, typed *T, work func(T) (A, error)) (*A, error) {
	read, err := decode[T](c)
	*typed = read
	if err != nil {
		return nil, err
	}
	answer, err := work(read)
	if err != nil {
		return nil, err
	}
	return &answer, nil
}

// answered shows a planning page with its answer or with what was wrong, or gives the
// answer to a program as data. p is the page within shown.
func (s *Server) answered(c *fiber.Ctx, name string, p *page, shown any, data func() any, err error) error {
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		s.refuse(c, p, err)
	case wantsJSON(c):
		return c.JSON(data())
	}
	return s.render(c, name, shown)
}

// planning leads to a planning page with wood filled in.
func (p page) planning(path string, q measure.Quantity, piece measure.Length, species string) string {
	v := url.Values{"quantity": {p.Spell(q)}}
	if piece > 0 {
		v.Set("piece_length", piece.String())
	}
	if _, err := wood.ParseMixes(species); err == nil {
		v.Set("species", species)
	}
	return path + "?" + v.Encode()
}

// typedUnits are the units of bare numbers in the forms of a shop, its rules of sale, and
// the day it is there.
func (s *Server) typedUnits(shop orders.Shop, set rules.Set) storage.Units {
	u := storage.Units{Long: measure.Foot, Small: measure.Inch, Mass: wood.Pound, Area: storage.SquareFoot}
	if shop.Units == act.Metric {
		u = storage.Units{Long: measure.Metre, Small: measure.Centimetre, Mass: wood.Kilogram, Area: storage.SquareMetre}
	}
	u.Rules = set
	u.Today, _ = time.Parse(time.DateOnly, s.today(shop.Zone)) // it was formatted so
	return u
}

// LongUnit and SmallUnit say what a bare number in a field is in.
func (p page) LongUnit() string {
	if p.Shop.Units == act.Metric {
		return p.T("In metres, or with its unit.")
	}
	return p.T("In feet, or with its unit: 6 ft 3 in.")
}

// SmallUnit is for pieces and boards.
func (p page) SmallUnit() string {
	if p.Shop.Units == act.Metric {
		return p.T("In centimetres, or with its unit.")
	}
	return p.T("In inches, or with its unit.")
}

// MassUnit is for weights.
func (p page) MassUnit() string {
	if p.Shop.Units == act.Metric {
		return p.T("In kilograms, or with its unit.")
	}
	return p.T("In pounds, or with its unit.")
}

// woods are the kinds of wood to choose from.
func (p page) woods(now string) []choice { return named(p, storage.WoodKinds(), now) }

// named are kinds to choose from by their names.
func named[K interface {
	~string
	Name() measure.Text
}](p page, kinds []K, now string) []choice {
	var list []choice
	for _, k := range kinds {
		list = append(list, choice{string(k), p.Upper(p.Print.Say(k.Name())), string(k) == now})
	}
	return list
}
