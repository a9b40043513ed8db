package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/privacy"
)

// An erasePage shows which names may be erased, and which were.
type erasePage struct {
	page
	privacy.Plan
	R    privacy.Request
	Just bool // names were just erased
}

func (s *Server) erasePage(c *fiber.Ctx) (erasePage, error) {
	plan, err := s.eraser.Plan(c.UserContext(), s.actor(c))
	if err != nil {
		return erasePage{}, err
	}
	p := erasePage{page: s.page(c, measure.Say("Erase old names"), "/shop"), Plan: plan}
	p.names = map[string]string{"confirmed": p.T("How many in all")}
	p.R.Plan = plan.Code
	return p, nil
}

func (s *Server) eraseShow(c *fiber.Ctx) error {
	p, err := s.erasePage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.Plan)
	}
	p.Just = p.Saved == "/shop/erase"
	return s.render(c, "erase_names", p)
}

func (s *Server) eraseNames(c *fiber.Ctx) error {
	r, erasure, err := doWith(s, c, s.eraser.Erase)
	if err == nil {
		return made(c, fiber.StatusCreated, "/shop/erase", erasure)
	}
	return showAgain(s, c, "erase_names", err, s.erasePage, func(p *erasePage) { p.R.Confirmed = r.Confirmed })
}
