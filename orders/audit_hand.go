package orders

import (
	"context"
	"encoding/json"

	"wellstowed/measure"
)

// mostSavings bounds how often one hand may save.
const mostSavings = 300

// A HandRequest adds a hand to an audit.
type HandRequest struct {
	Name string `json:"hand_name"`
}

// A HandLink is a hand and the secret code of its link, which is shown once and not
// kept.
type HandLink struct {
	AuditID string    `json:"audit_id"`
	Hand    AuditHand `json:"hand"`
	Code    string    `json:"code"`
}

// A HandDesk is what a hand sees by its link: the wood, the plan, and its own readings,
// never another's.
type HandDesk struct {
	AuditID string       `json:"-"`
	Number  int64        `json:"number"` // of the case
	State   AuditState   `json:"state"`
	Subject AuditSubject `json:"subject"`
	Plan    *AuditPlan   `json:"plan"` // nil before it is fixed: nothing is read before
	Hand    AuditHand    `json:"hand"`
	// Saved is what the hand saved, oldest first.
	Saved []HandSaving `json:"saved"`

	held held
	desk auditDesk
}

// A HandSaving is one saving of a hand, as it may see it.
type HandSaving struct {
	AuditReading
	// Result is what readings that were handed in come to; nil for a draft, and for
	// what was saved by an earlier link, of which only the times are given.
	Result *measure.Result
}

// A ReadingRequest is a hand's readings.
type ReadingRequest struct {
	Document []byte // measure.Document as JSON; sold, by, look and apart are the case's
	Typed    []byte // the form as it was filled in, to be put back
	HandIn   bool   // else they are a draft
	Reason   string // why readings handed in before are struck
}

// AddHand adds somebody who measures and gives the code of the link, once. The same
// request again is a Conflict, since the code cannot be shown twice.
func (s *Service) AddHand(ctx context.Context, act Act, id string, r HandRequest) (HandLink, error) {
	code, hash, err := newCode()
	if err != nil {
		return HandLink{}, fail(err)
	}
	var h AuditHand
	wrote := false
	a, err := s.enterAudit(ctx, act, AuditHandAdded, id, func(tx Tx, in *auditReader) error {
		plan := in.d.audit.Plan()
		if plan == nil {
			return conflict("audit %d has no plan yet: fix it first, for it says how many measure", int(in.d.audit.Number))
		}
		if n := len(in.d.audit.Hands); n >= plan.Hands {
			return conflict("the plan has %d hands and all have their link; amend the plan to add another", plan.Hands)
		}
		h = AuditHand{Name: in.needed("hand_name", r.Name, measure.Say("the name of who measures")), Added: in.d.now}
		for _, other := range in.d.audit.Hands {
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
		return tx.AddAuditHand(id, h, hash)
	})
	return linkShown(a, h, code, wrote, err)
}

// RenewHand gives a hand another link; the one before opens nothing any more.
func (s *Service) RenewHand(ctx context.Context, act Act, id, handID string) (HandLink, error) {
	code, hash, err := newCode()
	if err != nil {
		return HandLink{}, fail(err)
	}
	var h AuditHand
	wrote := false
	a, err := s.enterAudit(ctx, act, AuditHandRenewed, id, func(tx Tx, in *auditReader) error {
		for _, known := range in.d.audit.Hands {
			if known.ID == handID {
				h = known
			}
		}
		if h.ID == "" {
			return &Error{Kind: NotFound, Message: measure.Say("there is no such hand in this audit")}
		}
		wrote = true
		return tx.RenewAuditHand(handID, hash, in.d.now)
	})
	return linkShown(a, h, code, wrote, err)
}

func linkShown(a Audit, h AuditHand, code string, wrote bool, err error) (HandLink, error) {
	switch {
	case err != nil:
		return HandLink{}, err
	case !wrote:
		return HandLink{}, conflict("this link was made and its code shown once; it is not kept. Renew the link for another")
	}
	return HandLink{AuditID: a.ID, Hand: h, Code: code}, nil
}

// Hand gives what a hand sees by its code; NotFound for one that opens nothing.
func (s *Service) Hand(ctx context.Context, code string) (h HandDesk, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		h, err = s.handDesk(tx, code)
		return err
	})
	h.hideBefore()
	return h, fail(err)
}

// hideBefore keeps what was saved by an earlier link from whoever has the renewed one:
// it need not be the same person who holds it. When it was saved still shows, and it
// counts as before.
func (h *HandDesk) hideBefore() {
	for i := range h.Saved {
		if s := &h.Saved[i]; s.Created.Before(h.Hand.Renewed) {
			s.Document, s.Typed, s.Result = nil, nil, nil
		}
	}
}

func (s *Service) handDesk(tx Tx, code string) (HandDesk, error) {
	auditID, handID, err := tx.AuditHandOf(hashOfCode(code))
	if err != nil {
		return HandDesk{}, err
	}
	d, err := s.auditDesk(tx, auditID)
	if err != nil {
		return HandDesk{}, err
	}
	h := HandDesk{AuditID: auditID, Number: d.audit.Number, State: d.audit.State, Subject: d.audit.Subject,
		Plan: d.audit.Plan(), held: d.held(), desk: d}
	for _, hand := range d.audit.Hands {
		if hand.ID == handID {
			h.Hand = hand
		}
	}
	readings, err := tx.AuditReadings(handID)
	if err != nil {
		return HandDesk{}, err
	}
	for _, r := range readings {
		saving := HandSaving{AuditReading: r}
		if r.Handed {
			m, err := d.measure(r.Document)
			if err != nil {
				return HandDesk{}, err
			}
			saving.Result = &m.result
		}
		h.Saved = append(h.Saved, saving)
	}
	return h, nil
}

// Latest is what the hand saved last, nil before it saved anything.
func (h HandDesk) Latest() *HandSaving {
	if len(h.Saved) == 0 {
		return nil
	}
	return &h.Saved[len(h.Saved)-1]
}

// Counts is what the hand handed in and did not strike; nil before.
func (h HandDesk) Counts() *HandSaving {
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

// measure completes a hand's document with what holds for the case, apart among it, and
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
	h, err := s.Hand(ctx, code)
	if err != nil {
		return measure.Tally{}, measure.Result{}, err
	}
	m, err := h.measure(doc)
	return m.tally, m.result, fail(err)
}

// measure measures a document of the planned kind.
func (h HandDesk) measure(doc []byte) (measuring, error) {
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
func (h HandDesk) open() error {
	switch {
	case h.State == AuditClosed:
		return conflict("audit %d is closed; no more readings are taken", int(h.Number))
	case h.Plan == nil:
		return conflict("the plan of audit %d is not fixed yet; readings are taken once it is", int(h.Number))
	}
	return nil
}

// SaveReading saves a draft or hands readings in. A hand hands in once; after that a
// correction, with its reason, strikes what was handed in, which stays legible.
func (s *Service) SaveReading(ctx context.Context, request, code string, r ReadingRequest) (HandDesk, error) {
	e, err := begin(Act{Request: request}, AuditRead, hashOfCode(code))
	if err != nil {
		return HandDesk{}, err
	}
	err = s.store.Write(ctx, func(tx Tx) error {
		if before, err := e.done(tx); err != nil || before != nil {
			return err
		}
		h, err := s.handDesk(tx, code)
		if err != nil {
			return err
		}
		e.act.Actor.Person = h.Hand.Name
		if err := s.saveReading(tx, h, r); err != nil {
			return err
		}
		if err := tx.TouchAudit(h.AuditID, h.desk.audit.Version); err != nil {
			return err
		}
		return s.keep(tx, e, h.Hand.ID)
	})
	if err != nil {
		return HandDesk{}, fail(err)
	}
	return s.Hand(ctx, code)
}

func (s *Service) saveReading(tx Tx, h HandDesk, r ReadingRequest) error {
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
		return tx.AddAuditReading(h.Hand.ID, reading)
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
		if err := tx.StrikeAuditReading(h.Hand.ID, counts.N, h.desk.now, reason); err != nil {
			return err
		}
	}
	if err := in.done(); err != nil {
		return err
	}
	return tx.AddAuditReading(h.Hand.ID, reading)
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
