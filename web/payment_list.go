package web

import (
	"context"
	"fmt"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/api"
)

// A paymentPage shows the payments on an order and takes another.
type paymentPage struct {
	page
	orders.History
	R     orders.PaymentRequest
	Today string
}

func (s *Server) paymentForm(c *fiber.Ctx) (paymentPage, error) {
	history, err := s.history(c)
	p := paymentPage{page: s.page(c, measure.Say("Payments on order %d", int(history.Order.Number)), "/"), History: history}
	p.Today = s.today(p.Shop.Zone)
	p.R = orders.PaymentRequest{On: p.Today}
	if due := history.Balance.Due; due.Minor > 0 {
		p.R.Amount = due.Amount()
	}
	return p, err
}

func (s *Server) paymentList(c *fiber.Ctx) error {
	p, err := s.paymentForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(api.Payments{Payments: p.Payments, Balance: p.Balance})
	}
	return s.render(c, "payment_list", p)
}

// paymentPrint is the same as a paper, as of today.
func (s *Server) paymentPrint(c *fiber.Ctx) error {
	p, err := s.paymentForm(c)
	if err != nil {
		return err
	}
	day, err := act.ParseDate(p.Today)
	if err != nil {
		return err
	}
	content, err := s.blank.Payments(p.History, p.Shop, day)
	if err != nil {
		return err
	}
	return sendPDF(c, fmt.Sprintf("payments-order-%d.pdf", p.Order.Number), content)
}

func (s *Server) paymentCreate(c *fiber.Ctx) error {
	r, payment, err := pay(s, c, func(ctx context.Context, act act.Act, order, _ string, r orders.PaymentRequest) (orders.Payment, error) {
		return s.service.AddPayment(ctx, act, order, r)
	})
	return s.paymentDone(c, fiber.StatusCreated, payment, err, func(p *paymentPage) {
		p.R = r
		if p.At("reference") != "" && (orders.Payment{Method: orders.PaymentMethod(r.Method)}).MayNoteCard() {
			p.R.Reference = "" // what may be a card's number is not shown again
		}
	})
}

func (s *Server) paymentReverse(c *fiber.Ctx) error {
	_, payment, err := pay(s, c, s.service.ReversePayment)
	return s.paymentDone(c, fiber.StatusCreated, payment, err, func(*paymentPage) {})
}

func (s *Server) paymentCopy(c *fiber.Ctx) error {
	_, payment, err := pay(s, c, s.service.ReceiveCopy)
	return s.paymentDone(c, fiber.StatusOK, payment, err, func(*paymentPage) {})
}

// pay reads what was sent to an order's payments, and does it.
func pay[R any](s *Server, c *fiber.Ctx, do func(ctx context.Context, act act.Act, order, payment string, r R) (orders.Payment, error)) (R, orders.Payment, error) {
	payment := c.Params("payment")
	if id, err := uuid.Parse(payment); err == nil {
		payment = id.String()
	}
	return doOn(s, c, orderID, func(ctx context.Context, by act.Act, order string, r R) (orders.Payment, error) {
		return do(ctx, by, order, payment, r)
	})
}

// paymentDone shows the payments, with what was wrong if anything was.
func (s *Server) paymentDone(c *fiber.Ctx, status int, payment orders.Payment, err error, again func(*paymentPage)) error {
	if err == nil {
		return made(c, status, "/orders/"+payment.OrderID+"/payments", payment)
	}
	return showAgain(s, c, "payment_list", err, s.paymentForm, again)
}

// Methods are the ways of paying; none is chosen beforehand.
func (p paymentPage) Methods() []choice {
	var list []choice
	for _, m := range orders.PaymentMethods() {
		list = append(list, choice{string(m), p.Upper(p.Print.PaymentMethod(m)), p.R.Method == string(m)})
	}
	return list
}

// Ways tell whose money it is.
func (p paymentPage) Ways() []choice {
	return []choice{
		{"", p.T("Paid by the customer"), p.R.Back != "yes"},
		{"yes", p.T("Given back to the customer"), p.R.Back == "yes"},
	}
}

// Reversible tells whether a payment can be taken back.
func (p paymentPage) Reversible(m orders.Payment) bool {
	return m.Reverses == "" && !m.Reversed(p.Payments)
}
