package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/yard"
)

// orderAside sets wood of a batch aside for an order.
func (s *Server) orderAside(c *fiber.Ctx) error {
	_, order, err := doOn(s, c, orderID, s.service.SetAside)
	if err == nil {
		return made(c, fiber.StatusOK, "/orders/"+order.ID, order)
	}
	return showAgain(s, c, "order_show", err, func(c *fiber.Ctx) (orderPage, error) {
		history, err := s.history(c)
		if err != nil {
			return orderPage{}, err
		}
		return s.orderPage(c, history)
	}, (func(*orderPage))(nil))
}

// asides are the batches that wood may be set aside from for an order, with none first.
func (p page) asides(batches []yard.Batch, o orders.Order) []choice {
	list := []choice{{Label: p.T("none"), On: o.SetAside == ""}}
	for _, b := range batches {
		if b.ID == o.SetAside || b.Open() && b.Left.Basis == o.Quantity.Basis {
			list = append(list, choice{b.ID, p.T("%s: %s, %s", b.Name, b.Species, p.Print.Left(b)), b.ID == o.SetAside})
		}
	}
	return list
}

// AsideFrom names the batch that the order's wood is set aside from, empty where none is.
func (p orderPage) AsideFrom() string {
	for _, c := range p.Asides {
		if c.On && c.Value != "" {
			return c.Label
		}
	}
	return ""
}

// asideOf is the batch a load of an order is drawn from where nothing else is said: what was
// set aside, as long as it may be.
func asideOf(o orders.Order, batches []yard.Batch, due measure.Quantity) string {
	for _, b := range batches {
		if b.ID == o.SetAside && b.Left.Volume >= due.Volume {
			return b.ID
		}
	}
	return ""
}
