package web

import (
	"context"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A waitingPage is who waits for wood that nobody is promised.
type waitingPage struct {
	page
	orders.WaitingList
}

// A wish is what a new order's form says of waiting.
type wish struct {
	By  string `json:"wanted_by"`
	For string `json:"wanted_for"`
}

func (s *Server) waitingForm(c *fiber.Ctx) (waitingPage, error) {
	p := waitingPage{page: s.page(c, measure.Say("Waiting list"), "/")}
	var err error
	p.WaitingList, err = s.service.Waiting(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) waitingShow(c *fiber.Ctx) error {
	p, err := s.waitingForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.WaitingList)
	}
	return s.render(c, "waiting_list", p)
}

func (s *Server) waitingCreate(c *fiber.Ctx) error {
	r, err := readWish(c)
	if err != nil {
		return s.wishAgain(c, r, err)
	}
	act, err := s.act(c)
	if err != nil {
		return s.wishAgain(c, r, err)
	}
	w, err := s.service.Wait(c.UserContext(), act, r)
	if err != nil {
		return s.wishAgain(c, r, err)
	}
	return made(c, fiber.StatusCreated, "/waiting", w)
}

// readWish reads a place on the waiting list: a form is that of a new order.
func readWish(c *fiber.Ctx) (orders.WishRequest, error) {
	if sentJSON(c) {
		return decode[orders.WishRequest](c)
	}
	r, err := decode[newOrder](c)
	return orders.WishRequest{Order: r.OrderRequest, WantedBy: r.By, WantedFor: r.For}, err
}

// none refuses what is said of waiting in an order that is taken.
func (w wish) none() error {
	var faults []*measure.InputError
	for _, f := range []struct{ name, typed string }{{"wanted_for", w.For}, {"wanted_by", w.By}} {
		if f.typed != "" {
			faults = append(faults, &measure.InputError{
				Field: f.name, Code: "waits", Got: f.typed,
				Reason:  measure.Say("an order that is taken doesn’t wait"),
				Accepts: measure.Say("nothing here; or put it on the waiting list instead"),
			})
		}
	}
	return refused(faults)
}

// wishAgain shows the order's form again with what was said of waiting.
func (s *Server) wishAgain(c *fiber.Ctx, r orders.WishRequest, err error) error {
	p := s.newOrderForm(c, newOrder{r.Order, wish{r.WantedBy, r.WantedFor}})
	if f := s.faultOf(c, err); f.readsBack() {
		p.Action = "/waiting" // the form goes back to taking an order
	}
	return s.orderAgain(c, p, err)
}

// waitingTake makes an order of a place on the list: as it was typed, or as the form
// that was shown again for it says.
func (s *Server) waitingTake(c *fiber.Ctx) error {
	id, err := wishID(c)
	if err != nil {
		return err
	}
	r, o, err := doWith(s, c, func(ctx context.Context, act act.Act, r orders.OrderRequest) (orders.Order, error) {
		return s.service.TakeWish(ctx, act, id, r)
	})
	if err == nil {
		return made(c, fiber.StatusCreated, "/orders/"+o.ID, o)
	}
	if r == (orders.OrderRequest{}) {
		list, broken := s.service.Waiting(c.UserContext(), s.actor(c))
		if broken != nil {
			return broken
		}
		for _, w := range list.Waiting {
			if w.ID == id {
				r = w.Request
			}
		}
	}
	p := s.orderForm(c, r)
	p.Action = "/waiting/" + id + "/take"
	return s.orderAgain(c, p, err)
}

func (s *Server) waitingDrop(c *fiber.Ctx) error {
	_, w, err := doOn(s, c, wishID, s.service.DropWish)
	if err == nil {
		return made(c, fiber.StatusOK, "/waiting", w)
	}
	return showAgain(s, c, "waiting_list", err, s.waitingForm, nil)
}

func wishID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}
