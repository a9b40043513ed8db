package web

import (
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
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
	r, issued, err := doOn(s, c, number, s.service.Correct)
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
	r, issued, err := doOn(s, c, number, s.service.Void)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	return showAgain(s, c, "void_form", err, s.voidForm, func(p *voidPage) { p.R = r })
}

// counts tells whether a receipt is of a load and neither corrected nor void,
// and its names are there.
func counts(r orders.Issued) bool {
	return r.Ended == nil && r.Receipt.Facts.Kind.HandsOver() && r.Receipt.Erased.IsZero()
}
