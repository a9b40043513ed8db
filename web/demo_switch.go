package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// nobodyHere is what the demonstration's switch says for somebody who isn't of the shop.
const nobodyHere = "nobody"

// demoPeople are the people of the demonstration.
func (s *Server) demoPeople(c *fiber.Ctx) ([]people.Member, error) {
	roll, err := s.service.People.Roll(c.UserContext(), machineOwner())
	return roll.People, err
}

// demoActor is who the demonstration's switch stands at: without a sign-in, since its
// business is invented and nobody but this machine can reach it.
func (s *Server) demoActor(c *fiber.Ctx) (act.Actor, error) {
	all, err := s.demoPeople(c)
	if err != nil {
		return act.Actor{}, err
	}
	if len(all) == 0 {
		return machineOwner(), nil
	}
	chosen := c.Cookies(demoCookie)
	if chosen == nobodyHere {
		return act.Actor{}, nil
	}
	as := all[0]
	for _, p := range all {
		if p.ID == chosen || chosen == "" && p.Role == act.Owner {
			as = p
			break
		}
	}
	return act.Actor{ID: as.ID, Person: as.Name, Role: as.Role}, nil
}

func (s *Server) demoSwitch(c *fiber.Ctx) error {
	r, err := decode[struct {
		As string `json:"as"`
	}](c)
	if err != nil {
		return err
	}
	c.Cookie(&fiber.Cookie{Name: demoCookie, Value: r.As, Path: "/", HTTPOnly: true, SameSite: fiber.CookieSameSiteStrictMode, SessionOnly: true})
	to := "/"
	if r.As == nobodyHere {
		to = "/buying"
	}
	return made(c, fiber.StatusOK, to, r)
}

// demoChoices are whom the demonstration can be seen as.
func (s *Server) demoChoices(c *fiber.Ctx, p page) []choice {
	all, err := s.demoPeople(c)
	if err != nil || len(all) == 0 {
		return nil
	}
	now := s.actor(c)
	var choices []choice
	for _, m := range all {
		choices = append(choices, choice{Value: m.ID, Label: p.T("%s, %s", m.Name, p.RoleName(m.Role)), On: m.ID == now.ID})
	}
	return append(choices, choice{Value: nobodyHere, Label: p.T("a buyer, not signed in"), On: now.Role == ""})
}
