package web

import (
	"net/url"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/loose"
)

// loosePath is the page of readings that no order has yet.
const loosePath = "/loose"

// A looseLine is readings of no order, with what they come to.
type looseLine struct {
	loose.Reading
	KindName string
	Says     string
}

// A loosePage lists readings that were taken before their order was known.
type loosePage struct {
	page
	Lines  []looseLine
	Takers []orders.Order // that they can be taken to, newest first
}

func (s *Server) looseList(c *fiber.Ctx) error {
	all, err := s.service.Loose.All(c.UserContext(), s.actor(c))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(all)
	}
	p := loosePage{page: s.page(c, measure.Say("Readings without an order"), "/measure")}
	if p.Takers, err = s.takers(c); err != nil {
		return err
	}
	for _, r := range all {
		line := looseLine{Reading: r}
		m := s.looseForm(c, r, nil)
		line.KindName = m.KindName()
		if doc, faults, err := m.document(); err == nil && len(faults) == 0 {
			if _, result, err := measureUnder(p.Set, withoutSale(doc)); err == nil {
				line.Says = p.Print.Quantity(result.Quantity)
			}
		}
		p.Lines = append(p.Lines, line)
	}
	return s.render(c, "loose_list", p)
}

// looseForm is the measuring page of readings that are kept, of the order they are taken to.
func (s *Server) looseForm(c *fiber.Ctx, r loose.Reading, order *orders.Order) measurePage {
	p := s.measureFormOf(c, r.Kind, order)
	p.readFrom(r.Fields())
	p.attach(attaching)
	return p
}

// looseKeep keeps the readings of a measuring form of no order.
func (s *Server) looseKeep(c *fiber.Ctx) error {
	kind, err := kindOf(c)
	if err != nil {
		return err
	}
	p := s.measureFormOf(c, kind, nil)
	p.read(c)
	typed := url.Values{}
	sentFields(c)(func(name, value string) {
		if p.K.Knows(name) && name != "read_by" && value != "" {
			typed.Add(name, value)
		}
	})
	if !p.started() {
		return s.measureRefused(c, p, act.NewInvalid("stack", "missing", "", measure.Say("nothing was read yet"), measure.Say("a reading to keep")))
	}
	by, err := s.act(c)
	if err != nil {
		return err
	}
	kept, err := s.service.Loose.Keep(c.UserContext(), by, loose.Request{Kind: kind, Typed: typed})
	if err != nil {
		return err
	}
	return made(c, fiber.StatusCreated, loosePath, kept)
}

func looseID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

// looseAttach saves readings as a tally of an order, with its measurement sheet. Where the
// order's form has more to ask, it is shown with the readings in it.
func (s *Server) looseAttach(c *fiber.Ctx) error {
	id, err := looseID(c)
	if err != nil {
		return err
	}
	r, err := s.service.Loose.One(c.UserContext(), s.actor(c), id)
	if err != nil {
		return err
	}
	history, err := s.service.History(c.UserContext(), s.actor(c), formValue(c)("order"))
	if err != nil {
		return err
	}
	p := s.looseForm(c, r, &history.Order)
	p.Checks = len(history.Tallies)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	if err = refused(faults); err == nil {
		sheet, failed := s.saveTally(c, history.Order.ID, orders.TallyRequest{Document: doc})
		if err = failed; err == nil {
			if err := s.looseDropped(c, id); err != nil {
				return err
			}
			return s.sheetMade(c, sheet)
		}
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p.stillAnswers(doc, func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.service.TryTally(c.UserContext(), s.actor(c), history.Order.ID, doc)
	})
	return s.measureRefused(c, p, err)
}

// looseDropped drops readings that became a tally, as an act of its own.
func (s *Server) looseDropped(c *fiber.Ctx, id string) error {
	request, err := act.NewID()
	if err != nil {
		return err
	}
	err = s.service.Loose.Drop(c.UserContext(), act.Act{Actor: s.actor(c), Request: request}, id)
	if act.KindOf(err) == act.NotFound { // the same was sent twice
		return nil
	}
	return err
}

// looseDrop drops readings that are of no order.
func (s *Server) looseDrop(c *fiber.Ctx) error {
	id, err := looseID(c)
	if err != nil {
		return err
	}
	by, err := s.act(c)
	if err != nil {
		return err
	}
	if err := s.service.Loose.Drop(c.UserContext(), by, id); err != nil {
		return err
	}
	return made(c, fiber.StatusOK, loosePath, struct{}{})
}

// KeepLoose is where the readings of the page are sent to be kept without an order.
func (p measurePage) KeepLoose() string {
	if p.Kind == rowsKind {
		return loosePath
	}
	return loosePath + "?kind=" + p.Kind
}
