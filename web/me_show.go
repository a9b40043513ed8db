package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/people"
)

// A mePage is what somebody who is signed in has here.
type mePage struct {
	page
	Card  people.Card
	This  string   // id of the session it is read in
	Codes []string // recovery codes that were just made
}

func (s *Server) meForm(c *fiber.Ctx) (mePage, error) {
	p := mePage{page: s.page(c, measure.Say("You here"), "/me"), This: s.visitor(c).Session.ID}
	p.names = map[string]string{"password": p.T("A new password")}
	var err error
	p.Card, err = s.service.People.Card(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) meShow(c *fiber.Ctx) error {
	if s.actor(c).ID == "" {
		return c.Redirect("/people", fiber.StatusSeeOther) // the owner of a machine without people
	}
	p, err := s.meForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.Card)
	}
	return s.render(c, "me", p)
}

func (s *Server) mePassword(c *fiber.Ctx) error {
	r, err := decode[people.PasswordRequest](c)
	if err == nil {
		err = s.setPassword(c, r)
	}
	if err == nil {
		return made(c, fiber.StatusOK, "/me", fiber.Map{"set": true})
	}
	return showAgain(s, c, "me", err, s.meForm, nil)
}

func (s *Server) setPassword(c *fiber.Ctx, r people.PasswordRequest) error {
	act, err := s.act(c)
	if err != nil {
		return err
	}
	return s.service.People.SetPassword(c.UserContext(), act, s.visitor(c).Session, r)
}

func (s *Server) meRecovery(c *fiber.Ctx) error {
	act, err := s.act(c)
	if err != nil {
		return err
	}
	codes, err := s.service.People.RenewRecovery(c.UserContext(), act)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.Status(fiber.StatusCreated).JSON(fiber.Map{"codes": codes})
	}
	p, err := s.meForm(c)
	if err != nil {
		return err
	}
	p.Codes = codes
	return s.render(c, "me", p)
}

func (s *Server) sessionEnd(c *fiber.Ctx) error {
	id, act, err := s.actOn(c, "session")
	if err == nil {
		err = s.service.People.EndSession(c.UserContext(), act, id)
	}
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/me", fiber.Map{"ended": id})
}

// sessionsEnd ends all of one's sessions but this.
func (s *Server) sessionsEnd(c *fiber.Ctx) error {
	act, err := s.act(c)
	if err == nil {
		v := s.visitor(c)
		err = s.service.People.EndSessions(c.UserContext(), act, v.Actor.ID, v.Session.ID)
	}
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/me", fiber.Map{"ended": true})
}
