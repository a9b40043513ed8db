package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
)

// A pickedOrder is a new order's form with a line of the price list that was pressed.
type pickedOrder struct {
	newOrder
	Pick string `json:"pick"` // the line's id
}

// orderPick puts the wood of a line of the price list into a new order's form, and keeps
// nothing.
func (s *Server) orderPick(c *fiber.Ctx) error {
	r, err := decode[pickedOrder](c)
	if err != nil {
		return s.orderAgain(c, s.newOrderForm(c, r.newOrder), err)
	}
	p := s.newOrderForm(c, r.newOrder)
	l, found := p.List.Line(r.Pick)
	if !found {
		return s.orderAgain(c, p, &act.Error{Kind: act.Invalid, Message: measure.Say("That line isn’t on the price list any more.")})
	}
	p.R = p.R.AtList(l.Typed(p.Set, p.Shop.Units))
	if wantsJSON(c) {
		return c.JSON(p.R)
	}
	p.again(c)
	p.Returned = true
	return s.render(c, "order_form", p)
}

// Offers are the wood on the price list, where it is for a new order.
func (p orderFormPage) Offers() []prices.Line {
	if p.Action != "/orders" {
		return nil
	}
	return p.List.Of(prices.Wood)
}

// Places are those on the price list that wood is delivered to, with what that costs.
func (p orderFormPage) Places() []choice {
	places := p.List.Of(prices.Delivery)
	if len(places) == 0 {
		return nil
	}
	list := []choice{{Label: p.T("as typed below")}}
	for _, l := range places {
		list = append(list, choice{l.Place, p.T("%s: %s", p.Print.Offered(l), p.Print.Asked(l)), l.Place == p.R.DeliverTo})
	}
	return list
}

// StackingPrice is the list's price for stacking, empty where it has none.
func (p orderFormPage) StackingPrice() string {
	of := p.List.Of(prices.Stacking)
	if len(of) == 0 {
		return ""
	}
	return p.Print.Asked(of[0])
}
