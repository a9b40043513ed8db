// Package words makes text for people: it turns what measure and orders say, and
// the figures in it, into the reader's language and units. English in place is
// the key of a text; a language is a catalogue of such keys.
package words

import (
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/message/catalog"
	"golang.org/x/text/number"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
)

// A Printer words text in one language and one system of units. Many goroutines
// may use one.
type Printer struct {
	text  *message.Printer
	units measure.Units
	unit  rules.UnitCode // that quantities are given in; empty: as the units go
	set   rules.Set      // whose barred terms no fault repeats
	small bool           // of wood sold in packages: in cubic feet or litres
	speak Catalogue      // nil: English
}

// A Catalogue gives the text of a key in a language, with the key's verbs in any order
// (%[2]s), and tells whether it has one. What it lacks is printed in English.
type Catalogue func(key string) (text string, found bool)

// catalogues are the languages there are besides English, by tag.
var catalogues = map[string]Catalogue{}

// AddLanguage makes a language known, a BCP 47 tag, to printers that are made afterwards.
// It is for the start of a program: printers made meanwhile may miss it.
func AddLanguage(tag string, c Catalogue) { catalogues[tag] = c }

// english has no text: a key is one.
var english = catalog.NewBuilder(catalog.Fallback(language.English))

// New makes a printer for a language, a BCP 47 tag, and a system of units. A
// language without a catalogue is printed in English; units other than
// measure.Metric are imperial.
func New(tag string, units measure.Units) *Printer {
	spoken, known := language.English, catalogues[tag]
	if known != nil {
		spoken = language.Make(tag)
	}
	return &Printer{text: message.NewPrinter(spoken, message.Catalog(english)), units: units, speak: known}
}

// SoldIn is a printer that gives quantities in a unit of sale: rules.Cord,
// rules.CubicFoot or rules.CubicMetre. Empty is as the units go.
func (p *Printer) SoldIn(unit rules.UnitCode) *Printer {
	sold := *p
	sold.unit = unit
	return &sold
}

// UnitOfSale is the unit that quantities are given in, empty as the units go.
func (p *Printer) UnitOfSale() rules.UnitCode { return p.unit }

// Under is a printer that gives quantities in a unit that a rule set sells by, and
// never says a term it bars in a fault.
func (p *Printer) Under(set rules.Set) *Printer {
	under := p.SoldIn(set.SoldIn(p.metric()))
	under.set = set
	return under
}

// Say words a text with its figures in the reader's units. Besides the arguments
// that measure.Say names, money.Money and act.Date are worded too.
func (p *Printer) Say(t measure.Text) string {
	return p.say(t.Key, t.Args...)
}

func (p *Printer) say(key string, args ...any) string {
	key = p.withoutCords(key)
	if p.speak != nil {
		if text, found := p.speak(key); found {
			key = text
		}
	}
	if len(args) == 0 {
		return p.text.Sprintf(message.Key(key, strings.ReplaceAll(key, "%", "%%")))
	}
	worded := make([]any, len(args))
	for i, arg := range args {
		worded[i] = p.word(arg)
	}
	return p.text.Sprintf(key, worded...)
}

func (p *Printer) word(arg any) any {
	switch v := arg.(type) {
	case measure.Length:
		return p.Length(v)
	case measure.Volume:
		return p.Volume(v)
	case measure.Quantity:
		return p.Quantity(v)
	case measure.Text:
		return p.Say(v)
	case string:
		switch measure.Basis(v) { // as results have kept it since model 1
		case measure.Ranked, measure.Loose, measure.Container:
			return p.say(v)
		}
	case int: // the number of a paper, a year or a count: as it stands everywhere else
		return number.Decimal(v, number.NoSeparator())
	}
	if wordSale != nil {
		return wordSale(p, arg)
	}
	return arg
}

// wordSale words what only a sale has: money and dates. It is nil in the browser's build,
// which measures and sells nothing.
var wordSale func(p *Printer, arg any) any

// InCords tells whether quantities of ranked wood are given in cords.
func (p *Printer) InCords() bool {
	return !p.small && (p.unit == rules.Cord || p.unit == "" && !p.metric())
}

// The least quantities of ranked wood that are given in cords. Packages below an eighth
// of a cord are sold by the cubic foot or the litre (NIST Handbook 130, Uniform
// Regulation for the Method of Sale, 2.4.3(a), from memory); what nobody called a
// package is taken for one where cords would come in hundredths.
const (
	packageSize = measure.Cord / 8
	leastInCord = measure.Cord / 20
)

// sized is a printer for the amounts of a result: those of a package in cubic feet or
// litres, never in thousandths of a cord.
func (p *Printer) sized(r stack.Result) *Printer {
	least := leastInCord
	if r.Procedure != nil {
		least = packageSize
	}
	if r.Quantity.Basis != measure.Ranked || r.Quantity.Volume >= least || r.Finding != nil && r.Finding.Due >= least {
		return p
	}
	sized := *p
	sized.small = true
	return &sized
}

// GaugeUnit is the unit a gauge is drawn in.
func (p *Printer) GaugeUnit() measure.Volume {
	switch {
	case p.InCords():
		return measure.Cord
	case p.InMetres():
		return measure.CubicMetre
	}
	return measure.CubicFoot
}

// InMetres tells whether volumes are given in cubic metres, not in cubic feet.
func (p *Printer) InMetres() bool {
	return p.unit == rules.CubicMetre || p.unit == "" && p.metric()
}

func (p *Printer) metric() bool { return p.units == measure.Metric }
