package web

import (
	"context"
	"html/template"
	"net/url"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/money"
	"wellstowed/web/form"
)

// A customerPage shows one customer with all of their orders.
type customerPage struct {
	page
	orders.CustomerHistory
	From string // who was picked as the same person
}

func customerID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

func (s *Server) customer(c *fiber.Ctx) (orders.CustomerHistory, error) {
	id, err := customerID(c)
	if err != nil {
		return orders.CustomerHistory{}, err
	}
	return s.service.Customer(c.UserContext(), s.actor(c), id)
}

func (s *Server) customerPage(c *fiber.Ctx) (customerPage, error) {
	h, err := s.customer(c)
	p := customerPage{page: s.page(c, measure.Say("%s", h.Name), "/"), CustomerHistory: h}
	p.names = map[string]string{"from": p.T("Who is the same person")}
	return p, err
}

func (s *Server) customerShow(c *fiber.Ctx) error {
	p, err := s.customerPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.CustomerHistory)
	}
	return s.render(c, "customer_show", p)
}

// Owed is what this customer owes on all orders, in each currency.
func (p customerPage) Owed() []money.Money {
	return p.totals(func(b orders.Balance) money.Money { return b.Due })
}

// Owes is what the shop owes this customer.
func (p customerPage) Owes() []money.Money {
	return p.totals(func(b orders.Balance) money.Money { return b.Back })
}

func (p customerPage) totals(of func(orders.Balance) money.Money) (sums []money.Money) {
	for _, o := range p.Orders {
		m := of(p.Balances[o.ID])
		if m.Minor == 0 {
			continue
		}
		if n := len(sums); n > 0 && sums[n-1].Currency == m.Currency {
			sums[n-1] = sums[n-1].Add(m)
		} else {
			sums = append(sums, m)
		}
	}
	return sums
}

// SinceYear is when this customer was first known.
func (p customerPage) SinceYear() int { return act.DayIn(p.Created, p.Shop.Zone).Year }

// A yearTaken is what a customer took in one year.
type yearTaken struct {
	Year   int
	Orders int
	Wood   []measure.Quantity // by basis
}

// Years are what was ordered and not cancelled in each year, the latest first.
func (p customerPage) Years() (years []yearTaken) {
	for _, o := range p.Orders {
		if o.State == orders.Cancelled {
			continue
		}
		year := act.DayIn(o.Created, p.Shop.Zone).Year
		if n := len(years); n == 0 || years[n-1].Year != year {
			years = append(years, yearTaken{Year: year})
		}
		y := &years[len(years)-1]
		y.Orders++
		y.Wood = orders.AddQuantity(y.Wood, o.Quantity)
	}
	return years
}

// PlaceLink opens a place on the phone's map (RFC 5870).
func (p customerPage) PlaceLink() template.URL { return template.URL("geo:" + url.PathEscape(p.Place)) }

// A customerFormPage takes a customer, or a change of what is kept of one.
type customerFormPage struct {
	page
	R      customers.Request
	Action string
}

func (s *Server) customerForm(c *fiber.Ctx, title measure.Text, action string, r customers.Request) customerFormPage {
	p := customerFormPage{page: s.page(c, title, "/"), R: r, Action: action}
	p.Finder = s.assets.path("customer.js")
	p.names = map[string]string{"name": p.T("Name"), "access": p.T("How to get in"), "stacking": p.T("Stacking"), "place": p.T("Where it is, in degrees")}
	return p
}

func (s *Server) customerNew(c *fiber.Ctx) error {
	return s.render(c, "customer_form", s.customerForm(c, measure.Say("New customer"), "/customers", customers.Request{}))
}

func (s *Server) customerCreate(c *fiber.Ctx) error {
	r, kept, err := doWith(s, c, s.service.Customers.Add)
	if err == nil {
		return made(c, fiber.StatusCreated, "/customers/"+kept.ID, kept)
	}
	return s.customerAgain(c, s.customerForm(c, measure.Say("New customer"), "/customers", r), err)
}

// customerAgain shows the form again as typed with what is wrong.
func (s *Server) customerAgain(c *fiber.Ctx, p customerFormPage, err error) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	s.refuse(c, &p.page, err)
	return s.render(c, "customer_form", p)
}

func (s *Server) customerChangeForm(c *fiber.Ctx, r customers.Record, q customers.Request) customerFormPage {
	return s.customerForm(c, measure.Say("What is kept of %s", r.Name), "/customers/"+r.ID+"/edit", q)
}

func (s *Server) customerEdit(c *fiber.Ctx) error {
	h, err := s.customer(c)
	if err != nil {
		return err
	}
	return s.render(c, "customer_form", s.customerChangeForm(c, h.Record, h.Typed()))
}

// doCustomer does what was typed to the customer that the address names.
func doCustomer[R, T any](s *Server, c *fiber.Ctx, do func(context.Context, act.Act, string, R) (T, error)) (r R, t T, err error) {
	id, err := customerID(c)
	if err != nil {
		return r, t, err
	}
	return doWith(s, c, func(ctx context.Context, by act.Act, r R) (T, error) { return do(ctx, by, id, r) })
}

func (s *Server) customerChange(c *fiber.Ctx) error {
	r, kept, err := doCustomer(s, c, s.service.Customers.Change)
	if err == nil {
		return made(c, fiber.StatusOK, "/customers/"+kept.ID, kept)
	}
	h, broken := s.customer(c)
	if broken != nil {
		return broken
	}
	p := s.customerChangeForm(c, h.Record, r)
	if conflicts(err) {
		p.theirs = form.Differences(r, h.Typed())
		p.R.Version = h.Version // sent again, it is meant
	}
	return s.customerAgain(c, p, err)
}

func (s *Server) customerMerge(c *fiber.Ctx) error {
	r, kept, err := doCustomer(s, c, s.service.Customers.Merge)
	if err == nil {
		return made(c, fiber.StatusOK, "/customers/"+kept.ID, kept)
	}
	return s.customerShowAgain(c, r.From, err)
}

func (s *Server) customerDrop(c *fiber.Ctx) error {
	_, _, err := doCustomer(s, c, func(ctx context.Context, by act.Act, id string, _ struct{}) (struct{}, error) {
		return struct{}{}, s.service.Customers.Drop(ctx, by, id)
	})
	if err == nil {
		return made(c, fiber.StatusOK, "/customers", struct{}{})
	}
	return s.customerShowAgain(c, "", err)
}

func (s *Server) customerShowAgain(c *fiber.Ctx, from string, err error) error {
	return showAgain(s, c, "customer_show", err, s.customerPage, func(p *customerPage) { p.From = from })
}
