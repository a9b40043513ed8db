package web

import (
	"context"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

type correctionPage struct {
	page
	question
	R      orders.CorrectionRequest
	Old    orders.Issued
	Action string
	// NoFirm tells that the shop's name or address is missing.
	NoFirm bool
}

func (s *Server) correctionForm(c *fiber.Ctx) (correctionPage, error) {
	old, err := s.receipt(c)
	if err != nil {
		return correctionPage{}, err
	}
	n := old.Receipt.Facts.Number
	p := correctionPage{page: s.page(c, measure.Say("Correct receipt %d", int(n)), "/"), Old: old, Action: fmt.Sprintf("/receipts/%d/correct", n)}
	p.NoFirm = p.Shop.Name == "" || p.Shop.Address == ""
	p.R = form.Correction(old.Receipt, p.Spell(old.Receipt.Facts.Delivered))
	return p, nil
}

func (s *Server) correctionNew(c *fiber.Ctx) error {
	p, err := s.correctionForm(c)
	if err != nil {
		return err
	}
	if !counts(p.Old) {
		return c.Redirect(receiptPath(p.Old), fiber.StatusSeeOther) // which says why
	}
	return s.render(c, "correction_form", p)
}

func (s *Server) correctionCreate(c *fiber.Ctx) error {
	r, issued, err := ending(s, c, s.service.Correct)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := s.correctionForm(c)
	if broken != nil {
		return broken
	}
	p.R = r
	p.question, err = asked(p.Print, err)
	s.refuse(c, &p.page, err)
	return s.render(c, "correction_form", p)
}

type voidPage struct {
	page
	R      orders.VoidRequest
	Old    orders.Issued
	Action string
}

func (s *Server) voidForm(c *fiber.Ctx) (voidPage, error) {
	old, err := s.receipt(c)
	if err != nil {
		return voidPage{}, err
	}
	n := old.Receipt.Facts.Number
	return voidPage{page: s.page(c, measure.Say("Make receipt %d void", int(n)), "/"), Old: old, Action: fmt.Sprintf("/receipts/%d/void", n)}, nil
}

func (s *Server) voidNew(c *fiber.Ctx) error {
	p, err := s.voidForm(c)
	if err != nil {
		return err
	}
	if !counts(p.Old) {
		return c.Redirect(receiptPath(p.Old), fiber.StatusSeeOther) // which says why
	}
	return s.render(c, "void_form", p)
}

func (s *Server) voidCreate(c *fiber.Ctx) error {
	r, issued, err := ending(s, c, s.service.Void)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := s.voidForm(c)
	if broken != nil {
		return broken
	}
	p.R = r
	s.refuse(c, &p.page, err)
	return s.render(c, "void_form", p)
}

// ending reads what was typed to end the receipt that the address names, and does it.
func ending[T any](s *Server, c *fiber.Ctx, end endReceipt[T]) (T, orders.Issued, error) {
	r, err := decode[T](c)
	if err != nil {
		return r, orders.Issued{}, err
	}
	n, err := number(c)
	if err != nil {
		return r, orders.Issued{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Issued{}, err
	}
	issued, err := end(c.UserContext(), act, n, r)
	return r, issued, err
}

// endReceipt is what ends a receipt by a new one.
type endReceipt[T any] func(context.Context, act.Act, int64, T) (orders.Issued, error)

// counts tells whether a receipt is of a load and neither corrected nor void,
// and its names are there.
func counts(r orders.Issued) bool {
	return r.Ended == nil && r.Receipt.Facts.Kind.HandsOver() && r.Receipt.Erased.IsZero()
}
