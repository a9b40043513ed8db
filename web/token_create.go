package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/people"
	"wellstowed/web/api"
)

// A tokenPage shows a program's token, once.
type tokenPage struct {
	page
	people.Token
	Base string // of the address that programs ask
}

// tokenCreate makes a token of a person for a program.
func (s *Server) tokenCreate(c *fiber.Ctx) error {
	r, made, err := doWith(s, c, s.service.People.MakeToken)
	switch {
	case err != nil:
		return showAgain(s, c, "people_list", err, s.peopleForm, func(p *peoplePage) { p.Asked = r })
	case wantsJSON(c):
		return c.Status(fiber.StatusCreated).JSON(made)
	}
	base := s.base
	if base == "" {
		base = "http://" + string(c.Request().Host())
	}
	return s.render(c, "token", tokenPage{page: s.page(c, measure.Say("Token of %s", made.Of.Program), "/people"), Token: made, Base: base + api.Prefix})
}

// LetIn are the people that a program can be let in as.
func (p peoplePage) LetIn() []choice {
	var all []choice
	for _, m := range p.Roll.People {
		if m.State == people.LetIn {
			all = append(all, choice{Value: m.ID, Label: p.T("%s, %s", m.Name, p.RoleName(m.Role)), On: m.ID == p.Asked.Person})
		}
	}
	return all
}

// Comes says by what a session is in: a browser's device, or a program.
func (p page) Comes(in people.Session) string {
	if in.Program != "" {
		return p.T("program: %s", in.Program)
	}
	return in.Device
}
