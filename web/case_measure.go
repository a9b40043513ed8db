package web

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/web/live"
)

// caseMeasureForm is the measuring page of a buyer's case.
func (s *Server) caseMeasureForm(c *fiber.Ctx) (measurePage, cases.Key, error) {
	f, key, err := s.caseFile(c)
	if err != nil {
		return measurePage{}, key, err
	}
	p, err := s.measureForm(c, nil)
	if err != nil {
		return measurePage{}, key, err
	}
	p.Case, p.Here, p.Checks = &f, "/buying", len(f.Case.Tallies)
	p.adopt(f, key)
	p.Title = p.Print.Say(caseTitle(key, measure.Say("Measure what I bought"), measure.Text{}, measure.Say("Measure your delivery")))
	p.Action = casePath(key) + "/measure"
	if p.Kind != rowsKind {
		p.Action += "?kind=" + p.Kind
	}
	return p, key, nil
}

func (s *Server) caseTallyNew(c *fiber.Ctx) error {
	p, key, err := s.caseMeasureForm(c)
	if err != nil {
		return err
	}
	try := func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.cases.TryCaseTally(c.UserContext(), s.caseActor(c, key), key, doc)
	}
	p.goOn(c, stack.Buyer, try, func(n int) []byte {
		for _, t := range p.Case.Case.Tallies {
			if t.Look == n {
				return t.Document
			}
		}
		return nil
	})
	return s.render(c, p.template(), p)
}

func (s *Server) caseTallyCreate(c *fiber.Ctx) error {
	p, key, err := s.caseMeasureForm(c)
	if err != nil {
		return err
	}
	if sentJSON(c) {
		return s.caseTallySaved(c, key, orders.TallyRequest{Document: bytes.Clone(c.Request().Body()), ReadBy: c.Query("read_by")})
	}
	try := func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.cases.TryCaseTally(c.UserContext(), s.caseActor(c, key), key, doc)
	}
	if formValue(c)("do") != "save" {
		return s.measureAgain(c, p, try)
	}
	p.read(c)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		_, _, err = try(doc)
		err = withFaults(faults, err)
	} else {
		err = s.caseTallySaved(c, key, orders.TallyRequest{Document: doc, ReadBy: p.ReadBy()})
	}
	if err == nil || wantsJSON(c) || !mendable(err) {
		return err
	}
	p.stillAnswers(doc, try)
	return s.measureRefused(c, p, err)
}

// caseTallySaved saves a buyer's tally and answers with it.
func (s *Server) caseTallySaved(c *fiber.Ctx, key cases.Key, r orders.TallyRequest) error {
	if err := readable(c); err != nil {
		return err
	}
	act, err := s.caseAct(c, key)
	if err != nil {
		return err
	}
	f, err := s.cases.SaveCaseTally(c.UserContext(), act, key, r)
	if err != nil {
		return err
	}
	return made(c, fiber.StatusCreated, casePath(key), caseJSON(f))
}

// A caseTallyPage is one tally of the buyer's.
type caseTallyPage struct {
	sheetPage
	Base  string
	Tally cases.Tally
	Who   string
}

func (s *Server) caseTallyShow(c *fiber.Ctx) error {
	f, key, err := s.caseFile(c)
	if err != nil {
		return err
	}
	one, err := caseLook(c, f)
	if err != nil {
		return err
	}
	tally, err := stack.ParseTally(one.Document)
	if err != nil {
		return fmt.Errorf("look %d of case %s: %w", one.Look, f.Case.ID, err)
	}
	p := caseTallyPage{Base: casePath(key), Tally: one}
	p.page = s.page(c, caseTitle(key, measure.Say("What I measured, check %d", one.Look),
		measure.Say("Receipt %d: the buyer’s check %d", int(f.Case.Receipt), one.Look), measure.Say("What you measured, check %d", one.Look)), "/buying")
	p.adopt(f, key)
	p.Who = p.Print.Measuring(f, one, tally)
	if wantsJSON(c) {
		return c.JSON(p.Print.Answer(tally, one.Result))
	}
	p.Answer = live.New(p.Print, tally, one.Result)
	if tally.Stack.Kind() != rowsKind {
		p.Read = p.Print.ForTape(tally.Tape).Readings(tally.Stack)
	} else if err := rowsOf(one.Document, &p.Rows); err != nil {
		return fmt.Errorf("look %d of case %s: %w", one.Look, f.Case.ID, err)
	}
	return s.render(c, "case_tally", p)
}

// rowsOf reads the rows of a document as they were typed.
func rowsOf(document []byte, rows *stack.RowsDocument) error {
	var d stack.Document
	if err := json.Unmarshal(document, &d); err != nil {
		return err
	}
	return json.Unmarshal(d.Stack, rows)
}

// buyerReceipt is the receipt that a link's code leads to.
func (s *Server) buyerReceipt(c *fiber.Ctx) (cases.File, cases.Key, error) {
	f, key, err := s.caseFile(c)
	if err == nil && f.Issued == nil {
		err = &act.Error{Kind: act.NotFound}
	}
	return f, key, err
}

func (s *Server) buyerReceiptShow(c *fiber.Ctx) error {
	f, key, err := s.buyerReceipt(c)
	if err != nil {
		return err
	}
	issued := *f.Issued
	issued.Receipt.Purchaser.Phone = ""
	if was := issued.Receipt.WasPurchaser; was != nil {
		issued.Receipt.WasPurchaser = &orders.Party{Name: was.Name, Address: was.Address}
	}
	if wantsJSON(c) {
		return c.JSON(fiber.Map{"receipt": issued.Receipt, "seal": issued.Seal})
	}
	p := s.receiptPage(c, issued)
	print := p.Print
	p.adopt(f, key)
	p.Title = p.T("Your receipt, number %d", p.Int(issued.Receipt.Facts.Number))
	p.Print, p.Back, p.PDF = print, casePath(key), casePath(key)+"/receipt/pdf"
	return s.render(c, "receipt_show", p)
}

func (s *Server) buyerReceiptPrint(c *fiber.Ctx) error {
	f, _, err := s.buyerReceipt(c)
	if err != nil {
		return err
	}
	return s.sendReceipt(c, *f.Issued)
}
