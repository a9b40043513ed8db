package web

import (
	"fmt"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// An asking is one question about a reading that is hardly meant as it stands. Its box
// says that it is as typed.
type asking struct {
	Name, Key  string // of the box, and what it sends
	Field      string // that it is asked about; the stack where it is about the volume
	Text       string
	Label, Box string // of the field, and of the box
	Confirmed  bool
}

const wholeStack = "stack" // what questions about the volume stand at

// ask puts the questions about the readings on the page, each at its field.
func (p *measurePage) ask(r stack.Result) {
	p.asked, p.questions = map[string][]asking{}, nil
	for i, q := range r.Questions {
		one := asking{Name: fmt.Sprintf("confirmed[%d]", i), Key: q.Key, Field: q.Field, Text: p.Print.Question(r, q), Label: p.labelAt(q.Field), Confirmed: q.Confirmed}
		if q.Field == wholeStack {
			one.Label = p.T("All of it")
		}
		one.Box = p.T("It is as typed")
		p.questions = append(p.questions, one)
		p.asked[q.Field] = append(p.asked[q.Field], one)
	}
}

// Open are the questions that nobody has answered.
func (p measurePage) Open() []asking {
	return slices.DeleteFunc(slices.Clone(p.questions), func(q asking) bool { return q.Confirmed })
}

// AtFields are the questions that stand at a field, and OfAll those about the volume.
func (p measurePage) AtFields() []asking {
	return slices.DeleteFunc(slices.Clone(p.questions), func(q asking) bool { return q.Field == wholeStack })
}

// OfAll are the questions about the volume.
func (p measurePage) OfAll() []asking { return p.asked[wholeStack] }

// Unasked are the answers to questions of readings that could not be measured: they are
// kept for when they can.
func (p measurePage) Unasked() []asking {
	var kept []asking
	if p.asked == nil && p.K != nil {
		for i, key := range p.K.Confirmed() {
			kept = append(kept, asking{Name: fmt.Sprintf("confirmed[%d]", i), Key: key})
		}
	}
	return kept
}

// nameQuestions words faults that are questions as such; their fields ask them with
// their boxes.
func (p *measurePage) nameQuestions(faults []*measure.InputError) {
	open := p.Open()
	for i, e := range faults {
		if e.Code != orders.Asked || len(open) == 0 {
			continue
		}
		delete(p.wrong, e.Field)
		p.Faults[i].Label, p.Faults[i].Text = open[0].Label, open[0].Text
		p.Message, open = p.T("Is this as you mean it? Say so at each, or change it."), open[1:]
	}
}
