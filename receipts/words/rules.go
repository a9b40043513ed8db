//go:build !wasm

package words

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
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
		{p.say("Terms that may not stand for a quantity"), p.termRules(s.Barred)},
		{p.say("Terms without a size in law, and not barred"), p.termRules(s.Undefined)},
		{p.say("Terms the law defines, and does not name for selling by"), p.termRules(s.Defined)},
		{p.say("A receipt holds"), p.fieldRules(s)},
		{p.say("Pieces"), p.pieceRules(s)},
		{p.say("A stacked cord"), p.cordRules(s.Ranked)},
		{p.say("Loose wood"), p.cordRules(s.Loose)},
		{p.say("Reading and tolerance"), p.readingRules(s)},
		{p.say("Shares of species"), p.shareRules(s)},
		{p.say("Dryness"), append(p.moistureRules(s.Moisture), p.seasonedRules(s)...)},
		{p.say("Moving wood"), p.movingRules(s)},
		{p.say("Texts that a receipt carries"), p.printedRules(s)},
		{p.say("Labels of packages"), p.labelRules(s.Label)},
		{p.say("Judging packaged lots"), p.lotRules(s.Lots)},
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
	return p.day(s.Date)
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

func (p *Printer) termRules(terms []rules.Term) []Rule {
	var list []Rule
	for _, t := range terms {
		words := measure.Say("“%s”", t.Name)
		if t.Means != "" {
			words = measure.Say("“%s”: %s", t.Name, p.say(t.Means))
		}
		list = append(list, p.rule(words, t.Known))
	}
	return list
}

func (p *Printer) fieldRules(s rules.Set) []Rule {
	var list []Rule
	for _, f := range s.Required {
		list = append(list, p.rule(measure.Say("%s", p.RuleField(f)), f.Known))
	}
	return list
}

// RuleField names a field of a receipt, when it is asked for, and that no law asks for it
// where it is advice.
func (p *Printer) RuleField(f rules.Field) string {
	name := p.say(f.Name)
	if f.When != nil {
		name = p.say("%s, %s", name, p.say(f.When.Words))
	}
	if f.Advice {
		return p.say("%s (advised; no law asks for it)", name)
	}
	return name
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
	if t := s.Tolerance; t != nil {
		list = append(list, p.statement(&t.Statement)...)
		for _, scale := range t.Scales {
			list = append(list, p.rule(measure.Say("sold by the %s: %s", p.unitNames(s, scale.Units), p.steps(scale.Units[0], t)), t.Known))
		}
	}
	return list
}

// unitNames names the units of a set that are among some, each once.
func (p *Printer) unitNames(s rules.Set, among []rules.UnitCode) string {
	var names []string
	for _, u := range s.Units {
		if name := p.say(u.Name); slices.Contains(among, u.Unit) && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// steps words how much may be missing of a quantity of each size.
func (p *Printer) steps(unit rules.UnitCode, t *rules.Tolerance) string {
	print := p.SoldIn(unit)
	var list []string
	for _, step := range t.StepsFor(unit) {
		size := p.say("more than that")
		switch {
		case step.Below > 0:
			size = p.say("less than %s", print.Volume(step.Below))
		case step.To > 0:
			size = p.say("up to %s", print.Volume(step.To))
		}
		allowed := p.say("%s %% of it", p.decimal(100*step.Share, 2))
		if step.Amount > 0 {
			allowed = print.Volume(step.Amount)
		}
		list = append(list, p.say("of %s, %s", size, allowed))
	}
	return strings.Join(list, "; ")
}

// moistureRules are what is said of dryness and each limit.
func (p *Printer) moistureRules(m *rules.Moisture) []Rule {
	if m == nil {
		return nil
	}
	list := p.statement(&m.Statement)
	for _, l := range m.Limits {
		list = append(list, p.rule(measure.Say("%s", p.LimitRule(l)), l.Known))
	}
	return list
}

// LimitRule words a limit of moisture, never without its basis or that its text names
// none.
func (p *Printer) LimitRule(l rules.MoistureLimit) string {
	words := p.limitOnBasis(l)
	for _, part := range []struct{ key, text string }{
		{"%s; for %s", l.Only}, {"%s; read by %s", l.Method}, {"%s; kept by %s", l.Whose}, {"%s; %s", l.Reading},
	} {
		if part.text != "" {
			words = p.say(part.key, words, p.say(part.text))
		}
	}
	if l.Under != nil {
		words = p.say("%s; for less than %s", words, p.bound(l.Under.Volume))
	}
	if l.From != "" {
		words = p.say("%s; from %s", words, p.day(l.From))
	}
	if l.Until != "" {
		words = p.say("%s; until %s", words, p.day(l.Until))
	}
	return words
}

// limitOnBasis words a limit with what it is on both bases.
func (p *Printer) limitOnBasis(l rules.MoistureLimit) string {
	wet, dry := l.On(wood.Wet), l.On(wood.Dry)
	switch l.Basis {
	case wood.Wet:
		return p.say("%s %s, which is %s on a meter", p.say(l.Compare), p.Moisture(wet), p.Moisture(wet.Dry()))
	case wood.Dry:
		return p.say("%s %s, which is %s", p.say(l.Compare), p.Moisture(dry), p.Moisture(dry.Wet()))
	}
	return p.say("%s %s or %s: the text does not say which, so readings are held against the first", p.say(l.Compare), p.Moisture(dry), p.Moisture(wet))
}

// seasonedRules are what is said of “seasoned”.
func (p *Printer) seasonedRules(s rules.Set) []Rule {
	if s.Seasoned == nil {
		return nil
	}
	return p.statement(&s.Seasoned.Statement)
}

// movingRules are what is said of moving wood, each with what frees the wood.
func (p *Printer) movingRules(s rules.Set) []Rule {
	var list []Rule
	for _, m := range s.Moving {
		words := p.Say(m.Text())
		if m.Heat != nil {
			words = p.say("%s Heat-treated is: %s at the core for %d minutes.", words, m.Heat.Core, m.Heat.Minutes)
		}
		if m.Whom != "" {
			words = p.say("%s It binds %s.", words, p.say(m.Whom))
		}
		if m.From != "" {
			words = p.say("%s From %s.", words, p.day(m.From))
		}
		list = append(list, p.rule(measure.Say("%s %s", words, s.AskAgriculture()), m.Known))
	}
	return list
}

// printedRules are the texts that a receipt carries, and with which loads.
func (p *Printer) printedRules(s rules.Set) []Rule {
	var list []Rule
	for _, text := range s.Printed {
		words := p.say("“%s”", p.Say(text.Text()))
		switch {
		case text.From != nil:
			words = p.say("with %s or more: %s", p.bound(text.From.Volume), words)
		case text.Under != nil:
			words = p.say("with less than %s: %s", p.bound(text.Under.Volume), words)
		}
		list = append(list, p.rule(measure.Say("%s", words), text.Known))
	}
	return list
}

// Gaps are what a set does not hold: what was looked for and not found, and what it says
// nothing of.
func (p *Printer) Gaps(s rules.Set) []string {
	var gaps []string
	for _, gap := range s.Gaps {
		gaps = append(gaps, p.say("Not found, or not read: %s.", p.say(gap)))
	}
	for _, part := range []struct {
		there bool
		what  string
	}{
		{s.Tolerance != nil, "a tolerance for a quantity"}, {s.Reading != nil, "how finely lengths are read"}, {s.Shares != nil, "a tolerance for shares of species"},
		{s.Moisture != nil, "anything on dryness"}, {s.Retention != nil, "how long copies are kept"}, {s.Tax != nil, "anything on tax"}, {len(s.Moving) > 0, "rules on moving wood"},
		{s.Lots != nil, "a plan for judging packaged lots, so that of NIST Handbook 133 is taken"},
	} {
		if !part.there {
			gaps = append(gaps, p.say("It holds nothing on this: %s.", p.say(part.what)))
		}
	}
	return gaps
}

// Unread counts the items of a set whose source nobody has read: second-hand, and from
// memory.
func (p *Printer) Unread(s rules.Set) string {
	read, second, memory := s.HowKnown()
	return p.say("Of its rules %d were read at their source, %d are second-hand and %d are from memory.", read, second, memory)
}

// day words a date of a rule set.
func (p *Printer) day(text string) string {
	on, err := act.ParseDate(text)
	if err != nil {
		return text
	}
	return p.Date(on)
}

// bound words a bound as its law gives it: in cubic metres where those are round.
func (p *Printer) bound(v measure.Volume) string {
	if v%(measure.CubicMetre/10) == 0 {
		return p.SoldIn(rules.CubicMetre).Volume(v)
	}
	return p.Volume(v)
}

// shareRules are what is said of stated shares of species.
func (p *Printer) shareRules(s rules.Set) []Rule {
	if s.Shares == nil {
		return nil
	}
	return p.statement(&s.Shares.Statement)
}

// pieceRules are what is said of the length of pieces.
func (p *Printer) pieceRules(s rules.Set) []Rule {
	if s.Pieces == nil {
		return nil
	}
	return p.statement(&s.Pieces.Statement)
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
