//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/orders"
)

// Cord says what a cord was taken for where that hangs on the wood, and by which rule.
func (p *Printer) Cord(c *orders.CordFact) string {
	if c.Basis == measure.Loose {
		return p.say("A loose cord of %s is %s here (%s).", p.say(c.Of), c.Cord, c.Source)
	}
	return p.say("A cord of %s is %s here, stacked (%s).", p.say(c.Of), c.Cord, c.Source)
}

// NotSold says that an order can’t be delivered as it was ordered: the rules let
// nobody sell wood so.
func (p *Printer) NotSold(o orders.Order, fault *measure.InputError) string {
	return p.say("It cannot be delivered as %s under the shop’s rules: %s.", o.Quantity, fault.Reason)
}
