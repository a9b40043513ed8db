//go:build !wasm

package words

import (
	"wellstowed/measure/stack"
	"wellstowed/orders/audits"
)

// AuditLimits are what weakens a result, what would lift it beside each, and the constant
// that it rests on most.
func (p *Printer) AuditLimits(r stack.Result, limits []audits.Limit) []string {
	var lines []string
	for _, l := range limits {
		lines = append(lines, p.AuditLimit(l))
	}
	return append(lines, p.Hinge(r)...)
}

// AuditLimit says what weakens a result, which word it keeps from being said, and what
// would lift it.
func (p *Printer) AuditLimit(l audits.Limit) string {
	text := p.Say(l.Text)
	if l.Holds == stack.Short {
		text = p.say("%s This holds “short” back.", text)
	}
	if l.Cure.Key != "" {
		text = p.say("%s %s", text, l.Cure)
	}
	return text
}

// AuditKeeper says in whose database an audit is kept; empty where that was not kept.
func (p *Printer) AuditKeeper(k audits.Keeper) string {
	switch {
	case k.Seller:
		return p.say("This record is kept on the computer of %s, the seller that was audited. The seals and the hash below show whether it was changed since.", k.Name)
	case k.Name != "":
		return p.say("This record is kept on the computer of %s.", k.Name)
	}
	return ""
}
