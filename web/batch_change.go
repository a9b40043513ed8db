package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/yard"
	"wellstowed/web/form"
)

func (s *Server) correctForm(c *fiber.Ctx, b yard.Batch, r yard.BatchRequest) (batchFormPage, error) {
	p, err := s.batchForm(c, r)
	p.Title = p.T("Correct the details of %s", b.Name)
	p.Action, p.Batch = batchPath(b.ID)+"/edit", &b
	return p, err
}

func (s *Server) batchEdit(c *fiber.Ctx) error {
	h, err := s.batch(c)
	if err != nil {
		return err
	}
	p, err := s.correctForm(c, h.Batch, form.Batch(h.Batch))
	if err != nil {
		return err
	}
	return s.render(c, "batch_form", p)
}

func (s *Server) batchChange(c *fiber.Ctx) error {
	r, b, err := doOn(s, c, batchID, s.service.CorrectBatch)
	if err == nil {
		return made(c, fiber.StatusOK, batchPath(b.ID), b)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	h, broken := s.batch(c)
	if broken != nil {
		return broken
	}
	p, broken := s.correctForm(c, h.Batch, r)
	if broken != nil {
		return broken
	}
	if conflicts(err) {
		now := form.Batch(h.Batch)
		now.Reason = r.Reason
		p.theirs = form.Differences(r, now)
		p.R.Version = now.Version // sent again, it is meant
	}
	s.refuse(c, &p.page, err)
	return s.render(c, "batch_form", p)
}
