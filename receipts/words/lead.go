package words

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// stackFirst is the advice to stack a heap.
func stackFirst(t stack.Tally, r stack.Result) (stack.Action, bool) {
	if t.Stack == nil || t.Stack.Kind() != "heap" {
		return stack.Action{}, false
	}
	for _, a := range r.Next {
		if a.Code == "stack" {
			return a, true
		}
	}
	return stack.Action{}, false
}

// After are the sentences that come after the verdict: how sure it is, what to do with a
// heap, what wood is likely to be once it is stacked, about how many pieces it is, what
// drying allows.
func (p *Printer) After(t stack.Tally, r stack.Result) []string {
	p = p.sized(r)
	var lines []string
	add := func(line string) {
		if line != "" {
			lines = append(lines, line)
		}
	}
	if stack, heap := stackFirst(t, r); heap {
		add(p.Say(stack.Text))
	}
	add(p.PieceCount(r))
	if r.Expected != nil {
		add(p.Expected(r))
	} else {
		add(p.Sure(r))
	}
	if f := r.Finding; f != nil && f.Drying != nil {
		add(p.allowance(*f))
	}
	for _, pair := range r.Faces {
		add(p.BothWays(pair))
	}
	if r.Procedure != nil {
		add(p.say("By the published procedure, with its rounding: %s.", r.Procedure.Volume))
	}
	return lines
}

// Expected words what wood that is not ranked is likely to be once it is: where some was
// sold, what that usually takes up as it lies.
func (p *Printer) Expected(r stack.Result) string {
	if usual := p.usual(r); usual != "" {
		return usual
	}
	high, low := p.apart(r.Expected.High, r.Expected.Low, measure.Ranked)
	return p.say("Once stacked it is likely %s to %s.", low, high)
}

// PieceCount words about how many pieces the wood is, and the pieces that are too few or
// too many; empty where that is not known.
func (p *Printer) PieceCount(r stack.Result) string {
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
func (p *Printer) allowance(f stack.Finding) string {
	return p.say("Sold green and measured dry: %s of it green may be %s now, and short is decided against that.", f.Due, f.Drying.DueDry)
}

// Reasons are why the sentences after the first say what they do, as far as the notes
// do not say it.
func (p *Printer) Reasons(r stack.Result) []string {
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
	return append(lines, p.Hinge(r)...)
}

// Hinge says that one constant carries most of the give or take, where it comes from, and
// how large it could be before the word falls; nothing where none does.
func (p *Printer) Hinge(r stack.Result) []string {
	h := r.Hinge()
	if h == nil {
		return nil
	}
	text := p.say("Most of the give or take (%s) is one figure that wasn’t measured here: how tightly people stow wood. It comes from this program’s own simulation of stacks, no published source, and may be %s times too small.", p.Percent(h.Share), p.decimal(h.GoodTo, 1))
	if h.Taken > 0 {
		text = p.say("%s “Short” was said with %s of the volume; it would still be said with %s.", text, p.Percent(h.Taken), p.Percent(h.Most))
	}
	if h.Loose() {
		text = p.say("%s If the figure is that much too small, this wood isn’t shown to be short.", text)
	}
	return []string{text}
}
