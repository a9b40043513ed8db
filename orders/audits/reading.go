package audits

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// mostSavings bounds how often one measurer may save.
const mostSavings = 300

// A ReadingRequest is a measurer's readings.
type ReadingRequest struct {
	Document []byte // stack.Document as JSON; sold, by, look and apart are the case's
	Typed    []byte // the form as it was filled in, to be put back
	HandIn   bool   // else they are a draft
	Reason   string // why readings handed in before are crossed out
	Told     CircumstancesRequest
}

// A CircumstancesRequest says when, as what and with which tape somebody read, as typed.
// Times are in the shop's zone.
type CircumstancesRequest struct {
	Began       string `json:"began"` // "2006-01-02 15:04"
	Ended       string `json:"ended"`
	Role        string `json:"role"` // as what: "neighbour", "deputy sealer"
	TapeMaker   string `json:"tape_maker"`
	TapeNumber  string `json:"tape_number"`
	TapeChecked string `json:"tape_checked"` // "yes" or "no"
	CheckedOn   string `json:"checked_on"`   // "2006-01-02"
	CheckedBy   string `json:"checked_by"`   // what it was held against
}

// A Circumstances is when, as what and with which tape somebody read.
type Circumstances struct {
	Began      time.Time `json:"began,omitzero"`
	Ended      time.Time `json:"ended,omitzero"`
	Role       string    `json:"role,omitempty" names:"erased"`
	TapeMaker  string    `json:"tape_maker,omitempty" names:"erased"`
	TapeNumber string    `json:"tape_number,omitempty" names:"erased"`
	CheckedOn  act.Date  `json:"checked_on,omitzero"`                 // zero: the tape was not checked
	CheckedBy  string    `json:"checked_by,omitempty" names:"erased"` // what it was held against
}

// SaveReading saves a draft, or seals readings and hands them in. A measurer hands in
// once; after that a correction, with its reason, crosses out what was handed in, which
// stays legible in the report.
func (s *Service) SaveReading(ctx context.Context, request, code string, r ReadingRequest) (MeasurerView, error) {
	known, err := s.Measuring(ctx, code)
	if err != nil {
		return MeasurerView{}, err
	}
	by := act.Act{Actor: act.Actor{Person: known.Measurer.Name}, Request: request}
	w := act.Write{Verb: ReadingSaved, Subject: act.HashOfCode(code), Content: r} // the code lets in
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		v, err := s.measurerView(tx, code)
		if err != nil {
			return "", err
		}
		if err := s.saveReading(tx, v, r); err != nil {
			return "", err
		}
		return v.Measurer.ID, tx.TouchAudit(v.AuditID, v.desk.audit.Version)
	}, func(tx Tx, _ string) (MeasurerView, error) { return s.measurerView(tx, code) })
}

func (s *Service) saveReading(tx Tx, v MeasurerView, r ReadingRequest) error {
	if err := v.open(); err != nil {
		return err
	}
	if len(v.Saved) >= mostSavings {
		return act.NewConflict("this link has saved %d times, which is all it may", mostSavings)
	}
	reading := SavedReading{N: len(v.Saved) + 1, Typed: r.Typed, Document: r.Document, Created: v.desk.now, Handed: r.HandIn}
	if r.HandIn {
		return s.handIn(tx, v, reading, r)
	}
	if v.Counts() != nil {
		return act.NewConflict("you have handed in; what you change now is a correction, and crosses out what you handed in")
	}
	if !json.Valid(r.Document) {
		return act.NewInvalid("", "not-json", "", measure.Say("the draft isn’t JSON"), measure.Say("a tally document"))
	}
	return tx.AddAuditReading(v.Measurer.ID, reading)
}

// handIn seals readings and adds them.
func (s *Service) handIn(tx Tx, v MeasurerView, reading SavedReading, r ReadingRequest) error {
	in := reader{service: s, d: v.desk}
	read, err := v.read(r.Document)
	if err != nil {
		if act.KindOf(err) != act.Invalid {
			return err
		}
		if other := takeFaults(&in.Fields, err); other != nil {
			return other
		}
	}
	in.text("condition", read.Tally.Condition)
	reading.Circumstances = in.circumstances(r.Told)
	counts, reason := v.Counts(), ""
	if counts != nil {
		reason = in.needed("reason", r.Reason, measure.Say("why you cross out what you handed in"))
	}
	if err := in.done(); err != nil {
		return err
	}
	// What can't be held against the sale would keep the audit from ever being closed.
	if _, err := v.desk.measure(r.Document); err != nil {
		return act.NewConflict("these readings can’t be held against this sale; show them to the auditor of audit %d", int(v.Number))
	}
	if counts != nil {
		if err := tx.StrikeAuditReading(v.Measurer.ID, counts.N, v.desk.now, reason); err != nil {
			return err
		}
	}
	reading.Typed = nil // only a draft is put back
	if reading.Document, err = v.desk.confirmed(r.Document, read.Questions); err != nil {
		return err
	}
	if err := reading.seal(v.Measurer.ID); err != nil {
		return err
	}
	return tx.AddAuditReading(v.Measurer.ID, reading)
}

// confirmed is a document whose open questions are answered: who reads it back and seals
// it says that the readings are as read. One without questions stays as it is.
func (d desk) confirmed(doc []byte, asked []stack.Question) ([]byte, error) {
	document, err := d.own(doc)
	if err != nil {
		return nil, err
	}
	open := false
	for _, q := range asked {
		if !q.Confirmed {
			document.Confirmed, open = append(document.Confirmed, stack.Reading(q.Key)), true
		}
	}
	if !open {
		return doc, nil
	}
	return ledger.Canonical(document)
}

// circumstances reads when, as what and with which tape somebody read.
func (in *reader) circumstances(r CircumstancesRequest) Circumstances {
	c := Circumstances{
		Began: in.pastMoment("began", r.Began, measure.Say("the day and time you began to read")),
		Ended: in.pastMoment("ended", r.Ended, measure.Say("the day and time you ended")),
		Role:  in.needed("role", r.Role, measure.Say("as what you measure, such as neighbour or deputy sealer")),

		TapeMaker:  in.needed("tape_maker", r.TapeMaker, measure.Say("the maker on the tape, or none")),
		TapeNumber: in.needed("tape_number", r.TapeNumber, measure.Say("the number on the tape, or none")),
	}
	if !c.Began.IsZero() && !c.Ended.IsZero() && c.Ended.Before(c.Began) {
		in.Add("ended", "before-began", r.Ended, measure.Say("it is before you began"), measure.Say("a time after you began"))
	}
	if in.oneOf("tape_checked", r.TapeChecked, measure.Say("yes or no"), "yes", "no") != "yes" {
		return c
	}
	c.CheckedBy = in.needed("checked_by", r.CheckedBy, measure.Say("what the tape was held against"))
	if r.CheckedOn == "" {
		in.Missing("checked_on", measure.Say("the day the tape was checked"))
		return c
	}
	on, err := act.ParseDate(r.CheckedOn)
	if in.Parsed("checked_on", err) && on.After(act.DateOf(in.d.now.In(in.d.zone))) {
		in.Add("checked_on", "future", r.CheckedOn, measure.Say("it is later than today"), measure.Say("a day that has passed"))
	}
	c.CheckedOn = on
	return c
}

// pastMoment reads a day and time that must be filled in and has passed.
func (in *reader) pastMoment(field, typed string, accepts measure.Text) time.Time {
	if typed == "" {
		in.Missing(field, accepts)
		return time.Time{}
	}
	t := moment(&in.Fields, field, typed, in.d.zone)
	past(&in.Fields, field, t, in.d.now)
	return t
}

// takeFaults takes over the faults of an Invalid error.
func takeFaults(f *act.Fields, err error) error {
	var e *act.Error
	if e, _ = act.Fail(err).(*act.Error); e == nil || len(e.Fields) == 0 {
		return err
	}
	f.Faults = append(f.Faults, e.Fields...)
	return nil
}

// saltBytes keep a seal from being guessed at with likely readings.
const saltBytes = 16

// seal seals readings that are handed in: their code is of all that must not change.
func (r *SavedReading) seal(measurerID string) (err error) {
	r.Salt = make([]byte, saltBytes)
	if _, err = rand.Read(r.Salt); err != nil {
		return err
	}
	r.Seal, err = r.Sealed(measurerID)
	return err
}

// Sealed is the code that readings handed in have by what lies in the store.
func (r SavedReading) Sealed(measurerID string) (string, error) {
	b, err := ledger.Canonical(struct {
		Measurer      string        `json:"measurer"`
		N             int           `json:"n"`
		HandedIn      time.Time     `json:"handed_in"`
		Document      []byte        `json:"document"`
		Circumstances Circumstances `json:"circumstances"`
	}{measurerID, r.N, r.Created, r.Document, r.Circumstances})
	if err != nil {
		return "", err
	}
	return ledger.Seal(ledger.Hash(r.Salt, b))
}

// held is what the readings of an audit are held against.
func (d desk) held() orders.Sale {
	s := d.audit.Subject
	h := orders.Sale{Units: d.shop.Units, Sold: s.Sold, Piece: s.PieceLength, Check: 1, By: stack.Inspector, Species: s.Species}
	if plan := d.audit.Plan(); plan != nil {
		h.Check = plan.Look
	}
	return h
}

// measure completes a measurer's document with what holds for the case, wood that is
// elsewhere among it, and measures it.
func (d desk) measure(doc []byte) (orders.Measurement, error) {
	own, err := d.own(doc)
	if err != nil {
		return orders.Measurement{}, err
	}
	own.Apart = d.apart()
	b, err := ledger.Canonical(own)
	if err != nil {
		return orders.Measurement{}, err
	}
	return d.held().Measure(d.set, b)
}

// measureAlone measures a document against nothing.
func (d desk) measureAlone(doc []byte) (m orders.Measurement, err error) {
	if m.Document, err = d.own(doc); err != nil {
		return orders.Measurement{}, err
	}
	m.Document.By = stack.Reading(stack.Inspector)
	if m.Bytes, err = ledger.Canonical(m.Document); err != nil {
		return orders.Measurement{}, err
	}
	var f act.Fields
	if err := orders.BarredInTally(&f, d.set, m.Bytes); err != nil {
		return orders.Measurement{}, err
	}
	if err := f.Err(); err != nil {
		return orders.Measurement{}, err
	}
	if m.Tally, err = stack.ParseTally(m.Bytes); err != nil {
		return orders.Measurement{}, orders.RefuseTally(d.set, err)
	}
	if m.Result, err = stack.Measure(m.Tally); err != nil {
		return orders.Measurement{}, orders.RefuseTally(d.set, err)
	}
	return m, nil
}

// own is what a measurer's document says that is the measurer's to say: no sale, no
// check, and nothing of wood that is elsewhere.
func (d desk) own(doc []byte) (document stack.Document, err error) {
	if _, err := stack.ParseTally(doc); err != nil { // unknown fields are refused
		return document, orders.RefuseTally(d.set, err)
	}
	if err := json.Unmarshal(doc, &document); err != nil {
		return document, err
	}
	document.Sold, document.Look, document.Apart, document.LooseCord = "", 0, "", ""
	return document, nil
}

// apart is what the case says is elsewhere, as a tally has it.
func (d desk) apart() stack.Reading {
	switch apart := d.audit.Hold().Apart; {
	case !apart.Answered, d.audit.usedWithoutAmount(), d.audit.item("used").Answer == AnswerNotSeen:
		return "" // use without an amount is not said
	case apart.Quantity.Volume == 0:
		return "none"
	default:
		return stack.Reading(act.Spell(d.set, d.shop.Units, apart.Quantity))
	}
}
