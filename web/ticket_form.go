package web

import (
	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// A ticketPart is the part of a form that asks what only some rules of sale ask of a
// receipt.
type ticketPart struct {
	page
	Fields    []field
	Witnessed *choosing // nil where nothing depends on it
	Moving    *choosing // nil where no rule on moving wood asks
	Agency    string    // whom to ask before wood is moved
}

// Ticket is that part, of what the shop's rules ask for and of what was filled in.
func (p page) Ticket(r orders.TicketRequest) ticketPart {
	part := ticketPart{page: p}
	for _, one := range []struct {
		code        string
		name, value string
		lines       int
	}{
		{"measurer-name", "measured_by", r.MeasurerName, 0}, {"measurer-address", "measured_by_address", r.MeasurerAddress, 3},
		{"package-count", "package_count", r.PackageCount, 0}, {"stack-size", "stack_size", r.StackSize, 0},
		{"drying-time", "dried_for", r.DriedFor, 0}, {"drying-manner", "dried_how", r.DriedHow, 0},
		{"moisture-certificate", "moisture_certificate", r.MoistureCertificate, 0},
	} {
		seasoned := one.code == "drying-time" && p.Set.Seasoned != nil
		if rule := p.required(one.code); rule != nil || seasoned || one.value != "" || p.At(one.name) != "" {
			part.Fields = append(part.Fields, p.Field(one.name, one.value).Tall(one.lines).Told(p.askedBy(rule)))
		}
	}
	if p.witnessMatters() || r.Witnessed != "" {
		choices := []choice{{"yes", p.T("Yes"), r.Witnessed == "yes"}, {"no", p.T("No"), r.Witnessed == "no"}}
		seen := p.Choose("witnessed", choices)
		part.Witnessed = &seen
	}
	if ways := p.Set.Ways(); len(ways) > 0 || r.Moving != "" {
		var choices []choice
		for _, w := range ways {
			choices = append(choices, choice{w.Code, p.Upper(p.T(w.Name)), r.Moving == w.Code})
		}
		moving := p.Choose("moving", choices)
		part.Moving, part.Agency = &moving, p.Print.Say(p.Set.AskAgriculture())
	}
	return part
}

// required is the shop's rule on a field of a receipt; nil without one.
func (p page) required(code string) *rules.Field {
	for i := range p.Set.Required {
		if p.Set.Required[i].Code == code {
			return &p.Set.Required[i]
		}
	}
	return nil
}

// askedBy says when a rule asks for a field, and by which law.
func (p page) askedBy(rule *rules.Field) string {
	switch {
	case rule == nil:
		return ""
	case rule.When == nil:
		return p.T("Asked for by %s.", rule.Source)
	}
	return p.T("Asked for %s (%s).", p.T(rule.When.Words), rule.Source)
}

// witnessMatters tells whether what a receipt must hold depends on who saw the wood
// measured.
func (p page) witnessMatters() bool {
	for _, f := range p.Set.Required {
		if f.When != nil && f.When.Unwitnessed && !f.Advice {
			return true
		}
	}
	return false
}
