package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/receipts/words"
)

type ruleListPage struct {
	page
	Sets []rules.Set
}

// Tables are all sets side by side, as wide as a page: what wood is sold by, and the rest.
func (p ruleListPage) Tables() []ruleTable {
	heads, rows := p.Print.RuleColumns(), p.Print.RuleTable(p.Sets)
	return []ruleTable{
		{p.Print.Say(measure.Say("What wood is sold by")), heads, rows, 0, words.RuleSelling},
		{p.Print.Say(measure.Say("Dryness, moving, and how it’s known")), heads, rows, words.RuleSelling, len(heads) - 1},
	}
}

// A ruleTable is some of the columns that tell sets apart.
type ruleTable struct {
	Heading  string
	heads    []string
	rows     []words.RuleRow
	from, to int // of the cells after the code
}

// Columns are the heads.
func (t ruleTable) Columns() []string {
	return append([]string{t.heads[0]}, t.heads[1+t.from:1+t.to]...)
}

// Rows are the lines.
func (t ruleTable) Rows() []words.RuleRow {
	rows := slices.Clone(t.rows)
	for i := range rows {
		rows[i].Cells = rows[i].Cells[t.from:t.to]
	}
	return rows
}

// ruleList lists the rule sets a shop may pick from.
func (s *Server) ruleList(c *fiber.Ctx) error {
	sets := s.service.Rules().All()
	if wantsJSON(c) {
		return c.JSON(sets)
	}
	return s.render(c, "rule_list", ruleListPage{s.page(c, measure.Say("Rules of sale"), "/rules"), sets})
}
