package web

import (
	"html/template"

	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// Markup puts HTML that live wrote on a page; live escapes every text in it.
func (p page) Markup(html string) template.HTML { return template.HTML(html) }

// answerUnder is an answer as data, with the procedure's own result by a rule set.
func answerUnder(print *words.Printer, set rules.Set, t stack.Tally, r stack.Result) words.AnswerJSON {
	a := print.Answer(t, r)
	a.Procedure = print.ProcedureAnswer(procedure.Of(t, set.Reckoning(print.UnitOfSale())))
	return a
}
