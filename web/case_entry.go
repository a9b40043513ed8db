package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
)

// entryCreate adds what buyer or seller says.
func (s *Server) entryCreate(c *fiber.Ctx) error {
	key, err := caseKey(c)
	if err != nil {
		return err
	}
	r, f, err := s.addEntry(c, key)
	if err == nil {
		if wantsJSON(c) {
			return made(c, fiber.StatusCreated, casePath(key), caseJSON(f))
		}
		return c.Redirect(casePath(key)+"#said", fiber.StatusSeeOther)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	f, _, broken := s.caseFile(c)
	if broken != nil {
		return broken
	}
	p, broken := s.casePage(c, f, key)
	if broken != nil {
		return broken
	}
	p.R, p.Form = r, cases.EntryKind(r.Kind)
	s.refuse(c, &p.page, err)
	return s.render(c, p.template(), p)
}

func (s *Server) addEntry(c *fiber.Ctx, key cases.Key) (cases.EntryRequest, cases.File, error) {
	r, err := decode[cases.EntryRequest](c)
	if err != nil {
		return r, cases.File{}, err
	}
	act, err := s.caseAct(c, key)
	if err != nil {
		return r, cases.File{}, err
	}
	f, err := s.cases.AddEntry(c.UserContext(), act, key, r)
	return r, f, err
}

// A linkPage offers a link to a receipt that has no case yet.
type linkPage struct {
	page
	Number int64
}

// noCaseYet is the seller's page of a receipt whose buyer has no link yet.
func (s *Server) noCaseYet(c *fiber.Ctx, receipt int64) error {
	if _, err := s.service.Receipt(c.UserContext(), s.actor(c), receipt); err != nil || wantsJSON(c) {
		if err == nil {
			err = &act.Error{Kind: act.NotFound}
		}
		return err
	}
	return s.render(c, "case_link", linkPage{s.page(c, measure.Say("Receipt %d: the buyer", int(receipt)), "/"), receipt})
}

// linkCreate makes the buyer's link, a new one where there was one. Its code is on this
// answer and nowhere else.
func (s *Server) linkCreate(c *fiber.Ctx) error {
	n, err := number(c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	code, err := s.cases.MakeLink(c.UserContext(), act, n)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.Status(fiber.StatusCreated).JSON(fiber.Map{"path": "/buyer/" + code})
	}
	f, key, err := s.caseFile(c)
	if err != nil {
		return err
	}
	p, err := s.casePage(c, f, key)
	if err != nil {
		return err
	}
	p.Code = code
	p.Shared, err = s.share(p.page, "/buyer/"+code, choice{Value: casePath(key) + "/pdf", Label: p.T("Print the case")},
		choice{Value: "/tally-form.pdf", Label: p.T("Print the tally form")})
	if err != nil {
		return err
	}
	return s.render(c.Status(fiber.StatusCreated), "case_seller", p)
}

// linkWithdraw makes the buyer's link hold no longer.
func (s *Server) linkWithdraw(c *fiber.Ctx) error {
	n, err := number(c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	if err := s.cases.WithdrawLink(c.UserContext(), act, n); err != nil {
		return err
	}
	return made(c, fiber.StatusOK, casePath(cases.Key{Receipt: n}), fiber.Map{"withdrawn": n})
}
