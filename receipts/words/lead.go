package words

import "wellstowed/measure"

// Lead is the sentence an answer begins with: the finding, but for a heap what to do
// with it so that it can be measured.
func (p *Printer) Lead(t measure.Tally, r measure.Result) string {
	if stack, ok := stackFirst(t, r); ok {
		return p.Say(stack.Text)
	}
	return p.Finding(r)
}

// stackFirst is the advice to stack a heap.
func stackFirst(t measure.Tally, r measure.Result) (measure.Action, bool) {
	if t.Stack == nil || t.Stack.Kind() != "heap" {
		return measure.Action{}, false
	}
	for _, a := range r.Next {
		if a.Code == "stack" {
			return a, true
		}
	}
	return measure.Action{}, false
}

// After are the sentences that come after the first: what a heap comes to, what thrown
// wood is expected to be once ranked, about how many pieces it is, what drying allows.
func (p *Printer) After(t measure.Tally, r measure.Result) []string {
	var lines []string
	if _, heap := stackFirst(t, r); heap {
		lines = append(lines, p.Finding(r))
	}
	if e := r.Expected; e != nil {
		lines = append(lines, p.Expected(*e))
	}
	if s := p.PieceCount(r); s != "" {
		lines = append(lines, s)
	}
	if f := r.Finding; f != nil && f.Drying != nil {
		lines = append(lines, p.allowance(*f))
	}
	if r.Procedure != nil {
		lines = append(lines, p.say("By the published procedure, with its rounding: %s.", r.Procedure.Volume))
	}
	return lines
}

// Expected words what thrown wood is expected to come to once it is ranked.
func (p *Printer) Expected(e measure.Range) string {
	low, high := p.apart(e.Low, e.High, measure.Ranked)
	return p.say("Once ranked, it is expected to come to between %s and %s.", low, high)
}

// PieceCount words about how many pieces the wood is, and the pieces that are too few or
// too many; empty where that is not known.
func (p *Printer) PieceCount(r measure.Result) string {
	if r.Pieces.High <= 0 {
		return ""
	}
	text := p.say("All that is here is about %d to %d pieces.", r.Pieces.Low, r.Pieces.High)
	f := r.Finding
	if f == nil || f.Expectation() || f.Margin == 0 {
		return text
	}
	low, high := r.Pieces.Of(f.Margin)
	switch {
	case high <= 1:
		return text
	case f.Margin < 0:
		return p.say("What is missing is about %d to %d pieces. %s", low, high, text)
	}
	return p.say("What is more than was due is about %d to %d pieces. %s", low, high, text)
}

// allowance words the allowance that short was decided with.
func (p *Printer) allowance(f measure.Finding) string {
	return p.say("Sold green and measured dry: %s of it green may be %s now, and short is decided against that.", f.Due, f.Drying.DueDry)
}

// Reasons are why the sentences after the first say what they do, as far as the notes
// do not say it.
func (p *Printer) Reasons(r measure.Result) []string {
	var lines []string
	if r.Finding != nil && r.Finding.Drying != nil {
		lines = append(lines, p.texts(r.Finding.Drying.Working)...)
	}
	if r.Pieces.High > 0 {
		lines = append(lines, p.Say(r.Pieces.Text()))
	}
	if r.Procedure != nil {
		lines = append(lines, p.texts(r.Procedure.Notes)...)
	}
	return lines
}
