package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

// A chargesPage is what the shop charges besides the wood.
type chargesPage struct {
	page
	R    orders.ChargesRequest
	Done bool // it was just saved
}

func (s *Server) chargesEdit(c *fiber.Ctx) error {
	p := chargesPage{page: s.page(c, measure.Say("Distance, part loads and tax"), "/shop")}
	if wantsJSON(c) {
		return c.JSON(p.Shop.Charges)
	}
	p.R, p.Done = form.Charges(p.Shop, p.Set), p.Saved == "/charges"
	return s.render(c, "charges_form", p)
}

func (s *Server) chargesChange(c *fiber.Ctx) error {
	r, shop, err := doWith(s, c, s.service.ChangeCharges)
	if err == nil {
		return made(c, fiber.StatusOK, "/charges", shop.Charges)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p := chargesPage{page: s.page(c, measure.Say("Distance, part loads and tax"), "/shop"), R: r}
	if conflicts(err) {
		now := form.Charges(p.Shop, p.Set)
		p.theirs = form.Differences(r, now)
		p.R.Version = now.Version // sent again, it is meant
	}
	s.refuse(c, &p.page, err)
	return s.render(c, "charges_form", p)
}

// RateLabel names the charge for distance in the shop's unit.
func (p chargesPage) RateLabel() string {
	if p.Shop.Units == act.Metric {
		return p.T("Charge for each kilometre")
	}
	return p.T("Charge for each mile")
}

// Taxables are the parts of a price that the tax may be on.
func (p chargesPage) Taxables() []choice {
	return []choice{
		{"tax_wood", p.T("the wood"), p.R.TaxWood == "yes"},
		{"tax_delivery", p.T("delivery and distance"), p.R.TaxDelivery == "yes"},
		{"tax_stacking", p.T("stacking"), p.R.TaxStacking == "yes"},
		{"tax_other", p.T("other charges"), p.R.TaxOther == "yes"},
	}
}
