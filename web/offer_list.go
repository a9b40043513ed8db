package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/offers"
)

// An offersPage holds offers of wood against each other. Nothing of it is kept.
type offersPage struct {
	page
	Typed  string
	Offers []offers.Offer
}

// offerList compares the offers that the address holds.
func (s *Server) offerList(c *fiber.Ctx) error {
	p := offersPage{page: s.page(c, measure.Say("Compare offers"), "/buying"), Typed: c.Query("offers")}
	if p.Typed == "" {
		return s.render(c, "offer_list", p)
	}
	var err error
	if p.Offers, err = offers.Compare(p.Typed, p.Shop.Currency); err != nil {
		if wantsJSON(c) {
			return err
		}
		s.refuse(c, &p.page, err)
		p.Offers = nil
		return s.render(c, "offer_list", p)
	}
	if wantsJSON(c) {
		return c.JSON(p.Offers)
	}
	return s.render(c, "offer_list", p)
}

// OffersHint gives examples in the units of the shop's rules.
func (p offersPage) OffersHint() string {
	if p.Print.InCords() {
		return p.T("As they are made: 1 cord oak 16 inch, $280. Or: pickup load, $90. Or: 2 m³ loose birch, €150.")
	}
	return p.T("As they are made: 2 m³ loose birch, €150. Or: 64 cu ft oak, $140. Or: pickup load, $90.")
}
