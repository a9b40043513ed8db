package web

import (
	"net/url"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// A buyingPage is what a buyer of wood looks to, under a rule set.
type buyingPage struct {
	page
	Under   rules.Set
	Parts   []words.BuyingPart
	Ticket  []words.Rule
	Sources []string
	When    []string // when fields of the ticket are asked for that not every ticket must hold
	Sets    []choice
	Owner   bool // whoever runs the program, who may keep a record
}

// pickedRules is the set that the address names, else the shop's.
func (s *Server) pickedRules(c *fiber.Ctx, p page) (rules.Set, error) {
	code := c.Query("rules")
	if code == "" {
		return p.Set, nil
	}
	set, err := s.service.Rules().Get(code)
	if err != nil {
		return rules.Set{}, &act.Error{Kind: act.NotFound}
	}
	return set, nil
}

// pickedPaper is the paper that the address names, else the given one.
func pickedPaper(c *fiber.Ctx, paper orders.Paper) orders.Paper {
	switch picked := orders.Paper(c.Query("paper")); picked {
	case orders.Letter, orders.A4:
		return picked
	}
	return paper
}

func (s *Server) buyingShow(c *fiber.Ctx) error {
	p := buyingPage{page: s.page(c, measure.Say("Buying wood"), "/buying")}
	set, err := s.pickedRules(c, p.page)
	if err != nil {
		return err
	}
	p.Under, p.Set = set, set
	p.Print = words.New(p.Lang, p.Shop.Units).Under(set)
	p.Parts, p.Ticket, p.Sources = p.Print.Buying(set), p.Print.TicketFields(set), p.Print.TicketSources(set)
	p.When = p.Print.TicketConditions(set)
	p.Owner, p.Sets = s.actor(c).Role == act.Owner, ruleChoices(s.service.Rules().All(), set.Code)
	if wantsJSON(c) {
		return c.JSON(fiber.Map{"rules": set.Code, "parts": p.Parts, "ticket": p.Ticket, "source": p.Print.AdviceSource()})
	}
	return s.render(c, "buying", p)
}

// buyingPrint is the same as a page to take along.
func (s *Server) buyingPrint(c *fiber.Ctx) error {
	p := s.page(c, measure.Text{}, "")
	set, err := s.pickedRules(c, p)
	if err != nil {
		return err
	}
	content, err := s.blank.BuyingChecklist(p.Lang, set, pickedPaper(c, p.Shop.Paper), p.Shop.Units)
	if err != nil {
		return err
	}
	return sendPDF(c, "buying-wood.pdf", content)
}

// ruleChoices are sets to pick from.
func ruleChoices(all []rules.Set, now string) []choice {
	var list []choice
	for _, set := range all {
		list = append(list, choice{set.Code, set.Name, set.Code == now})
	}
	return list
}

// PDF is the path of the page to print, under the picked rules.
func (p buyingPage) PDF(paper string) string {
	return "/buying.pdf?" + url.Values{"rules": {p.Under.Code}, "paper": {paper}}.Encode()
}
