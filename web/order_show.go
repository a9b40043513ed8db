package web

import (
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/money"
	"wellstowed/orders/photos"
	"wellstowed/orders/yard"
)

type orderPage struct {
	page
	orders.History
	Total money.Money
	Today act.Date
	When  string // its day as typed
	// Asides are the batches that its wood may be set aside from.
	Asides []choice
	// Together is what several tallies come to; nil where there are not several.
	Together *together
	Audits   []audits.Line // of its deliveries, for those who may audit
	Photos   []photos.Kept
}

func (s *Server) orderShow(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(history)
	}
	p, err := s.orderPage(c, history)
	if err != nil {
		return err
	}
	return s.render(c, "order_show", p)
}

// orderPage is the page of an order.
func (s *Server) orderPage(c *fiber.Ctx, h orders.History) (p orderPage, err error) {
	p = orderPage{page: s.page(c, measure.Say("Order %d", int(h.Order.Number)), "/"), History: h, Total: h.Order.Price.Total()}
	p.Today, p.When = p.Day(s.clock(), p.Shop.Zone), h.Order.Day.String()
	if p.Together, err = combined(p.Print, h.Tallies); err != nil {
		return p, fmt.Errorf("order %d: %w", h.Order.Number, err)
	}
	batches, err := s.service.Batches(c.UserContext(), p.Who)
	if err != nil {
		return p, err
	}
	p.Asides = p.asides(batches, h.Order)
	if p.Photos, err = s.photosOn(c, h.Order.ID); err != nil {
		return p, err
	}
	p.Audits, err = s.audits.AuditsOf(c.UserContext(), s.actor(c), h.Order.ID)
	if act.KindOf(err) == act.Forbidden {
		err = nil
	}
	return p, err
}

// orderDay sets the day of an order.
func (s *Server) orderDay(c *fiber.Ctx) error {
	r, order, err := doOn(s, c, orderID, s.service.SetDay)
	if err == nil {
		return made(c, fiber.StatusOK, "/orders/"+order.ID, order)
	}
	return showAgain(s, c, "order_show", err, func(c *fiber.Ctx) (orderPage, error) {
		history, err := s.history(c)
		if err != nil {
			return orderPage{}, err
		}
		return s.orderPage(c, history)
	}, func(p *orderPage) { p.When = r.Day })
}

// history is the order that the address names.
func (s *Server) history(c *fiber.Ctx) (orders.History, error) {
	id, err := orderID(c)
	if err != nil {
		return orders.History{}, err
	}
	return s.service.History(c.UserContext(), s.actor(c), id)
}

// BatchOf names the batch that the load of a receipt was drawn from; nil where none
// was, or the receipt no longer counts.
func (p orderPage) BatchOf(receipt int64) *yard.BatchRef {
	for _, load := range p.Loads {
		for i := range p.Batches {
			if load.Receipt == receipt && load.Batch == p.Batches[i].ID {
				return &p.Batches[i]
			}
		}
	}
	return nil
}

// CanDeliver tells whether wood is still to be delivered.
func (p orderPage) CanDeliver() bool { return p.Order.State != orders.Cancelled && p.Due().Volume > 0 }

// CanMeasure tells whether there may be wood to measure, also before it is loaded.
func (p orderPage) CanMeasure() bool { return p.Order.State != orders.Cancelled }

// CanChange tells whether no receipt is out.
func (p orderPage) CanChange() bool { return p.Order.State != orders.Cancelled && len(p.Loads) == 0 }

// MustChange tells whether the order can't be delivered as it is and can still be changed.
func (p orderPage) MustChange() bool { return p.CanChange() && p.NotSold() != "" }

// DayFirst tells whether setting the day is the next step.
func (p orderPage) DayFirst() bool { return p.NextStep() == orders.StepSetDay && !p.MustChange() }

// DayHint says how a day may be said.
func (p page) DayHint() string {
	return p.T("As they say it: Saturday morning, tomorrow, before 15 December, week of the 7th.")
}

// StepButton is what the main button says; empty where the step is the form above it, or
// nothing is left.
func (p orderPage) StepButton() string {
	switch step := p.NextStep(); step {
	case orders.StepSetDay:
		return ""
	case orders.StepSettle:
		return p.T("Settle the shortage")
	case orders.StepMeasure:
		return p.T("Measure again")
	default:
		return p.Print.OrderStep(step, p.Balance)
	}
}
