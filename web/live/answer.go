// Package live words the answer to readings and writes it as HTML. The server's pages show
// it, and it compiles for a browser, where the measuring page answers by itself.
package live

import (
	"fmt"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// ReadingWidth is how wide the drawings of readings are made: their type is 15 px on a
// phone of 390.
const ReadingWidth = 80 * measure.Millimetre

// An Answer is what a tally comes to, as shown: the sentence, the two pictures,
// what to do, and the working.
type Answer struct {
	print    *words.Printer
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
	Budget   []BudgetLine
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

// A BudgetLine is a part of the give or take.
type BudgetLine struct{ Share, Source string }

// New words a result for whoever read the tally.
func New(print *words.Printer, t stack.Tally, r stack.Result) *Answer {
	a := &Answer{
		print:   print,
		Finding: print.Finding(r), After: print.After(t, r), Volume: print.Quantity(r.Quantity), Doubt: print.Doubt(r), Model: r.Model, Odds: print.Odds(r),
		Advice: print.Advice(t.By, r),
	}
	a.Head, a.Rest = print.Verdict(r)
	a.Odd = OddHeights(print, t)
	a.Running = print.Running(r)
	if r.Finding != nil {
		a.Look = r.Finding.Look
		a.Why = Say(print, r.Finding.Why)
	}
	a.Notes = slices.Concat(Say(print, r.Notes), print.Reasons(r), print.Questions(r))
	for _, c := range r.Doubt {
		a.Budget = append(a.Budget, BudgetLine{fmt.Sprintf("%.1f %%", 100*c.Share), print.Source(c.Source, c.Row)})
	}
	for _, n := range r.Next {
		a.Next = append(a.Next, print.Next(n, r))
	}
	return a.Drawn(print, t, r, ReadingWidth)
}

// A drawing shown on a phone 390 px wide has 358 px, and ReadingWidth on paper.
const shownWidth = 358

// Shown is the width on paper of a drawing shown at so many px; ReadingWidth for 0.
func Shown(px int) measure.Length {
	if px == 0 {
		return ReadingWidth
	}
	return ReadingWidth * measure.Length(min(max(px, 200), 1400)) / shownWidth
}

// Drawn draws the answer's pictures for a width on paper.
func (a *Answer) Drawn(print *words.Printer, t stack.Tally, r stack.Result, width measure.Length) *Answer {
	a.Stack = draw.Stack(t, r, width)
	if r.Finding != nil {
		a.Gauge, a.HasGauge = draw.Gauge(r, width, print.GaugeUnit()), true
	}
	return a
}

// Say words texts.
func Say(print *words.Printer, texts []measure.Text) []string {
	said := make([]string, len(texts))
	for i, t := range texts {
		said[i] = print.Say(t)
	}
	return said
}

// Beside puts the procedure's own result beside the answer.
func (a *Answer) Beside(print *words.Printer, p procedure.Result) *Answer {
	a.ProcedureTitle, a.Procedure, a.ProcedureParts = print.ProcedureTitle(p.Named != nil), print.ProcedureLead(p), print.Procedure(p)
	return a
}
