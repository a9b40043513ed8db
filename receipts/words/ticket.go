//go:build !wasm

package words

import (
	"strconv"

	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// TicketLines are what only some rules of sale ask of a receipt, as far as it was filled
// in.
func (p *Printer) TicketLines(r orders.Receipt) []Fact {
	var lines []Fact
	for _, line := range p.everyTicketLine(r) {
		if line.Text != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// everyTicketLine are all of them in the order of the paper, with empty texts.
func (p *Printer) everyTicketLine(r orders.Receipt) []Fact {
	t := r.Facts.Ticket
	measurer, packages := "", ""
	if r.Measurer.Name != "" {
		measurer = r.Measurer.Name
		if r.Measurer.Address != "" {
			measurer = p.say("%s, %s", measurer, oneLine(r.Measurer.Address))
		}
	}
	if t.Witnessed {
		measurer = p.join(measurer, p.say("seller and buyer both saw it"))
	}
	if t.Packages > 0 {
		packages = strconv.Itoa(t.Packages)
	}
	return []Fact{
		{p.say("Measured by"), measurer}, {p.say("Wrapped packages"), packages}, {p.say("Length, width, height when ranked"), t.StackSize},
		{p.say("Dried for"), t.DriedFor}, {p.say("Dried how"), t.DriedHow}, {p.say("Certificate of dryness"), t.MoistureCertificate},
		{p.say("Moving this wood"), p.movingSays(t.MovingSays)},
	}
}

// movingSays is what a receipt says of moving its wood.
func (p *Printer) movingSays(text string) string {
	if text == "" {
		return ""
	}
	return p.say("%s. %s", p.say(text), p.Say(rules.Set{}.AskAgriculture()))
}

// join puts two texts side by side, either of which may be empty.
func (p *Printer) join(a, b string) string {
	if a == "" {
		return b
	}
	return p.say("%s; %s", a, b)
}
