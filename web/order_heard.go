package web

import (
	"cmp"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/receipts/words"
)

// A heard is what was understood of an order's line, what has to be asked about it, and
// what it costs as far as that is known.
type heard struct {
	Facts   []words.Fact
	Asked   []askedBack
	Why     string   // what the words were taken for, where they name no legal quantity
	Yard    []string // whether it can be promised by the batches; empty where none is kept
	Running string   // the line in view: the total, or how much is asked
}

// An askedBack is a question with the answers that a press gives.
type askedBack struct {
	Text    string
	Choices []choice
}

// chooseField is the button that answers what is asked: the field that takes the answer,
// “=”, and what is put there in place of what was typed.
const chooseField = "choose"

// choices are the answers to what is asked of a field, as buttons.
func (p page) choices(e *measure.InputError) (list []choice) {
	for _, c := range p.Print.Lawful(e).Choices {
		list = append(list, choice{Value: cmp.Or(c.Field, e.Field) + "=" + c.Value, Label: p.Capital(c.Label)})
	}
	return list
}

// Capital words a text with a capital first letter.
func (p page) Capital(t measure.Text) string { return upperFirst(p.Print.Say(t)) }

// hear puts what the line says on the page, where one was typed.
func (s *Server) hear(c *fiber.Ctx, p *orderFormPage) error {
	if p.R.Quantity == "" {
		return nil
	}
	back, asked, err := s.service.Heard(c.UserContext(), s.actor(c), p.R)
	if err != nil {
		return err
	}
	h := heard{Facts: p.Print.Heard(back)}
	if back.Why.Key != "" {
		h.Why = p.Sentence(back.Why)
	}
	if back.Promise != nil && len(asked) == 0 && back.Order.Quantity.Volume > 0 {
		h.Yard = p.Print.Promise(*back.Promise)
	}
	for _, q := range asked {
		h.Asked = append(h.Asked, askedBack{sentence(p.Print.Asking(q)), p.choices(q)})
	}
	switch total := back.Order.Price.Total(); {
	case len(asked) > 0:
		h.Running = p.T("Asked about: %d", len(asked))
	case total.Minor > 0:
		h.Running = p.T("In all %s", p.Print.Money(total))
	}
	p.Heard = &h
	return nil
}

// orderPart answers a new order's form while it is typed: what was understood of its line.
func (s *Server) orderPart(c *fiber.Ctx) error {
	r, err := decode[newOrder](c)
	if err != nil {
		return err
	}
	p := s.newOrderForm(c, r)
	if err := s.hear(c, &p); err != nil {
		return err
	}
	return s.renderPart(c, "order_form", "part", p)
}
