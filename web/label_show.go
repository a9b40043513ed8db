package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/web/form"
)

// A labelPage asks what the labels of a lot of packages say; nothing is saved.
type labelPage struct {
	page
	R orders.LabelRequest
}

// labelShow asks, and answers what the address asks with a page of labels as PDF.
func (s *Server) labelShow(c *fiber.Ctx) error {
	p := labelPage{page: s.page(c, measure.Say("Labels for packages"), "/shop")}
	p.R, _ = form.Read[orders.LabelRequest](query(c)) // each of its fields is a text
	if len(c.Request().URI().QueryArgs().QueryString()) == 0 {
		return s.render(c, "label_show", p)
	}
	l, shop, err := s.service.ReadLabel(c.UserContext(), s.actor(c), p.R)
	switch {
	case err != nil && wantsJSON(c):
		return err
	case err != nil:
		s.refuse(c, &p.page, err)
		return s.render(c, "label_show", p)
	case wantsJSON(c):
		return c.JSON(p.Print.Label(l))
	}
	content, err := s.blank.Labels(l, shop)
	if err != nil {
		return err
	}
	return sendPDF(c, "labels.pdf", content)
}
