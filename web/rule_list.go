package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/receipts/words"
)

type ruleListPage struct {
	page
	Sets []rules.Set
}

// Columns and Rows are the table of all sets side by side.
func (p ruleListPage) Columns() []string { return p.Print.RuleColumns() }

// Rows are its lines.
func (p ruleListPage) Rows() []words.RuleRow { return p.Print.RuleTable(p.Sets) }

// ruleList lists the rule sets a shop may pick from.
func (s *Server) ruleList(c *fiber.Ctx) error {
	sets := s.service.Rules().All()
	if wantsJSON(c) {
		return c.JSON(sets)
	}
	return s.render(c, "rule_list", ruleListPage{s.page(c, measure.Say("Rules of sale"), "/rules"), sets})
}
