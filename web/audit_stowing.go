package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/audits"
)

// A stowingPage is what is known here of how tightly people stack.
type stowingPage struct {
	page
	audits.StowingEvidence
}

// stowingShow shows the pairs of readings of wood that was read again.
func (s *Server) stowingShow(c *fiber.Ctx) error {
	p := stowingPage{page: s.page(c, measure.Say("How tightly people stack"), "/audits")}
	var err error
	if p.StowingEvidence, err = s.audits.Stowing(c.UserContext(), s.actor(c)); err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.StowingEvidence)
	}
	return s.render(c, "audit_stowing", p)
}
