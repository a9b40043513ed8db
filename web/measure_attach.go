package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// attaching is what the button sends that takes readings of no order to an order's page.
const attaching = "attach"

// attachTo is how many orders, the newest first, readings of no order can be taken to.
const attachTo = 20

// offerOrders puts on a page of no order the orders that its readings may be of, for those
// of the shop. Of wood in rows only.
func (s *Server) offerOrders(c *fiber.Ctx, p *measurePage) error {
	if p.Who.Role == "" || p.Kind != rowsKind {
		return nil
	}
	takers, err := s.takers(c)
	p.Takers = takers
	return err
}

// takers are the orders that readings of no order can be taken to, the newest first.
func (s *Server) takers(c *fiber.Ctx) (takers []orders.Order, err error) {
	list, err := s.service.Orders(c.UserContext(), s.actor(c), 0, attachTo)
	for _, o := range list.Orders {
		if o.State != orders.Cancelled {
			takers = append(takers, o)
		}
	}
	return takers, err
}

// attach makes readings of no order those of the order whose page they were sent to: the
// order says what was sold. Who read it was asked of a page that begins with the buyer; here
// it begins with the seller, and can be changed before it is saved.
func (p *measurePage) attach(do string) {
	if do != attaching || p.Order == nil {
		return
	}
	p.F.Sold, p.F.By = "", string(stack.Seller)
}
