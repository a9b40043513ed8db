//go:build !wasm

package words

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// lotRules are what a set's own plan for packaged lots says, with its figures.
func (p *Printer) lotRules(l *rules.Lots) []Rule {
	if l == nil {
		return nil
	}
	list := p.statement(&l.Statement)
	list = append(list, p.rule(measure.Say("Packages to measure: %s.", p.lotSamples(l.Samples.Rows)), l.Samples.Known))
	var factors, short []string
	for _, row := range l.Factors.Rows {
		factors = append(factors, p.say("%d: %s", row.Packages, strconv.FormatFloat(row.T, 'f', 3, 64)))
	}
	for _, row := range l.Short.Rows {
		short = append(short, p.say("of up to %d: %d", row.To, row.FailsAt))
	}
	return append(list,
		p.rule(measure.Say("t by the number of packages measured: %s.", strings.Join(factors, ", ")), l.Factors.Known),
		p.rule(measure.Say("So many short by more than the tolerance make the lot fail: %s.", strings.Join(short, ", ")), l.Short.Known),
		p.rule(measure.Say("So many short by more than twice the tolerance make the lot fail: %d.", l.Twice.FailsAt), l.Twice.Known))
}

func (p *Printer) lotSamples(rows []rules.LotSample) string {
	var list []string
	for _, row := range rows {
		size := p.say("larger lots")
		if row.To > 0 {
			size = p.say("lots up to %d", row.To)
		}
		number := p.say("%d", row.Least)
		switch {
		case row.Percent == 100:
			number = p.say("all")
		case row.Percent > 0:
			number = p.say("%s %% of them, at least %d", p.decimal(row.Percent, 2), row.Least)
		}
		list = append(list, p.say("%s: %s", size, number))
	}
	return strings.Join(list, "; ")
}
