package web

import (
	"bytes"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/calendar"
	ics "wellstowed/receipts/calendar"
)

// A calendarPage is the links by which calendar programs read the deliveries.
type calendarPage struct {
	page
	Links  []calendar.Link
	Shared *shared // the link that was just made; nil else
}

func (s *Server) calendarPage(c *fiber.Ctx) (p calendarPage, err error) {
	p.page = s.page(c, measure.Say("Deliveries in your calendar"), "/")
	p.Links, err = s.calendar.Links(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) calendarShow(c *fiber.Ctx) error {
	p, err := s.calendarPage(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.Links)
	}
	return s.render(c, "calendar_show", p)
}

// calendarMake makes one's link, a new one where there was one. Its code is on this answer and
// nowhere else.
func (s *Server) calendarMake(c *fiber.Ctx) error {
	by, err := s.act(c)
	if err != nil {
		return err
	}
	code, err := s.calendar.Make(c.UserContext(), by)
	if err != nil {
		return err
	}
	path := "/deliveries/" + code
	if wantsJSON(c) {
		return c.Status(fiber.StatusCreated).JSON(fiber.Map{"path": path})
	}
	p, err := s.calendarPage(c)
	if err != nil {
		return err
	}
	link, err := s.share(p.page, path)
	if err != nil {
		return err
	}
	p.Shared = &link
	return s.render(c.Status(fiber.StatusCreated), "calendar_show", p)
}

// calendarWithdraw makes a link hold no longer.
func (s *Server) calendarWithdraw(c *fiber.Ctx) error {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return &act.Error{Kind: act.NotFound}
	}
	by, err := s.act(c)
	if err != nil {
		return err
	}
	if err := s.calendar.Withdraw(c.UserContext(), by, id.String()); err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/calendar", fiber.Map{"withdrawn": id.String()})
}

// calendarSend gives the deliveries to a calendar program that has a link's code.
func (s *Server) calendarSend(c *fiber.Ctx) error {
	feed, err := s.calendar.Read(c.UserContext(), c.Params("code"))
	if err != nil {
		return err
	}
	set, _ := s.service.Rules().Get(feed.Shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	var out bytes.Buffer
	if err := ics.Write(&out, feed, set, s.base); err != nil {
		return err
	}
	c.Set(fiber.HeaderContentType, "text/calendar; charset=utf-8")
	c.Set(fiber.HeaderContentDisposition, `inline; filename="deliveries.ics"`)
	c.Set(fiber.HeaderReferrerPolicy, "no-referrer") // the address is told to nobody
	return c.Send(out.Bytes())
}
