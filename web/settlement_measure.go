package web

import (
	"bytes"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
	"wellstowed/web/live"
)

// broughtForm is the measuring page of a second load, held against what is owed.
func (s *Server) broughtForm(c *fiber.Ctx) (measurePage, error) {
	history, err := s.history(c)
	if err != nil {
		return measurePage{}, err
	}
	owed := history.Settlement()
	if owed == nil || !owed.Open() || owed.Choice != orders.SettleWood {
		return measurePage{}, &act.Error{Kind: act.Conflict, Message: measure.Say("no wood is to be brought on order %d: no such settlement is open", int(history.Order.Number))}
	}
	p, err := s.measureForm(c, &history.Order)
	if err != nil {
		return measurePage{}, err
	}
	p.Title, p.Owed = p.T("Measure what was brought on order %d", int(history.Order.Number)), owed
	p.Action = "/orders/" + history.Order.ID + "/settlement/measure"
	if p.Kind != rowsKind {
		p.Action += "?kind=" + p.Kind
	}
	return p, nil
}

func (s *Server) broughtNew(c *fiber.Ctx) error {
	p, err := s.broughtForm(c)
	if err != nil {
		return err
	}
	p.blank(stack.Seller)
	return s.render(c, p.template(), p)
}

func (s *Server) broughtCreate(c *fiber.Ctx) error {
	if sentJSON(c) {
		return s.broughtSaved(c, bytes.Clone(c.Request().Body()), c.Query("enough"))
	}
	p, err := s.broughtForm(c)
	if err != nil {
		return err
	}
	try := func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.service.TryBrought(c.UserContext(), s.actor(c), p.Order.ID, doc)
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
		err = s.broughtSaved(c, doc, formValue(c)("enough"))
	}
	if err == nil || wantsJSON(c) || !mendable(err) {
		return err
	}
	p.stillAnswers(doc, try)
	return s.measureRefused(c, p, err)
}

// broughtSaved makes the receipt of a second load that was measured, and answers with it.
func (s *Server) broughtSaved(c *fiber.Ctx, doc []byte, enough string) error {
	if err := readable(c); err != nil {
		return err
	}
	order, err := orderID(c)
	if err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	issued, err := s.service.Bring(c.UserContext(), act, order, orders.BringRequest{Tally: string(doc), Enough: enough})
	if err != nil {
		return err
	}
	return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
}

// A stepTally is a second load as it was measured, with the receipt that brought it.
type stepTally struct {
	Receipt int64
	orders.LoadTally
}

// stepTallies are the second loads of an order that were measured.
func (s *Server) stepTallies(c *fiber.Ctx, h orders.History) (map[int64]stepTally, error) {
	tallies := map[int64]stepTally{}
	for _, settlement := range h.Settlements {
		for _, step := range settlement.Steps {
			issued, err := s.service.Receipt(c.UserContext(), s.actor(c), step.Receipt)
			if err != nil {
				return nil, err
			}
			if f := issued.Receipt.Facts.Settles; f != nil && f.Tally != nil {
				tallies[step.Receipt] = stepTally{step.Receipt, *f.Tally}
			}
		}
	}
	return tallies, nil
}

// A broughtPage is a second load as it was measured.
type broughtPage struct {
	sheetPage
	Receipt int64
	Who     string
}

func (s *Server) broughtShow(c *fiber.Ctx) error {
	issued, err := s.receipt(c)
	if err != nil {
		return err
	}
	facts := issued.Receipt.Facts
	if issued.OrderID != c.Params("id") || facts.Settles == nil || facts.Settles.Tally == nil {
		return &act.Error{Kind: act.NotFound}
	}
	load := facts.Settles.Tally
	tally, err := stack.ParseTally(load.Document)
	if err != nil {
		return fmt.Errorf("load of receipt %d: %w", facts.Number, err)
	}
	p := broughtPage{Receipt: facts.Number}
	p.page, p.OrderID = s.page(c, measure.Say("The load of receipt %d as measured", int(facts.Number)), "/"), issued.OrderID
	p.Print = words.New(p.Lang, facts.Units).SoldIn(facts.RuleSet.Unit) // as it was printed
	if wantsJSON(c) {
		return c.JSON(p.Print.Answer(tally, load.Result))
	}
	p.Who = p.Print.Settles(facts)
	p.Answer = live.New(p.Print, tally, load.Result)
	if tally.Stack.Kind() != rowsKind {
		p.Read = p.Print.ForTape(tally.Tape).Readings(tally.Stack)
	} else if err := rowsOf(load.Document, &p.Rows); err != nil {
		return fmt.Errorf("load of receipt %d: %w", facts.Number, err)
	}
	return s.render(c, "brought_show", p)
}
