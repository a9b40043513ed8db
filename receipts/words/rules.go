package words

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// A Rule is one item of a rule set in plain words, and where it comes from.
type Rule struct {
	Words  string `json:"words"`
	Source string `json:"source"`
}

// A Chapter is the items of a rule set that speak of one thing.
type Chapter struct {
	Heading string
	Rules   []Rule
}

// Chapters words a rule set, without the chapters it has nothing in.
func (p *Printer) Chapters(s rules.Set) []Chapter {
	all := []Chapter{
		{p.say("Wood is sold by"), p.unitRules(s)},
		{p.say("Terms that are no quantity"), p.termRules(s)},
		{p.say("A receipt holds"), p.fieldRules(s)},
		{p.say("A stacked cord"), p.cordRules(s.Ranked)},
		{p.say("Loose wood"), p.cordRules(s.Loose)},
		{p.say("Reading and tolerance"), p.readingRules(s)},
		{p.say("Shares of species"), p.shareRules(s)},
		{p.say("Dryness"), p.statement(s.Moisture)},
		{p.say("Tax"), p.statement(s.Tax)},
		{p.say("How long copies are kept"), p.retention(s)},
		{p.say("Notices"), nil},
	}
	for _, n := range s.Notices {
		all[len(all)-1].Rules = append(all[len(all)-1].Rules, p.rule(n.Text(), n.Known))
	}
	var kept []Chapter
	for _, c := range all {
		if len(c.Rules) > 0 {
			kept = append(kept, c)
		}
	}
	return kept
}

// ReadOn is the day a rule set was read from its law.
func (p *Printer) ReadOn(s rules.Set) string {
	on, err := orders.ParseDate(s.Date)
	if err != nil {
		return s.Date
	}
	return p.Date(on)
}

// NotAdvice goes with a rule set wherever it is shown.
func (p *Printer) NotAdvice(s rules.Set) string { return p.Say(s.NotAdvice()) }

func (p *Printer) rule(words measure.Text, k rules.Known) Rule { return Rule{p.Say(words), p.Mark(k)} }

func (p *Printer) unitRules(s rules.Set) []Rule {
	var list []Rule
	for _, u := range s.Units {
		words := measure.Say("%s", p.say(u.Name))
		if u.Unit != rules.LooseCord && u.Unit != rules.Weight {
			words = measure.Say("%s, %s", words, p.basis(u.Basis))
		}
		if u.Only != "" {
			words = measure.Say("%s; only %s", words, p.say(u.Only))
		}
		list = append(list, p.rule(words, u.Known))
	}
	return list
}

func (p *Printer) basis(b measure.Basis) string {
	switch b {
	case measure.Loose:
		return p.say("thrown loose")
	case measure.Container:
		return p.say("as it fills its container")
	}
	return p.say("ranked and well stowed")
}

func (p *Printer) termRules(s rules.Set) []Rule {
	var list []Rule
	for _, t := range s.Barred {
		list = append(list, p.rule(measure.Say("“%s”", t.Name), t.Known))
	}
	return list
}

func (p *Printer) fieldRules(s rules.Set) []Rule {
	var list []Rule
	for _, f := range s.Required {
		list = append(list, p.rule(measure.Say("%s", p.say(f.Name)), f.Known))
	}
	return list
}

func (p *Printer) cordRules(measures []rules.CordMeasure) []Rule {
	var list []Rule
	for _, l := range measures {
		words := measure.Say("%s of pieces of %s: %s", p.say(l.Name), l.PieceFrom, l.Volume.Volume)
		switch {
		case l.Of != "":
			words = measure.Say("%s of %s: %s", p.say(l.Name), p.say(l.Of), l.Volume.Volume)
		case l.PieceTo != l.PieceFrom:
			words = measure.Say("%s of pieces of %s to %s: %s", p.say(l.Name), l.PieceFrom, l.PieceTo, l.Volume.Volume)
		}
		list = append(list, p.rule(words, l.Known))
	}
	return list
}

func (p *Printer) readingRules(s rules.Set) []Rule {
	var list []Rule
	if r := s.Reading; r != nil {
		list = append(list, p.rule(measure.Say("lengths are read to %s, rounded %s", p.Reading(r.Increment), p.say(r.Rounding)), r.Known))
	}
	if s.Tolerance != nil {
		list = append(list, p.statement(&s.Tolerance.Statement)...)
	}
	return list
}

// shareRules are what is said of stated shares of species.
func (p *Printer) shareRules(s rules.Set) []Rule {
	if s.Shares == nil {
		return nil
	}
	return p.statement(&s.Shares.Statement)
}

func (p *Printer) statement(s *rules.Statement) []Rule {
	if s == nil {
		return nil
	}
	return []Rule{p.rule(s.Text(), s.Known)}
}

func (p *Printer) retention(s rules.Set) []Rule {
	if s.Retention == nil {
		return nil
	}
	kept := measure.Say("at least %d months", s.Retention.Months)
	if s.Retention.VoidedMonths > 0 {
		kept = measure.Say("at least %d months, voided tickets at least %d months", s.Retention.Months, s.Retention.VoidedMonths)
	}
	return []Rule{p.rule(kept, s.Retention.Known)}
}
