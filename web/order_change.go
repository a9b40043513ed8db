package web

import (
	"errors"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/api"
	"wellstowed/web/form"
)

func (s *Server) orderEdit(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	p := s.changeForm(c, history.Order, orders.OrderRequest{})
	p.R = form.Order(history.Order, p.Set, p.Shop.Units)
	if wantsJSON(c) { // the other side of a conflict, for a phone that asks
		return c.JSON(p.R)
	}
	return s.render(c, "order_form", p)
}

func (s *Server) changeForm(c *fiber.Ctx, o orders.Order, r orders.OrderRequest) orderFormPage {
	p := s.orderForm(c, r)
	p.Title, p.Here = p.T("Change order %d", int(o.Number)), "/"
	p.Action, p.Order = "/orders/"+o.ID+"/edit", &o
	return p
}

func (s *Server) orderChange(c *fiber.Ctx) error {
	r, order, err := doOn(s, c, orderID, s.service.ChangeOrder)
	if err == nil {
		return made(c, fiber.StatusOK, "/orders/"+order.ID, order)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	history, broken := s.history(c)
	if broken != nil {
		return broken
	}
	p := s.changeForm(c, history.Order, r)
	if conflicts(err) {
		now := form.Order(history.Order, p.Set, p.Shop.Units)
		p.theirs = form.Differences(r, now)
		p.R.Version = now.Version // sent again, it is meant
	}
	return s.orderAgain(c, p, err)
}

func conflicts(err error) bool {
	var known *act.Error
	return errors.As(err, &known) && known.Kind == act.Conflict
}

func (s *Server) orderCancel(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	r, err := decode[api.Cancel](c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	order, err := s.service.CancelOrder(c.UserContext(), act, id, r.Version)
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/orders/"+id, order)
}

// mendable tells whether showing the form again helps.
func mendable(err error) bool {
	var known *act.Error
	var inputs measure.InputErrors
	var input *measure.InputError
	return errors.Is(err, errToForm) || errors.As(err, &known) && (known.Kind == act.Invalid || known.Kind == act.Conflict) ||
		errors.As(err, &inputs) || errors.As(err, &input)
}
