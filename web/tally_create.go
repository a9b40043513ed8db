package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/orders/photos"
	"wellstowed/orders/yard"
	"wellstowed/web/form"
	"wellstowed/web/live"
)

type measurePage struct {
	page
	Kind      string      // of stack
	F         form.Tally  // of rows
	K         *form.Stack // of any other kind, and of what F leaves out
	Action    string
	Order     *orders.Order       // nil but on an order's page
	Case      *cases.File         // nil but on a buyer's case
	Bought    *cases.File         // nil but for somebody who bought wood and keeps no record
	Owed      *orders.Settlement  // nil but for a second load against what is owed
	Enough    bool                // the buyer takes the load as enough
	unread    measure.InputErrors // fields that were sent and are not of the form, or cannot be read
	Fresh     bool                // nothing has been sent yet: a local draft may be put back
	Bodies    []yard.Body         // those taped, for a load
	Checks    int                 // checks of this delivery before this one
	Answer    *live.Answer
	width     measure.Length    // of the drawings, on paper
	Takers    []orders.Order    // that the readings can be taken to
	Phone     string            // what the page answers by itself with, as JSON; empty: the server answers
	Program   string            // the path of what does
	Hand      *openRow          // nil but while the page's script has a row read
	questions []asking          // about the readings, once they were measured
	kept      []photos.Kept     // the photos of the order
	FaceSheet string            // path of the style sheet of rows read from photos
	faceRow   int               // the row that the page's script has tapped in a photo, from 1; 0 where none is
	whole     live.Whole        // what all rows came to
	Echoes    map[string]string // of a form as sent: its single readings as lengths, empty where they are none
}

// measureForm is the page of the kind of stack that the address asks for.
func (s *Server) measureForm(c *fiber.Ctx, order *orders.Order) (measurePage, error) {
	kind, err := kindOf(c)
	if err != nil {
		return measurePage{}, err
	}
	p := s.measureFormOf(c, kind, order)
	if order != nil {
		p.kept, err = s.photosOn(c, order.ID)
	}
	return p, err
}

// measureFormOf is the page of a kind of stack, of no order where that is nil.
func (s *Server) measureFormOf(c *fiber.Ctx, kind string, order *orders.Order) measurePage {
	p := measurePage{page: s.page(c, measure.Say("Measure a stack"), "/measure"), Kind: kind, Action: "/measure", Order: order, width: shown(c)}
	p.Sheet, p.FaceSheet = s.assets.path("measure.css"), s.assets.path("face.css")
	if order != nil {
		p.Title, p.Here = p.T("Measure order %d", int(order.Number)), "/"
		p.Action = "/orders/" + order.ID + "/measure"
	}
	if kind != rowsKind {
		p.Action += "?kind=" + kind
	}
	if kind != rowsKind && order == nil {
		p.Title = p.T("Measure wood: %s", strings.ToLower(p.KindName()))
	}
	return p
}

// Keeps tells whether what is read here is saved.
func (p measurePage) Keeps() bool { return p.Order != nil || p.Case != nil }

// ByBuyer tells that it is the buyer who reads, so nobody is asked who does.
func (p measurePage) ByBuyer() bool { return p.Case != nil || p.Bought != nil }

// SoldLine says what was sold, where that is known; empty where it is asked.
func (p measurePage) SoldLine() string {
	switch {
	case p.Owed != nil:
		return p.T("Owed: %s to %s.", p.Print.Quantity(p.Owed.Left()), p.Order.Customer.Name)
	case p.Order != nil:
		return p.T("Sold: %s to %s.", p.Print.Quantity(p.Order.Quantity), p.Order.Customer.Name)
	case p.Case != nil && p.Case.Issued != nil:
		return p.T("By the receipt %s was delivered.", p.Print.Quantity(p.Case.Case.Account.Quantity))
	case p.Case != nil && p.Case.Case.Account.AsWords:
		return p.Print.NoMeasure(*p.Case)
	case p.Case != nil:
		return p.T("Bought: %s.", p.Print.Quantity(p.Case.Case.Account.Quantity))
	case p.Bought == nil:
		return ""
	case p.Bought.Case.Account.AsWords:
		return p.Print.NoMeasure(*p.Bought)
	case p.Bought.Case.Account.Quantity.Volume > 0:
		return p.T("Bought: %s.", p.Print.Quantity(p.Bought.Case.Account.Quantity))
	}
	return p.T("Nothing is said of how much was sold: the wood is measured.")
}

// blank fills the page with a form before anything is typed.
func (p *measurePage) blank(by stack.Party) {
	p.Fresh = true
	unit := pageUnit(p.Shop.Units)
	p.K, _ = form.NewStack(p.Kind, unit, by) // the kind is one of those known
	if p.Kind == rowsKind {
		p.F, p.K = form.Blank(unit, by), p.K.Rest()
	}
}

// read fills the page with the form as sent.
func (p *measurePage) read(c *fiber.Ctx) {
	p.readSent(c, "enough", "reason")
	p.Enough = formValue(c)("enough") == "yes"
}

// readSent fills the page with the form as sent, which has some fields besides the
// readings.
func (p *measurePage) readSent(c *fiber.Ctx, besides ...string) {
	p.readFrom(sentFields(c))
	p.faceRow, _ = strconv.Atoi(c.Get(faceHeader)) // 0 where that isn't a number
	p.Echoes = map[string]string{}
	sentFields(c)(func(name, value string) {
		if !strings.HasSuffix(name, "]") {
			p.Echoes[name] = p.echo(value)
		}
	})
	p.unread = append(unreadable(c), unknown(c, func(name string) bool { return p.K.Knows(name) || slices.Contains(besides, name) })...)
}

func (p *measurePage) readFrom(fields func(func(name, value string))) {
	p.K, _ = form.ReadStack(p.Kind, fields) // the kind is one of those known
	if p.Kind == rowsKind {
		p.F, p.K = form.ReadTally(fields), p.K.Rest()
	}
}

// document is the form as a tally document, with the faults of numbers that are none.
func (p *measurePage) document() ([]byte, measure.InputErrors, error) {
	var rows *form.Tally
	if p.Kind == rowsKind {
		rows = &p.F
	}
	doc, faults, err := form.Whole(rows, p.K)
	return doc, append(p.unread, faults...), err
}

func (p *measurePage) change(do string) bool {
	if unit, asked := strings.CutPrefix(do, "unit "); asked {
		p.F.In(form.Unit(unit))
		p.K.In(form.Unit(unit))
		return true
	}
	return p.Kind == rowsKind && p.F.Change(do) || p.K.Change(do)
}

func (p *measurePage) started() bool {
	if p.Kind != rowsKind {
		return p.K.Started()
	}
	return p.F.Started()
}

// template is the page that the form stands on.
func (p *measurePage) template() string {
	if p.Kind != rowsKind {
		return "measure_kind"
	}
	return "measure"
}

// ReadBy is the name of who reads.
func (p measurePage) ReadBy() string {
	if p.Kind != rowsKind {
		return p.K.ReadBy
	}
	return p.F.ReadBy
}

// UnitNow is the unit that bare numbers are taken in.
func (p measurePage) UnitNow() form.Unit {
	if p.Kind != rowsKind {
		return p.K.Unit
	}
	return p.F.Unit
}

// pageUnit is the unit a page begins with.
func pageUnit(units act.Units) form.Unit {
	if units == act.Metric {
		return form.Centimetres
	}
	return form.Inches
}

func (s *Server) tallyNew(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	p, err := s.measureForm(c, &history.Order)
	if err != nil {
		return err
	}
	p.Checks = len(history.Tallies)
	try := func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.service.TryTally(c.UserContext(), s.actor(c), history.Order.ID, doc)
	}
	p.goOn(c, stack.Seller, try, func(n int) []byte {
		for _, t := range history.Tallies {
			if t.Look == n {
				return t.Document
			}
		}
		return nil
	})
	if err := s.fillBody(c, &p); err != nil {
		return err
	}
	return s.showMeasure(c, p)
}

func (s *Server) tallyCreate(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	order := history.Order
	if sentJSON(c) {
		sheet, err := s.saveTally(c, order.ID, orders.TallyRequest{Document: bytes.Clone(c.Request().Body()), ReadBy: c.Query("read_by")})
		if err != nil {
			return err
		}
		return s.sheetMade(c, sheet)
	}
	try := func(doc []byte) (stack.Tally, stack.Result, error) {
		return s.service.TryTally(c.UserContext(), s.actor(c), order.ID, doc)
	}
	p, err := s.measureForm(c, &order)
	if err != nil {
		return err
	}
	p.Checks = len(history.Tallies)
	if formValue(c)("do") != "save" {
		return s.measureAgain(c, p, try)
	}
	p.read(c)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	if len(faults) > 0 {
		_, _, err = try(doc)
		err = withFaults(faults, err)
	} else {
		sheet, failed := s.saveTally(c, order.ID, orders.TallyRequest{Document: doc, ReadBy: p.ReadBy()})
		if err = failed; err == nil {
			return s.sheetMade(c, sheet)
		}
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p.stillAnswers(doc, try)
	return s.measureRefused(c, p, err)
}

func (s *Server) saveTally(c *fiber.Ctx, id string, r orders.TallyRequest) (orders.IssuedSheet, error) {
	if err := readable(c); err != nil {
		return orders.IssuedSheet{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return orders.IssuedSheet{}, err
	}
	return s.service.SaveTally(c.UserContext(), act, id, r)
}

func (s *Server) sheetMade(c *fiber.Ctx, issued orders.IssuedSheet) error {
	return made(c, fiber.StatusCreated, fmt.Sprintf("/sheets/%d", issued.Sheet.Number), s.sheetJSON(issued))
}

func (s *Server) measureNew(c *fiber.Ctx) error {
	p, err := s.measureForm(c, nil)
	if err != nil {
		return err
	}
	p.blank(stack.Buyer)
	if err := s.fillBody(c, &p); err != nil {
		return err
	}
	if err := s.offerOrders(c, &p); err != nil {
		return err
	}
	return s.showMeasure(c, p)
}

// measureTry measures a tally of no order; nothing is saved.
func (s *Server) measureTry(c *fiber.Ctx) error {
	if !sentJSON(c) {
		p, err := s.measureForm(c, nil)
		if err != nil {
			return err
		}
		if err := s.offerOrders(c, &p); err != nil {
			return err
		}
		try := func(doc []byte) (stack.Tally, stack.Result, error) { return measureUnder(p.Set, doc) }
		return s.measureAgain(c, p, try)
	}
	p := s.page(c, measure.Text{}, "")
	tally, result, err := measureUnder(p.Set, c.Request().Body())
	if err != nil {
		return err
	}
	return c.JSON(answerUnder(p.Print, p.Set, tally, result))
}

// showMeasure shows a measuring page.
func (s *Server) showMeasure(c *fiber.Ctx, p measurePage) error {
	s.answersThere(c, &p)
	return s.render(c, p.template(), p)
}

// measureUnder measures a document of no order: what was sold is read as the shop's
// rules have it.
func measureUnder(set rules.Set, doc []byte) (stack.Tally, stack.Result, error) {
	tally, err := set.ParseTally(doc)
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	result, err := stack.Measure(tally)
	return tally, result, err
}

// partHeader is sent by the page's script, which wants the answer alone.
const partHeader = "Wellstowed-Part"

// measureAgain shows the form as sent, with more room where a button asked for it,
// and the answer to its readings.
func (s *Server) measureAgain(c *fiber.Ctx, p measurePage, try tried) error {
	p.read(c)
	p.attach(formValue(c)("do"))
	pressed, err := s.pressed(c, &p)
	if err != nil {
		return err
	}
	changed := p.change(formValue(c)("do")) || pressed
	p.page.again(c)
	if n := p.openIn(c); n > 0 {
		p.readOn(c, n, try)
		return s.renderPart(c, p.template(), "hand", p)
	}
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	if !p.started() && changed {
		return s.showMeasure(c, p)
	}
	tally, result, err := try(doc)
	err = withFaults(faults, err)
	switch {
	case err == nil:
		if err = readable(c); err == nil {
			p.answer(tally, result)
		}
	case changed && mendable(err):
		return s.showMeasure(c, p) // the person is still typing
	}
	switch {
	case wantsJSON(c) || err != nil && !mendable(err):
		if err != nil {
			return err
		}
		return c.JSON(answerUnder(p.Print, p.Set, tally, result))
	case err != nil:
		p.stillAnswers(doc, try)
		return s.measureRefused(c, p, err)
	case c.Get(partHeader) != "":
		return s.renderPart(c, p.template(), "part", p)
	}
	return s.showMeasure(c, p)
}

// answer puts the answer to the readings on the page, or what is asked about them
// before anything is said.
func (p *measurePage) answer(t stack.Tally, r stack.Result) {
	p.ask(r)
	p.whole = live.WholeOf(t, r)
	if r.Asks() {
		return
	}
	p.Answer = live.New(p.Print, t, r).Drawn(p.Print, t, r, p.width).Beside(p.Print, procedure.Of(t, p.Set.Reckoning(p.Print.UnitOfSale())))
	if p.Owed != nil {
		p.Answer.Then = p.Print.WouldSettle(p.Owed.Measured(r))
	}
}

// stillAnswers answers the readings of a form that is refused for something else than
// them: a name that is missing, or what was sold.
func (p *measurePage) stillAnswers(doc []byte, try tried) {
	for _, tried := range [][]byte{doc, withoutSale(doc)} {
		if tally, result, err := try(tried); err == nil {
			p.answer(tally, result)
			return
		}
	}
}

// withoutSale is a document without what is said of the sale.
func withoutSale(doc []byte) []byte {
	var parts map[string]json.RawMessage
	if json.Unmarshal(doc, &parts) != nil {
		return doc
	}
	for _, of := range []string{"sold", "apart", "look", "condition", "sold_condition", "moisture", "shrinkage", "loose_cord"} {
		delete(parts, of)
	}
	bare, err := json.Marshal(parts)
	if err != nil {
		return doc
	}
	return bare
}

func (s *Server) measureRefused(c *fiber.Ctx, p measurePage, err error) error {
	s.refuse(c, &p.page, err)
	p.nameFaults()
	p.nameQuestions(s.faultOf(c, err).fields)
	if c.Get(partHeader) != "" {
		return s.renderPart(c, p.template(), "part", p)
	}
	return s.showMeasure(c, p)
}

// Example is a quantity as the shop's receipts give it.
func (p measurePage) Example() string {
	return p.Spell(p.Set.Round(measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, p.Shop.Units == act.Metric))
}

// UnitName is the unit of bare numbers in a word.
func (p measurePage) UnitName() string {
	if p.UnitNow() == form.Centimetres {
		return p.T("centimetres")
	}
	return p.T("inches")
}

// OtherUnit is the unit that the page can be changed to, by its code and in a word.
func (p measurePage) OtherUnit() choice {
	if p.UnitNow() == form.Centimetres {
		return choice{Value: string(form.Inches), Label: p.T("Use inches")}
	}
	return choice{Value: string(form.Centimetres), Label: p.T("Use centimetres")}
}

// Spellings are ways to write a length with another unit than the page's.
func (p measurePage) Spellings() string {
	if p.UnitNow() == form.Centimetres {
		return "2 m 45, 8 ft 3 in"
	}
	return "8 ft 3 in, 7' 10 1/2\", 118 cm"
}

// Ends are the kinds of end to choose from.
func (p measurePage) Ends(now string) []choice {
	if now == "" {
		now = string(stack.Upright)
	}
	return []choice{
		{string(stack.Upright), p.T("upright"), now == string(stack.Upright)},
		{string(stack.Shouldered), p.T("shouldered: drops inside the row length"), now == string(stack.Shouldered)},
		{string(stack.Tapered), p.T("tapered: runs out past the row length"), now == string(stack.Tapered)},
		{string(stack.Cribbed), p.T("cribbed: criss-cross past the row length"), now == string(stack.Cribbed)},
	}
}

// Reading is the input of one length, named by its path in the document, with the
// unit that a bare number is taken in beside it.
func (p measurePage) Reading(value, path string, index ...any) field {
	return p.length(p.Field(fmt.Sprintf(path, index...), value))
}

// length makes a field one of a length.
func (p measurePage) length(f field) field {
	f.Unit, f.Echo = string(p.UnitNow()), p.echo(f.Value)
	return f
}

// echo is a length as it is read, where that says more than what was typed: "8 ft" for
// a bare 96. Empty where it does not, or where nothing can be read.
func (p measurePage) echo(typed string) string { return live.Echo(p.Print, p.UnitNow(), typed) }

// Anchor is where the page comes back to after a button of the given row.
func (p measurePage) Anchor(row int) string {
	return p.Action + "#" + fmt.Sprintf("row-%d", row+1)
}

// Digits is a count as the short label of a reading.
func (p measurePage) Digits(n int) string { return p.T("%d", n) }

// Wrongs tells whether something is wrong, or asked, in the folded part of a row.
func (p measurePage) Wrongs(row int) bool {
	folded := func(name string) bool {
		return slices.ContainsFunc([]string{"ends", "voids", "positions", "lengths", "back", "slope"}, func(part string) bool {
			return strings.HasPrefix(name, fmt.Sprintf("stack.rows[%d].%s", row, part))
		})
	}
	return slices.ContainsFunc(slices.Collect(maps.Keys(p.wrong)), folded) || slices.ContainsFunc(slices.Collect(maps.Keys(p.asked)), folded)
}

// Parties are who may read.
func (p measurePage) Parties() []choice {
	return []choice{
		{string(stack.Seller), p.T("the seller"), p.F.By == string(stack.Seller)},
		{string(stack.Buyer), p.T("the buyer"), p.F.By == string(stack.Buyer)},
		{string(stack.Inspector), p.T("an inspector"), p.F.By == string(stack.Inspector)},
	}
}
