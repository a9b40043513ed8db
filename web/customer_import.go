package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders/customers"
)

// A customerImportPage takes a list of customers, and says first what would come of it.
type customerImportPage struct {
	page
	R    importForm
	Plan *customers.Import // what would come of it; nil before it is known
}

// An importForm is a list as sent: looked at first, and kept when "do" says so.
type importForm struct {
	List string `json:"list"`
}

func (s *Server) importForm(c *fiber.Ctx, r importForm) customerImportPage {
	p := customerImportPage{page: s.page(c, measure.Say("Customers from a list"), "/"), R: r}
	p.Finder = s.assets.path("customer.js")
	p.names = map[string]string{"list": p.T("The list, as CSV")}
	return p
}

func (s *Server) customerImportNew(c *fiber.Ctx) error {
	return s.render(c, "customer_import", s.importForm(c, importForm{}))
}

// customerImport says what would come of a list, and keeps it once that was read.
func (s *Server) customerImport(c *fiber.Ctx) error {
	r, err := decode[importForm](c)
	if err != nil {
		return s.importAgain(c, r, err)
	}
	if !sentJSON(c) && formValue(c)("do") != "keep" {
		plan, err := s.service.Customers.DryRun(c.UserContext(), s.actor(c), []byte(r.List))
		if err != nil {
			return s.importAgain(c, r, err)
		}
		p := s.importForm(c, r)
		p.again(c)
		p.Plan = &plan
		return s.render(c, "customer_import", p)
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	kept, err := s.service.Customers.Import(c.UserContext(), act, customers.ImportRequest(r))
	if err != nil {
		return s.importAgain(c, r, err)
	}
	return made(c, fiber.StatusOK, "/customers", kept)
}

func (s *Server) importAgain(c *fiber.Ctx, r importForm, err error) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p := s.importForm(c, r)
	s.refuse(c, &p.page, err)
	return s.render(c, "customer_import", p)
}
