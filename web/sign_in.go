package web

import (
	"net/url"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

func escape(text string) string { return url.QueryEscape(text) }

// A signInPage is where somebody signs in, by password or by a one-time code.
type signInPage struct {
	page
	Name, Code, To string
	Keep           bool
	First          bool // there are no people yet
}

func (s *Server) signInForm(c *fiber.Ctx, title measure.Text) signInPage {
	p := signInPage{page: s.page(c, title, "/sign-in"), To: onward(c.Query("to")), First: s.visitor(c).Nobody}
	p.names = map[string]string{
		"name": p.T("Your name"), "password": p.T("Password, or a recovery code"), "code": p.T("Code"), "keep": p.T("This phone or computer is my own"),
	}
	return p
}

func (s *Server) signInNew(c *fiber.Ctx) error {
	return s.render(c, "sign_in", s.signInForm(c, measure.Say("Sign in")))
}

// A signInRequest is somebody signing in, and where to go from there.
type signInRequest struct {
	Name     string `json:"name"`
	Password string `json:"password"`
	Keep     string `json:"keep"`
	To       string `json:"to"`
}

func (s *Server) signIn(c *fiber.Ctx) error {
	r, err := decode[signInRequest](c)
	if err == nil {
		err = enterPressed(c)
	}
	if err == nil {
		err = s.signInBy(c, r)
	}
	if err == nil || wantsJSON(c) || !mendable(err) {
		return err
	}
	p := s.signInForm(c, measure.Say("Sign in"))
	p.Name, p.Keep, p.To = r.Name, r.Keep == "yes", onward(r.To)
	s.refuse(c, &p.page, err)
	return s.render(c, "sign_in", p)
}

func (s *Server) signInBy(c *fiber.Ctx, r signInRequest) error {
	if err := s.mayTry(c, r.Name); err != nil {
		return err
	}
	token, who, err := s.service.People.SignIn(c.UserContext(), people.SignInRequest{Name: r.Name, Password: r.Password, Keep: r.Keep}, s.device(c))
	if err != nil {
		return err
	}
	return s.welcome(c, token, who, r.Keep == "yes", r.To)
}

// welcome ends the session the browser had, if any, and begins the new one.
func (s *Server) welcome(c *fiber.Ctx, token string, who people.Person, own bool, to string) error {
	if old := c.Cookies(s.cookieName()); old != "" {
		if err := s.service.People.SignOut(c.UserContext(), old); err != nil {
			return err
		}
	}
	if err := s.admitSession(c, token, own); err != nil {
		return err
	}
	return made(c, fiber.StatusCreated, onward(to), who)
}

// enterPressed refuses a form that was sent by Enter, which never acts.
func enterPressed(c *fiber.Ctx) error {
	if sentJSON(c) || formValue(c)(enterField) == "" {
		return nil
	}
	return &act.Error{Kind: act.Invalid, Message: measure.Say("Nothing is done yet: press the button once all is as you mean it.")}
}

func (s *Server) signOut(c *fiber.Ctx) error {
	if err := s.service.People.SignOut(c.UserContext(), c.Cookies(s.cookieName())); err != nil {
		return err
	}
	s.dropCookie(c)
	if !wantsJSON(c) { // a phone's worker, which would be ended by it, has wiped already
		c.Set("Clear-Site-Data", `"cache", "storage"`)
	}
	return made(c, fiber.StatusOK, "/sign-in", fiber.Map{"signed_out": true})
}

func (s *Server) pairForm(c *fiber.Ctx) signInPage {
	p := s.signInForm(c, measure.Say("Come in by a code"))
	p.Code = c.Query("code")
	p.names["password"] = p.T("A password")
	return p
}

func (s *Server) pairNew(c *fiber.Ctx) error { return s.render(c, "pair", s.pairForm(c)) }

// pair lets in by a one-time code: a phone that the owner showed one, or an owner whose
// code was printed at the machine.
func (s *Server) pair(c *fiber.Ctx) error {
	r, err := decode[people.CodeRequest](c)
	if err == nil {
		err = enterPressed(c)
	}
	if err == nil {
		err = s.pairBy(c, r)
	}
	if err == nil || wantsJSON(c) || !mendable(err) {
		return err
	}
	p := s.pairForm(c)
	p.Code, p.Name = r.Code, r.Name
	s.refuse(c, &p.page, err)
	p.First = p.First || strings.TrimSpace(r.Name) != "" || p.At("name") != "" || p.At("password") != ""
	return s.render(c, "pair", p)
}

func (s *Server) pairBy(c *fiber.Ctx, r people.CodeRequest) error {
	if err := s.mayTry(c, ""); err != nil {
		return err
	}
	token, who, err := s.service.People.Redeem(c.UserContext(), r, s.device(c))
	if err != nil {
		return err
	}
	return s.welcome(c, token, who, true, "/me")
}
