package web

import (
	"slices"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

type shopFormPage struct {
	page
	R    orders.ShopRequest
	Sets []rules.Set
	// Done tells that the settings were just saved.
	Done bool
}

func (s *Server) shopForm(c *fiber.Ctx, r orders.ShopRequest) shopFormPage {
	return shopFormPage{page: s.page(c, measure.Say("Shop"), "/shop"), R: r, Sets: s.service.Rules().All()}
}

func (s *Server) shopEdit(c *fiber.Ctx) error {
	shop, err := s.service.Shop(c.UserContext(), s.actor(c))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(shop)
	}
	p := s.shopForm(c, form.Shop(shop))
	p.Done = p.Saved == "/shop"
	return s.render(c, "shop_form", p)
}

func (s *Server) shopChange(c *fiber.Ctx) error {
	r, shop, err := doWith(s, c, s.service.ChangeShop)
	if err == nil {
		return made(c, fiber.StatusOK, "/shop", shop)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p := s.shopForm(c, r)
	if conflicts(err) {
		now := form.Shop(p.Shop)
		p.theirs = form.Differences(r, now)
		p.R.Version = now.Version // sent again, it is meant
	}
	s.refuse(c, &p.page, err)
	return s.render(c, "shop_form", p)
}

// Currencies and Zones are offered while typing; any other may be typed.
func (p shopFormPage) Currencies() []string {
	return []string{"USD", "CAD", "EUR", "GBP", "CHF", "SEK", "NOK", "DKK", "PLN", "CZK", "AUD", "NZD"}
}

// Zones are those of North America, Europe, Australia and New Zealand that most people
// live in.
func (p page) Zones() []string {
	return []string{
		"America/New_York", "America/Detroit", "America/Indiana/Indianapolis", "America/Chicago", "America/Denver", "America/Boise", "America/Phoenix",
		"America/Los_Angeles", "America/Anchorage", "Pacific/Honolulu", "America/St_Johns", "America/Halifax", "America/Toronto", "America/Winnipeg",
		"America/Regina", "America/Edmonton", "America/Vancouver", "Europe/London", "Europe/Dublin", "Europe/Lisbon", "Europe/Madrid", "Europe/Paris",
		"Europe/Brussels", "Europe/Amsterdam", "Europe/Berlin", "Europe/Zurich", "Europe/Vienna", "Europe/Rome", "Europe/Copenhagen", "Europe/Oslo",
		"Europe/Stockholm", "Europe/Helsinki", "Europe/Tallinn", "Europe/Riga", "Europe/Vilnius", "Europe/Warsaw", "Europe/Prague", "Europe/Budapest",
		"Europe/Athens", "Europe/Bucharest", "Europe/Sofia", "Australia/Sydney", "Australia/Melbourne", "Australia/Hobart", "Pacific/Auckland", "UTC",
	}
}

// Papers are the sizes to print on.
func (p shopFormPage) Papers() []choice {
	return []choice{
		{string(orders.Letter), p.T("Letter"), p.R.Paper == string(orders.Letter)},
		{string(orders.A4), p.T("A4"), p.R.Paper == string(orders.A4)},
	}
}

// Systems are the systems of units.
func (p shopFormPage) Systems() []choice {
	return []choice{
		{string(act.Imperial), p.T("feet and inches"), p.R.Units == string(act.Imperial)},
		{string(act.Metric), p.T("metres and centimetres"), p.R.Units == string(act.Metric)},
	}
}

// PaperLanguages are the languages that papers can be in, each in itself.
func (p shopFormPage) PaperLanguages() []choice {
	var all []choice
	for _, tag := range orders.Languages() {
		all = append(all, choice{tag, languageNames[tag], p.R.Language == tag})
	}
	return all
}

// RuleSets are the readings of the law to choose from.
func (p shopFormPage) RuleSets() []choice {
	var list []choice
	if !slices.ContainsFunc(p.Sets, func(s rules.Set) bool { return s.Code == p.R.RuleSet }) {
		list = append(list, choice{p.R.RuleSet, p.T("%s: not among those the program was started with", p.R.RuleSet), true})
	}
	for _, set := range p.Sets {
		list = append(list, choice{set.Code, set.Name, p.R.RuleSet == set.Code})
	}
	return list
}
