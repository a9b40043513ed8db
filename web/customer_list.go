package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/customers"
	"wellstowed/web/api"
)

// mostCustomers is how many are shown at once; who isn't among them is found by typing.
const mostCustomers = 100

// A customerListPage shows customers, all or those that were looked for.
type customerListPage struct {
	page
	Customers []customers.Record
	Find      string
	ForOrder  bool // one is picked for a new order
	More      int  // how many more there are
}

// customerList shows customers by name: ?find= those that a part of a name, a street or a
// telephone number finds, ?for=order to pick one for a new order.
func (s *Server) customerList(c *fiber.Ctx) error {
	find := strings.TrimSpace(c.Query("find"))
	found, err := s.service.Customers.List(c.UserContext(), s.actor(c), find)
	if err != nil {
		return err
	}
	more := max(0, len(found)-mostCustomers)
	found = found[:len(found)-more]
	if wantsJSON(c) {
		return c.JSON(api.CustomerList{Customers: append([]customers.Record{}, found...), More: more})
	}
	p := customerListPage{page: s.page(c, measure.Say("Customers"), "/"), Customers: found, Find: find, More: more}
	p.Sheet = s.assets.path("board.css")
	p.ForOrder = c.Query("for") == "order" && p.May("GET /orders/new")
	return s.render(c, "customer_list", p)
}

// Leads is where a customer's line leads: to a new order, or to the customer.
func (p customerListPage) Leads(r customers.Record) string {
	if p.ForOrder {
		return "/orders/new?customer=" + r.ID
	}
	return "/customers/" + r.ID
}

// Street is the first line of an address.
func (p page) Street(address string) string {
	street, _, _ := strings.Cut(address, "\n")
	return street
}
