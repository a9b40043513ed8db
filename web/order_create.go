package web

import (
	"slices"
	"strconv"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/web/form"
)

type orderFormPage struct {
	page
	R        orders.OrderRequest
	Action   string
	Order    *orders.Order // the one being changed, nil for a new one
	Question string        // what is read back to the customer, empty when nothing is
	ReadBack string        // the quantity that a yes confirms
	HalfLoad string        // the question whether less than a full load is charged for, empty when it is not asked
	Priced   *orders.Order // as it would be taken, to read its price back; nil where not asked for
	Species  []string
	Again    int64 // number of the order it is to be the same as, 0 for none
	W        wish  // what is said of waiting
	Waits    bool  // it is for the waiting list
}

func (s *Server) orderForm(c *fiber.Ctx, r orders.OrderRequest) orderFormPage {
	p := s.page(c, measure.Say("New order"), "/")
	return orderFormPage{page: p, R: r, Action: "/orders", Species: speciesNames()}
}

func (s *Server) orderNew(c *fiber.Ctx) error {
	p := s.orderForm(c, orders.OrderRequest{PieceLength: "16 in"})
	p.Waits = c.Query("wait") == "yes"
	if id, err := uuid.Parse(c.Query("again")); err == nil {
		history, err := s.service.History(c.UserContext(), s.actor(c), id.String())
		if err != nil {
			return err
		}
		p.R, p.Again = form.Again(history.Order, p.Set, p.Shop.Units), history.Order.Number
	}
	return s.render(c, "order_form", p)
}

// A newOrder is a new order's form: the order, and what it says of waiting.
type newOrder struct {
	orders.OrderRequest
	wish
}

// newOrderForm is the form of a new order as it was sent.
func (s *Server) newOrderForm(c *fiber.Ctx, r newOrder) orderFormPage {
	p := s.orderForm(c, r.OrderRequest)
	p.W = r.wish
	return p
}

func (s *Server) orderCreate(c *fiber.Ctx) error {
	r, order, err := s.takeOrder(c)
	if err != nil {
		p := s.newOrderForm(c, r)
		if was := savedThing[orders.Order](err); was != nil {
			p.theirs = form.Differences(r.OrderRequest, form.Order(*was, p.Set, p.Shop.Units))
		}
		return s.orderAgain(c, p, err)
	}
	return made(c, fiber.StatusCreated, "/orders/"+order.ID, order)
}

func (s *Server) takeOrder(c *fiber.Ctx) (newOrder, orders.Order, error) {
	r, err := decode[newOrder](c)
	if err == nil {
		err = r.wish.none()
	}
	if err != nil {
		return r, orders.Order{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Order{}, err
	}
	order, err := s.service.TakeOrder(c.UserContext(), act, r.OrderRequest)
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
		if e.Field == "half_load" {
			p.HalfLoad, p.R.HalfLoad = sentence(p.Print.Say(e.Reason)), ""
		}
		if e.Field != "confirmed" {
			continue
		}
		p.ReadBack, p.R.Confirmed = e.Accepts.String(), ""
		p.Question = sentence(p.Print.Say(e.Reason))
		f.fields[i] = &measure.InputError{Field: e.Field, Code: e.Code, Reason: e.Reason}
	}
	if f.readsBack() {
		f.message = measure.Say("Read this back to the customer.")
		if priced, _ := s.service.WorkOutPrice(c.UserContext(), s.actor(c), p.R); priced.Price.Wood.Currency != "" {
			p.Priced = &priced
		}
	}
	p.set(f)
	c.Status(f.status)
	return s.render(c, "order_form", p)
}

// Change is the order that a form sent again with other content saved before, where it
// can be taken as a change of that.
func (p orderFormPage) Change() *saving {
	if p.Before == nil || p.Before.Change == "" {
		return nil
	}
	return p.Before
}

// readsBack tells whether nothing is wrong but what is to be read back first.
func (f fault) readsBack() bool {
	return len(f.fields) > 0 && !slices.ContainsFunc(f.fields, func(e *measure.InputError) bool { return e.Code != "read-back" })
}

// orderPrice works out what an order would cost, and keeps nothing.
func (s *Server) orderPrice(c *fiber.Ctx) error {
	r, err := decode[newOrder](c)
	if err != nil {
		return s.orderAgain(c, s.newOrderForm(c, r), err)
	}
	o, err := s.service.WorkOutPrice(c.UserContext(), s.actor(c), r.OrderRequest)
	if err != nil {
		return s.orderAgain(c, s.newOrderForm(c, r), err)
	}
	if wantsJSON(c) {
		return c.JSON(fiber.Map{"quantity": o.Quantity, "price": o.Price, "total": o.Price.Total()})
	}
	p := s.newOrderForm(c, r)
	p.again(c)
	p.Priced = &o
	return s.render(c, "order_form", p)
}

// DistanceHint says what is driven for nothing.
func (p orderFormPage) DistanceHint() string {
	c := p.Shop.Charges
	rate := p.T("%s a mile", p.Print.Money(c.Distance))
	if c.Per == orders.Kilometre {
		rate = p.T("%s a kilometre", p.Print.Money(c.Distance))
	}
	if c.Free > 0 {
		return p.T("%s beyond the first %s.", rate, p.Print.Distance(c.Free))
	}
	return rate + "."
}

// TaxHint says what is charged unless a reason is given.
func (p orderFormPage) TaxHint() string {
	t := p.Shop.Charges.Tax
	return p.T("Empty: %s of %s is charged. Else why not, as it stands on the receipt: heating a home.", t.Name, t.Rate.String())
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
	switch {
	case p.Again != 0:
		return "/orders/new/" + strconv.FormatInt(p.Again, 10)
	case p.Order == nil:
		return "/orders/new"
	}
	return p.Action
}

// QuantityHint gives examples in the units of the shop's rules.
func (p orderFormPage) QuantityHint() string {
	switch {
	case p.Set.CordVaries():
		return p.T("In the customer's words, with how it is prepared: 1 cord sawed and split, half a cord sawed. Or 64 cu ft.")
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
