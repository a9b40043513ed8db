package web

import (
	"errors"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/receipts/words"
	"wellstowed/web/live"
)

// together is what several tallies of an order come to, as shown, where they are of
// one stack.
type together struct {
	Agreement string
	Pairs     []string
	Answer    *live.Answer // nil where they cannot be put together
	Why       string       // they cannot
}

// combined puts together an order's tallies of the kind and basis of the last one, the
// last of them where there are more than are combined; nil where there are not two.
func combined(print *words.Printer, tallies []orders.Tally) (*together, error) {
	var read []stack.Tally
	for _, t := range tallies {
		tally, err := stack.ParseTally(t.Document)
		if err != nil {
			return nil, err
		}
		read = append(read, tally)
	}
	var alike []stack.Tally
	var names []string
	for i, t := range read {
		if last := read[len(read)-1].Stack; t.Stack.Kind() == last.Kind() && t.Stack.Basis() == last.Basis() {
			alike = append(alike, t)
			names = append(names, print.Say(measure.Say("sheet %d", int(tallies[i].Sheet))))
		}
	}
	if len(alike) < 2 {
		return nil, nil
	}
	from := max(0, len(alike)-stack.MaxHands)
	return putTogether(print, alike[from:], names[from:])
}

func putTogether(print *words.Printer, tallies []stack.Tally, names []string) (*together, error) {
	c, err := stack.Combine(tallies)
	var fault *measure.InputError
	switch {
	case errors.As(err, &fault):
		return &together{Why: sentence(print.Say(fault.Reason))}, nil
	case err != nil:
		return nil, err
	}
	v := &together{Agreement: print.Agreement(c), Answer: live.New(print, tallies[0], c.Result)}
	v.Answer.Finding = print.Finding(c.Result)
	for _, pair := range c.Pairs {
		v.Pairs = append(v.Pairs, print.Apartness(pair, c.Result.Quantity.Basis, names[pair.First-1], names[pair.Second-1]))
	}
	return v, nil
}
