package web

import (
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
)

type orderPage struct {
	page
	orders.History
	Total orders.Money
	// Due is what has not been delivered yet.
	Due measure.Quantity
	// Together is what several tallies come to; nil where there are not several.
	Together *together
	Audits   []orders.AuditLine // of its deliveries, for those who may audit
}

func (s *Server) orderShow(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(history)
	}
	title := measure.Say("Order %d", int(history.Order.Number))
	p := orderPage{page: s.page(c, title, "/"), History: history,
		Total: history.Order.Price.Total(), Due: due(history)}
	if p.Together, err = combined(p.Print, history.Tallies); err != nil {
		return fmt.Errorf("order %d: %w", history.Order.Number, err)
	}
	p.Audits, err = s.service.AuditsOf(c.UserContext(), s.actor(c), history.Order.ID)
	if err != nil && orders.KindOf(err) != orders.Forbidden {
		return err
	}
	return s.render(c, "order_show", p)
}

// history is the order that the address names.
func (s *Server) history(c *fiber.Ctx) (orders.History, error) {
	id, err := orderID(c)
	if err != nil {
		return orders.History{}, err
	}
	return s.service.History(c.UserContext(), s.actor(c), id)
}

// due is what is ordered less what was delivered on the same basis, never below 0.
func due(h orders.History) measure.Quantity {
	left := h.Order.Quantity
	for _, load := range h.Loads {
		if load.Delivered.Basis == left.Basis {
			left.Volume -= load.Delivered.Volume
		}
	}
	left.Volume = max(left.Volume, 0)
	return left
}

// BatchOf names the batch that the load of a receipt was drawn from; nil where none
// was, or the receipt no longer counts.
func (p orderPage) BatchOf(receipt int64) *orders.BatchRef {
	for _, load := range p.Loads {
		for i := range p.Batches {
			if load.Receipt == receipt && load.Batch == p.Batches[i].ID {
				return &p.Batches[i]
			}
		}
	}
	return nil
}

// ToSettle tells whether wood that was delivered was found missing and is not settled:
// nothing is agreed about it, or what was agreed is still to be done.
func (p orderPage) ToSettle() bool {
	s := p.Settlement()
	return len(p.Loads) > 0 && (p.Order.Outcome == measure.Short && s == nil || s != nil && s.Open())
}

// CanDeliver tells whether wood is still to be handed over.
func (p orderPage) CanDeliver() bool { return p.Order.State != orders.Cancelled && p.Due.Volume > 0 }

// CanMeasure tells whether there may be wood to measure, also before it is loaded.
func (p orderPage) CanMeasure() bool { return p.Order.State != orders.Cancelled }

// CanChange tells whether no receipt is out.
func (p orderPage) CanChange() bool { return p.Order.State != orders.Cancelled && len(p.Loads) == 0 }
