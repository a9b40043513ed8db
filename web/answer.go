package web

import (
	"fmt"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// An answer is what a tally comes to, as shown: the sentence, the two pictures,
// what to do, and the working.
type answer struct {
	Finding  string   // in one sentence
	Head     string   // what is said largest
	Rest     string   // the sentence below it
	After    []string // the sentences that come after it
	Then     string   // what saving it does, where it settles something
	Running  string   // in a few words, kept in view
	Odd      []string // heights to look at again
	Look     int      // 0 where nothing was sold
	Model    int
	Odds     string // what P is, beside a result that it explains
	Volume   string
	Doubt    string
	Why      []string
	Advice   []string
	Notes    []string
	Budget   []budgetLine
	Next     []string
	Stack    draw.Drawing
	Gauge    draw.Drawing
	HasGauge bool
	// Procedure is the procedure's own result, beside the model's; empty where no
	// rules of sale are known.
	ProcedureTitle string
	Procedure      string
	ProcedureParts []words.ProcedurePart
}

type budgetLine struct{ Share, Source string }

func newAnswer(print *words.Printer, t stack.Tally, r stack.Result) *answer {
	a := &answer{
		Finding: print.Finding(r), After: print.After(t, r), Volume: print.Quantity(r.Quantity), Doubt: print.Doubt(r), Model: r.Model, Odds: print.Odds(r),
		Advice: print.Advice(t.By, r),
		Stack:  draw.Stack(t, r, readingWidth),
	}
	a.Head, a.Rest = print.Verdict(r)
	a.Odd = oddHeights(print, t)
	a.Running = print.Running(r)
	if r.Finding != nil {
		a.Look = r.Finding.Look
		a.Gauge, a.HasGauge = draw.Gauge(r, readingWidth, print.GaugeUnit()), true
		a.Why = say(print, r.Finding.Why)
	}
	a.Notes = slices.Concat(say(print, r.Notes), print.Reasons(r), print.Questions(r))
	for _, c := range r.Doubt {
		a.Budget = append(a.Budget, budgetLine{fmt.Sprintf("%.1f %%", 100*c.Share), print.Source(c.Source, c.Row)})
	}
	for _, n := range r.Next {
		a.Next = append(a.Next, print.Next(n, r))
	}
	return a
}

func say(print *words.Printer, texts []measure.Text) []string {
	said := make([]string, len(texts))
	for i, t := range texts {
		said[i] = print.Say(t)
	}
	return said
}

// beside puts the procedure's own result beside the answer.
func (a *answer) beside(print *words.Printer, p stack.ProcedureResult) *answer {
	a.ProcedureTitle, a.Procedure, a.ProcedureParts = print.ProcedureTitle(p.Named != nil), print.ProcedureLead(p), print.Procedure(p)
	return a
}

// answerUnder is an answer as data, with the procedure's own result by a rule set.
func answerUnder(print *words.Printer, set rules.Set, t stack.Tally, r stack.Result) words.AnswerJSON {
	a := print.Answer(t, r)
	a.Procedure = print.ProcedureAnswer(stack.ByProcedure(t, set.Reckoning(print.UnitOfSale())))
	return a
}
