package web

import (
	"strconv"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
)

const ordersOnPage = 50

type orderListPage struct {
	page
	Orders []orders.Order
	Next   int64
}

// orderList shows orders, newest first, ?before= a number.
func (s *Server) orderList(c *fiber.Ctx) error {
	var before int64
	if text := c.Query("before"); text != "" {
		n, err := strconv.ParseInt(text, 10, 64)
		if err != nil || n < 1 {
			return &orders.Error{Kind: orders.NotFound}
		}
		before = n
	}
	list, err := s.service.Orders(c.UserContext(), s.actor(c), before, ordersOnPage)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(struct {
			Orders []orders.Order `json:"orders"`
			Next   int64          `json:"next,omitempty"`
		}{append([]orders.Order{}, list.Orders...), list.Next})
	}
	return s.render(c, "order_list", orderListPage{s.page(c, measure.Say("Orders"), "/"), list.Orders, list.Next})
}
