package receipts

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// A mention is how a field stands on a paper where that isn't once, in the words that
// are usual for its type.
type mention struct {
	never string               // why it is not printed
	times int                  // how often; 0: once
	say   func(v any) string   // its words; nil: the usual
	says  func(v any) []string // several texts, each once
	least bool                 // it may be there more often
	texts bool                 // of what is in it, only sentences are looked for
}

// never is a field that isn't printed, and why.
func never(why string) mention { return mention{never: why} }

// times is a field that is printed more than once.
func times(n int) mention { return mention{times: n} }

// sentences is a field of whose parts the sentences are printed, each once.
func sentences() mention { return mention{texts: true} }

// as is a field that is printed in other words than its type's.
func as[T any](say func(T) string) mention {
	return mention{say: func(v any) string { return say(v.(T)) }}
}

// An oracle looks for everything that a paper was painted of in the paper's text. What
// it looks for is found by reflection: a field that is added must be printed, or be
// said here not to be.
type oracle struct {
	t        *testing.T
	name     string
	print    *words.Printer
	zone     string
	readings []string           // the text, in several orders of reading
	mentions map[string]mention // by path, or by the path's beginning with "*" after it
	used     map[string]bool
	faults   []string
}

// footersBelow is where the footers of pages stand, in points from the foot.
const footersBelow = 25

// consult holds a paper against what it was painted of.
func consult(t *testing.T, name string, p *Painter, pdf []byte, print *words.Printer, zone string, mentions map[string]mention, of any, used map[string]bool) {
	t.Helper()
	all := readPDF(t, p, pdf)
	requireLegible(t, name, pdf, all)
	text := slices.DeleteFunc(all, func(text painted) bool { return text.y < footersBelow })
	o := oracle{t: t, name: name, print: print, zone: zone, mentions: mentions, used: used,
		readings: []string{inColumns(text), asPainted(text), onLines(text)}}
	o.walk(reflect.ValueOf(of), reflect.TypeOf(of).Name())
	require.Empty(t, o.faults, "%s:\n%s\n\n%s", name, strings.Join(o.faults, "\n"), o.readings[1])
}

func (o *oracle) mention(path string) (mention, bool) {
	for key := path; ; {
		if m, found := o.mentions[key]; found {
			o.used[key] = true
			return m, true
		}
		cut := strings.LastIndex(strings.TrimSuffix(key, ".*"), ".")
		if cut < 0 {
			return mention{}, false
		}
		key = key[:cut] + ".*"
	}
}

func (o *oracle) walk(v reflect.Value, path string) {
	m, declared := o.mention(path)
	switch {
	case m.never != "" && (o.exactly(path) || !o.saysMoreBelow(path)):
		return
	case m.texts:
		o.sentences(v, path)
		return
	case v.Kind() == reflect.Pointer || v.Kind() == reflect.Interface:
		if !v.IsNil() {
			o.walk(v.Elem(), path)
		}
		return
	case declared && m.says != nil:
		for _, text := range m.says(v.Interface()) {
			o.find(path, text, 1, m.least)
		}
		return
	case declared && m.say != nil:
		o.find(path, m.say(v.Interface()), max(m.times, 1), m.least)
		return
	}
	if texts, plain := o.usual(v); plain {
		for _, text := range texts {
			o.find(path, text, max(m.times, 1), m.least)
		}
		return
	}
	switch v.Kind() {
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			o.walk(v.Index(i), path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.Anonymous {
				o.walk(v.Field(i), path)
			} else if f.IsExported() {
				o.walk(v.Field(i), path+"."+f.Name)
			}
		}
	default:
		o.faults = append(o.faults, fmt.Sprintf("%s (%s): say how it is printed, or why not", path, v.Type()))
	}
}

// sentences looks for the texts that a value holds, each of which must be there once.
func (o *oracle) sentences(v reflect.Value, path string) {
	if text, ok := v.Interface().(measure.Text); ok {
		o.find(path, o.print.Say(text), 1, false)
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			o.sentences(v.Elem(), path)
		}
	case reflect.Slice:
		for i := range v.Len() {
			o.sentences(v.Index(i), path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				o.sentences(v.Field(i), path+"."+f.Name)
			}
		}
	}
}

// exactly tells whether something is said of the field itself.
func (o *oracle) exactly(path string) bool {
	_, found := o.mentions[path]
	return found
}

// saysMoreBelow tells whether something is said of a field within a field.
func (o *oracle) saysMoreBelow(path string) bool {
	for key := range o.mentions {
		if strings.HasPrefix(key, path+".") {
			return true
		}
	}
	return false
}

// usual are the words for a value that are usual for its type.
func (o *oracle) usual(v reflect.Value) (texts []string, plain bool) {
	switch x := v.Interface().(type) {
	case string:
		return strings.Split(x, "\n"), true
	case int:
		return []string{strconv.Itoa(x)}, true
	case int64:
		return []string{strconv.FormatInt(x, 10)}, true
	case money.Money:
		return []string{o.print.Money(x)}, true
	case measure.Quantity:
		return []string{o.print.Quantity(x)}, true
	case measure.Length:
		return []string{o.print.Length(x)}, true
	case act.Date:
		return []string{o.print.Date(x)}, true
	case time.Time:
		return []string{o.print.Time(x, o.zone)}, true
	case measure.Text:
		return []string{o.print.Say(x)}, true
	case wood.Moisture:
		return []string{o.print.Moisture(x)}, true
	}
	return nil, false
}

// find looks for a text that must stand on the paper so many times, or at least so many.
func (o *oracle) find(path, text string, times int, least bool) {
	text = strings.Join(strings.Fields(tidy(text)), " ")
	if text == "" {
		return
	}
	found := 0
	for _, reading := range o.readings {
		found = max(found, mentioned(reading, text))
	}
	if found < times || found > times && !least {
		o.faults = append(o.faults, fmt.Sprintf("%s: %q is there %d times, not %d", path, text, found, times))
	}
}

// mentioned counts a text where it doesn't go on on either side.
func mentioned(in, text string) (n int) {
	for from := 0; ; {
		at := strings.Index(in[from:], text)
		if at < 0 {
			return n
		}
		at += from
		before, after := lastRune(in[:at]), firstRune(in[at+len(text):])
		if !goesOn(before, firstRune(text)) && !goesOn(lastRune(text), after) {
			n++
		}
		from = at + len(text)
	}
}

func goesOn(a, b rune) bool {
	of := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	return of(a) && of(b) || a == '.' && unicode.IsDigit(b)
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return ' '
}

func lastRune(s string) rune {
	last := ' '
	for _, r := range s[max(0, len(s)-4):] {
		last = r
	}
	return last
}

// paperFiller fills what papers print: lengths in inches, volumes in cubic feet, money in
// dollars.
func paperFiller(t testing.TB) *fill.Filler {
	f := fill.New(t)
	f.Choices = func(of reflect.Type) []string {
		switch of {
		case reflect.TypeFor[measure.Basis]():
			return []string{"ranked"}
		case reflect.TypeFor[yard.Seasoning]():
			return []string{"seasoned"}
		case reflect.TypeFor[orders.LineKind]():
			return []string{"other"}
		case reflect.TypeFor[wood.Method]():
			return []string{"pin meter"}
		case reflect.TypeFor[wood.Verdict]():
			return []string{string(wood.Below)}
		}
		return nil
	}
	f.Number = func(of reflect.Type, n int64) int64 {
		switch of {
		case reflect.TypeFor[measure.Length]():
			return n * int64(measure.Inch)
		case reflect.TypeFor[measure.Volume]():
			return n * int64(measure.Cord) / 16
		case reflect.TypeFor[int64]():
			return n*1_000 + 437 // money in cents, and numbers of papers
		case reflect.TypeFor[int]():
			return n + 5_000 // above those of the scale at the edge
		}
		return n
	}
	f.Shape = func(f *fill.Filler, path string) string {
		switch name := path[strings.LastIndex(path, ".")+1:]; name {
		case "Currency":
			return "USD"
		case "Address":
			return f.Word(path) + "\n" + f.Word(path)
		}
		return ""
	}
	return f
}

// ruled puts the rule set of a code on a paper's facts.
func ruled(t testing.TB, code string, units act.Units) orders.RuleSet {
	t.Helper()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get(code)
	require.NoError(t, err)
	return orders.RuleSet{Code: code, Name: set.Name, Edition: set.Edition, Unit: set.SoldIn(units == act.Metric)}
}

// underAll runs a check under every rule set, in every system of units and on every
// size of paper.
func underAll(t *testing.T, check func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper)) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for i, set := range book.All() {
		for _, units := range []act.Units{act.Imperial, act.Metric} {
			paper := []orders.Paper{orders.Letter, orders.A4}[i%2]
			check(t, ruled(t, set.Code, units), units, paper)
		}
	}
}

// underSome is underAll with one rule set, one system of units and one size of paper, the
// n-th of them.
func underSome(t *testing.T, n int, check func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper)) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	sets := book.All()
	units := []act.Units{act.Imperial, act.Metric}[n/len(sets)%2]
	check(t, ruled(t, sets[n%len(sets)].Code, units), units, []orders.Paper{orders.Letter, orders.A4}[n%2])
}

// allUsed fails where something is said of a field that no paper has.
func allUsed(t *testing.T, mentions map[string]mention, used map[string]bool) {
	t.Helper()
	for _, path := range slices.Sorted(maps.Keys(mentions)) {
		require.True(t, used[path], "there is no %s", path)
	}
}
