package words

import (
	"slices"
	"strings"

	"wellstowed/measure/rules"
)

// A cited source is one publication, with its sections and what is said of how they are
// known, each once.
type cited struct {
	mark, name      string // "read", "NIST Handbook 130, …"
	sections, notes []string
}

// AuditSources are the sources of the rules that a volume is audited by, each once, with
// its sections; of shares of species only where those were counted. The set is one that
// holds no barred term.
func (p *Printer) AuditSources(set rules.Set, shares bool) []string {
	var all []*cited
	cite := func(k rules.Known) {
		name, tail, _ := strings.Cut(k.Source, ", section ")
		mark := p.say(string(k.Status))
		i := slices.IndexFunc(all, func(c *cited) bool { return c.name == name && c.mark == mark })
		if i < 0 {
			i = len(all)
			all = append(all, &cited{mark: mark, name: name})
		}
		section, note, _ := strings.Cut(tail, "; ")
		all[i].add(section, strings.TrimRight(note, "."))
	}
	cite(set.Known)
	for _, k := range governing(set, shares) {
		cite(k)
	}
	lines := make([]string, len(all))
	for i, c := range all {
		lines[i] = c.line(p)
	}
	return lines
}

// governing is how the rules are known that a volume is audited by.
func governing(set rules.Set, shares bool) []rules.Known {
	var all []rules.Known
	for _, u := range set.Units {
		all = append(all, u.Known)
	}
	for _, f := range set.Required {
		all = append(all, f.Known)
	}
	for _, m := range slices.Concat(set.Ranked, set.Loose) {
		all = append(all, m.Known)
	}
	if set.Reading != nil {
		all = append(all, set.Reading.Known)
	}
	if set.Tolerance != nil {
		all = append(all, set.Tolerance.Known)
	}
	if shares && set.Shares != nil {
		all = append(all, set.Shares.Known)
	}
	if set.Procedure != nil {
		all = append(all, set.Procedure.Known)
	}
	return all
}

func (c *cited) add(section, note string) {
	if section != "" && !slices.Contains(c.sections, section) {
		c.sections = append(c.sections, section)
	}
	if note != "" && !slices.Contains(c.notes, note) {
		c.notes = append(c.notes, note)
	}
}

func (c *cited) line(p *Printer) string {
	line := p.say("%s: %s", c.mark, c.name)
	if len(c.sections) > 0 {
		line = p.say("%s, section %s", line, strings.Join(c.sections, ", "))
	}
	if len(c.notes) > 0 {
		line = p.say("%s (%s)", line, strings.Join(c.notes, "; "))
	}
	return line
}
