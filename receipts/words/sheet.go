//go:build !wasm

package words

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// ReceiptRef names a receipt by its number, day and seal.
func (p *Printer) ReceiptRef(r orders.ReceiptRef) string {
	return p.say("Receipt %s of %s, seal %s", strconv.FormatInt(r.Number, 10), r.On, r.Seal)
}

// Said is a text as said, or that nothing was.
func (p *Printer) Said(text string) string {
	if text == "" {
		return p.say("not said")
	}
	return text
}

// Top says how the top of the wood was judged.
func (p *Printer) Top(t stack.Top) string {
	if t == stack.Straightedge {
		return p.say("with a straightedge")
	}
	return p.say("by eye")
}

// Stowing says how the stowing was looked at.
func (p *Printer) Stowing(s stack.Stowing, gaps stack.Gaps) string {
	switch s {
	case stack.StowingChecked:
		return p.say("checked")
	case stack.StowingCounted:
		return p.say("%d gaps in %d pieces", gaps.Count, gaps.Pieces)
	}
	return p.say("not checked")
}

// Answered are the figures of a result: what is here, give or take what, of how much.
func (p *Printer) Answered(t stack.Tally, r stack.Result) []Fact {
	sold := p.say("not said")
	if t.Sold != nil {
		sold = p.Quantity(t.Sold.Quantity)
	}
	facts := []Fact{
		{p.say("Measured, as it stood"), p.Quantity(r.Quantity)}, {p.say("Give or take, 19 times in 20"), p.Doubt(r)}, {p.say("Sold"), sold},
	}
	if f := r.Finding; f != nil {
		facts = append(facts, Fact{p.say("Due here"), p.Quantity(measure.Quantity{Volume: f.Due, Basis: f.Sold.Basis})})
	}
	return facts
}

// HowRead are the circumstances of a tally, each said or not said to be said.
func (p *Printer) HowRead(t stack.Tally, r stack.Result) []Fact {
	tape := p.ForTape(t.Tape)
	facts := []Fact{
		{p.say("Not in the stack"), p.Apart(t.Apart)},
		{p.say("Condition of the wood"), p.Said(t.Condition)},
		{p.say("Top of the wood"), p.Top(t.Top)}, {p.say("Readings between two marks"), p.Rounded(t.Rounded)},
		{p.say("Smallest mark of the tape"), tape.Reading(t.Tape)}, {p.say("The tape is made of"), p.TapeMade(t.TapeMade)},
		{p.say("Stowing"), p.Stowing(t.Stowed, t.Gaps)}, {p.say("Heights include, below the wood"), tape.Reading(t.Raised)},
	}
	if t.Look > 1 {
		facts = append(facts, Fact{p.say("Since the check before"), p.Stacked(t.Stacked, t.StackedBy)})
	}
	if held := p.HeldBy(r); held != "" {
		facts = append(facts, Fact{p.say("Held back by"), held})
	}
	return append(facts, Fact{p.say("Check, and α"), p.Look(r, t.Look)}, Fact{p.say("Model"), strconv.Itoa(r.Model)})
}

// ProcedureTable is a procedure's result in a few lines, each with its name.
func (p *Printer) ProcedureTable(r procedure.Result) []Fact {
	table := []Fact{{p.say("Result, rounded its way"), p.ProcedureVolume(r)}}
	if r.Error != nil {
		miss, key := *r.Error, "More than is due"
		if miss < 0 {
			miss, key = -miss, "Less than is due"
		}
		table = append(table, Fact{p.say(key), p.say("%s", miss)}, Fact{p.say("Judged"), p.ProcedureWord(r.Word)})
	}
	if lacking := len(p.lacking(r)); lacking > 0 {
		table = append(table, Fact{p.say("Readings it asks for and lacks"), p.say("%d kinds", lacking)})
	}
	return table
}

// Rounded says how readings fall between the marks of the tape.
func (p *Printer) Rounded(r stack.Rounding) string {
	switch r {
	case stack.RoundNearest:
		return p.say("to the nearest mark")
	case stack.RoundDown:
		return p.say("down to the mark below")
	}
	return p.say("not said how")
}

// TapeMade says what a tape is made of.
func (p *Printer) TapeMade(made stack.TapeMade) string {
	switch made {
	case stack.SteelTape:
		return p.say("steel")
	case stack.ClothTape:
		return p.say("cloth or fibreglass")
	}
	return p.say("not said")
}

// HeldBy names what holds short or full back, in a word or two each; empty where nothing
// does.
func (p *Printer) HeldBy(r stack.Result) string {
	if r.Finding == nil {
		return ""
	}
	var names []string
	for _, by := range slices.Concat(r.Finding.HeldBack, r.Finding.HeldFromFull) {
		if name := p.say(holdName(by)); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// holdName is what holds a result back in a word or two.
func holdName(by stack.Hold) string {
	switch by {
	case stack.HeldByApart:
		return "wood not in this stack"
	case stack.HeldByUse:
		return "use"
	case stack.HeldByKind:
		return "the way it lies"
	case stack.HeldByPieces:
		return "few pieces measured"
	case stack.HeldByHeights:
		return "heights"
	case stack.HeldByPhoto:
		return "photo"
	case stack.HeldByRounding:
		return "rounding"
	case stack.HeldByCribs:
		return "criss-cross ends"
	case stack.HeldByStowing:
		return "stowing"
	case stack.HeldByEnds:
		return "ends not said"
	}
	return string(by)
}

// Look words the number of a look and the α it is held to.
func (p *Printer) Look(r stack.Result, look int) string {
	if r.Finding == nil {
		return strconv.Itoa(look)
	}
	return p.say("check %d, α = %s", look, strconv.FormatFloat(r.Finding.Alpha, 'g', -1, 64))
}

// Reader names who took the readings: "Ida Thornquist (buyer)".
func (p *Printer) Reader(name string, party stack.Party) string {
	switch {
	case name == "":
		return p.Party(party)
	case party == "":
		return name
	}
	return p.say("%s (%s)", name, p.Party(party))
}

// Smaller names what is left of a doubt budget.
func (p *Printer) Smaller(n int) string { return p.say("%d smaller ones", n) }

// Coverage says how the doubt was made from the standard doubt.
func (p *Printer) Coverage(r stack.Result) string {
	degrees := p.say("without limit")
	if d := float64(r.Degrees); !math.IsInf(d, 1) {
		degrees = p.decimal(d, 0)
	}
	return p.say("Give or take (expanded uncertainty, 95 %%) = %s × %s = %s; degrees of freedom %s. Combined as in JCGM 100:2008.",
		p.decimal(r.Coverage, 3), r.Standard, r.Expanded, degrees)
}

// NotOfficial says what a result is not.
func (p *Printer) NotOfficial(model int) string {
	return p.say("Worked out by measuring model %d of this program: a measurement of the wood as it stood, not an official result.", model)
}

// At words the place of a reading along a row.
func (p *Printer) At(l measure.Length) string { return p.say("at %s", p.Reading(l)) }

// Nominal says of a piece length that nobody measured it.
func (p *Printer) Nominal(l measure.Length) string {
	return p.say("%s as said, not measured", p.Reading(l))
}

// RowLine words what was read of a row besides its heights.
func (p *Printer) RowLine(n int, row stack.Row) string {
	if row.Photo != nil {
		return p.say("Row %d: its face read from a photo", n)
	}
	parts := []string{p.say("Row %d: %s long", n, p.lengthsOf(row))}
	parts = append(parts, p.say("first end %s", p.end(row.Ends[0])), p.say("second end %s", p.end(row.Ends[1])))
	return strings.Join(append(parts, p.voids(row)...), "; ")
}

// RowShapes word how rows end and their gaps, a line for each row where not all are
// upright and whole.
func (p *Printer) RowShapes(rows []stack.Row) []string {
	var lines []string
	plain, unsaid := true, true
	for i, row := range rows {
		upright := row.Ends[0].Kind == stack.Upright && row.Ends[1].Kind == stack.Upright && !row.Ends[0].Unsaid && !row.Ends[1].Unsaid
		plain = plain && upright && len(row.Voids) == 0
		unsaid = unsaid && row.Ends[0].Unsaid && row.Ends[1].Unsaid && len(row.Voids) == 0
		parts := []string{p.say("Row %d: first end %s", i+1, p.end(row.Ends[0])), p.say("second end %s", p.end(row.Ends[1]))}
		lines = append(lines, strings.Join(append(parts, p.voids(row)...), "; "))
	}
	switch {
	case plain:
		return []string{p.say("Every row is upright at both ends, without a gap that takes a piece.")}
	case unsaid:
		return []string{p.say("How the rows end was not said; they are taken as upright.")}
	}
	return lines
}

func (p *Printer) voids(row stack.Row) (gaps []string) {
	for _, v := range row.Voids {
		gaps = append(gaps, p.say("gap %s × %s", p.Reading(v.Width), p.Reading(v.Height)))
	}
	return gaps
}

// lengthsOf is a row's length as read, at several heights where it was.
func (p *Printer) lengthsOf(row stack.Row) string {
	if len(row.Lengths) == 0 {
		return p.Reading(row.Length)
	}
	read := make([]string, len(row.Lengths))
	for i, l := range row.Lengths {
		read[i] = p.Reading(l)
	}
	return strings.Join(read, ", ")
}

func (p *Printer) end(e stack.End) string {
	if e.Unsaid {
		return p.say("not said, taken as upright")
	}
	switch e.Kind {
	case stack.Shouldered:
		return p.say("shouldered, %s down over %s", p.Reading(e.Drop), p.Reading(e.Over))
	case stack.Tapered:
		return p.say("tapered over %s", p.Reading(e.Over))
	case stack.Cribbed:
		return p.say("cribbed over %s", p.Reading(e.Over)) + p.judged(e)
	}
	return p.say("upright")
}

func (p *Printer) judged(e stack.End) string {
	if !e.Judged {
		return ""
	}
	return p.say(", %s of it wood", p.Percent(e.Share))
}
