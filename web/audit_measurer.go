package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

func measurerPath(code string) string { return "/audits/hand/" + code }

// A measurerPage is what a measurer sees where nothing can be read: before the plan is fixed
// and after the audit is closed.
type measurerPage struct {
	page
	Measurer *orders.MeasurerView
}

// measurerView is what the code in the address opens. The address is not passed on to any
// other page.
func (s *Server) measurerView(c *fiber.Ctx) (orders.MeasurerView, error) {
	c.Set(fiber.HeaderReferrerPolicy, "no-referrer")
	return s.service.Measuring(c.UserContext(), c.Params("code"))
}

func (s *Server) measurerShow(c *fiber.Ctx) error {
	h, err := s.measurerView(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(s.measurerJSON(c, h))
	}
	if h.State == orders.AuditClosed || h.Plan == nil {
		p := measurerPage{page: s.page(c, measure.Say("Measuring for audit %d", int(h.Number)), ""), Measurer: &h}
		p.Outside, p.Here = measurerPath(c.Params("code")), measurerPath(c.Params("code"))
		return s.render(c, "measurer_wait", p)
	}
	p := s.measurerForm(c, h)
	last := h.Latest()
	if last == nil || len(last.Typed) == 0 {
		p.asPlanned()
		return s.render(c, p.template(), p)
	}
	p.readFrom(typedFields(last.Typed))
	if tally, result, err := s.service.TryReading(c.UserContext(), c.Params("code"), last.Document); err == nil { // a draft may lack something
		p.Answer = newAnswer(p.Print, tally, result).beside(p.Print, measure.ByProcedure(tally, p.Set.Reckoning()))
	}
	return s.render(c, p.template(), p)
}

// asPlanned is the blank form with room for what is planned.
func (p *measurePage) asPlanned() {
	p.blank(measure.Inspector)
	plan := p.Measurer.Plan
	if p.Kind != rowsKind {
		p.K.Fill(map[string]string{"tape": plan.Tape.String(), "top": string(plan.Top)})
		return
	}
	p.F.Tape, p.F.Top = plan.Tape.String(), string(plan.Top)
	p.F.Rows[0].Heights = make([]string, plan.Stations)
	p.F.Pieces = make([]string, max(plan.Pieces, 1))
	if p.BothFaces() {
		p.backRoom(0)
	}
}

// backRoom makes room for the back of a row, as many heights as are planned.
func (p *measurePage) backRoom(row int) {
	for range (p.Measurer.Plan.Stations + 1) / 2 {
		p.K.Change(fmt.Sprintf("more stack.rows[%d].back", row)) // two at a time
	}
}

// BothFaces tells whether the plan is to read the back of each row as well.
func (p measurePage) BothFaces() bool {
	return p.Measurer != nil && p.Measurer.Plan.Faces == orders.BothFaces
}

// measurerForm is the measuring page of the kind that is planned.
func (s *Server) measurerForm(c *fiber.Ctx, h orders.MeasurerView) measurePage {
	p := measurePage{page: s.page(c, measure.Say("Measuring for audit %d", int(h.Number)), ""), Kind: h.Plan.Kind,
		Action: measurerPath(c.Params("code")), Measurer: &h}
	p.Outside, p.Here = p.Action, p.Action
	return p
}

// typedFields walks a form as it was kept.
func typedFields(typed []byte) func(func(name, value string)) {
	return func(field func(name, value string)) {
		values, _ := url.ParseQuery(string(typed)) // as keptForm wrote it
		for _, name := range slices.Sorted(maps.Keys(values)) {
			field(name, values.Get(name))
		}
	}
}

// keptForm is the form as sent, without what belongs to its one sending.
func keptForm(c *fiber.Ctx) []byte {
	values := url.Values{}
	c.Request().PostArgs().VisitAll(func(name, value []byte) {
		switch string(name) {
		case tokenField, enterField, "request", "draft", "do", "reason":
		default:
			values.Set(formText(name), formText(value))
		}
	})
	return []byte(values.Encode())
}

// measurerSave answers, keeps a draft, or hands in.
func (s *Server) measurerSave(c *fiber.Ctx) error {
	h, err := s.measurerView(c)
	if err != nil {
		return err
	}
	if sentJSON(c) {
		return s.measurerSent(c)
	}
	if h.State == orders.AuditClosed || h.Plan == nil {
		return &orders.Error{Kind: orders.Conflict, Message: measure.Say("No readings are taken now; open the link again to see why.")}
	}
	p := s.measurerForm(c, h)
	do := formValue(c)("do")
	if do != "save" && do != "draft" {
		return s.measureAgain(c, p, func(doc []byte) (measure.Tally, measure.Result, error) {
			return s.service.TryReading(c.UserContext(), c.Params("code"), doc)
		})
	}
	p.read(c)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	r := orders.ReadingRequest{Document: doc, Typed: keptForm(c), HandIn: do == "save", Reason: formValue(c)("reason")}
	p.Reason = r.Reason
	if len(faults) > 0 && r.HandIn {
		_, _, err = s.service.TryReading(c.UserContext(), c.Params("code"), doc)
		err = withFaults(faults, err)
	} else {
		err = s.saveReading(c, r)
	}
	switch {
	case err == nil:
		return made(c, fiber.StatusOK, p.Action, nil)
	case !mendable(err):
		return err
	}
	p.page.again(c)
	return s.measureRefused(c, p, err)
}

// measurerSent takes a document of a program, handed in unless ?do=draft.
func (s *Server) measurerSent(c *fiber.Ctx) error {
	err := s.saveReading(c, orders.ReadingRequest{Document: bytes.Clone(c.Request().Body()), HandIn: c.Query("do") != "draft", Reason: c.Query("reason")})
	if err != nil {
		return err
	}
	h, err := s.measurerView(c)
	if err != nil {
		return err
	}
	return c.JSON(s.measurerJSON(c, h))
}

func (s *Server) saveReading(c *fiber.Ctx, r orders.ReadingRequest) error {
	if err := readable(c); err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	_, err = s.service.SaveReading(c.UserContext(), act.Request, c.Params("code"), r)
	return err
}

// A measurerSaving is one saving of a measurer, for programs.
type measurerSaving struct {
	N        int               `json:"n"`
	Saved    time.Time         `json:"saved"`
	HandedIn bool              `json:"handed_in"`
	Struck   time.Time         `json:"struck,omitzero"`
	Reason   string            `json:"reason,omitempty"`
	Tally    json.RawMessage   `json:"tally"`
	Answer   *words.AnswerJSON `json:"answer,omitempty"`
}

// measurerJSON is what a measurer sees, for programs.
func (s *Server) measurerJSON(c *fiber.Ctx, h orders.MeasurerView) any {
	print := s.page(c, measure.Text{}, "").Print
	saved := []measurerSaving{}
	for _, r := range h.Saved {
		one := measurerSaving{N: r.N, Saved: r.Created, HandedIn: r.Handed, Struck: r.Struck, Reason: r.Reason, Tally: r.Document}
		if r.Result != nil {
			answer := print.Answer(measure.Tally{}, *r.Result)
			one.Answer = &answer
		}
		saved = append(saved, one)
	}
	return struct {
		Number   int64                `json:"number"`
		State    orders.AuditState    `json:"state"`
		Sold     measure.Quantity     `json:"sold"`
		Plan     *orders.AuditPlan    `json:"plan"`
		Measurer orders.AuditMeasurer `json:"hand"`
		Saved    []measurerSaving     `json:"saved"`
	}{h.Number, h.State, h.Subject.Sold, h.Plan, h.Measurer, saved}
}

// HandedIn tells whether the measurer has handed in.
func (p measurePage) HandedIn() bool { return p.Measurer != nil && p.Measurer.Counts() != nil }

// Progress says what the measurer has saved.
func (p measurePage) Progress() string {
	h := p.Measurer
	switch last := h.Latest(); {
	case last == nil:
		return p.T("You measure by yourself: nobody sees what you read before the audit is closed, and you see nobody else’s.")
	case h.Counts() != nil:
		return p.T("You handed in at %s. What you change now strikes that, and both stay legible.", p.Print.Time(h.Counts().Created, p.Shop.Zone))
	default:
		return p.T("Draft saved at %s. Not handed in yet.", p.Print.Time(last.Created, p.Shop.Zone))
	}
}

// PlanLine says what is planned for each measurer.
func (p measurePage) PlanLine() string {
	plan := p.Measurer.Plan
	tape, top := p.Print.ForTape(plan.Tape).Reading(plan.Tape), p.Print.Top(plan.Top)
	switch {
	case plan.Kind != rowsKind:
		return p.T("Planned: %d pieces to tape; the tape read to %s, the top of the wood %s.", plan.Pieces, tape, top)
	case plan.Faces == orders.BothFaces:
		return p.T("Planned: %d heights in each row, front and back; %d pieces to tape; the tape read to %s, the top of the wood %s. The back’s heights stand under “Ends, gaps, uneven places”.", plan.Stations, plan.Pieces, tape, top)
	}
	return p.T("Planned: %d heights in each row; %d pieces to tape; the tape read to %s, the top of the wood %s.", plan.Stations, plan.Pieces, tape, top)
}
