package web

import (
	"errors"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/yard"
)

// An auditFormPage opens an audit.
type auditFormPage struct {
	page
	R audits.Request
	// ReadBack is the quantity that words come to that name no legal one.
	ReadBack string
}

func (s *Server) auditForm(c *fiber.Ctx, r audits.Request) auditFormPage {
	p := auditFormPage{page: s.page(c, measure.Say("Open an audit"), "/audits"), R: r}
	p.names = map[string]string{"buyer_name": p.T("Buyer"), "buyer_address": p.T("Buyer’s address"),
		"place": p.T("Where the wood is"), "quantity": p.T("How much was sold")}
	return p
}

func (s *Server) auditNew(c *fiber.Ctx) error {
	return s.render(c, "audit_form", s.auditForm(c, audits.Request{Receipt: c.Query("receipt"), Auditor: signedIn(s.actor(c))}))
}

// signedIn is the name of who signed in; empty where nobody did.
func signedIn(who act.Actor) string {
	if who.ID == "" {
		return ""
	}
	return who.Person
}

func (s *Server) auditCreate(c *fiber.Ctx) error {
	r, a, err := doWith(s, c, s.audits.OpenAudit)
	if err == nil {
		return made(c, fiber.StatusCreated, auditPath(a.ID), a)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p := s.auditForm(c, r)
	s.refuse(c, &p.page, err)
	var known *act.Error
	if errors.As(err, &known) {
		for _, f := range known.Fields {
			if f.Field == "confirmed" {
				p.ReadBack = p.Print.Say(f.Accepts)
			}
		}
	}
	return s.render(c, "audit_form", p)
}

// Capacities are as what somebody may audit.
func (p auditFormPage) Capacities() []choice {
	return []choice{
		{"volunteer", p.T("As a volunteer"), p.R.Capacity == "volunteer"},
		{"official", p.T("As an official, with badge or commission"), p.R.Capacity == "official"},
	}
}

// Seasonings are what the seller may have stated.
func (p auditFormPage) Seasonings() []choice {
	list := []choice{{"", p.T("not stated"), p.R.Seasoning == ""}}
	for _, s := range []yard.Seasoning{yard.Green, yard.Seasoned, yard.KilnDried} {
		list = append(list, choice{string(s), p.Print.Seasoning(s), p.R.Seasoning == string(s)})
	}
	return list
}
