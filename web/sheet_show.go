package web

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/photos"
	"wellstowed/receipts/words"
	"wellstowed/web/api"
	"wellstowed/web/live"
)

type sheetPage struct {
	page
	orders.Sheet
	OrderID string
	Kind    string // of stack
	Answer  *live.Answer
	Rows    stack.RowsDocument // of a stack in rows
	Read    []words.Readings   // of any other
	Photos  []photos.Kept      // that it names
}

// ShortOf is the order whose wood a sheet of a delivery finds short, empty for any other.
func (p sheetPage) ShortOf() string {
	if f := p.Result.Finding; f == nil || f.Word != stack.Short || len(p.Receipts) == 0 {
		return ""
	}
	return p.OrderID
}

func (s *Server) sheet(c *fiber.Ctx) (orders.IssuedSheet, error) {
	n, err := number(c)
	if err != nil {
		return orders.IssuedSheet{}, err
	}
	return s.service.Sheet(c.UserContext(), s.actor(c), n)
}

func (s *Server) sheetShow(c *fiber.Ctx) error {
	issued, err := s.sheet(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(s.sheetJSON(issued))
	}
	tally, err := sheetTally(issued.Sheet)
	if err != nil {
		return err
	}
	p := sheetPage{page: s.page(c, measure.Say("Measurement sheet %d", int(issued.Sheet.Number)), "/"),
		Sheet: issued.Sheet, OrderID: issued.OrderID, Kind: tally.Stack.Kind()}
	p.Print = printerOf(p.Lang, issued.Sheet)
	p.Answer = live.New(p.Print, tally, issued.Sheet.Result)
	if issued.Sheet.Procedure != nil {
		p.Answer.Beside(p.Print, *issued.Sheet.Procedure)
	}
	if tally.Stack.Kind() != rowsKind {
		p.Read = p.Print.ForTape(tally.Tape).Readings(tally.Stack)
	} else if err := json.Unmarshal(issued.Sheet.Tally.Stack, &p.Rows); err != nil {
		return fmt.Errorf("sheet %d: %w", issued.Sheet.Number, err)
	}
	kept, err := s.photosOn(c, issued.OrderID)
	if err != nil {
		return err
	}
	p.Photos = photosNamed(kept, issued.Sheet.Number)
	return s.render(c, "sheet_show", p)
}

// sheetTally reads back the readings that a sheet was made from.
func sheetTally(sheet orders.Sheet) (stack.Tally, error) {
	doc, err := json.Marshal(sheet.Tally)
	if err != nil {
		return stack.Tally{}, err
	}
	tally, err := stack.ParseTally(doc)
	if err != nil {
		return stack.Tally{}, fmt.Errorf("sheet %d: %v", sheet.Number, err)
	}
	return tally, nil
}

func (s *Server) sheetPrint(c *fiber.Ctx) error {
	issued, err := s.sheet(c)
	if err != nil {
		return err
	}
	return sendPDF(c, fmt.Sprintf("measurement-sheet-%d.pdf", issued.Sheet.Number), issued.PDF)
}

// sheetWorking sends what a sheet rests on, painted of what is stored with it.
func (s *Server) sheetWorking(c *fiber.Ctx) error {
	issued, err := s.sheet(c)
	if err != nil {
		return err
	}
	pdf, err := s.blank.Working(issued.Sheet)
	if err != nil {
		return err
	}
	return sendPDF(c, fmt.Sprintf("measurement-sheet-%d-working.pdf", issued.Sheet.Number), pdf)
}

// sheetJSON is a measurement sheet for programs, its answer worded as the command
// line words it.
func (s *Server) sheetJSON(issued orders.IssuedSheet) api.Sheet {
	print := printerOf(issued.Sheet.Language, issued.Sheet)
	answer := print.Answer(stack.Tally{}, issued.Sheet.Result)
	if issued.Sheet.Procedure != nil {
		answer.Procedure = print.ProcedureAnswer(*issued.Sheet.Procedure)
	}
	return api.Sheet{Sheet: issued.Sheet, OrderID: issued.OrderID, Answer: answer}
}

// printerOf words a sheet as it was printed.
func printerOf(language string, sheet orders.Sheet) *words.Printer {
	return words.New(language, sheet.Units).SoldIn(sheet.RuleSet.Unit)
}

// Joined are readings as typed, one after the other.
func (p sheetPage) Joined(readings []stack.Reading) string {
	texts := make([]string, len(readings))
	for i, r := range readings {
		texts[i] = string(r)
	}
	return p.Listed(texts)
}

// Listed are texts one after the other, each kept on one line where there are several.
func (p sheetPage) Listed(read []string) string {
	if len(read) == 1 {
		return read[0]
	}
	texts := make([]string, len(read))
	for i, r := range read {
		texts[i] = strings.ReplaceAll(r, " ", "\u00a0")
	}
	return strings.Join(texts, ", ")
}
