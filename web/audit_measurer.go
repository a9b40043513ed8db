package web

import (
	"encoding/json"
	"errors"
	"maps"
	"net/url"
	"slices"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/strict"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

func measurerPath(code string) string { return "/audits/measuring/" + code }

// A measurerPage is what somebody who measures for an audit sees: a form that tells
// nothing of what was sold or of any result, and after that the seal.
type measurerPage struct {
	measurePage
	View   audits.MeasurerView
	Told   audits.CircumstancesRequest
	Reason string // why what was handed in is crossed out, as typed
	Odd    []string
	Counts []readCount
	Kept   []nameValue // of the whole form, on the page that reads it back
	Back   []readBack
}

type nameValue struct{ Name, Value string }

// A readBack is what was read of one thing, as it was typed.
type readBack struct {
	Name string
	Read []string
}

// measurerView is what the code in the address opens. The address is not passed on to
// any other page.
func (s *Server) measurerView(c *fiber.Ctx) (audits.MeasurerView, error) {
	c.Set(fiber.HeaderReferrerPolicy, "no-referrer")
	return s.audits.Measuring(c.UserContext(), c.Params("code"))
}

func (s *Server) measurerShow(c *fiber.Ctx) error {
	c.Set(fiber.HeaderReferrerPolicy, "no-referrer")
	v, err := s.audits.OpenMeasuring(c.UserContext(), c.Params("code"))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(v)
	}
	p := s.measurerPage(c, v)
	if v.State == audits.Closed || v.Plan == nil || v.Counts() != nil && c.Query("again") == "" {
		return s.render(c, "measurer_wait", p)
	}
	if d := v.Draft(); d != nil && len(d.Typed) > 0 {
		p.readKept(d.Typed)
	} else {
		p.asPlanned()
	}
	p.look(nil)
	return s.render(c, "measurer", p)
}

// measurerPage is the page of who measures, in the form of the kind that is planned.
func (s *Server) measurerPage(c *fiber.Ctx, v audits.MeasurerView) measurerPage {
	p := measurerPage{View: v, measurePage: measurePage{
		page: s.page(c, measure.Say("Measuring for audit %d", int(v.Number)), ""), Kind: rowsKind, Action: measurerPath(c.Params("code"))}}
	if v.Plan != nil {
		p.Kind = v.Plan.Kind
	}
	p.Outside, p.Here = p.Action, p.Action
	p.Shop.Zone = v.Zone
	return p
}

// asPlanned is the blank form with room for what is planned. Neither the mark that was
// read nor how the top was judged is put in: what decides is for who measured to say.
func (p *measurerPage) asPlanned() {
	p.blank(stack.Inspector)
	plan := p.View.Plan
	if p.Kind != rowsKind {
		p.K.Fill(map[string]string{"tape": ""})
		return
	}
	p.F.Tape = ""
	p.F.Rows[0].Heights = make([]string, plan.Stations)
	p.F.Pieces = make([]string, max(plan.Pieces, 1))
}

// BothFaces tells whether the plan is to read the back of each row as well.
func (p measurerPage) BothFaces() bool { return p.View.Plan.Faces == audits.BothFaces }

// readForm fills the page with the form as sent.
func (p *measurerPage) readForm(c *fiber.Ctx) {
	told := p.told()
	p.readSent(c, slices.Sorted(maps.Keys(told))...)
	tell(told, sentFields(c))
}

// readKept fills the page with a form as it was kept.
func (p *measurerPage) readKept(typed []byte) {
	values, _ := url.ParseQuery(string(typed)) // as keptForm wrote it
	fields := func(field func(name, value string)) {
		for _, name := range slices.Sorted(maps.Keys(values)) {
			field(name, values.Get(name))
		}
	}
	p.readFrom(fields)
	tell(p.told(), fields)
}

// told are the fields besides the readings, by name.
func (p *measurerPage) told() map[string]*string {
	return map[string]*string{
		"began": &p.Told.Began, "ended": &p.Told.Ended, "role": &p.Told.Role, "tape_maker": &p.Told.TapeMaker, "tape_number": &p.Told.TapeNumber,
		"tape_checked": &p.Told.TapeChecked, "checked_on": &p.Told.CheckedOn, "checked_by": &p.Told.CheckedBy, "reason": &p.Reason,
	}
}

func tell(told map[string]*string, fields func(func(name, value string))) {
	fields(func(name, value string) {
		if into := told[name]; into != nil {
			*into = value
		}
	})
}

// keptForm is the form as sent, without what belongs to its one sending.
func keptForm(c *fiber.Ctx) url.Values {
	values := url.Values{}
	for name, value := range c.Request().PostArgs().All() {
		switch string(name) {
		case tokenField, enterField, "request", "draft", "do", "clock":
		default:
			values.Set(formText(name), formText(value))
		}
	}
	return values
}

// measurerSave shows the form again, reads it back, keeps a draft, or seals and hands in.
func (s *Server) measurerSave(c *fiber.Ctx) error {
	v, err := s.measurerView(c)
	if err != nil {
		return err
	}
	if sentJSON(c) {
		return s.measurerSent(c)
	}
	if v.State == audits.Closed || v.Plan == nil {
		return &act.Error{Kind: act.Conflict, Message: measure.Say("No readings are taken now; open the link again to see why.")}
	}
	p := s.measurerPage(c, v)
	p.readForm(c)
	p.page.again(c)
	doc, faults, err := p.document()
	if err != nil {
		return err
	}
	r := audits.ReadingRequest{Document: doc, Typed: []byte(keptForm(c).Encode()), HandIn: formValue(c)("do") == "save", Reason: p.Reason, Told: p.Told}
	switch do := formValue(c)("do"); do {
	case "draft", "save":
		if do == "save" {
			faults = append(faults, p.unsaid()...)
		}
		if err = withFaults(faults, s.tryToSave(c, r, len(faults) > 0)); err == nil {
			return made(c, fiber.StatusOK, p.Action, nil)
		}
		return s.measurerRefused(c, p, err)
	case "check":
		return s.measurerReview(c, p, doc, append(faults, p.unsaid()...))
	default:
		p.change(do)
		return s.measurerLook(c, p, doc, faults)
	}
}

// unsaid are the answers about the reading itself that are missing. A tally may leave them
// to the model; in an audit who measured gives them.
func (p *measurerPage) unsaid() (faults measure.InputErrors) {
	tape, top := p.F.Tape, p.F.Top
	if p.Kind != rowsKind {
		tape, top = p.K.Value("tape"), p.K.Value("top")
	}
	if strings.TrimSpace(tape) == "" {
		faults.Add("tape", "missing", "", measure.Say("the smallest mark that you read is missing"), measure.Say("a length such as 1/4 in"))
	}
	if top == "" {
		faults.Add("top", "missing", "", measure.Say("how you judged the top of the wood is missing"), measure.Say("with a straightedge, or by eye"))
	}
	return faults
}

// PlannedReading is what the plan says of the tape and of the top.
func (p measurerPage) PlannedReading() string {
	if p.View.Plan.Top == stack.Straightedge {
		return p.T("The plan asks for a tape read to %s and a straightedge on top. Say what you did.", p.Print.Length(p.View.Plan.Tape))
	}
	return p.T("The plan asks for a tape read to %s and the top judged by eye. Say what you did.", p.Print.Length(p.View.Plan.Tape))
}

// tryToSave saves readings, or only tries them where the form has faults already.
func (s *Server) tryToSave(c *fiber.Ctx, r audits.ReadingRequest, faulty bool) error {
	if !faulty || !r.HandIn {
		return s.saveReading(c, r)
	}
	_, err := s.audits.TryReading(c.UserContext(), c.Params("code"), r.Document)
	return err
}

// measurerLook shows the form again with how much is read and what to look at once more.
// What is still missing is no fault while one types.
func (s *Server) measurerLook(c *fiber.Ctx, p measurerPage, doc []byte, faults measure.InputErrors) error {
	read, err := s.audits.TryReading(c.UserContext(), c.Params("code"), doc)
	err = withFaults(faults, err)
	var refused *act.Error
	switch {
	case err == nil:
		p.look(&read)
	case errors.As(err, &refused) && refused.Kind == act.Invalid:
		p.look(nil)
		refused.Fields = slices.DeleteFunc(slices.Clone(refused.Fields), func(e *measure.InputError) bool {
			return e.Code == "missing" || e.Got == "" && e.Code == "not-understood"
		})
		if len(refused.Fields) > 0 {
			p.set(s.faultOf(c, refused))
			p.nameFaults()
		}
	default:
		return err
	}
	if c.Get(partHeader) != "" {
		return s.renderPart(c, "measurer", "part", p)
	}
	return s.render(c, "measurer", p)
}

// measurerReview reads the whole form back before it is sealed.
func (s *Server) measurerReview(c *fiber.Ctx, p measurerPage, doc []byte, faults measure.InputErrors) error {
	read, err := s.audits.TryReading(c.UserContext(), c.Params("code"), doc)
	if err = withFaults(faults, err); err != nil {
		return s.measurerRefused(c, p, err)
	}
	p.look(&read)
	values := keptForm(c)
	for _, name := range slices.Sorted(maps.Keys(values)) {
		p.Kept = append(p.Kept, nameValue{name, values.Get(name)})
	}
	p.Back = p.readBack(read.Tally)
	return s.render(c, "measurer_review", p)
}

func (s *Server) measurerRefused(c *fiber.Ctx, p measurerPage, err error) error {
	if !mendable(err) {
		return err
	}
	p.look(nil)
	s.refuse(c, &p.page, err)
	p.nameFaults()
	return s.render(c, "measurer", p)
}

// A sentReading is what a program hands in.
type sentReading struct {
	Tally         json.RawMessage             `json:"tally"`
	Circumstances audits.CircumstancesRequest `json:"circumstances"`
	Reason        string                      `json:"reason"`
}

// measurerSent takes readings of a program, handed in unless ?do=draft.
func (s *Server) measurerSent(c *fiber.Ctx) error {
	var sent sentReading
	if err := strict.Decode(c.Request().Body(), &sent); err != nil {
		return err
	}
	err := s.saveReading(c, audits.ReadingRequest{Document: sent.Tally, HandIn: c.Query("do") != "draft", Reason: sent.Reason, Told: sent.Circumstances})
	if err != nil {
		return err
	}
	v, err := s.measurerView(c)
	if err != nil {
		return err
	}
	return c.JSON(v)
}

func (s *Server) saveReading(c *fiber.Ctx, r audits.ReadingRequest) error {
	if err := readable(c); err != nil {
		return err
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	_, err = s.audits.SaveReading(c.UserContext(), act.Request, c.Params("code"), r)
	return err
}

// Started tells whether a draft was saved, or readings handed in.
func (p measurerPage) SavedLine() string {
	switch d := p.View.Draft(); {
	case p.View.Counts() != nil:
		return p.T("You handed in at %s. What you hand in now crosses that out; both are printed.", p.Print.Time(p.View.Counts().Saved, p.Shop.Zone))
	case d == nil:
		return ""
	case len(d.Document) == 0:
		return p.T("A draft was saved at %s by an earlier link; it isn’t shown here.", p.Print.Time(d.Saved, p.Shop.Zone))
	default:
		return p.T("Draft saved at %s. Not handed in yet.", p.Print.Time(d.Saved, p.Shop.Zone))
	}
}

// PlaceLine is where the wood is, in one line.
func (p measurerPage) PlaceLine() string { return p.OneLine(p.View.Place) }

// Checked are the answers to whether the tape was checked.
func (p measurerPage) Checked() []choice {
	return []choice{{"yes", p.T("Yes"), p.Told.TapeChecked == "yes"}, {"no", p.T("No"), p.Told.TapeChecked == "no"}}
}
