package web

import (
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/api"
)

const ordersOnPage = 50

type orderListPage struct {
	page
	orders.Listing
	notices
	Owing bool   // only those on which money is owed
	Find  string // what they were found by, empty for all
}

// Found is what was looked for, empty where nothing was.
func (p orderListPage) Found() string { return p.Find }

// orderList shows orders, newest first: ?before= a number, ?owing=yes only those on
// which money is owed, ?find= those that a name, a street, a telephone or receipt number finds.
func (s *Server) orderList(c *fiber.Ctx) error {
	var before int64
	if text := c.Query("before"); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 1 {
			return &act.Error{Kind: act.NotFound}
		}
		before = n
	}
	var list orders.Listing
	var err error
	owing, find := c.Query("owing") == "yes", strings.TrimSpace(c.Query("find"))
	switch {
	case find != "":
		list, err = s.service.FindOrders(c.UserContext(), s.actor(c), find)
	case owing:
		list, err = s.service.Owing(c.UserContext(), s.actor(c), before)
	default:
		list, err = s.service.Orders(c.UserContext(), s.actor(c), before, ordersOnPage)
	}
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(api.OrderList{Orders: append([]orders.Order{}, list.Orders...), Balances: list.Balances, Next: list.Next})
	}
	p := orderListPage{page: s.page(c, measure.Say("Orders"), "/"), Listing: list, Owing: owing, Find: find}
	p.Sheet = s.assets.path("board.css")
	if p.notices, err = s.notices(c, p.page); err != nil {
		return err
	}
	return s.render(c, "order_list", p)
}
