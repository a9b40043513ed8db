package live

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/receipts/words"
	"wellstowed/web/form"
)

// RowsKind is the kind of stack whose form is laid out by hand.
const RowsKind = "rows"

// A Page is what a measuring page tells the phone that shows it, to answer by.
type Page struct {
	Kind  string        `json:"kind"` // of stack
	Set   string        `json:"set"`  // the code of the rules of sale
	Units measure.Units `json:"units"`
	Sale  *Sale         `json:"sale,omitempty"`  // nil where nothing is known of one
	Width int           `json:"width,omitempty"` // px that the drawings are shown at; 0 where it isn't known
	Face  int           `json:"face,omitempty"`  // the row that is tapped in its photo, from 1; 0 where none is
}

// A Sale is what is known of the sale besides the readings.
type Sale struct {
	Sold      string `json:"sold"`      // with its unit
	Container bool   `json:"container"` // it was sold in its container
	Check     int    `json:"check"`
	// Shrinkage is the most that the species sold shrink, in percent of the green volume.
	Shrinkage float64 `json:"shrinkage,omitempty"`
}

// A Field is one of a form as it is sent.
type Field struct{ Name, Value string }

// Part is the part of a measuring page that answers its form, as HTML, and whether it could
// be measured. An error is a fault of the program or the page, not of what was typed.
func Part(page Page, fields []Field) (part string, ok bool, err error) {
	book, err := rules.BuiltIn()
	if err != nil {
		return "", false, err
	}
	set, err := book.Get(page.Set)
	if err != nil {
		return "", false, err
	}
	return answered{print: words.New("en", page.Units).Under(set), set: set, page: page}.part(fields)
}

// An answered page is one that a phone answers by itself.
type answered struct {
	print *words.Printer
	set   rules.Set
	page  Page
}

func (p answered) part(fields []Field) (string, bool, error) {
	w := writer{print: p.print}
	doc, faults, unit, err := p.document(fields)
	if err != nil {
		return "", false, err
	}
	tally, result, err := p.measure(doc)
	if faults, err = joined(faults, err); err != nil {
		return "", false, err
	}
	switch {
	case len(faults) > 0:
		w.faults(faults)
	case result.Asks():
		w.questions(result)
	default:
		a := New(p.print, tally, result).Drawn(p.print, tally, result, Shown(p.page.Width)).Beside(p.print, procedure.Of(tally, p.set.Reckoning(p.print.UnitOfSale())))
		w.answer(a)
	}
	p.face(&w, fields, WholeOf(tally, result))
	for _, f := range fields {
		if !strings.HasSuffix(f.Name, "]") {
			w.put(`<p data-echo="%s">%s</p>`, f.Name, Echo(p.print, unit, f.Value))
		}
	}
	return w.String(), len(faults) == 0, nil
}

// face draws the row that is being tapped in its photo.
func (p answered) face(w *writer, fields []Field, whole Whole) {
	if p.page.Face == 0 || p.page.Kind != RowsKind {
		return
	}
	typed := form.ReadTally(eachOf(fields))
	f := FaceOf(p.print, typed, p.page.Face, whole, Shown(p.page.Width), p.set.ParseTally)
	if f.Picture.Width == 0 {
		return
	}
	w.put(`<figure data-face="%s">`, strconv.Itoa(f.Row))
	_ = draw.SVG(w, f.Picture, w.print.Say)
	w.put(`</figure><p data-face="%s">%s</p>`, strconv.Itoa(f.Row), f.Line)
}

func eachOf(fields []Field) func(field func(name, value string)) {
	return func(field func(name, value string)) {
		for _, f := range fields {
			field(f.Name, f.Value)
		}
	}
}

// document is the form as a tally document of this sale.
func (p answered) document(fields []Field) ([]byte, measure.InputErrors, form.Unit, error) {
	each := eachOf(fields)
	rest, known := form.ReadStack(p.page.Kind, each)
	if !known {
		return nil, nil, "", fmt.Errorf("no kind of stack: %q", p.page.Kind)
	}
	unit := rest.Unit
	var rows *form.Tally
	if p.page.Kind == RowsKind {
		typed := form.ReadTally(each)
		rows, rest, unit = &typed, rest.Rest(), typed.Unit
	}
	doc, faults, err := form.Whole(rows, rest)
	return doc, faults, unit, err
}

// into is a document with what is known of the sale. Wood in its container isn't held
// against what was sold out of one, nor the reverse.
func (s Sale) into(doc []byte, container bool) ([]byte, error) {
	var members map[string]any
	if err := json.Unmarshal(doc, &members); err != nil {
		return nil, err
	}
	if container == s.Container {
		members["sold"] = s.Sold
	}
	members["look"] = s.Check
	if members["by"] == nil {
		members["by"] = stack.Seller
	}
	return json.Marshal(members)
}

func (p answered) measure(doc []byte) (stack.Tally, stack.Result, error) {
	tally, err := p.set.ParseTally(doc)
	if sale := p.page.Sale; sale != nil {
		container := sale.Container // where it can't be read yet: wood elsewhere is a part of what was sold
		if err == nil {
			container = tally.Stack.Basis() == measure.Container
		}
		if doc, err = sale.into(doc, container); err != nil {
			return stack.Tally{}, stack.Result{}, err
		}
		tally, err = p.set.ParseTally(doc)
		tally.MostShrinkage = sale.Shrinkage
	}
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	result, err := stack.Measure(tally)
	return tally, result, err
}

// joined are the faults of a form and of its document; the error is none of these.
func joined(faults measure.InputErrors, err error) (measure.InputErrors, error) {
	var many measure.InputErrors
	var one *measure.InputError
	switch {
	case errors.As(err, &many):
		return append(faults, many...), nil
	case errors.As(err, &one):
		return append(faults, one), nil
	}
	return faults, err
}

// Echo is a length as it is read, where that says more than what was typed: "8 ft" for a
// bare 96. Empty where it does not, or where nothing can be read.
func Echo(print *words.Printer, unit form.Unit, typed string) string {
	typed = strings.TrimSpace(typed)
	with := string(stack.WithUnit(typed, string(unit)))
	l, err := measure.ParseLength(with)
	if err != nil {
		return ""
	}
	mark := measure.Inch
	if unit == form.Centimetres {
		mark = measure.Millimetre
	}
	if said := print.ForTape(mark).Length(l); said != typed && said != with {
		return said
	}
	return ""
}

func (w *writer) answer(a *Answer) {
	w.panel()
	w.WriteString(a.Said())
	w.each(`<section class="note">`, "<p><strong>%s</strong></p>", a.Odd, "</section>")
	w.WriteString(a.Pictures() + a.Working())
	w.close(a.Running)
}

func (w *writer) panel() { w.put(`<section id="panel" aria-label="%s">`, w.say("The answer")) }

// close ends the panel, and says what is kept in view.
func (w *writer) close(running string) { w.put(`</section><p id="running">%s</p>`, running) }

// faults says what is wrong with the readings: the panel of before stays.
func (w *writer) faults(faults measure.InputErrors) {
	w.WriteString(`<section class="faults"><ul>`)
	for _, e := range faults {
		w.put("<li>%s</li>", w.print.Sentence(e))
	}
	w.WriteString("</ul></section>")
}

// questions asks about readings that are hardly meant, each with its box.
func (w *writer) questions(r stack.Result) {
	w.panel()
	w.put(`<section class="questions"><h2>%s</h2><p>%s</p>`, w.say("Is this as you mean it?"), w.say("Say so at each, or change it: the answer comes after that."))
	open := 0
	for i, q := range r.Questions {
		checked := ""
		if q.Confirmed {
			checked = " checked"
		} else {
			open++
		}
		w.put(`<div class="question"><p class="fault">%s: %s</p><label class="check"><input type="checkbox" name="%s" value="%s"`+checked+`> %s</label></div>`,
			w.print.Place(q.Field), w.print.Question(r, q), fmt.Sprintf("confirmed[%d]", i), q.Key, w.say("It is as typed"))
	}
	w.put(`</section></section><p id="running"><a href="#panel">%s</a></p>`, w.say("Asked about: %d", open))
}
