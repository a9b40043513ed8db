package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// A peoplePage is who works here, and who was let in and out.
type peoplePage struct {
	page
	R      people.PersonRequest
	Roll   people.Roll
	Asked  people.TokenRequest
	Nobody bool // this machine's own browser is its owner, since there are no people
}

func (s *Server) peopleForm(c *fiber.Ctx) (peoplePage, error) {
	p := peoplePage{page: s.page(c, measure.Say("People"), "/people"), Nobody: s.visitor(c).Nobody}
	p.names = map[string]string{"name": p.T("Name"), "role": p.T("What they may do"), "program": p.T("Program"), "person": p.T("In as")}
	var err error
	p.Roll, err = s.service.People.Roll(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) peopleList(c *fiber.Ctx) error {
	p, err := s.peopleForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.Roll)
	}
	return s.render(c, "people_list", p)
}

func (s *Server) personCreate(c *fiber.Ctx) error {
	r, who, err := doWith(s, c, s.service.People.AddPerson)
	if err == nil {
		return made(c, fiber.StatusCreated, "/people", who)
	}
	return showAgain(s, c, "people_list", err, s.peopleForm, func(p *peoplePage) { p.R = r })
}

// personID reads a person's id in the address.
func personID(c *fiber.Ctx, name string) (string, error) {
	id, err := uuid.Parse(c.Params(name))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

// actOn is the act of a form that is sent for the person or session of the address.
func (s *Server) actOn(c *fiber.Ctx, name string) (id string, act act.Act, err error) {
	if id, err = personID(c, name); err == nil {
		act, err = s.act(c)
	}
	return id, act, err
}

func (s *Server) personChange(c *fiber.Ctx) error {
	r, err := decode[people.ChangeRequest](c)
	if err != nil {
		return err
	}
	id, act, err := s.actOn(c, "person")
	if err != nil {
		return err
	}
	who, err := s.service.People.ChangePerson(c.UserContext(), act, id, r)
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/people", who)
}

func (s *Server) personSignOut(c *fiber.Ctx) error {
	id, act, err := s.actOn(c, "person")
	if err == nil {
		err = s.service.People.EndSessions(c.UserContext(), act, id, "")
	}
	if err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/people", fiber.Map{"ended": true})
}

// An invitationPage shows a one-time code.
type invitationPage struct {
	page
	people.Invitation
	Pair  shared
	Trust bool // the phone has to trust the shop's authority first
}

func (s *Server) personInvite(c *fiber.Ctx) error {
	id, act, err := s.actOn(c, "person")
	if err != nil {
		return err
	}
	made, err := s.service.People.Invite(c.UserContext(), act, id)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.Status(fiber.StatusCreated).JSON(made)
	}
	p := invitationPage{page: s.page(c, measure.Say("Let a phone in"), "/people"), Invitation: made, Trust: s.trust.Certificate != nil}
	if p.Pair, err = s.share(p.page, "/pair?code="+strings.ReplaceAll(made.Code, " ", "")); err != nil {
		return err
	}
	return s.render(c, "invitation", p)
}

// RoleChoices are the roles to choose from.
func (p page) RoleChoices(now act.Role) []choice {
	var all []choice
	for _, role := range people.Roles() {
		all = append(all, choice{Value: string(role), Label: p.RoleMay(role), On: role == now})
	}
	return all
}

// RoleName is a role in one word.
func (p page) RoleName(role act.Role) string { return p.Print.Say(roleName(role)) }

// RoleMay is a role and what it may do.
func (p page) RoleMay(role act.Role) string {
	switch role {
	case act.Owner:
		return p.T("Owner: everything, also who is let in")
	case act.Driver:
		return p.T("Driver: see the day, deliver, take payment, measure, correct receipts")
	}
	return p.T("Auditor: read, measure, audit")
}

// Told is a line of the log in words.
func (p page) Told(l people.Line) string {
	switch l.What {
	case people.Added:
		return p.T("added")
	case people.Changed:
		return p.T("role changed")
	case people.ShutOut:
		return p.T("let out")
	case people.LetBack:
		return p.T("let in again")
	case people.CodeMade:
		return p.T("a code was made")
	case people.SignedIn:
		return p.T("signed in")
	case people.Paired:
		return p.T("came in by a code")
	case people.Refused:
		return p.T("sign-in refused")
	case people.SignedOut:
		return p.T("signed out")
	case people.AllEnded:
		return p.T("sign-ins ended")
	case people.PasswordSet:
		return p.T("password set")
	case people.RecoveryRenewed:
		return p.T("recovery codes made")
	case people.RecoveryUsed:
		return p.T("recovery code used")
	case people.PasskeyMade:
		return p.T("passkey made")
	case people.PasskeyRemoved:
		return p.T("passkey removed")
	case people.TokenMade:
		return p.T("a token for a program was made")
	case people.SignedInByPasskey:
		return p.T("signed in by passkey")
	}
	return p.T("owner reset at the machine")
}
