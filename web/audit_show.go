package web

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"time"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/receipts/words"
	"wellstowed/web/api"
	"wellstowed/web/live"
)

// An auditPage is one audit: what stands written, and the form of one step.
type auditPage struct {
	page
	audits.Audit
	// DaysAgo is how long ago the wood was delivered.
	DaysAgo int
	// Doing is the step whose form is shown: that which is next, or the one asked for.
	Doing string
	// Link is shown once, after a measurer was added or its link renewed.
	Link   *audits.MeasurerLink
	Shared shared // the link

	Notice       audits.NoticeRequest
	Attendance   audits.AttendanceRequest
	Holding      audits.HoldRequest
	Planning     audits.PlanRequest
	MeasurerName audits.MeasurerRequest
	Answers      map[string]audits.ItemRequest
	Note         audits.NoteRequest
	Closing      audits.CloseRequest
	Photo        audits.PhotoRequest

	Report *audits.Report // of a closed audit
	Found  *live.Answer
}

func auditPath(id string) string { return "/audits/" + id }

func auditID(c *fiber.Ctx) (string, error) {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return "", &act.Error{Kind: act.NotFound}
	}
	return id.String(), nil
}

// steps are those that have a form of their own.
func steps() []string {
	return []string{"notice", "hold", "plan", "measurers", "readings", "attendance", "checklist", "close", "photo", "note"}
}

func (s *Server) auditPage(c *fiber.Ctx) (auditPage, error) {
	id, err := auditID(c)
	if err != nil {
		return auditPage{}, err
	}
	a, err := s.audits.Audit(c.UserContext(), s.actor(c), id)
	if err != nil {
		return auditPage{}, err
	}
	p := auditPage{page: s.page(c, measure.Say("Audit %d", int(a.Number)), "/audits"), Audit: a, Doing: string(a.Step())}
	p.Shop.Zone = cmp.Or(a.Subject.Zone, p.Shop.Zone)
	if do := c.Query("do"); slices.Contains(steps(), do) && (a.State == audits.Open || do == "note") {
		p.Doing = do
	}
	p.names = map[string]string{"kind": p.T("How the wood is piled"), "text": p.T("What is to be noted"), "counted": p.T("Pieces counted by kind"),
		"when": p.T("When he was told"), "appointed": p.T("When he was asked to come")}
	p.fill(s.clock())
	switch {
	case !a.Erased.IsZero():
		p.Doing = "erased"
	case a.State == audits.Closed:
		if p.Doing != "note" {
			p.Doing = "closed"
		}
		err = s.addReport(c, &p)
	}
	return p, err
}

// fill puts into the forms what is written already, or what is usual.
func (p *auditPage) fill(now time.Time) {
	zone, err := time.LoadLocation(p.Shop.Zone)
	if err != nil {
		zone = time.UTC
	}
	p.DaysAgo = p.Subject.DeliveredOn.DaysTo(act.DateOf(now.In(zone)))
	p.Notice = audits.NoticeRequest{ToldBy: p.OpenedBy}
	p.Holding = audits.HoldRequest{HeldBy: p.Subject.Purchaser.Name}
	least := p.Set.Reckoning(p.Print.UnitOfSale()).Least()
	p.Planning = audits.PlanRequest{Kind: rowsKind, Measurers: "3", Stations: fmt.Sprint(max(5, least.Heights)), Lengths: fmt.Sprint(least.Lengths),
		Pieces: fmt.Sprint(max(10, least.Pieces)), Tape: "1/4 in", Top: string(stack.Straightedge),
		Faces: string(audits.BothFaces), Stop: p.T("when each measurer has read every place once")}
	if p.Shop.Units == act.Metric {
		p.Planning.Tape = "5 mm"
	}
	if plan := p.Plan(); plan != nil {
		p.Planning = audits.PlanRequest{Kind: plan.Kind, Measurers: fmt.Sprint(plan.Measurers), Stations: fmt.Sprint(plan.Stations), Lengths: fmt.Sprint(plan.Lengths), Pieces: fmt.Sprint(plan.Pieces),
			Tape: plan.Tape.String(), Top: string(plan.Top), Faces: string(plan.Faces), Stop: plan.Stop}
	}
	p.Closing.ClosedBy = p.OpenedBy
	p.Note.Kind = string(audits.PlainNote)
	if p.State == audits.Closed {
		p.Note.Kind = string(audits.SellerAnswer)
	}
	p.Answers = map[string]audits.ItemRequest{}
	for _, i := range p.Checklist {
		p.Answers[i.Code] = audits.ItemRequest{Code: i.Code, Answer: string(i.Answer), Note: i.Note}
	}
}

func (s *Server) addReport(c *fiber.Ctx, p *auditPage) error {
	issued, err := s.audits.AuditReport(c.UserContext(), s.actor(c), p.ID)
	if err != nil {
		return err
	}
	r := issued.Report
	p.Report = &r
	p.Print = words.New(p.Lang, r.Units).SoldIn(r.Subject.RuleSet.Unit) // as it was printed
	tally, err := sheetTally(orders.Sheet{Number: r.Number, Tally: r.Measurers[0].Tally})
	if err != nil {
		return err
	}
	p.Found = live.New(p.Print, tally, r.Result)
	if r.Together != nil {
		p.Found.Finding = p.Print.Finding(r.Result)
		p.Found.Stack = draw.Drawing{} // each measurer's own is on the paper
	}
	return nil
}

func (s *Server) auditShow(c *fiber.Ctx) error {
	p, err := s.auditPage(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(p.json())
	}
	return s.render(c, "audit_show", p)
}

// json is an audit for programs; of a closed one with its report.
func (p auditPage) json() api.Audit {
	return api.Audit{Audit: p.Audit, Next: p.Step(), Missing: p.missing(), Report: p.Report}
}

// auditDo does one step with its form, and shows the form again where something is
// wrong with it.
func auditDo[R any](s *Server, c *fiber.Ctx, step string, typed func(*auditPage) *R, do func(context.Context, act.Act, string, R) (audits.Audit, error)) error {
	r, a, err := doOn(s, c, auditID, do)
	if err == nil {
		return made(c, fiber.StatusOK, auditPath(a.ID), a)
	}
	return s.auditRefused(c, step, err, func(p *auditPage) { *typed(p) = r })
}

func (s *Server) auditRefused(c *fiber.Ctx, step string, err error, typed func(*auditPage)) error {
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	p, broken := s.auditPage(c)
	if broken != nil {
		return broken
	}
	if p.State == audits.Open || step == "note" {
		p.Doing = step
	}
	typed(&p)
	s.refuse(c, &p.page, err)
	p.nameItems()
	return s.render(c, "audit_show", p)
}

// nameItems names the items of the checklist in the summary of faults by their
// questions.
func (p *auditPage) nameItems() {
	for i, f := range p.Faults {
		for _, item := range p.Checklist {
			if f.Link == "#items."+item.Code || f.Link == "#items."+item.Code+".note" {
				p.Faults[i].Label = p.Print.Say(item.Question)
			}
		}
		if f.Link == "" {
			p.Faults[i].Label = ""
		}
	}
}

func (s *Server) auditNotice(c *fiber.Ctx) error {
	return auditDo(s, c, "notice", func(p *auditPage) *audits.NoticeRequest { return &p.Notice }, s.audits.NotifySeller)
}

func (s *Server) auditHold(c *fiber.Ctx) error {
	return auditDo(s, c, "hold", func(p *auditPage) *audits.HoldRequest { return &p.Holding }, s.audits.HoldWood)
}

func (s *Server) auditPlan(c *fiber.Ctx) error {
	return auditDo(s, c, "plan", func(p *auditPage) *audits.PlanRequest { return &p.Planning }, s.audits.PlanAudit)
}

func (s *Server) auditAttendance(c *fiber.Ctx) error {
	return auditDo(s, c, "attendance", func(p *auditPage) *audits.AttendanceRequest { return &p.Attendance }, s.audits.NoteAttendance)
}

func (s *Server) auditNote(c *fiber.Ctx) error {
	return auditDo(s, c, "note", func(p *auditPage) *audits.NoteRequest { return &p.Note }, s.audits.NoteAudit)
}

func (s *Server) auditClose(c *fiber.Ctx) error {
	return auditDo(s, c, "close", func(p *auditPage) *audits.CloseRequest { return &p.Closing },
		func(ctx context.Context, act act.Act, id string, r audits.CloseRequest) (audits.Audit, error) {
			if _, err := s.audits.CloseAudit(ctx, act, id, r); err != nil {
				return audits.Audit{}, err
			}
			return s.audits.Audit(ctx, act.Actor, id)
		})
}

// auditChecklist reads the answers off the form: items.<code> and items.<code>.note.
func (s *Server) auditChecklist(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	if sentJSON(c) {
		return auditDo(s, c, "checklist", func(p *auditPage) *audits.ItemsRequest { return new(audits.ItemsRequest) }, s.audits.AnswerItems)
	}
	a, err := s.audits.Audit(c.UserContext(), s.actor(c), id)
	if err != nil {
		return err
	}
	var r audits.ItemsRequest
	value := formValue(c)
	var names []string
	for _, item := range a.Checklist {
		names = append(names, "items."+item.Code, "items."+item.Code+".note")
		r.Items = append(r.Items, audits.ItemRequest{Code: item.Code, Answer: value("items." + item.Code), Note: value("items." + item.Code + ".note")})
	}
	act, err := s.act(c)
	if err == nil {
		err = refused(slices.Concat(unreadable(c), unknownBut(c, names)))
	}
	if err == nil {
		a, err = s.audits.AnswerItems(c.UserContext(), act, id, r)
	}
	if err == nil {
		return made(c, fiber.StatusOK, auditPath(id), a)
	}
	return s.auditRefused(c, "checklist", err, func(p *auditPage) {
		for _, i := range r.Items {
			p.Answers[i.Code] = i
		}
	})
}

// auditMeasurerAdd adds a measurer and shows its link, this once.
func (s *Server) auditMeasurerAdd(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	r, link, err := doWith(s, c, func(ctx context.Context, act act.Act, r audits.MeasurerRequest) (audits.MeasurerLink, error) {
		return s.audits.AddMeasurer(ctx, act, id, r)
	})
	return s.linkShown(c, link, err, r)
}

// auditMeasurerRenew gives a measurer another link and shows it, this once.
func (s *Server) auditMeasurerRenew(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	measurer, err := uuid.Parse(c.Params("measurer"))
	if err != nil {
		return &act.Error{Kind: act.NotFound}
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	link, err := s.audits.RenewMeasurer(c.UserContext(), act, id, measurer.String())
	return s.linkShown(c, link, err, audits.MeasurerRequest{})
}

func (s *Server) linkShown(c *fiber.Ctx, link audits.MeasurerLink, err error, r audits.MeasurerRequest) error {
	if err != nil {
		return s.auditRefused(c, "measurers", err, func(p *auditPage) { p.MeasurerName = r })
	}
	if wantsJSON(c) {
		return c.Status(fiber.StatusCreated).JSON(link)
	}
	p, err := s.auditPage(c)
	if err != nil {
		return err
	}
	p.Doing, p.Link = "measurers", &link
	if p.Shared, err = s.share(p.page, measurerPath(link.Code), choice{Value: "/tally-form.pdf", Label: p.T("Print the tally form")}); err != nil {
		return err
	}
	return s.render(c, "audit_show", p)
}

// auditPrint sends the report of a closed audit as printed.
func (s *Server) auditPrint(c *fiber.Ctx) error {
	id, err := auditID(c)
	if err != nil {
		return err
	}
	issued, err := s.audits.AuditReport(c.UserContext(), s.actor(c), id)
	if err != nil {
		return err
	}
	return sendPDF(c, fmt.Sprintf("audit-%d.pdf", issued.Report.Number), issued.PDF)
}

// Aside is what is shown in place of the next step where something else was asked for.
func (p auditPage) Aside() string {
	if p.State == audits.Closed || p.Doing == string(p.Step()) {
		return ""
	}
	return p.stepName(audits.Step(p.Doing))
}

// Planned says what the plan asks for and since when; empty before it is fixed.
func (p auditPage) Planned() string {
	plan := p.Plan()
	if plan == nil {
		return ""
	}
	fixed := p.T("Plan fixed %s by %s", p.Print.Time(p.Plans[0].Fixed, p.Shop.Zone), p.Plans[0].By)
	if len(p.Plans) > 1 {
		fixed = p.T("%s, amended %s", fixed, p.Print.Time(plan.Fixed, p.Shop.Zone))
	}
	if plan.Measurers == 1 {
		return p.T("%s: one measurer.", fixed)
	}
	return p.T("%s: %d measurers.", fixed, plan.Measurers)
}

// Headline says in a sentence where the audit stands.
func (p auditPage) Headline() string {
	if !p.Erased.IsZero() && p.Word != "" {
		return p.T("Result: %s.", p.Print.Word(p.Word))
	}
	switch p.Step() {
	case audits.StepNotice:
		return p.T("Next: tell the seller, and when he may come.")
	case audits.StepHold:
		return p.T("Next: see that the wood is kept as it is.")
	case audits.StepPlan:
		return p.T("Next: fix the plan, before the tape comes out.")
	case audits.StepMeasurers:
		return p.T("Next: give each measurer its link.")
	case audits.StepReadings:
		return p.T("Measuring: %d of %d have handed in.", len(p.Measurers)-p.Waiting(), len(p.Measurers))
	case audits.StepAttendance:
		return p.T("All have handed in. Next: did the seller come?")
	case audits.StepChecklist:
		return p.T("Next: the checklist, %d to answer.", len(p.Unanswered()))
	case audits.StepClose:
		return p.T("All is there. Next: close the audit.")
	}
	return p.T("Closed.")
}

// Lacks are what keeps an open audit from being closed, each with the way to where it is
// done.
func (p auditPage) Lacks() []choice {
	var list []choice
	for _, lack := range p.Missing() {
		list = append(list, choice{Value: p.doPath(lack.Step), Label: p.Print.Say(lack.Text)})
	}
	return list
}

// missing is Lacks in words; nil of a closed audit.
func (p auditPage) missing() []string {
	var list []string
	if p.State == audits.Open {
		for _, lack := range p.Missing() {
			list = append(list, p.Print.Say(lack.Text))
		}
	}
	return list
}

// doPath leads to the form of a step.
func (p auditPage) doPath(step audits.Step) string {
	return auditPath(p.ID) + "?do=" + string(step) + "#doing"
}

// stepName is what the form of a step is called.
func (p auditPage) stepName(step audits.Step) string {
	switch step {
	case audits.StepNotice:
		return p.T("Notice to the seller")
	case audits.StepHold:
		return p.T("Wood kept as it is")
	case audits.StepPlan:
		return p.T("The plan")
	case audits.StepMeasurers:
		return p.T("Measurers and links")
	case audits.StepReadings:
		return p.T("Readings handed in")
	case audits.StepAttendance:
		return p.T("Did the seller come?")
	case audits.StepChecklist:
		return p.T("Checklist")
	case audits.StepClose:
		return p.T("Close")
	case "photo":
		return p.T("Add a photo")
	case "note":
		return p.T("Add a note")
	}
	return ""
}

// Others are the other things that can be written down now.
func (p auditPage) Others() []choice {
	if p.State == audits.Closed {
		return nil
	}
	var list []choice
	for _, step := range steps() {
		if step != p.Doing && step != "readings" && (step != "measurers" || p.Plan() != nil) {
			list = append(list, choice{Value: p.doPath(audits.Step(step)), Label: p.stepName(audits.Step(step))})
		}
	}
	return list
}

// Ways are the ways of telling the seller.
func (p auditPage) Ways() []choice {
	var list []choice
	for _, way := range audits.NoticeWays() {
		list = append(list, choice{way, p.Upper(p.T(way)), p.Notice.How == way})
	}
	return append(list, choice{audits.NotTold, p.T("Not told"), p.Notice.How == audits.NotTold})
}

// Kept are the answers to whether the wood was kept as it is.
func (p auditPage) Kept() []choice {
	given := p.Holding.Broken
	return []choice{{"no", p.T("No"), given == "no"}, {"moved", p.T("Moved, none used"), given == "moved"}, {"used", p.T("Some was used or taken"), given == "used"}}
}

// Stackers are who may have stacked the wood again meanwhile.
func (p auditPage) Stackers() []choice {
	given := p.Holding.StackedBy
	list := []choice{{"", p.T("Nobody, or not known"), given == ""}}
	for _, by := range audits.Stackers() {
		list = append(list, choice{string(by), p.Print.Stacker(by), given == string(by)})
	}
	return list
}

// Limiting is what limits the result of an open audit, and OutOfOrder what has dates out
// of their order; of a closed one the report says both.
func (p auditPage) Limiting() []string {
	if p.Report != nil {
		return p.Print.AuditLimits(p.Report.Result, p.Report.Limits)
	}
	return p.Print.AuditLimits(stack.Result{}, p.Limits())
}

// Remarks are what has dates out of their order.
func (p auditPage) Remarks() []string {
	if p.Report != nil {
		return live.Say(p.Print, p.Report.Dates)
	}
	zone, err := time.LoadLocation(p.Shop.Zone)
	if err != nil {
		zone = time.UTC
	}
	return live.Say(p.Print, p.OutOfOrder(zone))
}

// CloseLabel is what the button to close says: what is missing, while anything is.
func (p auditPage) CloseLabel() string {
	switch n := len(p.Missing()); n {
	case 0:
		return p.T("Close and make the report")
	case 1:
		return p.T("Close the audit: 1 thing missing")
	default:
		return p.T("Close the audit: %d things missing", n)
	}
}

// YesNo are the two answers, with the one that was given.
func (p auditPage) YesNo(given string) []choice {
	return []choice{{"yes", p.T("Yes"), given == "yes"}, {"no", p.T("No"), given == "no"}}
}

// Came are the answers to whether the seller came.
func (p auditPage) Came() []choice {
	return append(p.YesNo(p.Attendance.Attended), choice{"declined", p.T("He declined"), p.Attendance.Attended == "declined"})
}

// Kinds are the ways wood may stand.
func (p auditPage) Kinds() []choice {
	var list []choice
	for _, f := range forms.All() {
		list = append(list, choice{f.Kind, measurePage{page: p.page}.kindName(f), p.Planning.Kind == f.Kind})
	}
	return list
}

// Tops are the ways of judging the top of the wood.
func (p auditPage) Tops() []choice {
	return []choice{
		{string(stack.Straightedge), p.T("With a straightedge"), p.Planning.Top == string(stack.Straightedge)},
		{string(stack.ByEye), p.T("By eye"), p.Planning.Top == string(stack.ByEye)},
	}
}

// FacesRead are the faces that may be read.
func (p auditPage) FacesRead() []choice {
	return []choice{
		{string(audits.BothFaces), p.T("Front and back"), p.Planning.Faces == string(audits.BothFaces)},
		{string(audits.FrontFace), p.T("Front only"), p.Planning.Faces == string(audits.FrontFace)},
	}
}

// NoteKinds are what a note may be.
func (p auditPage) NoteKinds() []choice {
	list := []choice{
		{string(audits.PlainNote), p.T("A note"), p.Note.Kind == string(audits.PlainNote)},
		{string(audits.SellerAnswer), p.T("The seller’s answer"), p.Note.Kind == string(audits.SellerAnswer)},
	}
	if p.State == audits.Closed {
		list = append(list, choice{string(audits.CopyGiven), p.T("Somebody got a copy"), p.Note.Kind == string(audits.CopyGiven)})
	}
	return list
}

// Item is one item of the checklist as a field with its choices.
func (p auditPage) Item(i audits.Item) choosing {
	given := p.Answers[i.Code].Answer
	f := p.Field("items."+i.Code, "")
	f.Label = p.Print.Say(i.Question)
	return choosing{f, []choice{
		{string(audits.AnswerYes), p.T("Yes"), given == string(audits.AnswerYes)},
		{string(audits.AnswerNo), p.T("No"), given == string(audits.AnswerNo)},
		{string(audits.AnswerNotSeen), p.T("Not seen"), given == string(audits.AnswerNotSeen)},
	}}
}

// ItemNote is the note beside an item.
func (p auditPage) ItemNote(i audits.Item) field {
	f := p.Field("items."+i.Code+".note", p.Answers[i.Code].Note)
	f.Label = p.T("Note")
	switch i.Code {
	case "weather":
		f.Hint = p.T("Such as: dry, 41 °F.")
	case "used":
		f.Hint = p.T("If so: how much.")
	}
	return f
}

// Items are the items of the checklist, of the ticket or of the wood.
func (p auditPage) Items(ofTicket bool) []audits.Item {
	return slices.DeleteFunc(slices.Clone(p.Checklist), func(i audits.Item) bool { return i.OfTicket() != ofTicket })
}

// MeasurerLine says when a measurer handed in, and the seal; nothing of what it read.
func (p auditPage) MeasurerLine(m audits.Measurer) string {
	var line string
	switch {
	case m.HandedIn.IsZero() && m.Drafts == 0:
		return p.T("has saved nothing yet")
	case m.HandedIn.IsZero():
		return p.T("has begun")
	case !m.Corrected.IsZero():
		line = p.T("handed in at %s, corrected at %s", p.Print.Time(m.HandedIn, p.Shop.Zone), p.Print.Time(m.Corrected, p.Shop.Zone))
	default:
		line = p.T("handed in at %s", p.Print.Time(m.HandedIn, p.Shop.Zone))
	}
	if m.Seal != "" {
		line = p.T("%s, sealed %s", line, m.Seal)
	}
	return line
}

// Procedures are the procedure's own result of each measurer.
func (p auditPage) Procedures() []string {
	var lines []string
	for _, h := range p.Report.Measurers {
		lines = append(lines, p.T("%s: %s", h.Name, p.Print.ProcedureLead(h.Procedure)))
	}
	return lines
}

// ProcedureTitle is what the procedure's result is called.
func (p auditPage) ProcedureTitle() string {
	return p.Print.ProcedureTitle(p.Report.Measurers[0].Procedure.Named != nil)
}

// Say words what the report says.
func (p auditPage) Say(t measure.Text) string { return p.Print.Say(t) }

// PlaceLine is the place in one line.
func (p auditPage) PlaceLine() string { return p.OneLine(p.Subject.Place) }

// Mix tells whether the wood was sold by shares of species.
func (p auditPage) Mix() bool { return wood.StatesShares(p.Subject.Species) }
