package main

import (
	"errors"
	"fmt"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
)

// people prints an answer to be read: the finding first, then the figures, then
// what it rests on.
func (a answerer) people(t stack.Tally, r stack.Result) {
	say := func(format string, args ...any) { fmt.Fprintf(a.out, format+"\n", args...) }
	a.ask(r)
	say("%s", a.print.Finding(r))
	for _, line := range a.print.After(t, r) {
		say("%s", line)
	}
	say("")
	say("Measured      %s", a.print.Quantity(r.Quantity))
	say("Give or take  %s, 19 times in 20", a.print.Doubt(r))
	if f := r.Finding; f != nil {
		say("Sold          %s", a.print.Quantity(f.Sold))
		for _, why := range f.Why {
			say("              %s", a.print.Say(why))
		}
	}
	a.section("What to do", a.print.Advice(t.By, r))
	a.section("How sure is this? What the give or take comes from", a.budget(r))
	a.section("What to measure next", a.next(r))
	notes := make([]string, len(r.Notes))
	for i, note := range r.Notes {
		notes[i] = a.print.Say(note)
	}
	a.section("Notes", append(notes, a.print.Reasons(r)...))
	a.procedure(t)
}

// ask prints what is asked about readings before anything is said of them, and how a
// tally answers.
func (a answerer) ask(r stack.Result) {
	if !r.Asks() {
		return
	}
	fmt.Fprintln(a.out, "Before this is relied on")
	for _, q := range r.Questions {
		if !q.Confirmed {
			fmt.Fprintf(a.out, "  %s\n    If it is as it was read, put this into the tally: \"confirmed\": [%q]\n", a.print.Question(r, q), q.Key)
		}
	}
	fmt.Fprintln(a.out)
}

// reckoning is the procedure that stands beside the model: of the file that was named,
// else of the rules of sale; false where neither was.
func (a answerer) reckoning() (procedure.Reckoning, bool) {
	switch {
	case a.office != nil:
		return a.office.Reckoning(a.print.UnitOfSale()), true
	case a.set != nil:
		return a.set.Reckoning(a.print.UnitOfSale()), true
	}
	return procedure.Reckoning{}, false
}

// procedure prints the procedure's own result beside the model's, where rules of sale or
// a procedure were named.
func (a answerer) procedure(t stack.Tally) {
	k, found := a.reckoning()
	if !found || t.Stack == nil { // of several tallies, each has its own
		return
	}
	p := procedure.Of(t, k)
	fmt.Fprintf(a.out, "\n%s\n  %s\n", a.print.ProcedureTitle(p.Named != nil), a.print.ProcedureLead(p))
	for _, part := range a.print.Procedure(p) {
		fmt.Fprintf(a.out, "  %s\n", part.Heading)
		for _, line := range part.Lines {
			fmt.Fprintf(a.out, "    %s\n", line)
		}
	}
}

// answer is an answer as data, with the procedure's where one was named.
func (a answerer) answer(t stack.Tally, r stack.Result) words.AnswerJSON {
	out := a.print.Answer(t, r)
	if k, found := a.reckoning(); found {
		out.Procedure = a.print.ProcedureAnswer(procedure.Of(t, k))
	}
	return out
}

func (a answerer) section(title string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(a.out, "\n%s\n", title)
	for _, line := range lines {
		fmt.Fprintf(a.out, "  %s\n", line)
	}
}

func (a answerer) budget(r stack.Result) []string {
	lines := make([]string, len(r.Doubt))
	for i, c := range r.Doubt {
		lines[i] = fmt.Sprintf("%4.1f %%  %s", 100*c.Share, a.print.Source(c.Source, c.Row))
	}
	return lines
}

func (a answerer) next(r stack.Result) []string {
	lines := make([]string, len(r.Next))
	for i, n := range r.Next {
		lines[i] = a.print.Next(n, r)
	}
	return lines
}

// faults gives what was wrong with a tally, for programs.
func (a answerer) faults(err error) []words.ErrorJSON {
	var all []words.ErrorJSON
	for _, e := range inputErrors(err) {
		all = append(all, a.print.InputError(e))
	}
	return all
}

// sentences gives what was wrong with a tally, one fault a line.
func (a answerer) sentences(err error) string {
	var lines []string
	for _, e := range inputErrors(err) {
		lines = append(lines, a.print.Sentence(e))
	}
	return strings.Join(lines, "\n")
}

func inputErrors(err error) measure.InputErrors {
	var many measure.InputErrors
	if errors.As(err, &many) {
		return many
	}
	var one *measure.InputError
	if errors.As(err, &one) {
		return measure.InputErrors{one}
	}
	return measure.InputErrors{{Code: "unreadable", Reason: measure.Say("%s", err.Error())}}
}
