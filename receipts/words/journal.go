//go:build !wasm

package words

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/journal"
)

// JournalLine is who did what, and when, of something's history.
func (p *Printer) JournalLine(l journal.Line, zone string) string {
	when := p.Time(l.At, zone)
	if l.Verb == journal.Tables {
		return p.Say(measure.Say("%s: the journal goes back to here", when))
	}
	verb := measure.Say(l.Verb)
	if l.Person == "" {
		return p.Say(measure.Say("%s: %s", when, verb))
	}
	return p.Say(measure.Say("%s: %s, by %s", when, verb, l.Person))
}

// JournalFields names what an act changed of rows that were there, empty for none.
func (p *Printer) JournalFields(l journal.Line) string {
	var names []string
	for _, r := range l.Rows {
		for _, f := range r.Fields {
			name := p.Say(measure.Say(strings.ReplaceAll(f, "_", " ")))
			if f != "version" && f != "changed" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	if len(names) == 0 {
		return ""
	}
	return p.Say(measure.Say("changed: %s", strings.Join(names, ", ")))
}
