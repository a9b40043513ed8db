package receipts

import "wellstowed/orders"

// BlankTally paints a form.
func (p *Painter) BlankTally(paper orders.Paper, units orders.Units) ([]byte, error) { return nil, nil }
