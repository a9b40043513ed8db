package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

type guidePage struct {
	page
	Where draw.Drawing
}

func (s *Server) guideShow(c *fiber.Ctx) error {
	p := s.page(c, measure.Say("How to measure"), "/how-to-measure")
	return s.render(c, "guide", guidePage{p, draw.WhereToRead(pictureWidth)})
}

// guidePrint is the blank tally form, to be filled in by hand.
func (s *Server) guidePrint(c *fiber.Ctx) error {
	shop := s.page(c, measure.Text{}, "").Shop
	content, err := s.blank.BlankTally(shop.Language, shop.Paper, shop.Units)
	if err != nil {
		return err
	}
	return sendPDF(c, "tally-form.pdf", content)
}
