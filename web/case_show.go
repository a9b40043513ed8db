package web

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

// A casePage is a buyer's case as whoever comes to it sees it.
type casePage struct {
	page
	orders.CaseFile
	Base     string // its path
	Answer   *answer
	Step     words.CaseStep
	R        orders.EntryRequest // what is being written
	Form     orders.EntryKind    // that the page takes; empty for none
	Together *together           // for the seller: both sides' tallies
	Code     string              // of a link just made, shown this once
	Shared   shared              // the buyer’s link, once it was made
}

// caseKey is what the address leads to a case by.
func caseKey(c *fiber.Ctx) (orders.CaseKey, error) {
	if code := c.Params("code"); code != "" {
		c.Set(fiber.HeaderReferrerPolicy, "no-referrer") // the address is told to nobody
		return orders.CaseKey{Code: code}, nil
	}
	if c.Params("number") != "" {
		n, err := number(c)
		return orders.CaseKey{Receipt: n}, err
	}
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return orders.CaseKey{}, &orders.Error{Kind: orders.NotFound}
	}
	return orders.CaseKey{ID: id.String()}, nil
}

// casePath is the path of the case that a key leads to.
func casePath(key orders.CaseKey) string {
	switch {
	case key.Code != "":
		return "/buyer/" + key.Code
	case key.Receipt != 0:
		return fmt.Sprintf("/receipts/%d/case", key.Receipt)
	}
	return "/buying/case/" + key.ID
}

// caseTitle is what a page is called on each road to a case: an own record's, the
// seller's, the buyer's.
func caseTitle(key orders.CaseKey, own, seller, buyer measure.Text) measure.Text {
	switch {
	case key.Code != "":
		return buyer
	case key.Receipt != 0:
		return seller
	}
	return own
}

// caseFile is the case that the address leads to.
func (s *Server) caseFile(c *fiber.Ctx) (orders.CaseFile, orders.CaseKey, error) {
	key, err := caseKey(c)
	if err != nil {
		return orders.CaseFile{}, key, err
	}
	f, err := s.service.CaseFile(c.UserContext(), s.caseActor(c, key), key)
	return f, key, err
}

// caseActor is who comes to a case: by a code the buyer, whoever sits there.
func (s *Server) caseActor(c *fiber.Ctx, key orders.CaseKey) orders.Actor {
	if key.Code != "" {
		return orders.Actor{Role: orders.Buyer}
	}
	return s.actor(c)
}

// caseAct is an act of whoever comes to a case.
func (s *Server) caseAct(c *fiber.Ctx, key orders.CaseKey) (orders.Act, error) {
	act, err := s.act(c)
	act.Actor = s.caseActor(c, key)
	return act, err
}

// adopt words a page as the case is printed. By a code, it shows nothing of the shop
// but this case.
func (p *page) adopt(f orders.CaseFile, key orders.CaseKey) {
	p.Print, p.Set = words.ForCase(f), f.Set
	p.Shop.Units, p.Shop.Paper, p.Shop.Zone, p.Shop.Language = f.Units, f.Paper, f.Zone, f.Language
	if key.Code != "" {
		p.Outside, p.Here = casePath(key), casePath(key)
	}
}

func (s *Server) casePage(c *fiber.Ctx, f orders.CaseFile, key orders.CaseKey) (casePage, error) {
	title, here := caseTitle(key, measure.Say("Wood delivered on %s", f.Case.Account.DeliveredOn),
		measure.Say("Receipt %d: the buyer", int(f.Case.Receipt)), measure.Say("Your delivery")), "/buying"
	if f.Party == measure.Seller {
		here = "/"
	}
	p := casePage{page: s.page(c, title, here), CaseFile: f, Base: casePath(key)}
	p.adopt(f, key)
	p.Step = p.Print.CaseStep(f)
	p.Form = p.form(orders.EntryKind(c.Query("say")))
	if p.Form == orders.Claim {
		p.R.Text = p.Print.ReadyClaim(f)
	}
	latest := f.Case.Latest()
	if latest == nil {
		return p, nil
	}
	tally, err := measure.ParseTally(latest.Document)
	if err != nil {
		return p, fmt.Errorf("look %d of case %s: %w", latest.Look, f.Case.ID, err)
	}
	p.Answer = newAnswer(p.Print, tally, latest.Result)
	p.Answer.Advice = nil // the step says what to do
	p.Together, err = bothSides(p.Print, f)
	return p, err
}

// form is what the buyer's page takes: what was asked for where it may be said, else
// what comes next.
func (p casePage) form(asked orders.EntryKind) orders.EntryKind {
	switch {
	case asked == orders.Claim, asked == orders.Office && p.MayAnswer(), asked == orders.Answer && p.MayAnswer() && p.Own():
		return asked
	case p.CaseFile.Step == orders.TellSeller:
		return orders.Claim
	case p.MayReply():
		return orders.Reply
	}
	return ""
}

func (s *Server) caseShow(c *fiber.Ctx) error {
	f, key, err := s.caseFile(c)
	if key.Receipt != 0 && orders.KindOf(err) == orders.NotFound {
		return s.noCaseYet(c, key.Receipt)
	}
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(caseJSON(f))
	}
	p, err := s.casePage(c, f, key)
	if err != nil {
		return err
	}
	return s.render(c, p.template(), p)
}

// template is the page for the side that looks.
func (p casePage) template() string {
	if p.Party == measure.Seller {
		return "case_seller"
	}
	return "case_show"
}

// casePrint is the case on paper, as it stands.
func (s *Server) casePrint(c *fiber.Ctx) error {
	f, _, err := s.caseFile(c)
	if err != nil {
		return err
	}
	content, err := s.blank.Case(f, pickedPaper(c, f.Paper), s.clock())
	if err != nil {
		return err
	}
	return sendPDF(c, "buyers-case.pdf", content)
}

// caseJSON is a case for programs: each tally with its answer as the command line
// words it.
func caseJSON(f orders.CaseFile) any {
	print := words.ForCase(f)
	type tally struct {
		Look   int              `json:"look"`
		By     string           `json:"by"`
		Answer words.AnswerJSON `json:"answer"`
	}
	tallies := []tally{}
	for _, t := range f.Case.Tallies {
		tallies = append(tallies, tally{t.Look, t.By, print.Answer(measure.Tally{}, t.Result)})
	}
	return fiber.Map{
		"id": f.Case.ID, "receipt": f.Case.Receipt, "account": f.Case.Account, "bought": print.Bought(f), "tallies": tallies, "entries": append([]orders.Entry{}, f.Case.Entries...),
		"days": f.Days(), "step": f.Step, "lacking": append([]orders.Lacked{}, f.Lacking...),
	}
}

// bothSides puts the buyer's last tally beside the seller's, for the seller; nil where
// there are not both.
func bothSides(print *words.Printer, f orders.CaseFile) (*together, error) {
	latest := f.Case.Latest()
	if f.Party != measure.Seller || latest == nil || len(f.Tallies) == 0 {
		return nil, nil
	}
	last := f.Tallies[len(f.Tallies)-1]
	var read []measure.Tally
	for _, document := range [][]byte{last.Document, latest.Document} {
		tally, err := measure.ParseTally(document)
		if err != nil {
			return nil, err
		}
		read = append(read, tally)
	}
	return putTogether(print, read, []string{print.Say(measure.Say("sheet %d", int(last.Sheet))), print.Say(measure.Say("the buyer’s tally"))})
}

// Said is an entry in words.
func (p casePage) Said(e orders.Entry) string {
	return strings.TrimSpace(p.Print.EntrySays(e) + " " + e.Text)
}

// Own tells that the case is a record of whoever runs the program.
func (p casePage) Own() bool { return p.Case.Receipt == 0 }

// Stands tells whether the receipt still counts.
func (p casePage) Stands() bool { return p.Issued == nil || p.Issued.Ended == nil }

// MayReply tells whether the seller's answer waits for the buyer.
func (p casePage) MayReply() bool { return p.Case.Open(orders.Answer, orders.Reply) }

// Waits tells whether the buyer has written and the seller not answered.
func (p casePage) Waits() bool { return p.Case.Waits() }

// MayAnswer tells whether the buyer has written at all.
func (p casePage) MayAnswer() bool { return p.Case.Last(orders.Claim) != nil }

// Measures tells whether measuring is what comes next.
func (p casePage) Measures() bool {
	switch p.CaseFile.Step {
	case orders.MeasureFirst, orders.MeasureMore, orders.RankFirst:
		return true
	}
	return false
}

// Remedies are what may be asked for or offered; none is chosen beforehand.
func (p casePage) Remedies() []choice {
	return p.remedies(p.T("The wood that is missing"), p.T("Money back"), p.T("That we measure it together"))
}

// Offers are what a seller may offer; none is chosen beforehand.
func (p casePage) Offers() []choice {
	list := p.remedies(p.T("Bring the wood that is missing"), p.T("Money back"), p.T("Come and measure it together"))
	return append(list, choice{string(orders.Disagree), p.T("I do not agree: say why below"), p.R.Remedy == string(orders.Disagree)})
}

func (p casePage) remedies(wood, money, together string) []choice {
	return []choice{
		{string(orders.BringWood), wood, p.R.Remedy == string(orders.BringWood)},
		{string(orders.GiveMoney), money, p.R.Remedy == string(orders.GiveMoney)},
		{string(orders.Together), together, p.R.Remedy == string(orders.Together)},
	}
}

// Acceptances are yes and no; neither is chosen beforehand.
func (p casePage) Acceptances() []choice {
	return []choice{{string(orders.Yes), p.T("I accept it"), p.R.Accepts == "yes"}, {string(orders.No), p.T("I do not accept it"), p.R.Accepts == "no"}}
}

// Called gives a choice another label.
func (p casePage) Called(c choosing, label string) choosing { c.Label = label; return c }

// caseLook is the look that the address names.
func caseLook(c *fiber.Ctx, f orders.CaseFile) (orders.CaseTally, error) {
	n, err := strconv.Atoi(c.Params("look"))
	if err != nil || n < 1 || n > len(f.Case.Tallies) {
		return orders.CaseTally{}, &orders.Error{Kind: orders.NotFound}
	}
	return f.Case.Tallies[n-1], nil
}
