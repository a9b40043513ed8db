package audits

import (
	"context"

	"wellstowed/measure"
	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// A NoticeRequest says how the seller was told, as typed. Times are in the shop's zone.
type NoticeRequest struct {
	How       string `json:"how"` // one of NoticeWays, or "not told"
	When      string `json:"when"`
	ToldBy    string `json:"told_by"`
	Appointed string `json:"appointed"` // when he was asked to come
	Note      string `json:"note"`      // why he was not told
}

// NoticeWays are the ways of telling the seller.
func NoticeWays() []string {
	return []string{"in person", "by phone", "by message", "by letter"}
}

// NotTold stands where the seller was not told.
const NotTold = "not told"

// An AttendanceRequest says whether the seller came, as typed.
type AttendanceRequest struct {
	Attended string `json:"attended"` // "yes", "no" or "declined"
	Who      string `json:"who"`      // who came
	Note     string `json:"note"`
}

// A HoldRequest says that the wood is kept unmoved, as typed.
type HoldRequest struct {
	Since  string `json:"since"`
	HeldBy string `json:"held_by"` // who answers for it
	Broken string `json:"broken"`  // "no", "moved" or "used"
	Note   string `json:"note"`    // what was moved or used
	// StackedBy is who stacked it again: "before", "seller", "buyer", "inspector" or
	// "other", or empty.
	StackedBy string `json:"stacked_by"`
	Apart     string `json:"apart"` // "none", a quantity that is elsewhere, or empty: not known
}

// A PlanRequest is a plan as typed. A plan is fixed once; after that only amended,
// with a reason.
type PlanRequest struct {
	Kind      string `json:"kind"`
	Measurers string `json:"measurers"`
	Stations  string `json:"stations"` // heights of each row and face; only where wood stands in rows
	Lengths   string `json:"lengths"`  // of each row, at so many heights; only where wood stands in rows
	Pieces    string `json:"pieces"`
	Tape      string `json:"tape"` // smallest division; a bare number is inches, or centimetres in a metric shop
	Top       string `json:"top"`  // "straightedge" or "by eye"
	Faces     string `json:"faces"`
	Stop      string `json:"stop"`
	Reason    string `json:"reason"`
}

// An ItemsRequest answers items of the checklist; those that are as they were are left
// alone.
type ItemsRequest struct {
	Items []ItemRequest `json:"items"`
}

// An ItemRequest answers one item, as typed.
type ItemRequest struct {
	Code   string `json:"code"`
	Answer string `json:"answer"` // "yes", "no", "not seen" or empty
	Note   string `json:"note"`
}

// A NoteRequest adds a note, as typed.
type NoteRequest struct {
	Kind string `json:"note_kind"` // "note", "answer" or "copy"
	Who  string `json:"who"`
	Text string `json:"text"`
}

// enterAudit writes one thing down of an audit: read makes it of what was typed.
func (s *Service) enterAudit(ctx context.Context, by act.Act, verb act.Verb, id string, sent any, write func(tx Tx, in *reader) error) (Audit, error) {
	w := act.Write{Verb: verb, Subject: id, May: act.ToAudit, Content: sent}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		d, err := s.auditDesk(tx, id)
		if err != nil {
			return "", err
		}
		if !d.audit.Erased.IsZero() {
			return "", act.NewConflict("the names of audit %d were erased; nothing more is recorded on it", int(d.audit.Number))
		}
		if d.audit.State == Closed && verb != Noted {
			return "", act.NewConflict("audit %d is closed; only notes can be added to it", int(d.audit.Number))
		}
		if err := write(tx, &reader{service: s, d: d}); err != nil || d.audit.State != Open {
			return id, err
		}
		return id, tx.TouchAudit(id, d.audit.Version)
	}, s.audit)
}

// entry adds one entry, whose body is written as JSON.
func (in *reader) entry(tx Tx, by act.Act, kind EntryKind, body any) error {
	if err := in.done(); err != nil {
		return err
	}
	b, err := ledger.Lasting(body)
	if err != nil {
		return err
	}
	return tx.AddAuditEntry(in.d.audit.ID, Entry{Kind: kind, Body: b, Person: by.Actor.Person, Written: in.d.now})
}

// recorder is the name of who records something: the auditor's where the actor has none
// but that of a role.
func (in *reader) recorder(by act.Act) string {
	if p := by.Actor.Person; p != "" && p != string(by.Actor.Role) {
		return p
	}
	return in.d.audit.OpenedBy
}

// NotifySeller writes down how the seller was told of the audit, and when he was asked
// to come.
func (s *Service) NotifySeller(ctx context.Context, by act.Act, id string, r NoticeRequest) (Audit, error) {
	return s.enterAudit(ctx, by, Notified, id, r, func(tx Tx, in *reader) error {
		n := Notice{Written: in.d.now}
		accepts := measure.Say("how the seller was told, or that he was not told")
		n.How = in.oneOf("how", r.How, accepts, append(NoticeWays(), NotTold)...)
		n.Note = in.text("note", r.Note)
		if n.How == NotTold {
			n.How, n.By = "", in.recorder(by)
			if n.Note == "" {
				in.Missing("note", measure.Say("why the seller was not told"))
			}
			return in.entry(tx, by, NoticeEntry, n)
		}
		n.By = in.needed("told_by", r.ToldBy, measure.Say("the name of who told the seller"))
		if n.When = moment(&in.Fields, "when", r.When, in.d.zone); r.When == "" {
			in.Missing("when", measure.Say("when the seller was told"))
		}
		past(&in.Fields, "when", n.When, in.d.now)
		if n.Appointed = moment(&in.Fields, "appointed", r.Appointed, in.d.zone); r.Appointed == "" {
			in.Missing("appointed", measure.Say("when the seller was asked to come"))
		}
		return in.entry(tx, by, NoticeEntry, n)
	})
}

// NoteAttendance writes down whether the seller came.
func (s *Service) NoteAttendance(ctx context.Context, by act.Act, id string, r AttendanceRequest) (Audit, error) {
	return s.enterAudit(ctx, by, Attended, id, r, func(tx Tx, in *reader) error {
		a := Attendance{Written: in.d.now, Note: in.text("note", r.Note)}
		a.Attended = in.oneOf("attended", r.Attended, measure.Say("yes, no or declined"), "yes", "no", "declined")
		a.Who = in.text("who", r.Who)
		if a.Attended == "yes" && a.Who == "" {
			in.Missing("who", measure.Say("the name of who came"))
		}
		return in.entry(tx, by, AttendanceEntry, a)
	})
}

// HoldWood writes down that the wood is kept unmoved, by whom and whether that held,
// and what of the delivery is not in the stack.
func (s *Service) HoldWood(ctx context.Context, by act.Act, id string, r HoldRequest) (Audit, error) {
	return s.enterAudit(ctx, by, Held, id, r, func(tx Tx, in *reader) error {
		h := Hold{Written: in.d.now, Note: in.text("note", r.Note)}
		h.By = in.needed("held_by", r.HeldBy, measure.Say("the name of who answers for the wood"))
		broken := in.oneOf("broken", r.Broken, measure.Say("no, moved, or used"), "no", "moved", "used")
		h.Broken, h.Used = broken == "moved" || broken == "used", broken == "used"
		if h.Broken && h.Note == "" {
			in.Missing("note", measure.Say("what was moved or used"))
		}
		if r.StackedBy != "" {
			var known []string
			for _, by := range Stackers() {
				known = append(known, string(by))
			}
			h.StackedBy = stack.Stacker(in.oneOf("stacked_by", r.StackedBy, measure.Say("who stacked it again"), known...))
		}
		if h.StackedBy != "" && !h.Broken {
			in.Add("stacked_by", "contradicts", r.StackedBy, measure.Say("it says that the wood was kept as it was"), measure.Say("moved or used, or nobody here"))
		}
		if h.Since = moment(&in.Fields, "since", r.Since, in.d.zone); r.Since == "" {
			in.Missing("since", measure.Say("since when the wood was kept unmoved"))
		}
		past(&in.Fields, "since", h.Since, in.d.now)
		if h.Apart = in.apart(r.Apart); h.Apart.Answered && h.Apart.Quantity.Volume == 0 && (h.Used || in.d.audit.item("used").Answer == AnswerYes) {
			in.Add("apart", "contradicts", r.Apart, measure.Say("some of the wood was used or taken, so it isn’t none"), measure.Say("how much was used, or nothing where that isn’t known"))
		}
		return in.entry(tx, by, HoldEntry, h)
	})
}

// apart reads what of the delivery is elsewhere; not said is not none.
func (in *reader) apart(text string) stack.Apart {
	switch text {
	case "":
		return stack.Apart{}
	case "none":
		return stack.Apart{Answered: true}
	}
	subject := in.d.audit.Subject
	said := in.SaidUnder(in.d.set, in.d.shop.Units, "apart", text, subject.PieceLength)
	switch {
	case said.Quantity.Volume == 0:
	case said.Barred != "":
		in.Add("apart", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
			measure.Say("%s", act.Spell(in.d.set, in.d.shop.Units, said.Quantity)))
	case said.Quantity.Basis != subject.Sold.Basis:
		in.Add("apart", "other-basis", "", measure.Say("it is %s wood, and what was sold is %s", measure.Say(string(said.Quantity.Basis)), measure.Say(string(subject.Sold.Basis))),
			measure.Say("a quantity of %s wood, none, or nothing where it is not known", measure.Say(string(subject.Sold.Basis))))
	}
	return stack.Apart{Answered: true, Quantity: said.Quantity}
}

// PlanAudit fixes the plan, or amends the one that is fixed.
func (s *Service) PlanAudit(ctx context.Context, by act.Act, id string, r PlanRequest) (Audit, error) {
	return s.enterAudit(ctx, by, Planned, id, r, func(tx Tx, in *reader) error {
		p := in.plan(r)
		p.By = in.recorder(by)
		var err error
		if p.Look, err = in.look(tx); err != nil {
			return err
		}
		return in.entry(tx, by, PlanEntry, p)
	})
}

// look counts the looks at this delivery so far, and this one. It is counted once, when
// the plan is first fixed.
func (in *reader) look(tx Tx) (int, error) {
	if before := in.d.audit.Plan(); before != nil {
		return before.Look, nil
	}
	subject := in.d.audit.Subject
	if subject.OrderID == "" {
		return 1, nil
	}
	tallies, err := tx.Tallies(subject.OrderID)
	if err != nil {
		return 0, err
	}
	audits, err := tx.AuditsOf(subject.OrderID)
	look := len(tallies) + 1
	for _, a := range audits {
		if a.State == Closed && a.Receipt == subject.Receipt.Number {
			look++
		}
	}
	return look, err
}

func (in *reader) plan(r PlanRequest) Plan {
	a := in.d.audit
	p := Plan{Fixed: in.d.now}
	var kinds []string
	for _, f := range forms.All() {
		kinds = append(kinds, f.Kind)
	}
	p.Kind = in.oneOf("kind", r.Kind, measure.Say("how the wood is piled"), kinds...)
	p.Measurers = in.count("measurers", r.Measurers, 1, stack.MaxHands)
	p.Pieces = in.count("pieces", r.Pieces, 0, stack.MaxPieces)
	p.Top = stack.Top(in.oneOf("top", r.Top, measure.Say("straightedge or by eye"), string(stack.Straightedge), string(stack.ByEye)))
	if p.Kind == "rows" {
		p.Stations = in.count("stations", r.Stations, 1, stack.MaxStations)
		p.Lengths = in.count("lengths", r.Lengths, 1, stack.MaxLengths+1)
		p.Faces = Faces(in.oneOf("faces", r.Faces, measure.Say("the front, or both"), string(FrontFace), string(BothFaces)))
	}
	p.Tape = in.tape(r.Tape)
	p.Stop = in.needed("stop", r.Stop, measure.Say("when measuring ends, such as: when each measurer has read every height once"))
	before := a.Plan()
	if before == nil {
		return p
	}
	p.Reason = in.needed("reason", r.Reason, measure.Say("why the plan is amended"))
	if p.Measurers != 0 && p.Measurers < len(a.Measurers) {
		in.Add("measurers", "too-few", r.Measurers, measure.Say("there are %d measurers already", len(a.Measurers)), measure.Say("%d or more", len(a.Measurers)))
	}
	for _, h := range a.Measurers {
		if p.Kind != before.Kind && (h.Drafts > 0 || !h.HandedIn.IsZero()) {
			in.Add("kind", "begun", "", measure.Say("%s has begun to read it as it was planned", h.Name), measure.Say("the kind that was planned"))
			break
		}
	}
	return p
}

func (in *reader) tape(text string) measure.Length {
	unit := measure.Inch
	if in.d.shop.Units == act.Metric {
		unit = measure.Centimetre
	}
	if text == "" {
		in.Missing("tape", measure.Say("the smallest mark read on the tape, such as 1/4 in"))
		return 0
	}
	l, err := measure.ParseLengthIn(text, unit)
	if in.Parsed("tape", err) && (l <= 0 || l > coarsestTape) {
		in.Add("tape", "out-of-range", text, measure.Say("no tape is read so coarsely"), measure.Say("more than nothing, up to %s", coarsestTape))
	}
	return l
}

// AnswerItems answers items of the checklist. An answer given before stays in the
// record.
func (s *Service) AnswerItems(ctx context.Context, by act.Act, id string, r ItemsRequest) (Audit, error) {
	return s.enterAudit(ctx, by, ItemsSaved, id, r, func(tx Tx, in *reader) error {
		var changed []Item
		for _, typed := range r.Items {
			if item, differs := in.item(typed, in.recorder(by)); differs {
				changed = append(changed, item)
			}
		}
		if err := in.done(); err != nil {
			return err
		}
		for _, item := range changed {
			if err := in.entry(tx, by, ItemEntry, item); err != nil {
				return err
			}
		}
		return nil
	})
}

func (in *reader) item(r ItemRequest, person string) (item Item, differs bool) {
	field := "items." + r.Code
	for _, known := range in.d.audit.Checklist {
		if known.Code == r.Code {
			item = known
		}
	}
	if item.Code == "" {
		in.Add(field, "unknown", "", measure.Say("that item on the checklist isn’t here"), measure.Say("an item of this audit's checklist"))
		return item, false
	}
	before := item
	faults := len(in.Faults)
	item.Note = in.text(field+".note", r.Note)
	switch item.Answer = Answer(r.Answer); item.Answer {
	case "", AnswerYes, AnswerNo, AnswerNotSeen:
	default:
		in.Add(field, "unknown", "", measure.Say("it is none of the answers"), measure.Say("yes, no or not seen"))
	}
	if item.needsNote() && item.Note == "" && len(in.Faults) == faults {
		in.Missing(field+".note", measure.Say("what it was, or why it was not seen"))
	}
	if r.Code != "ticket" && item.ofField() && item.Answer == AnswerYes && in.d.audit.item("ticket").Answer == AnswerNo {
		in.Add(field, "contradicts", "", measure.Say("it is recorded that there was no ticket"), measure.Say("no; or answer that item first"))
	}
	if none := in.d.audit.Hold().Apart; r.Code == "used" && item.Answer == AnswerYes && none.Answered && none.Quantity.Volume == 0 {
		in.Add(field, "contradicts", "", measure.Say("it is recorded that none of the delivery is outside the stack"),
			measure.Say("no; or first record, under wood kept as it is, how much was used"))
	}
	if item.Answer == before.Answer && item.Note == before.Note {
		return item, false
	}
	item.Filled, item.By, item.Written = false, person, in.d.now
	return item, true
}

// NoteAudit adds a note: also to a closed audit, where it is the only thing that can
// be added.
func (s *Service) NoteAudit(ctx context.Context, by act.Act, id string, r NoteRequest) (Audit, error) {
	return s.enterAudit(ctx, by, Noted, id, r, func(tx Tx, in *reader) error {
		n := Note{By: in.recorder(by), Written: in.d.now}
		n.Kind = NoteKind(in.oneOf("note_kind", r.Kind, measure.Say("a note, the seller’s answer, or a copy given"),
			string(PlainNote), string(SellerAnswer), string(CopyGiven)))
		n.Text = in.longText("text", r.Text)
		n.Who = in.text("who", r.Who)
		switch {
		case n.Kind == CopyGiven && n.Who == "":
			in.Missing("who", measure.Say("the name of who got the copy"))
		case n.Kind == CopyGiven && in.d.audit.State == Open:
			return act.NewConflict("audit %d is open, so there is no report yet that a copy could be of", int(in.d.audit.Number))
		case n.Kind != CopyGiven && n.Text == "":
			in.Missing("text", measure.Say("what is to be noted"))
		}
		return in.entry(tx, by, NoteEntry, n)
	})
}

// coarsestTape is the largest division that a tally takes.
const coarsestTape = measure.Foot
