package web

import (
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
	"wellstowed/web/api"
	"wellstowed/web/form"
)

type orderFormPage struct {
	page
	R        orders.OrderRequest
	Action   string
	Order    *orders.Order // the one being changed, nil for a new one
	HalfLoad string        // the question whether less than a full load is charged for, empty when it is not asked
	Returned bool          // it was sent already, so that no draft is put into it
	Species  []string
	Again    int64 // number of the order it is to be the same as, 0 for none
	W        wish  // what is said of waiting
	Waits    bool  // it is for the waiting list
	List     prices.List
	Heard    *heard // what was understood of its line; nil where none was typed
}

func (s *Server) orderForm(c *fiber.Ctx, r orders.OrderRequest) orderFormPage {
	p := s.page(c, measure.Say("New order"), "/")
	p.Finder, p.Sheet = s.assets.path("customer.js"), s.assets.path("board.css")
	p.names = map[string]string{"split": p.T("How it is split"), "stacking": p.T("Stacking where it goes")}
	list, _ := s.service.Prices.List(c.UserContext(), p.Who) // without it the form asks for every price
	return orderFormPage{page: p, R: r, Action: "/orders", Species: speciesNames(), List: list}
}

func (s *Server) orderNew(c *fiber.Ctx) error {
	p := s.orderForm(c, orders.OrderRequest{Quantity: c.Query("line")})
	p.Returned = p.R.Quantity != "" // no draft goes over it
	if err := s.hear(c, &p); err != nil {
		return err
	}
	p.Waits = c.Query("wait") == "yes"
	if id, err := uuid.Parse(c.Query("again")); err == nil {
		history, err := s.service.History(c.UserContext(), s.actor(c), id.String())
		if err != nil {
			return err
		}
		p.R, p.Again = form.Again(history.Order, p.Set, p.Shop.Units), history.Order.Number
	}
	if id, err := uuid.Parse(c.Query("customer")); err == nil {
		r, err := s.service.Customers.Get(c.UserContext(), s.actor(c), id.String())
		if err != nil {
			return err
		}
		p.R.CustomerID, p.R.CustomerName, p.R.CustomerAddress, p.R.CustomerPhone = r.ID, r.Name, r.Address, r.Phone
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
	if c.Get(partHeader) != "" {
		return s.orderPart(c)
	}
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
// the person can mend it; where nothing is, it reads the order back.
func (s *Server) orderAgain(c *fiber.Ctx, p orderFormPage, err error) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	f := s.faultOf(c, err)
	p.again(c)
	if f.readsBack() {
		back, _ := s.service.ReadBack(c.UserContext(), s.actor(c), p.R) // a place on the waiting list may lack its price
		back.Confirm = f.fields[0].Accepts.String()
		return s.readBack(c, p, back)
	}
	if len(f.fields) == 1 && f.fields[0].Field == "half_load" {
		return s.askHalfLoad(c, p, f)
	}
	for _, e := range f.fields {
		if e.Field == "half_load" {
			p.HalfLoad, p.R.HalfLoad = sentence(p.Print.Say(e.Reason)), ""
		}
	}
	p.Returned = true
	p.set(f)
	if err := s.hear(c, &p); err != nil {
		return err
	}
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

// readsBack tells whether nothing is wrong but that it has to be read back first.
func (f fault) readsBack() bool {
	return len(f.fields) == 1 && f.fields[0].Field == "confirmed"
}

// orderPrice works out what an order would cost and what to read back, and keeps nothing.
func (s *Server) orderPrice(c *fiber.Ctx) error {
	r, err := decode[newOrder](c)
	if err != nil {
		return s.orderAgain(c, s.newOrderForm(c, r), err)
	}
	back, err := s.service.ReadBack(c.UserContext(), s.actor(c), r.OrderRequest)
	if err != nil {
		return s.orderAgain(c, s.newOrderForm(c, r), err)
	}
	p := s.newOrderForm(c, r)
	p.again(c)
	if wantsJSON(c) {
		lines, total := p.Print.ReadBack(back)
		return c.JSON(api.OrderReadBack{Quantity: back.Order.Quantity, Price: back.Order.Price, Total: back.Order.Price.Total(),
			ReadBack: append(lines, total), Confirmed: back.Confirm})
	}
	return s.readBack(c, p, back)
}

// DistanceHint says what is driven for nothing.
func (p orderFormPage) DistanceHint() string {
	return p.Print.DistanceRate(p.Shop.Charges) + "."
}

// TaxHint says what is charged unless a reason is given.
func (p orderFormPage) TaxHint() string {
	t := p.Shop.Charges.Tax
	return p.T("Empty: %s of %s is charged. Else why not, as printed on the receipt: heating a home.", t.Name, t.Rate.String())
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

// Unfolded tells that something under More is to be seen: an order that is changed, a fault,
// or what was typed there.
func (p orderFormPage) Unfolded() bool {
	if p.Order != nil || p.Waits || p.W != (wish{}) {
		return true
	}
	for name := range p.wrong {
		if name != "customer_name" && name != "quantity" && name != "half_load" && (name != "customer_address" || p.Reached() != "") {
			return true
		}
	}
	typed := p.R
	typed.CustomerID, typed.CustomerName, typed.Quantity, typed.UsualLength, typed.Confirmed, typed.HalfLoad, typed.Origin = "", "", "", "", "", "", ""
	typed.CustomerAddress = ""
	if p.Reached() != "" {
		typed.CustomerPhone = "" // it came with the customer, and is said
	}
	return typed != orders.OrderRequest{}
}

// Reached is where a customer who was picked lives and how to ring up, in one line.
func (p orderFormPage) Reached() string {
	if p.R.CustomerID == "" {
		return ""
	}
	return strings.Trim(p.OneLine(p.R.CustomerAddress)+" · "+p.R.CustomerPhone, " ·")
}

// QuantityHint gives examples in the units of the shop's rules.
func (p orderFormPage) QuantityHint() string {
	switch {
	case p.Set.CordVaries():
		return p.T("In the customer's words, with how it is prepared: 1 cord sawed and split, half a cord sawed. Or 64 cu ft stacked.")
	case p.Print.InCords():
		return p.T("The whole order in their words: half a cord of oak, 64 cu ft stacked, 2 cords seasoned ash 18 inch, stacked, before Christmas.")
	case p.Set.AsksBasis():
		return p.T("In the customer's words, with stacked or loose: 3.6 m³ stacked, 5 m³ loose.")
	}
	return p.T("In the customer's words: 64 cu ft, 3.6 m³ stacked.")
}

// AsksOrigin tells whether the shop's rules ask where the wood was cut.
func (p orderFormPage) AsksOrigin() bool { return p.Set.Requires("origin") }

// usualLength is how long pieces are taken to be where neither words nor fields say it:
// the length that stoves take where wood is sold by the cord. Elsewhere it is asked.
const usualLength = "16 in"

// UsualLength is that length where the shop has one.
func (p orderFormPage) UsualLength() string {
	if p.Shop.Units == act.Metric {
		return ""
	}
	return usualLength
}

// PieceHint says how a piece length may be written, and what an empty field is.
func (p orderFormPage) PieceHint() string {
	if p.UsualLength() == "" {
		return p.T("With its unit, such as 33 cm. Empty: as the words say.")
	}
	return p.T("With its unit: 18 in, 40 cm. Empty: as the words say, else %s.", p.UsualLength())
}

// Splits are how it may be split.
func (p orderFormPage) Splits() []choice {
	list := []choice{{Label: p.T("not said")}}
	for _, s := range []spoken.SplitSize{spoken.AnySplit, spoken.SmallSplit, spoken.MediumSplit, spoken.LargeSplit, spoken.Unsplit} {
		list = append(list, choice{Value: string(s), Label: p.Print.Splitting(s)})
	}
	return chosen(list, p.R.Split)
}

// Stackings are whether it may be stacked where it goes.
func (p orderFormPage) Stackings() []choice {
	list := []choice{{Label: p.T("not said")}}
	for _, s := range []spoken.Stack{spoken.Stacked, spoken.Unstacked} {
		list = append(list, choice{Value: string(s), Label: p.Print.Stacking(s)})
	}
	return chosen(list, p.R.Stacking)
}

// chosen marks the one of a value.
func chosen(list []choice, value string) []choice {
	for i := range list {
		list[i].On = list[i].Value == value
	}
	return list
}

// Seasonings are what may be stated of the wood, with what is.
func (p page) Seasonings(stated string) []choice {
	list := []choice{{Value: "", Label: p.T("not stated")}}
	for _, s := range []yard.Seasoning{yard.Green, yard.Seasoned, yard.KilnDried} {
		list = append(list, choice{Value: string(s), Label: p.Print.Seasoning(s)})
	}
	return chosen(list, stated)
}
