package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders"
)

// A beginPage asks what a new shop needs before it sells.
type beginPage struct {
	shopFormPage
	R orders.BeginRequest
}

func (s *Server) beginForm(c *fiber.Ctx, r orders.BeginRequest) beginPage {
	p := beginPage{s.shopForm(c, orders.ShopRequest{}), r}
	p.Title = p.T("Your shop in three questions")
	p.Here = "/"
	p.names = map[string]string{"price": p.T("Price of a cord"), "name": p.T("Name of your business")}
	return p
}

// beginNew asks the three questions; a shop that has begun has its settings instead.
func (s *Server) beginNew(c *fiber.Ctx) error {
	p := s.beginForm(c, orders.BeginRequest{})
	if p.Shop.Located {
		return c.Redirect("/shop", fiber.StatusSeeOther)
	}
	return s.render(c, "begin", p)
}

func (s *Server) beginCreate(c *fiber.Ctx) error {
	r, shop, err := doWith(s, c, s.service.Begin)
	if err == nil {
		return made(c, fiber.StatusCreated, "/", shop)
	}
	return showAgain(s, c, "begin", err, func(c *fiber.Ctx) (beginPage, error) { return s.beginForm(c, r), nil }, (func(*beginPage))(nil))
}

// begins tells whether who looks is to be asked about a shop that nobody has told of.
func (p page) begins() bool { return !p.Shop.Located && p.May("POST /begin") }

// RuleSets are the readings of the law to choose from, none of them taken for granted.
func (p beginPage) RuleSets() []choice {
	list := []choice{{Label: p.T("Choose where you sell"), On: p.R.RuleSet == ""}}
	for _, set := range p.Sets {
		place, _, _ := strings.Cut(set.Name, ":")
		list = append(list, choice{set.Code, place, p.R.RuleSet == set.Code})
	}
	return list
}
