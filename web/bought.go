package web

import (
	"encoding/json"
	"maps"
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
)

// pilePicture is how wide the small pictures to choose by are made.
const pilePicture = 40 * measure.Millimetre

// mostWords is how many letters of what somebody was sold are kept.
const mostWords = 200

// A startPage asks who somebody is who comes without signing in.
type startPage struct {
	page
	Selling, Checking string // paths for those who sell and who check for others; empty for who may not
}

func (s *Server) startShow(c *fiber.Ctx) error {
	p := startPage{page: s.page(c, measure.Say("How much wood is really here?"), "/start"), Selling: "/", Checking: "/audits"}
	p.Sheet = s.assets.path("bought.css")
	switch {
	case p.Who.Role == "":
		p.Selling = "/sign-in"
	case !p.May("GET /audits"):
		p.Checking = ""
	}
	return s.render(c, "start", p)
}

// Pile is the small picture of wood that lies so.
func (p startPage) Pile(kind string) draw.Drawing { return draw.Pile(kind, pilePicture) }

// A boughtPage is one of the questions to somebody who bought wood, here or elsewhere.
// What was answered before is in the address, and nothing is kept.
type boughtPage struct {
	page
	Kind string // that was chosen
	Sold string // as typed
	Cord draw.Drawing
}

// A way is one in which wood may lie, with its picture.
type way struct {
	Path, Label, Told string
	Picture           draw.Drawing
}

func (s *Server) boughtPage(c *fiber.Ctx, title measure.Text) (boughtPage, error) {
	kind, err := kindOf(c)
	p := boughtPage{page: s.page(c, title, "/bought"), Kind: kind, Sold: soldWords(c)}
	p.Sheet = s.assets.path("bought.css")
	return p, err
}

// boughtHow asks how the wood is lying.
func (s *Server) boughtHow(c *fiber.Ctx) error {
	p, err := s.boughtPage(c, measure.Say("How is the wood lying?"))
	if err != nil {
		return err
	}
	return s.render(c, "bought", p)
}

// boughtSold shows what a cord looks like, and asks what was sold.
func (s *Server) boughtSold(c *fiber.Ctx) error {
	p, err := s.boughtPage(c, measure.Say("What a cord looks like"))
	if err != nil {
		return err
	}
	if !p.Print.InCords() {
		p.Title = p.T("What were you sold?")
	}
	p.Cord = draw.CordBesidePerson(pictureWidth)
	return s.render(c, "bought_sold", p)
}

// Ways are the ways that wood may lie, each with what it means for measuring.
func (p boughtPage) Ways() []way {
	told := map[string]string{"rows": p.T("can be measured now"), "heap": p.T("stack it, then measure"), "load": p.T("look before it’s tipped"),
		"bin": p.T("measured inside"), "round": p.T("across and high"), "packaged": p.T("one package at a time")}
	names := measurePage{page: p.page}
	var list []way
	for _, f := range forms.All() {
		list = append(list, way{"/bought/sold?kind=" + f.Kind, names.kindName(f), told[f.Kind], draw.Pile(f.Kind, pilePicture)})
	}
	return list
}

// soldWords is what the address says was sold, as it was typed.
func soldWords(c *fiber.Ctx) string {
	words := []rune(strings.Join(strings.Fields(strings.ToValidUTF8(c.Query("sold"), "\uFFFD")), " "))
	return string(words[:min(len(words), mostWords)])
}

// boughtPath is a screen of a buyer's way with what was answered before.
func boughtPath(screen, kind, sold string) string {
	return "/bought/" + screen + "?" + url.Values{"kind": {kind}, "sold": {sold}}.Encode()
}

// boughtFile is the sale that somebody tells of, as a case that nobody keeps: a quantity
// where the words name one, else the words as they were said.
func boughtFile(p page, sold string) *cases.File {
	f := cases.File{Set: p.Set, Units: p.Shop.Units, Language: p.Lang, Party: stack.Buyer}
	if sold == "" {
		return &f
	}
	var read act.Fields
	said := read.SaidWith(p.Set, p.Shop.Units, "sold", sold, 0)
	if read.Err() != nil || said.Barred != "" || said.Quantity.Volume == 0 {
		f.Case.Account.AsWords, f.Case.Account.Words = true, sold
		return &f
	}
	f.Case.Account.Quantity = said.Quantity
	return &f
}

// boughtForm is the measuring page of somebody who bought wood.
func (s *Server) boughtForm(c *fiber.Ctx) (measurePage, error) {
	p, err := s.measureForm(c, nil)
	if err != nil {
		return measurePage{}, err
	}
	p.Title, p.Here, p.Action = p.T("Measure the wood you bought"), "/bought", boughtPath("measure", p.Kind, soldWords(c))
	p.Bought = boughtFile(p.page, soldWords(c))
	return p, nil
}

// tryBought measures the readings of who bought wood against what was sold, where a
// quantity was.
func (p measurePage) tryBought(doc []byte) (stack.Tally, stack.Result, error) {
	var members map[string]json.RawMessage
	if err := json.Unmarshal(doc, &members); err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	told := map[string]string{"by": string(stack.Buyer)}
	if q := p.Bought.Case.Account.Quantity; q.Volume > 0 {
		told["sold"] = p.Spell(q)
	}
	for name, text := range told {
		said, err := json.Marshal(text)
		if err != nil {
			return stack.Tally{}, stack.Result{}, err
		}
		members[name] = said
	}
	doc, err := json.Marshal(members)
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	return measureUnder(p.Set, doc)
}

func (s *Server) boughtMeasure(c *fiber.Ctx) error {
	p, err := s.boughtForm(c)
	if err != nil {
		return err
	}
	p.blank(stack.Buyer)
	return s.render(c, p.template(), p)
}

// A boughtAnswer is what somebody who bought wood is told, and the message to the seller.
type boughtAnswer struct {
	measurePage
	Steps   []string
	Kept    []nameValue // of the readings, sent on to the next screen
	Next    string      // path of that
	Message string      // to the seller
	Sharer  string      // path of the script that copies and shares it
	Keep    string      // path of the form to keep a record, empty where the visitor may not
}

// boughtTry shows the readings again while they are typed, and answers them once they are
// all there.
func (s *Server) boughtTry(c *fiber.Ctx) error {
	p, err := s.boughtForm(c)
	if err != nil {
		return err
	}
	if sentJSON(c) || formValue(c)("do") != "save" {
		return s.measureAgain(c, p, p.tryBought)
	}
	return s.boughtAnswered(c, p, "bought_answer")
}

// boughtMessage shows the message to the seller.
func (s *Server) boughtMessage(c *fiber.Ctx) error {
	p, err := s.boughtForm(c)
	if err != nil {
		return err
	}
	if sentJSON(c) {
		return s.measureAgain(c, p, p.tryBought)
	}
	if formValue(c)(enterField) != "" {
		return s.boughtAnswered(c, p, "bought_answer")
	}
	return s.boughtAnswered(c, p, "bought_message")
}

// boughtAnswered measures the form as sent and shows a screen about it; what can't be
// measured, or is asked about, goes back to the readings.
func (s *Server) boughtAnswered(c *fiber.Ctx, p measurePage, screen string) error {
	p.read(c)
	p.page.again(c)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	tally, result, err := p.tryBought(doc)
	if err = withFaults(faults, err); err == nil {
		err = readable(c)
	}
	if err != nil {
		if !mendable(err) {
			return err
		}
		p.stillAnswers(doc, p.tryBought)
		return s.measureRefused(c, p, err)
	}
	if p.answer(tally, result); p.Answer == nil {
		return s.render(c.Status(fiber.StatusUnprocessableEntity), p.template(), p)
	}
	return s.render(c, screen, s.boughtAnswer(c, p, doc, tally, result))
}

func (s *Server) boughtAnswer(c *fiber.Ctx, p measurePage, doc []byte, tally stack.Tally, result stack.Result) boughtAnswer {
	sold := soldWords(c)
	a := boughtAnswer{measurePage: p, Steps: p.Print.WhatToDo(*p.Bought, result),
		Next: boughtPath("message", p.Kind, sold), Sharer: s.assets.path("share.js")}
	a.Title, a.Saved, a.Sheet = p.T("Is it all here?"), p.Action, s.assets.path("bought.css")
	values := keptForm(c)
	for _, name := range slices.Sorted(maps.Keys(values)) {
		a.Kept = append(a.Kept, nameValue{name, values.Get(name)})
	}
	a.Message = p.Print.BuyersMessage(*p.Bought, result, p.readingLines(doc, tally))
	if p.May("GET /buying/case/new") {
		a.Keep = "/buying/case/new?" + url.Values{"quantity": {sold}}.Encode()
	}
	return a
}

// MailTo begins an e-mail with the message; to whom is left to who sends it.
func (p boughtAnswer) MailTo() string {
	return mailTo(p.T("The wood you delivered"), p.Message)
}

// readingLines are the readings as they were typed, one line for each thing read.
func (p measurePage) readingLines(doc []byte, tally stack.Tally) []string {
	var lines []string
	if p.Kind != rowsKind {
		for _, r := range p.Print.ForTape(tally.Tape).Readings(tally.Stack) {
			lines = append(lines, p.T("%s: %s", r.Name, strings.Join(r.Read, ", ")))
		}
		return lines
	}
	var rows stack.RowsDocument
	if rowsOf(doc, &rows) != nil { // it was measured, so it can be read
		return nil
	}
	for i, row := range rows.Rows {
		if row.Photo != nil {
			lines = append(lines, p.T("Row %d: its face read from a photo", i+1))
			continue
		}
		lines = append(lines, p.T("Row %d: length %s; heights %s", i+1, joined([]stack.Reading{row.Length}), joined(row.Heights)))
	}
	if len(rows.Pieces) > 0 {
		lines = append(lines, p.T("Pieces: %s", joined(rows.Pieces)))
	}
	return lines
}

func joined(readings []stack.Reading) string {
	texts := make([]string, len(readings))
	for i, r := range readings {
		texts[i] = string(r)
	}
	return strings.Join(texts, ", ")
}
