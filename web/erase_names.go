package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
)

// An erasePage shows which names may be erased, and which were.
type erasePage struct {
	page
	orders.ErasurePlan
	R    orders.EraseRequest
	Just bool // names were just erased
}

func (s *Server) erasePage(c *fiber.Ctx) (erasePage, error) {
	plan, err := s.service.ErasurePlan(c.UserContext(), s.actor(c))
	if err != nil {
		return erasePage{}, err
	}
	p := erasePage{page: s.page(c, measure.Say("Erase old names"), "/shop"), ErasurePlan: plan}
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
		return c.JSON(p.ErasurePlan)
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

func (s *Server) erase(c *fiber.Ctx) (orders.EraseRequest, orders.Erasure, error) {
	r, err := decode[orders.EraseRequest](c)
	if err != nil {
		return r, orders.Erasure{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Erasure{}, err
	}
	erasure, err := s.service.Erase(c.UserContext(), act, r)
	return r, erasure, err
}
