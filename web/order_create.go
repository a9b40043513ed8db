package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
)

type orderFormPage struct {
	page
	R        orders.OrderRequest
	Action   string
	Order    *orders.Order // the one being changed, nil for a new one
	Question string        // what is read back to the customer, empty when nothing is
	ReadBack string        // the quantity that a yes confirms
	Species  []string
}

func (s *Server) orderForm(c *fiber.Ctx, r orders.OrderRequest) orderFormPage {
	p := s.page(c, measure.Say("New order"), "/")
	return orderFormPage{page: p, R: r, Action: "/orders", Species: speciesNames()}
}

func (s *Server) orderNew(c *fiber.Ctx) error {
	return s.render(c, "order_form", s.orderForm(c, orders.OrderRequest{PieceLength: "16 in"}))
}

func (s *Server) orderCreate(c *fiber.Ctx) error {
	r, order, err := s.takeOrder(c)
	if err != nil {
		return s.orderAgain(c, s.orderForm(c, r), err)
	}
	return made(c, fiber.StatusCreated, "/orders/"+order.ID, order)
}

func (s *Server) takeOrder(c *fiber.Ctx) (orders.OrderRequest, orders.Order, error) {
	r, err := decode[orders.OrderRequest](c)
	if err != nil {
		return r, orders.Order{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Order{}, err
	}
	order, err := s.service.TakeOrder(c.UserContext(), act, r)
	return r, order, err
}

// orderAgain shows the form again as typed with what is wrong beside it, where
// the person can mend it.
func (s *Server) orderAgain(c *fiber.Ctx, p orderFormPage, err error) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	f := s.faultOf(c, err)
	p.again(c)
	for i, e := range f.fields {
		if e.Field != "confirmed" {
			continue
		}
		p.ReadBack, p.R.Confirmed = e.Accepts.String(), ""
		p.Question = sentence(p.Print.Say(e.Reason))
		f.fields[i] = &measure.InputError{Field: e.Field, Code: e.Code, Reason: e.Reason}
		if len(f.fields) == 1 {
			f.message = measure.Say("Read this back to the customer.")
		}
	}
	p.set(f)
	c.Status(f.status)
	return s.render(c, "order_form", p)
}

// speciesNames are offered while typing; any other name may be typed.
func speciesNames() []string {
	return []string{
		"ash", "beech", "birch", "black cherry", "black locust", "Douglas fir", "elm", "hickory", "lodgepole pine",
		"mixed hardwood", "mixed softwood", "red maple", "red oak", "sugar maple", "tamarack", "white oak",
	}
}

// DraftKey names the form's local draft.
func (p orderFormPage) DraftKey() string {
	if p.Order == nil {
		return "/orders/new"
	}
	return p.Action
}

// QuantityHint gives examples in the units of the shop's rules.
func (p orderFormPage) QuantityHint() string {
	switch {
	case p.Print.InCords():
		return p.T("In the customer's words: 1 cord, half a cord, 1 1/3 cords, 64 cu ft, 3.6 m³ stacked.")
	case p.Set.AsksBasis():
		return p.T("In the customer's words, with stacked or loose: 3.6 m³ stacked, 5 m³ loose.")
	}
	return p.T("In the customer's words: 64 cu ft, 3.6 m³ stacked.")
}

// AsksOrigin tells whether the shop's rules ask where the wood was cut.
func (p orderFormPage) AsksOrigin() bool { return p.Set.Requires("origin") }

// Seasonings are what may be stated of the wood, with what is.
func (p page) Seasonings(stated string) []choice {
	list := []choice{{Value: "", Label: p.T("not stated")}}
	for _, s := range []orders.Seasoning{orders.Green, orders.Seasoned, orders.KilnDried} {
		list = append(list, choice{Value: string(s), Label: p.Print.Seasoning(s)})
	}
	for i := range list {
		list[i].On = list[i].Value == stated
	}
	return list
}
