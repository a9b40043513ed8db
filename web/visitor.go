package web

import (
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// The cookies of a session: over TLS one that no other name or port can set, and over
// plain http, which only this machine gets, one that any browser takes.
const (
	secureCookie = "__Host-wellstowed"
	plainCookie  = "wellstowed_session"
	demoCookie   = "wellstowed_demo"
)

// visitorKey is where a request keeps who sent it.
const visitorKey = "visitor"

func (s *Server) cookieName() string {
	if s.secure {
		return secureCookie
	}
	return plainCookie
}

// meet finds out who sends the request, by its session alone. A database without people
// has one exception: whoever sits at a machine that only it can reach is its owner.
func (s *Server) meet(c *fiber.Ctx) error {
	token, byToken := bearer(c)
	if !byToken {
		token = c.Cookies(s.cookieName())
	}
	v, err := s.service.People.Visitor(c.UserContext(), token)
	if err != nil {
		return err
	}
	if byToken != (v.Session.Program != "") {
		v.Actor, v.Session = act.Actor{}, people.Session{} // a browser’s session isn’t a token, and a token no browser's
	}
	if v.Nobody && !s.secure && !byToken {
		v.Actor = machineOwner()
	}
	if s.demo && !byToken {
		if v.Actor, err = s.demoActor(c); err != nil {
			return err
		}
	}
	c.Locals(visitorKey, v)
	return nil
}

// machineOwner is who sits at a machine that nobody else can reach.
func machineOwner() act.Actor { return act.Actor{Person: "owner", Role: act.Owner} }

// visitor is who sends the request; nobody where that can't be found out.
func (s *Server) visitor(c *fiber.Ctx) people.Visitor {
	v, met := c.Locals(visitorKey).(people.Visitor)
	if !met && s.meet(c) == nil {
		v, _ = c.Locals(visitorKey).(people.Visitor)
	}
	return v
}

// actor is who acts, by the session and nothing else.
func (s *Server) actor(c *fiber.Ctx) act.Actor { return s.visitor(c).Actor }

// admitSession gives the browser a session's token and takes the rest of the request as
// its person's.
func (s *Server) admitSession(c *fiber.Ctx, token string, own bool) error {
	cookie := &fiber.Cookie{
		Name: s.cookieName(), Value: token, Path: "/", HTTPOnly: true, Secure: s.secure, SameSite: fiber.CookieSameSiteLaxMode,
	}
	if own {
		cookie.MaxAge = int(people.OwnIdle / time.Second)
	} else {
		cookie.SessionOnly = true
	}
	c.Cookie(cookie)
	v, err := s.service.People.Visitor(c.UserContext(), token)
	c.Locals(visitorKey, v)
	return err
}

// dropCookie takes the session's token from the browser.
func (s *Server) dropCookie(c *fiber.Ctx) {
	c.Cookie(&fiber.Cookie{
		Name: s.cookieName(), Path: "/", HTTPOnly: true, Secure: s.secure, SameSite: fiber.CookieSameSiteLaxMode, Expires: time.Unix(1, 0),
	})
}

// device is what a request comes from.
func (s *Server) device(c *fiber.Ctx) people.Device {
	return people.Device{Name: deviceName(c.Get(fiber.HeaderUserAgent)), Address: s.address(c)}
}

// deviceName is what a browser calls itself, in two words: enough to tell one's own
// sessions apart.
func deviceName(agent string) string {
	return firstIn(agent, [][2]string{{"Edg", "Edge"}, {"Firefox", "Firefox"}, {"FxiOS", "Firefox"}, {"Chrom", "Chrome"}, {"CriOS", "Chrome"}, {"Safari", "Safari"}}, "a program") +
		firstIn(agent, [][2]string{{"Android", " on Android"}, {"iPhone", " on an iPhone"}, {"iPad", " on an iPad"}, {"Windows", " on Windows"}, {"Mac OS", " on a Mac"}, {"Linux", " on Linux"}}, "")
}

func firstIn(text string, names [][2]string, otherwise string) string {
	for _, name := range names {
		if strings.Contains(text, name[0]) {
			return name[1]
		}
	}
	return otherwise
}

// The fields by which a form that needs it says who sends it.
const (
	againName     = "again_name"
	againPassword = "again_password"
)

// provenAgain lets a form in whose sender signs in with it: the page that answers a form
// whose session ended, or is too long ago for what can't be undone, asks for that.
func (s *Server) provenAgain(c *fiber.Ctx) error {
	if sentJSON(c) || sentFiles(c) {
		return nil
	}
	password := formValue(c)(againPassword)
	if password == "" {
		return nil
	}
	v, from := s.visitor(c), s.device(c)
	name := formValue(c)(againName)
	if v.Session.ID != "" {
		name = v.Actor.Person
	}
	if err := s.mayTry(c, name); err != nil {
		return err
	}
	if v.Session.ID != "" {
		if err := s.service.People.Confirm(c.UserContext(), v.Session, password, from); err != nil {
			return errAgain{err}
		}
		return s.meet(c)
	}
	r := people.SignInRequest{Name: name, Password: password}
	token, _, err := s.service.People.SignIn(c.UserContext(), r, from)
	if err != nil {
		return errAgain{err}
	}
	return s.admitSession(c, token, false)
}

// errAgain is a form whose sender did not show who it is.
type errAgain struct{ error }

func (e errAgain) Unwrap() error { return e.error }

// signInFirst leads whoever reads a page without a session to where one signs in, and
// back from there; from the first page to the question who one is.
func (s *Server) signInFirst(c *fiber.Ctx) error {
	if c.Path() == "/" {
		return c.Redirect("/start", fiber.StatusSeeOther)
	}
	return c.Redirect("/sign-in?to="+escape(c.Path()), fiber.StatusSeeOther)
}

// onward is where a page that was asked for before signing in leads; only to a path of
// this server.
func onward(to string) string {
	if len(to) < 2 || to[0] != '/' || strings.ContainsAny(to, "\\\r\n\t") || to[1] == '/' {
		return "/"
	}
	return to
}

// roleName is a role for people.
func roleName(role act.Role) measure.Text {
	switch role {
	case act.Owner:
		return measure.Say("owner")
	case act.Driver:
		return measure.Say("driver")
	case act.Auditor:
		return measure.Say("auditor")
	}
	return measure.Say("nobody")
}
