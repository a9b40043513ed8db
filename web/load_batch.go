package web

import (
	"errors"

	"wellstowed/measure"
	"wellstowed/orders"
)

// drawable are the batches that hold wood as it was ordered and are not used up.
func drawable(batches []orders.Batch, o orders.Order) []orders.Batch {
	var list []orders.Batch
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

// ask takes what is known against the receipt out of the faults and puts it as one
// question, and gives the rest.
func (p *loadFormPage) ask(err error) error {
	var known *orders.Error
	if !errors.As(err, &known) {
		return err
	}
	rest := *known
	rest.Fields = nil
	for _, f := range known.Fields {
		if f.Field != "confirmed" {
			rest.Fields = append(rest.Fields, f)
			continue
		}
		p.Doubts, p.ReadBack, p.R.Confirmed = append(p.Doubts, sentence(p.Print.Say(f.Reason))), f.Accepts.String(), ""
	}
	if len(p.Doubts) > 0 && len(rest.Fields) == 0 {
		rest.Message = measure.Say("Read this before the receipt is made.")
	}
	return &rest
}
