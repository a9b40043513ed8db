package web

import (
	"errors"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// drawable are the batches that hold wood as it was ordered and are not used up.
func drawable(batches []yard.Batch, o orders.Order) []yard.Batch {
	var list []yard.Batch
	for _, b := range batches {
		if b.Open() && b.Left.Basis == o.Quantity.Basis {
			list = append(list, b)
		}
	}
	return list
}

// BatchChoices are what a load may be drawn from; nothing is chosen beforehand.
func (p loadFormPage) BatchChoices() []choice {
	list := []choice{{Value: "", Label: p.T("No batch"), On: p.R.Batch == ""}}
	for _, b := range p.InStock {
		label := p.T("%s: %s left. %s. %s", b.Name, p.Print.Quantity(b.Left), b.Species, p.Print.BatchDry(b))
		list = append(list, choice{Value: b.ID, On: p.R.Batch == b.ID, Label: label})
	}
	return list
}

// A question is what is known against a receipt, to be read before it is made.
type question struct {
	Doubts   []string
	ReadBack string // what a yes repeats
}

// asked takes a question out of the faults and gives the rest.
func asked(print *words.Printer, err error) (q question, rest error) {
	var known *act.Error
	if !errors.As(err, &known) {
		return q, err
	}
	others := *known
	others.Fields = nil
	for _, f := range known.Fields {
		if f.Field != "confirmed" {
			others.Fields = append(others.Fields, f)
			continue
		}
		q.Doubts, q.ReadBack = append(q.Doubts, sentence(print.Say(f.Reason))), f.Accepts.String()
	}
	if len(q.Doubts) > 0 && len(others.Fields) == 0 {
		others.Message = measure.Say("Read this before the receipt is made.")
	}
	return q, &others
}
