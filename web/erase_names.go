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
	r, erasure, err := s.erase(c)
	if err == nil {
		return made(c, fiber.StatusCreated, "/shop/erase", erasure)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := s.erasePage(c)
	if broken != nil {
		return broken
	}
	p.R.Confirmed = r.Confirmed
	s.refuse(c, &p.page, err)
	return s.render(c, "erase_names", p)
}

func (s *Server) erase(c *fiber.Ctx) (privacy.Request, privacy.Erasure, error) {
	r, err := decode[privacy.Request](c)
	if err != nil {
		return r, privacy.Erasure{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, privacy.Erasure{}, err
	}
	erasure, err := s.eraser.Erase(c.UserContext(), act, r)
	return r, erasure, err
}
