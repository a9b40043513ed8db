package web

import (
	"fmt"
	"reflect"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure/stack"
	"wellstowed/web/form"
)

// goOn fills the page with the readings of the look that the address names
// (?from=2), so that more can be added to them. Readings that the form has no room for
// leave it blank: nothing is lost on the way without a word.
func (p *measurePage) goOn(c *fiber.Ctx, by stack.Party, try tried, look func(n int) []byte) {
	p.blank(by)
	doc := look(c.QueryInt("from"))
	if doc == nil {
		return
	}
	unit := p.UnitNow()
	p.readFrom(func(field func(name, value string)) {
		form.Fields(doc)(func(name, value string) {
			if name != "stacked" && name != "stacked_by" { // asked of each check
				field(name, value)
			}
		})
		field("unit", string(unit))
	})
	if p.Fresh = !p.holds(doc, try); p.Fresh {
		p.Answer, p.asked, p.questions = nil, nil, nil
		p.blank(by)
		return
	}
	p.change("pieces+")
}

// tried measures a document as a page would save it.
type tried func(doc []byte) (stack.Tally, stack.Result, error)

// holds tells whether the form says what a document says, and answers it.
func (p *measurePage) holds(doc []byte, try tried) bool {
	typed, faults, err := p.document()
	if err != nil || len(faults) > 0 {
		return false
	}
	was, err := stack.ParseTally(doc)
	if err != nil {
		return false
	}
	now, result, err := try(typed)
	if err != nil {
		return false
	}
	p.answer(now, result)
	// What the order knows of the sale is no reading, and not on the form.
	now.Sold, now.Look, now.Used, now.MostShrinkage = was.Sold, was.Look, was.Used, was.MostShrinkage
	now.Stacked, now.StackedBy = was.Stacked, was.StackedBy
	return reflect.DeepEqual(was, now)
}

// againPath leads to the measuring page at path, filled with the readings of a look.
func againPath(path string, look int, kind string) string {
	path = fmt.Sprintf("%s/measure?from=%d", path, look)
	if kind != rowsKind {
		path += "&kind=" + kind
	}
	return path
}

// GoOn leads from a sheet to measuring on from its readings.
func (p sheetPage) GoOn() string {
	return againPath("/orders/"+p.OrderID, p.Sheet.Tally.Look, p.Kind)
}

// GoOn leads to measuring on from the last readings of a case.
func (p casePage) GoOn() (string, error) {
	last := p.Case.Latest()
	tally, err := stack.ParseTally(last.Document)
	if err != nil {
		return "", err
	}
	return againPath(p.Base, last.Look, tally.Stack.Kind()), nil
}
