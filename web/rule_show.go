package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

type rulePage struct {
	page
	Rules    rules.Set
	Chapters []words.Chapter
	Ours     bool // the shop sells under it
}

// ruleShow shows one rule set in plain words, with the source of each item.
func (s *Server) ruleShow(c *fiber.Ctx) error {
	set, err := s.service.Rules().Get(c.Params("code"))
	if err != nil {
		return &act.Error{Kind: act.NotFound, Message: measure.Say("those rules of sale aren’t here")}
	}
	if wantsJSON(c) {
		return c.JSON(set)
	}
	p := rulePage{page: s.page(c, measure.Say("%s", set.Name), "/rules"), Rules: set}
	p.Chapters, p.Ours = p.Print.Chapters(set), p.Shop.RuleSet == set.Code
	return s.render(c, "rule_show", p)
}
