package web

import (
	"errors"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

// together is what all tallies of an order come to, as shown, where they are of one
// stack.
type together struct {
	Agreement string
	Pairs     []string
	Answer    *answer // nil where they cannot be put together
	Why       string  // they cannot
}

// combined puts an order's tallies together, the last ones where there are more than
// are combined; nil where there are fewer than two.
func combined(print *words.Printer, tallies []orders.Tally) (*together, error) {
	if len(tallies) < 2 {
		return nil, nil
	}
	tallies = tallies[max(0, len(tallies)-measure.MaxHands):]
	var read []measure.Tally
	for _, t := range tallies {
		tally, err := measure.ParseTally(t.Document)
		if err != nil {
			return nil, err
		}
		read = append(read, tally)
	}
	c, err := measure.Combine(read)
	var fault *measure.InputError
	switch {
	case errors.As(err, &fault):
		return &together{Why: sentence(print.Say(fault.Reason))}, nil
	case err != nil:
		return nil, err
	}
	v := &together{Agreement: print.Agreement(c), Answer: newAnswer(print, read[0], c.Result)}
	v.Answer.Finding = print.Finding(c.Result)
	for _, pair := range c.Pairs {
		v.Pairs = append(v.Pairs, print.Apartness(pair, c.Result.Quantity.Basis))
	}
	return v, nil
}
