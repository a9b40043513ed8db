package orders

import (
	"context"
	"encoding/json"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// mostSavings bounds how often one measurer may save.
const mostSavings = 300

// A MeasurerRequest adds a measurer to an audit.
type MeasurerRequest struct {
	Name string `json:"hand_name"`
}

// A MeasurerLink is a measurer and the secret code of its link, which is shown once and not
// kept.
type MeasurerLink struct {
	AuditID  string        `json:"audit_id"`
	Measurer AuditMeasurer `json:"hand"`
	Code     string        `json:"code"`
}

// A MeasurerView is what a measurer sees by its link: the wood, the plan, and its own readings,
// never another's.
type MeasurerView struct {
	AuditID  string        `json:"-"`
	Number   int64         `json:"number"` // of the case
	State    AuditState    `json:"state"`
	Subject  AuditSubject  `json:"subject"`
	Plan     *AuditPlan    `json:"plan"` // nil before it is fixed: nothing is read before
	Measurer AuditMeasurer `json:"hand"`
	// Saved is what the measurer saved, oldest first.
	Saved []MeasurerSaving `json:"saved"`

	held held
	desk auditDesk
}

// A MeasurerSaving is one saving of a measurer, as it may see it.
type MeasurerSaving struct {
	AuditReading
	// Result is what readings that were handed in come to; nil for a draft, and for
	// what was saved by an earlier link, of which only the times are given.
	Result *measure.Result
}

// A ReadingRequest is a measurer's readings.
type ReadingRequest struct {
	Document []byte // measure.Document as JSON; sold, by, look and apart are the case's
	Typed    []byte // the form as it was filled in, to be put back
	HandIn   bool   // else they are a draft
	Reason   string // why readings handed in before are struck
}

// AddMeasurer adds somebody who measures and gives the code of the link, once. The same
// request again is a Conflict, since the code cannot be shown twice.
func (s *Service) AddMeasurer(ctx context.Context, by Act, id string, r MeasurerRequest) (MeasurerLink, error) {
	code, hash, err := newCode()
	if err != nil {
		return MeasurerLink{}, fail(err)
	}
	var h AuditMeasurer
	wrote := false
	a, err := s.enterAudit(ctx, by, AuditMeasurerAdded, id, r, func(tx Tx, in *auditReader) error {
		plan := in.d.audit.Plan()
		if plan == nil {
			return conflict("audit %d has no plan yet: fix it first, for it says how many measure", int(in.d.audit.Number))
		}
		if n := len(in.d.audit.Measurers); n >= plan.Measurers {
			return conflict("the plan has %d measurers and all have their link; amend the plan to add another", plan.Measurers)
		}
		h = AuditMeasurer{Name: in.needed("hand_name", r.Name, measure.Say("the name of who measures")), Added: in.d.now}
		for _, other := range in.d.audit.Measurers {
			if SellerKey(other.Name) == SellerKey(h.Name) {
				in.add("hand_name", "twice", h.Name, measure.Say("somebody of that name measures already"), measure.Say("a name that tells the two apart"))
			}
		}
		if err := in.done(); err != nil {
			return err
		}
		var err error
		if h.ID, err = newID(); err != nil {
			return err
		}
		wrote = true
		return tx.AddAuditMeasurer(id, h, hash)
	})
	return linkShown(a, h, code, wrote, err)
}

// RenewMeasurer gives a measurer another link; the one before opens nothing any more.
func (s *Service) RenewMeasurer(ctx context.Context, by Act, id, measurerID string) (MeasurerLink, error) {
	code, hash, err := newCode()
	if err != nil {
		return MeasurerLink{}, fail(err)
	}
	var h AuditMeasurer
	wrote := false
	a, err := s.enterAudit(ctx, by, AuditMeasurerRenewed, id, measurerID, func(tx Tx, in *auditReader) error {
		for _, known := range in.d.audit.Measurers {
			if known.ID == measurerID {
				h = known
			}
		}
		if h.ID == "" {
			return &Error{Kind: NotFound, Message: measure.Say("there is no such hand in this audit")}
		}
		wrote = true
		return tx.RenewAuditMeasurer(measurerID, hash, in.d.now)
	})
	return linkShown(a, h, code, wrote, err)
}

func linkShown(a Audit, h AuditMeasurer, code string, wrote bool, err error) (MeasurerLink, error) {
	switch {
	case err != nil:
		return MeasurerLink{}, err
	case !wrote:
		return MeasurerLink{}, conflict("this link was made and its code shown once; it is not kept. Renew the link for another")
	}
	return MeasurerLink{AuditID: a.ID, Measurer: h, Code: code}, nil
}

// Measuring gives what a measurer sees by its code; NotFound for one that opens nothing.
func (s *Service) Measuring(ctx context.Context, code string) (h MeasurerView, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		h, err = s.shownMeasuring(tx, code)
		return err
	})
	return h, fail(err)
}

func (s *Service) shownMeasuring(tx Tx, code string) (MeasurerView, error) {
	h, err := s.measurerView(tx, code)
	h.hideBefore()
	return h, err
}

// hideBefore keeps what was saved by an earlier link from whoever has the renewed one:
// it need not be the same person who holds it. When it was saved still shows, and it
// counts as before.
func (h *MeasurerView) hideBefore() {
	for i := range h.Saved {
		if s := &h.Saved[i]; s.Created.Before(h.Measurer.Renewed) {
			s.Document, s.Typed, s.Result = nil, nil, nil
		}
	}
}

func (s *Service) measurerView(tx Tx, code string) (MeasurerView, error) {
	auditID, measurerID, err := tx.AuditMeasurerOf(hashOfCode(code))
	if err != nil {
		return MeasurerView{}, err
	}
	d, err := s.auditDesk(tx, auditID)
	if err != nil {
		return MeasurerView{}, err
	}
	h := MeasurerView{AuditID: auditID, Number: d.audit.Number, State: d.audit.State, Subject: d.audit.Subject,
		Plan: d.audit.Plan(), held: d.held(), desk: d}
	for _, measurer := range d.audit.Measurers {
		if measurer.ID == measurerID {
			h.Measurer = measurer
		}
	}
	readings, err := tx.AuditReadings(measurerID)
	if err != nil {
		return MeasurerView{}, err
	}
	for _, r := range readings {
		saving := MeasurerSaving{AuditReading: r}
		if r.Handed {
			m, err := d.measure(r.Document)
			if err != nil {
				return MeasurerView{}, err
			}
			saving.Result = &m.result
		}
		h.Saved = append(h.Saved, saving)
	}
	return h, nil
}

// Latest is what the measurer saved last, nil before it saved anything.
func (h MeasurerView) Latest() *MeasurerSaving {
	if len(h.Saved) == 0 {
		return nil
	}
	return &h.Saved[len(h.Saved)-1]
}

// Counts is what the measurer handed in and did not strike; nil before.
func (h MeasurerView) Counts() *MeasurerSaving {
	for i := range h.Saved {
		if s := &h.Saved[i]; s.Handed && s.Struck.IsZero() {
			return s
		}
	}
	return nil
}

// held is what the readings of an audit are held against.
func (d auditDesk) held() held {
	s := d.audit.Subject
	h := held{units: d.shop.Units, sold: s.Sold, piece: s.PieceLength, look: 1, by: measure.Inspector}
	if plan := d.audit.Plan(); plan != nil {
		h.look = plan.Look
	}
	return h
}

// measure completes a measurer's document with what holds for the case, apart among it, and
// measures it.
func (d auditDesk) measure(doc []byte) (measuring, error) {
	var document measure.Document
	if err := json.Unmarshal(doc, &document); err != nil {
		return d.held().measure(d.set, doc) // says what is wrong with it
	}
	document.Sold, document.Look = "", 0
	document.Apart = d.apart()
	own, err := canonical(document)
	if err != nil {
		return measuring{}, err
	}
	if _, err := measure.ParseTally(doc); err != nil { // unknown fields are refused
		return measuring{}, refuseTally(d.set, err)
	}
	return d.held().measure(d.set, own)
}

// apart is what the case says is elsewhere, as a tally has it.
func (d auditDesk) apart() measure.Reading {
	switch apart := d.audit.Hold().Apart; {
	case !apart.Answered:
		return ""
	case apart.Quantity.Volume == 0:
		return "none"
	default:
		return measure.Reading(spell(d.set, d.shop.Units, apart.Quantity))
	}
}

// TryReading measures as handing in would and saves nothing.
func (s *Service) TryReading(ctx context.Context, code string, doc []byte) (measure.Tally, measure.Result, error) {
	h, err := s.Measuring(ctx, code)
	if err != nil {
		return measure.Tally{}, measure.Result{}, err
	}
	m, err := h.measure(doc)
	return m.tally, m.result, fail(err)
}

// measure measures a document of the planned kind.
func (h MeasurerView) measure(doc []byte) (measuring, error) {
	if err := h.open(); err != nil {
		return measuring{}, err
	}
	m, err := h.desk.measure(doc)
	if err != nil {
		return measuring{}, err
	}
	if m.tally.Stack.Kind() != h.Plan.Kind {
		return measuring{}, invalid("stack.kind", "not-planned", "", measure.Say("the plan is for wood that stands otherwise"),
			measure.Say("“%s”, as planned", h.Plan.Kind))
	}
	return m, nil
}

// open answers Conflict where no readings are taken.
func (h MeasurerView) open() error {
	switch {
	case h.State == AuditClosed:
		return conflict("audit %d is closed; no more readings are taken", int(h.Number))
	case h.Plan == nil:
		return conflict("the plan of audit %d is not fixed yet; readings are taken once it is", int(h.Number))
	}
	return nil
}

// SaveReading saves a draft or hands readings in. A measurer hands in once; after that a
// correction, with its reason, strikes what was handed in, which stays legible.
func (s *Service) SaveReading(ctx context.Context, request, code string, r ReadingRequest) (MeasurerView, error) {
	known, err := s.Measuring(ctx, code)
	if err != nil {
		return MeasurerView{}, err
	}
	by := Act{Actor: Actor{Person: known.Measurer.Name}, Request: request}
	w := act.Write{Verb: AuditRead, Subject: hashOfCode(code), Content: r} // the code lets in
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		h, err := s.measurerView(tx, code)
		if err != nil {
			return "", err
		}
		if err := s.saveReading(tx, h, r); err != nil {
			return "", err
		}
		return h.Measurer.ID, tx.TouchAudit(h.AuditID, h.desk.audit.Version)
	}, func(tx Tx, _ string) (MeasurerView, error) { return s.shownMeasuring(tx, code) })
}

func (s *Service) saveReading(tx Tx, h MeasurerView, r ReadingRequest) error {
	if err := h.open(); err != nil {
		return err
	}
	if len(h.Saved) >= mostSavings {
		return conflict("this link has saved %d times, which is all it may", mostSavings)
	}
	reading := AuditReading{N: len(h.Saved) + 1, Typed: r.Typed, Document: r.Document, Created: h.desk.now, Handed: r.HandIn}
	counts := h.Counts()
	if !r.HandIn {
		if counts != nil {
			return conflict("you have handed in; what you change now is a correction, and strikes what you handed in")
		}
		if !json.Valid(r.Document) {
			return invalid("", "not-json", "", measure.Say("the draft is no JSON"), measure.Say("a tally document"))
		}
		return tx.AddAuditReading(h.Measurer.ID, reading)
	}
	in := auditReader{service: s, d: h.desk}
	m, err := h.measure(r.Document)
	if err != nil {
		if KindOf(err) != Invalid {
			return err
		}
		if other := in.takeFaults(err); other != nil {
			return other
		}
	}
	in.printableReadings(m.document)
	if counts != nil {
		reason := in.needed("reason", r.Reason, measure.Say("why you strike what you handed in"))
		if err := in.done(); err != nil {
			return err
		}
		if err := tx.StrikeAuditReading(h.Measurer.ID, counts.N, h.desk.now, reason); err != nil {
			return err
		}
	}
	if err := in.done(); err != nil {
		return err
	}
	return tx.AddAuditReading(h.Measurer.ID, reading)
}

// takeFaults takes over the faults of an Invalid error.
func (f *fields) takeFaults(err error) error {
	var e *Error
	if e, _ = fail(err).(*Error); e == nil || len(e.Fields) == 0 {
		return err
	}
	f.Faults = append(f.Faults, e.Fields...)
	return nil
}

// printableReadings checks the texts of a document that the report prints.
func (in *auditReader) printableReadings(doc measure.Document) {
	in.text("condition", string(doc.Condition))
}
