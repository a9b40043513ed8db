package web

import (
	"errors"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// A saving is what a form's request saved before, where it came again with other
// content, such as by Back after a first saving.
type saving struct {
	Name, Said string // what it is, and what it holds; Said may be empty
	Path       string // of its page
	// Change takes the form as a change to what was saved, at Version; empty where it is
	// changed on a form of its own, or not at all.
	Change  string
	Version int64
}

// savingOf words what was saved before.
func savingOf(print *words.Printer, was act.Saved, path string) *saving {
	s := saving{Path: path}
	s.Name, s.Said = print.Saved(was.Thing)
	if o, is := was.Thing.(orders.Order); is && was.Verb == orders.OrderTaken {
		s.Change, s.Version = s.Path+"/edit", o.Version
	}
	return &s
}

// savedPath is the page of what was saved; of what has none of its own, the page that it
// was sent from.
func savedPath(c *fiber.Ctx, was act.Saved) string {
	switch t := was.Thing.(type) {
	case orders.Order:
		return "/orders/" + t.ID
	case orders.Issued:
		return receiptPath(t)
	case orders.IssuedSheet:
		return fmt.Sprintf("/sheets/%d", t.Sheet.Number)
	case orders.Payment:
		return "/orders/" + t.OrderID + "/payments"
	case orders.Settlement:
		return "/orders/" + t.OrderID + "/settlement"
	case orders.Wish:
		return "/waiting"
	case yard.Batch:
		return batchPath(t.ID)
	case yard.Body:
		return "/bodies"
	case audits.Audit:
		return auditPath(t.ID)
	case audits.Issued:
		return auditPath(was.Subject)
	case cases.File:
		if t.Case.Receipt == 0 {
			return casePath(cases.Key{ID: t.Case.ID})
		}
		return casePath(cases.Key{Code: c.Params("code"), Receipt: t.Case.Receipt})
	}
	if was.Thing == nil {
		return ""
	}
	return c.Path()
}

// savedJSON is what was saved, as its act answers a program.
func (s *Server) savedJSON(thing any) any {
	switch t := thing.(type) {
	case orders.Issued:
		return receiptJSON(t)
	case orders.IssuedSheet:
		return s.sheetJSON(t)
	case cases.File:
		return caseJSON(t)
	case audits.Issued:
		return t.Report
	case audits.MeasurerView:
		return nil // what a measurer read is on its own page alone
	}
	return thing
}

// savedThing is what err says was saved before; nil where it says nothing of the kind.
func savedThing[T any](err error) *T {
	var known *act.Error
	if errors.As(err, &known) && known.Saved != nil {
		if was, is := known.Saved.Thing.(T); is {
			return &was
		}
	}
	return nil
}
