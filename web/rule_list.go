package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

type ruleListPage struct {
	page
	Sets []rules.Set
}

// ruleList lists the rule sets a shop may pick from.
func (s *Server) ruleList(c *fiber.Ctx) error {
	sets := s.service.Rules().All()
	if wantsJSON(c) {
		return c.JSON(sets)
	}
	return s.render(c, "rule_list", ruleListPage{s.page(c, measure.Say("Rules of sale"), "/rules"), sets})
}
