package words

import (
	"math"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
)

// Doubt words the expanded uncertainty of a result.
func (p *Printer) Doubt(r measure.Result) string {
	return p.sized(r).amount(r.Expanded, r.Quantity.Basis)
}

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
func (p *Printer) Top(t measure.Top) string {
	if t == measure.Straightedge {
		return p.say("with a straightedge")
	}
	return p.say("by eye")
}

// Stowing says how the stowing was looked at.
func (p *Printer) Stowing(s measure.Stowing, gaps measure.Gaps) string {
	switch s {
	case measure.StowingChecked:
		return p.say("checked")
	case measure.StowingCounted:
		return p.say("%d gaps in %d pieces", gaps.Count, gaps.Pieces)
	}
	return p.say("not checked")
}

// Look words the number of a look and the α it is held to.
func (p *Printer) Look(r measure.Result, look int) string {
	if r.Finding == nil {
		return strconv.Itoa(look)
	}
	return p.say("check %d, α = %s", look, strconv.FormatFloat(r.Finding.Alpha, 'g', -1, 64))
}

// Percent words a share: "42.1 %".
func (p *Printer) Percent(share float64) string { return p.say("%.1f %%", share*100) }

// Reader names who took the readings: "Ida Thornquist (buyer)".
func (p *Printer) Reader(name string, party measure.Party) string {
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
func (p *Printer) Coverage(r measure.Result) string {
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
func (p *Printer) RowLine(n int, row measure.Row) string {
	parts := []string{p.say("Row %d: %s long", n, p.lengthsOf(row))}
	parts = append(parts, p.say("first end %s", p.end(row.Ends[0])), p.say("second end %s", p.end(row.Ends[1])))
	for _, v := range row.Voids {
		parts = append(parts, p.say("gap %s × %s", p.Reading(v.Width), p.Reading(v.Height)))
	}
	return strings.Join(parts, "; ")
}

// lengthsOf is a row's length as read, at several heights where it was.
func (p *Printer) lengthsOf(row measure.Row) string {
	if len(row.Lengths) == 0 {
		return p.Reading(row.Length)
	}
	read := make([]string, len(row.Lengths))
	for i, l := range row.Lengths {
		read[i] = p.Reading(l)
	}
	return strings.Join(read, ", ")
}

func (p *Printer) end(e measure.End) string {
	switch e.Kind {
	case measure.Shouldered:
		return p.say("shouldered, %s down over %s", p.Reading(e.Drop), p.Reading(e.Over))
	case measure.Tapered:
		return p.say("tapered over %s", p.Reading(e.Over))
	case measure.Cribbed:
		return p.say("cribbed over %s", p.Reading(e.Over)) + p.judged(e)
	}
	return p.say("upright")
}

func (p *Printer) judged(e measure.End) string {
	if !e.Judged {
		return ""
	}
	return p.say(", %s of it wood", p.Percent(e.Share))
}
