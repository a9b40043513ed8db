package web

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/receipts/words"
	"wellstowed/web/live"
)

// A casePage is a buyer's case as whoever comes to it sees it.
type casePage struct {
	page
	cases.File
	Base     string // its path
	Answer   *live.Answer
	Step     words.CaseStep
	R        cases.EntryRequest // what is being written
	Form     cases.EntryKind    // that the page takes; empty for none
	Together *together          // for the seller: both sides' tallies
	Code     string             // of a link just made, shown this once
	Shared   shared             // the buyer’s link, once it was made
}

// caseKey is what the address leads to a case by.
func caseKey(c *fiber.Ctx) (cases.Key, error) {
	if code := c.Params("code"); code != "" {
		c.Set(fiber.HeaderReferrerPolicy, "no-referrer") // the address is told to nobody
		return cases.Key{Code: code}, nil
	}
	if c.Params("number") != "" {
		n, err := number(c)
		return cases.Key{Receipt: n}, err
	}
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return cases.Key{}, &act.Error{Kind: act.NotFound}
	}
	return cases.Key{ID: id.String()}, nil
}

// casePath is the path of the case that a key leads to.
func casePath(key cases.Key) string {
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
func caseTitle(key cases.Key, own, seller, buyer measure.Text) measure.Text {
	switch {
	case key.Code != "":
		return buyer
	case key.Receipt != 0:
		return seller
	}
	return own
}

// caseFile is the case that the address leads to.
func (s *Server) caseFile(c *fiber.Ctx) (cases.File, cases.Key, error) {
	key, err := caseKey(c)
	if err != nil {
		return cases.File{}, key, err
	}
	f, err := s.cases.CaseFile(c.UserContext(), s.caseActor(c, key), key)
	return f, key, err
}

// caseActor is who comes to a case: by a code the buyer, whoever sits there.
func (s *Server) caseActor(c *fiber.Ctx, key cases.Key) act.Actor {
	if key.Code != "" {
		return act.Actor{Role: act.Buyer}
	}
	return s.actor(c)
}

// caseAct is an act of whoever comes to a case.
func (s *Server) caseAct(c *fiber.Ctx, key cases.Key) (act.Act, error) {
	act, err := s.act(c)
	act.Actor = s.caseActor(c, key)
	return act, err
}

// adopt words a page as the case is printed. By a code, it shows nothing of the shop
// but this case.
func (p *page) adopt(f cases.File, key cases.Key) {
	p.Print, p.Set = words.ForCase(f), f.Set
	p.Shop.Units, p.Shop.Paper, p.Shop.Zone = f.Units, f.Paper, f.Zone
	if key.Code != "" {
		p.Outside, p.Here = casePath(key), casePath(key)
	}
}

func (s *Server) casePage(c *fiber.Ctx, f cases.File, key cases.Key) (casePage, error) {
	title, here := caseTitle(key, measure.Say("Wood delivered on %s", f.Case.Account.DeliveredOn),
		measure.Say("Receipt %d: the buyer", int(f.Case.Receipt)), measure.Say("Your delivery")), "/buying"
	if f.Party == stack.Seller {
		here = "/"
	}
	p := casePage{page: s.page(c, title, here), File: f, Base: casePath(key)}
	p.adopt(f, key)
	p.Step = p.Print.CaseStep(f)
	p.Form = p.form(cases.EntryKind(c.Query("say")))
	if p.Form == cases.Claim {
		p.R.Text = p.Print.ReadyClaim(f)
	}
	latest := f.Case.Latest()
	if latest == nil {
		return p, nil
	}
	tally, err := stack.ParseTally(latest.Document)
	if err != nil {
		return p, fmt.Errorf("look %d of case %s: %w", latest.Look, f.Case.ID, err)
	}
	p.Answer = live.New(p.Print, tally, latest.Result)
	p.Answer.Advice = nil // the step says what to do
	p.Together, err = bothSides(p.Print, f)
	return p, err
}

// form is what the buyer's page takes: what was asked for where it may be said, else
// what comes next.
func (p casePage) form(asked cases.EntryKind) cases.EntryKind {
	switch {
	case asked == cases.Claim, asked == cases.Office && p.MayAnswer(), asked == cases.Answer && p.MayAnswer() && p.Own():
		return asked
	case p.File.Step == cases.TellSeller:
		return cases.Claim
	case p.MayReply():
		return cases.Reply
	}
	return ""
}

func (s *Server) caseShow(c *fiber.Ctx) error {
	f, key, err := s.caseFile(c)
	if key.Receipt != 0 && act.KindOf(err) == act.NotFound {
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
	if p.Party == stack.Seller {
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
func caseJSON(f cases.File) any {
	print := words.ForCase(f)
	type tally struct {
		Look   int              `json:"look"`
		By     string           `json:"by"`
		Answer words.AnswerJSON `json:"answer"`
	}
	tallies := []tally{}
	for _, t := range f.Case.Tallies {
		tallies = append(tallies, tally{t.Look, t.By, print.Answer(stack.Tally{}, t.Result)})
	}
	return fiber.Map{
		"id": f.Case.ID, "receipt": f.Case.Receipt, "account": f.Case.Account, "bought": print.Bought(f), "tallies": tallies, "entries": append([]cases.Entry{}, f.Case.Entries...),
		"days": f.Days(), "step": f.Step, "lacking": append([]cases.Lacked{}, f.Lacking...),
	}
}

// bothSides puts the buyer's last tally beside the seller's, for the seller; nil where
// there are not both.
func bothSides(print *words.Printer, f cases.File) (*together, error) {
	latest := f.Case.Latest()
	if f.Party != stack.Seller || latest == nil || len(f.Tallies) == 0 {
		return nil, nil
	}
	last := f.Tallies[len(f.Tallies)-1]
	var read []stack.Tally
	for _, document := range [][]byte{last.Document, latest.Document} {
		tally, err := stack.ParseTally(document)
		if err != nil {
			return nil, err
		}
		read = append(read, tally)
	}
	return putTogether(print, read, []string{print.Say(measure.Say("sheet %d", int(last.Sheet))), print.Say(measure.Say("the buyer’s tally"))})
}

// Said is an entry in words.
func (p casePage) Said(e cases.Entry) string {
	return strings.TrimSpace(p.Print.EntrySays(e) + " " + e.Text)
}

// Own tells that the case is a record of whoever runs the program.
func (p casePage) Own() bool { return p.Case.Receipt == 0 }

// Stands tells whether the receipt still counts.
func (p casePage) Stands() bool { return p.Issued == nil || p.Issued.Ended == nil }

// MayReply tells whether the seller's answer waits for the buyer.
func (p casePage) MayReply() bool { return p.Case.Open(cases.Answer, cases.Reply) }

// Waits tells whether the buyer has written and the seller not answered.
func (p casePage) Waits() bool { return p.Case.Waits() }

// MayAnswer tells whether the buyer has written at all.
func (p casePage) MayAnswer() bool { return p.Case.Last(cases.Claim) != nil }

// Measures tells whether measuring is what comes next.
func (p casePage) Measures() bool {
	switch p.File.Step {
	case cases.MeasureFirst, cases.MeasureMore, cases.RankFirst:
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
	return append(list, choice{string(cases.Disagree), p.T("I do not agree: say why below"), p.R.Remedy == string(cases.Disagree)})
}

func (p casePage) remedies(wood, money, together string) []choice {
	return []choice{
		{string(cases.BringWood), wood, p.R.Remedy == string(cases.BringWood)},
		{string(cases.GiveMoney), money, p.R.Remedy == string(cases.GiveMoney)},
		{string(cases.Together), together, p.R.Remedy == string(cases.Together)},
	}
}

// Acceptances are yes and no; neither is chosen beforehand.
func (p casePage) Acceptances() []choice {
	return []choice{{string(cases.Yes), p.T("I accept it"), p.R.Accepts == "yes"}, {string(cases.No), p.T("I do not accept it"), p.R.Accepts == "no"}}
}

// Called gives a choice another label.
func (p casePage) Called(c choosing, label string) choosing { c.Label = label; return c }

// caseLook is the look that the address names.
func caseLook(c *fiber.Ctx, f cases.File) (cases.Tally, error) {
	n, err := strconv.Atoi(c.Params("look"))
	if err != nil || n < 1 || n > len(f.Case.Tallies) {
		return cases.Tally{}, &act.Error{Kind: act.NotFound}
	}
	return f.Case.Tallies[n-1], nil
}
