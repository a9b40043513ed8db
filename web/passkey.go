package web

import (
	"encoding/json"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/strict"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// site is the name that passkeys are bound to: the one that others reach the server by,
// or localhost. Elsewhere browsers make none.
func (s *Server) site(c *fiber.Ctx) (people.Site, bool) {
	host := string(c.Request().Host())
	name := hostName(host)
	switch {
	case s.demo || s.base == "" && name != "localhost":
		return people.Site{}, false
	case s.base == "":
		return people.Site{Name: name, Origin: "http://" + host}, true
	}
	return people.Site{Name: name, Origin: s.base}, true
}

// siteOf is the site of a request that is about a passkey.
func (s *Server) siteOf(c *fiber.Ctx) (people.Site, error) {
	site, can := s.site(c)
	if !can {
		return site, &act.Error{Kind: act.Invalid, Message: measure.Say("Passkeys need a name with TLS, or localhost.")}
	}
	return site, nil
}

// A passkeyRequest is what a browser answers to a challenge.
type passkeyRequest struct {
	ID     string          `json:"id"`
	Answer json.RawMessage `json:"answer"`
}

func (s *Server) passkeyAsk(c *fiber.Ctx) error {
	site, err := s.siteOf(c)
	if err != nil {
		return err
	}
	asked, err := s.service.People.AskPasskey(site, s.actor(c).ID)
	if err != nil {
		return err
	}
	return c.JSON(asked)
}

// passkeyAnswer is a challenge's answer and the site it is of. Only the page's script sends
// one, as JSON.
func (s *Server) passkeyAnswer(c *fiber.Ctx) (r passkeyRequest, site people.Site, err error) {
	if site, err = s.siteOf(c); err != nil {
		return r, site, err
	}
	if !sentJSON(c) {
		return r, site, fiber.ErrUnsupportedMediaType
	}
	err = strict.Decode(c.Request().Body(), &r)
	return r, site, err
}

func (s *Server) passkeySignIn(c *fiber.Ctx) error {
	r, site, err := s.passkeyAnswer(c)
	if err != nil {
		return err
	}
	if err := s.mayTry(c, ""); err != nil {
		return err
	}
	token, who, err := s.service.People.SignInByPasskey(c.UserContext(), site, r.ID, r.Answer, s.device(c))
	if err != nil {
		return err
	}
	return s.welcome(c, token, who, true, "/")
}

func (s *Server) passkeyConfirm(c *fiber.Ctx) error {
	r, site, err := s.passkeyAnswer(c)
	if err == nil {
		err = s.service.People.ConfirmByPasskey(c.UserContext(), s.visitor(c).Session, site, r.ID, r.Answer)
	}
	if err != nil {
		return err
	}
	return c.JSON(fiber.Map{"confirmed": true})
}

func (s *Server) passkeyBegin(c *fiber.Ctx) error {
	site, err := s.siteOf(c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	asked, err := s.service.People.BeginPasskey(c.UserContext(), act, site)
	if err != nil {
		return err
	}
	return c.JSON(asked)
}

func (s *Server) passkeyAdd(c *fiber.Ctx) error {
	r, site, err := s.passkeyAnswer(c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	made, err := s.service.People.AddPasskey(c.UserContext(), act, site, r.ID, r.Answer, s.device(c))
	if err != nil {
		return err
	}
	return c.Status(fiber.StatusCreated).JSON(made)
}

func (s *Server) passkeyRemove(c *fiber.Ctx) error {
	id, act, err := s.actOn(c, "passkey")
	if err == nil {
		err = s.service.People.RemovePasskey(c.UserContext(), act, id)
	}
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/me", fiber.Map{"removed": id})
}

// A passkeyButton does one thing by a passkey, where the browser can.
type passkeyButton struct{ Does, To, Label, Stopped, Script string }

// PasskeyTo is the button that does something by a passkey: "make", "enter", "again".
func (p page) PasskeyTo(does, to, label string) passkeyButton {
	return passkeyButton{Does: does, To: to, Label: label, Script: p.Passkey, Stopped: p.T("Nothing was done: the device didn’t give a passkey.")}
}
