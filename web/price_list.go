package web

import (
	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
)

// A priceListPage shows what is on offer.
type priceListPage struct {
	page
	prices.List
}

func (s *Server) priceListPage(c *fiber.Ctx) (p priceListPage, err error) {
	p.page = s.page(c, measure.Say("Price list"), "/")
	p.List, err = s.service.Prices.List(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) priceList(c *fiber.Ctx) error {
	p, err := s.priceListPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.List)
	}
	return s.render(c, "price_list", p)
}

// pricePrint sends the price list as a paper for customers.
func (s *Server) pricePrint(c *fiber.Ctx) error {
	p, err := s.priceListPage(c)
	if err != nil {
		return err
	}
	pdf, err := s.blank.PriceList(p.List, p.Shop)
	if err != nil {
		return err
	}
	return sendPDF(c, "price-list.pdf", pdf)
}

// Kinds are the parts of the list that have lines.
func (p priceListPage) Kinds() (kinds []prices.Kind) {
	for _, k := range prices.Kinds() {
		if len(p.Of(k)) > 0 {
			kinds = append(kinds, k)
		}
	}
	return kinds
}

// Says tells whether lines of a kind say more than their heading.
func (p priceListPage) Says(kind prices.Kind) bool {
	return kind == prices.Wood || kind == prices.Delivery
}

// Beside says what is charged besides.
func (p priceListPage) Beside() []string { return p.Print.ChargesBeside(p.Shop.Charges) }

// A priceFormPage takes a line of the price list.
type priceFormPage struct {
	page
	R       prices.Request
	Comes   bool     // that line is of a day to come
	Like    string   // id of the line that gets another price; empty for a new one
	Asks    string   // the price to be confirmed, empty where nothing is asked
	Species []string // offered while typing
}

func (s *Server) priceForm(c *fiber.Ctx) (priceFormPage, error) {
	p := priceFormPage{page: s.page(c, measure.Say("Put it on the price list"), "/"), Species: speciesNames(), R: prices.Request{Kind: c.Query("kind", string(prices.Wood))}}
	p.names = map[string]string{"per": p.T("How much it is for"), "place": p.T("Where to"), "from": p.T("From"), "seasoning": p.T("Seasoning"), "confirmed": p.T("Price")}
	if p.R.Kind == string(prices.Least) {
		p.names["per"] = p.T("The least you deliver")
	}
	id, err := uuid.Parse(c.Query("like"))
	if err != nil {
		return p, nil // it is a new one
	}
	list, err := s.service.Prices.List(c.UserContext(), p.Who)
	if err != nil {
		return p, err
	}
	l, found := list.Line(id.String())
	if !found {
		return p, act.NewNotFound("that line isn’t on the price list")
	}
	p.Comes = l.From.After(list.On)
	p.Like, p.R = l.ID, l.Typed(p.Set, p.Shop.Units)
	p.Title = p.T("Another price")
	return p, nil
}

func (s *Server) priceNew(c *fiber.Ctx) error {
	p, err := s.priceForm(c)
	if err != nil {
		return err
	}
	return s.render(c, "price_form", p)
}

func (s *Server) priceCreate(c *fiber.Ctx) error {
	r, l, err := doWith(s, c, s.service.Prices.Set)
	if err == nil {
		return made(c, fiber.StatusCreated, "/prices", l)
	}
	return showAgain(s, c, "price_form", err, s.priceForm, func(p *priceFormPage) {
		p.R = r
		for _, f := range s.faultOf(c, err).fields {
			if f.Field == "confirmed" {
				p.Asks = f.Accepts.String()
			}
		}
	})
}

func (s *Server) priceEnd(c *fiber.Ctx) error {
	_, l, err := doOn(s, c, lineID, s.service.Prices.End)
	if err == nil {
		return made(c, fiber.StatusOK, "/prices", l)
	}
	return showAgain(s, c, "price_list", err, s.priceListPage, (func(*priceListPage))(nil))
}

func lineID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", act.NewNotFound("that line isn’t on the price list")
	}
	return id.String(), nil
}

// Parts are the kinds of line there are.
func (p priceFormPage) Parts() (list []choice) {
	for _, k := range prices.Kinds() {
		list = append(list, choice{"/prices/new?kind=" + string(k), p.Print.PriceKind(k), string(k) == p.R.Kind})
	}
	return list
}

// Is tells whether the line is of a kind.
func (p priceFormPage) Is(kind string) bool { return p.R.Kind == kind }

// Dry are the statements of seasoning a line may be for.
func (p priceFormPage) Dry() []choice {
	list := p.Seasonings(p.R.Seasoning)
	list[0].Label = p.T("any")
	return list
}

// PerHint gives examples of how much a price is for.
func (p priceFormPage) PerHint() string {
	if p.Print.InCords() {
		return p.T("Empty: 1 cord. Or another amount with a price of its own: 1/2 cord.")
	}
	return p.T("Empty: one unit of sale. Or another amount: 2 m³ stacked, 64 cu ft stacked.")
}
