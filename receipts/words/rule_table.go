//go:build !wasm

package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// A RuleRow is a rule set in a line of a table, its cells in the order of RuleColumns after
// the code.
type RuleRow struct {
	Code  string   `json:"code"`
	Name  string   `json:"name"`
	Cells []string `json:"cells"`
}

// RuleSelling is how many cells of a RuleRow, from the first, are on selling.
const RuleSelling = 4

// RuleColumns are the heads of the table of all sets.
func (p *Printer) RuleColumns() []string {
	return []string{p.say("Set"), p.say("Sold by"), p.say("Loose"), p.say("Fields a receipt must hold"), p.say("Tolerance"), p.say("Dryness"), p.say("Moving"), p.say("Read / second-hand / from memory")}
}

// RuleTable puts sets side by side. It names no term that any of them bars.
func (p *Printer) RuleTable(sets []rules.Set) []RuleRow {
	rows := make([]RuleRow, len(sets))
	for i, s := range sets {
		read, second, memory := s.HowKnown()
		rows[i] = RuleRow{s.Code, s.Name, []string{
			p.soldBy(s), p.yes(s.SellsOn(measure.Loose)), p.say("%d", asked(s)), p.toleranceOf(s), p.drynessOf(s), p.movingOf(s),
			p.say("%d / %d / %d", read, second, memory),
		}}
	}
	return rows
}

// soldBy names the units that any wood is sold by, each once.
func (p *Printer) soldBy(s rules.Set) string {
	names := map[rules.UnitCode]string{rules.Cord: "128 ft³", rules.LooseCord: "loose measure", rules.CubicFoot: "ft³", rules.CubicMetre: "m³"}
	var units []string
	seen := map[rules.UnitCode]bool{}
	for _, u := range s.Units {
		if name := names[u.Unit]; u.Only == "" && name != "" && !seen[u.Unit] {
			units = append(units, p.say(name))
			seen[u.Unit] = true
		}
	}
	return strings.Join(units, ", ")
}

// asked counts the fields that a law asks of a receipt.
func asked(s rules.Set) (n int) {
	for _, f := range s.Required {
		if !f.Advice {
			n++
		}
	}
	return n
}

func (p *Printer) toleranceOf(s rules.Set) string {
	switch {
	case s.Tolerance == nil:
		return p.say("none stated")
	case s.Tolerance.Percent > 0:
		return p.say("%s %%", p.decimal(s.Tolerance.Percent, 2))
	}
	return p.say("in steps")
}

// drynessOf words the first limit of moisture in all of the jurisdiction, or what else is
// said of dryness.
func (p *Printer) drynessOf(s rules.Set) string {
	if s.Seasoned != nil {
		return p.say("seasoned: %d months", s.Seasoned.Months)
	}
	if s.Moisture == nil {
		return p.say("nothing")
	}
	for _, l := range s.Moisture.Limits {
		if l.Only == "" {
			return p.limitOnBasis(l)
		}
	}
	return p.say("no figure")
}

// movingOf tells whether the set has rules on moving wood, and whether they ask something of
// a receipt.
func (p *Printer) movingOf(s rules.Set) string {
	switch {
	case len(s.Ways()) > 0:
		return p.say("rules, and a line on the receipt")
	case len(s.Moving) > 0:
		return p.say("rules")
	}
	return p.say("none held")
}

func (p *Printer) yes(yes bool) string {
	if yes {
		return p.say("yes")
	}
	return p.say("no")
}
