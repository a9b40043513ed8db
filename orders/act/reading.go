package act

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// Units is the system a shop prints in.
type Units = measure.Units

// The systems of units.
const (
	Imperial = measure.Imperial
	Metric   = measure.Metric
)

// Refused notes a fault of a rule set, if there is one, at a field and what was typed.
func (f *Fields) Refused(field, text string, fault *measure.InputError) {
	if fault != nil {
		f.Add(field, fault.Code, text, fault.Reason, fault.Accepts)
	}
}

// AcceptedQuantities says how much wood is read, by examples.
func AcceptedQuantities() measure.Text {
	return measure.Say("how much wood, such as 64 cu ft or 3.6 m³ stacked")
}

// PieceLength reads a piece length that has to be said.
func (f *Fields) PieceLength(set rules.Set, units Units, text string) measure.Length {
	if text == "" {
		f.Missing("piece_length", measure.Say("how long the pieces are, such as 16 in"))
		return 0
	}
	return f.PieceOf(set, units, "piece_length", text)
}

// PieceOf reads a piece length; empty is 0.
func (f *Fields) PieceOf(set rules.Set, units Units, field, text string) measure.Length {
	unit := measure.Inch
	if units == Metric {
		unit = measure.Centimetre
	}
	if text == "" {
		return 0
	}
	length, err := set.Terms(0).ParseLength(text, unit)
	if !f.Parsed(field, err) {
		return 0
	}
	if length <= 0 || length > measure.MaxPieceLength {
		f.Add(field, "out-of-range", text, measure.Say("pieces are not that long"),
			measure.Say("more than nothing, up to %s", measure.MaxPieceLength))
		return 0
	}
	return length
}

// Spell writes a quantity exactly in a unit the set sells by.
func Spell(set rules.Set, units Units, q measure.Quantity) string {
	return set.Spell(q, units == Metric)
}

// SaidUnder reads how much wood in words under the shop's rules, with what it comes to
// taken to what is printed of it where it has to be read back. It asks whether wood is
// stacked or loose where the words may mean both, and refuses words on anything else,
// which have fields of their own.
func (f *Fields) SaidUnder(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	said := f.SaidWith(set, units, field, text, piece)
	if len(said.Rest) > 0 {
		f.Add(field, "not-asked", text, measure.Say("only how much wood it is belongs here, not “%s”", said.Rest[0]), measure.Say("a quantity such as %s", Spell(set, units, said.Quantity)))
	}
	return said
}

// SaidWith reads how much wood as SaidUnder does, with words on the wood; a piece length
// among them beside another that is known is Refused.
func (f *Fields) SaidWith(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	said := f.SaidOf(set, set.Terms(piece), units, field, text)
	if said.PieceLength != 0 && piece != 0 && said.PieceLength != piece {
		f.Add(field, "two-lengths", text, measure.Say("the words say pieces of %s, and they are %s", said.PieceLength, piece), measure.Say("the same without a piece length"))
	}
	return said
}

// SaidOf reads a quantity in words under terms of the shop's rules.
func (f *Fields) SaidOf(set rules.Set, terms measure.Terms, units Units, field, text string) measure.Said {
	said, err := terms.ParseQuantity(text)
	if !f.Parsed(field, err) {
		return measure.Said{}
	}
	f.Refused(field, text, set.Ask(field, said))
	if terms := set.BarredIn(text); said.Barred == "" && len(terms) > 0 {
		said.Barred = slices.MaxFunc(terms, func(a, b string) int { return len(a) - len(b) })
	}
	if said.Barred != "" || Prepared(set, said) {
		said.Quantity = set.Round(said.Quantity, units == Metric)
	}
	return said
}

// Prepared tells whether a quantity was said in cords whose size hangs on how the
// wood is prepared.
func Prepared(set rules.Set, said measure.Said) bool { return said.Cord > 0 && set.CordVaries() }

// Ticked reads a box: "yes", or nothing where it was left empty.
func (f *Fields) Ticked(field, text string) bool {
	if text != "" && text != "yes" {
		f.Add(field, "unknown", text, measure.Say("this is none of the choices"), measure.Say("yes, or nothing"))
	}
	return text == "yes"
}

// Yes reads an answer; none is a fault, for a silent “no” would hide a question.
func (f *Fields) Yes(field, text string) bool {
	switch text {
	case "yes":
		return true
	case "no":
		return false
	}
	f.Add(field, "unknown", text, measure.Say("it is not said"), measure.Say("yes or no"))
	return false
}

// ReadOn reads the day of the readings; empty is today, and none is later.
func (f *Fields) ReadOn(text string, today Date) Date {
	if text == "" {
		return today
	}
	on, err := ParseDate(text)
	if f.Parsed("on", err) && on.After(today) {
		f.Add("on", "future", text, measure.Say("it is later than today"), measure.Say("a day up to %s", today.String()))
	}
	return on
}

// A Font tells which characters of a text a paper cannot print.
type Font interface {
	Printable(text string) (missing []rune)
}

// Printable notes what of a text for print the font lacks; it returns the text.
func (f *Fields) Printable(font Font, field, text string) string {
	if lacking := Lacking(font, text); lacking != "" {
		f.Add(field, "unprintable", "", measure.Say("the paper's font has no %s", lacking),
			measure.Say("a spelling without these characters"))
	}
	return text
}

// Lacking lists the characters of text that cannot be printed, empty when all can.
func Lacking(font Font, text string) string {
	var b strings.Builder
	for i, r := range font.Printable(strings.ReplaceAll(text, "\n", " ")) {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// RulesOf is the rule set with a code; Conflict where it is in none of the files the
// program was started with.
func RulesOf(book rules.Book, code string) (rules.Set, error) {
	set, err := book.Get(code)
	if err != nil {
		return rules.Set{}, NewConflict("the shop’s rules of sale, %s, are not among those the program was started with: start it with their file, or pick others in the shop’s settings", code)
	}
	return set, nil
}
