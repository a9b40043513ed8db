package audits

import (
	"context"
	"encoding/json"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A MeasurerView is what a measurer sees by its link: where the wood is, the plan, and
// what it has saved. Nothing in it tells what was sold, what others read, or any result;
// of readings handed in it has the seal alone.
type MeasurerView struct {
	AuditID  string   `json:"-"`
	Number   int64    `json:"number"` // of the case
	State    State    `json:"state"`
	Place    string   `json:"place"`
	Zone     string   `json:"zone"` // that times are said in
	Plan     *Plan    `json:"plan"` // nil before it is fixed: nothing is read before
	Measurer Measurer `json:"measurer"`
	// Saved is what the measurer saved, oldest first.
	Saved []MeasurerSaving `json:"saved"`

	link int
	desk desk
}

// A MeasurerSaving is one saving of a measurer, as it may see it.
type MeasurerSaving struct {
	N        int       `json:"n"`
	Saved    time.Time `json:"saved"`
	HandedIn bool      `json:"handed_in"`
	Seal     string    `json:"seal,omitempty"` // of readings handed in
	Struck   time.Time `json:"struck,omitzero"`
	Reason   string    `json:"reason,omitempty"` // why they were crossed out
	// Typed and Document are of the latest draft where nothing was handed in yet and the
	// same link saved it; empty for all else.
	Typed    []byte          `json:"-"`
	Document json.RawMessage `json:"tally,omitempty"`
}

// A LinkOpening is one opening of a measurer's link.
type LinkOpening struct {
	At   time.Time `json:"at"`
	Link int       `json:"link"` // which of the measurer's links, from 1
}

// Of openings of one link those within a minute of another are one, and so many are
// kept.
const (
	openingApart = time.Minute
	mostOpenings = 500
)

// Measuring gives what a measurer sees by its code; NotFound for one that opens nothing.
func (s *Service) Measuring(ctx context.Context, code string) (v MeasurerView, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		v, err = s.measurerView(tx, code)
		return err
	})
	return v, act.Fail(err)
}

// OpenMeasuring is Measuring, and keeps that the link was opened.
func (s *Service) OpenMeasuring(ctx context.Context, code string) (MeasurerView, error) {
	v, err := s.Measuring(ctx, code)
	if err != nil || !v.opensAnew() {
		return v, err
	}
	err = s.acts.Store.Write(ctx, func(tx Tx) error {
		if v, err = s.measurerView(tx, code); err != nil || !v.opensAnew() {
			return err
		}
		opening := LinkOpening{At: v.desk.now, Link: v.link}
		v.Measurer.Openings = append(v.Measurer.Openings, opening)
		return tx.AddLinkOpening(v.Measurer.ID, opening)
	})
	return v, act.Fail(err)
}

// opensAnew tells whether opening the link now is one more opening.
func (v MeasurerView) opensAnew() bool {
	all := v.Measurer.Openings
	if len(all) == 0 {
		return true
	}
	last := all[len(all)-1]
	return len(all) < mostOpenings && (last.Link != v.link || v.desk.now.Sub(last.At) >= openingApart)
}

func (s *Service) measurerView(tx Tx, code string) (MeasurerView, error) {
	found, err := tx.AuditMeasurerOf(act.HashOfCode(code))
	if err != nil {
		return MeasurerView{}, err
	}
	d, err := s.auditDesk(tx, found.AuditID)
	if err != nil {
		return MeasurerView{}, err
	}
	v := MeasurerView{AuditID: found.AuditID, Number: d.audit.Number, State: d.audit.State, Place: d.audit.Subject.Place, Zone: d.shop.Zone,
		Plan: d.audit.Plan(), link: found.Link, desk: d}
	for _, measurer := range d.audit.Measurers {
		if measurer.ID == found.ID {
			v.Measurer = measurer
		}
	}
	readings, err := tx.AuditReadings(found.ID)
	for _, r := range readings {
		v.Saved = append(v.Saved, MeasurerSaving{N: r.N, Saved: r.Created, HandedIn: r.Handed, Seal: r.Seal, Struck: r.Struck, Reason: r.Reason})
	}
	// A draft is shown to the link that saved it, as it need not be the same person who
	// holds another, and to nobody once it was handed in.
	if d := v.Draft(); d != nil && !d.Saved.Before(v.Measurer.Renewed) {
		d.Typed, d.Document = readings[len(readings)-1].Typed, readings[len(readings)-1].Document
	}
	return v, err
}

// Draft is what the measurer saved last and has not handed in; nil where there is none.
func (v MeasurerView) Draft() *MeasurerSaving {
	if len(v.Saved) == 0 || v.Saved[len(v.Saved)-1].HandedIn {
		return nil
	}
	return &v.Saved[len(v.Saved)-1]
}

// Counts is what the measurer handed in and did not cross out; nil before.
func (v MeasurerView) Counts() *MeasurerSaving {
	for i := range v.Saved {
		if s := &v.Saved[i]; s.HandedIn && s.Struck.IsZero() {
			return s
		}
	}
	return nil
}

// TryReading says what is wrong with readings as handing them in would, and saves
// nothing. They are held against nothing, so nothing can be told from it but what they
// are.
func (s *Service) TryReading(ctx context.Context, code string, doc []byte) (Reading, error) {
	v, err := s.Measuring(ctx, code)
	if err != nil {
		return Reading{}, err
	}
	r, err := v.read(doc)
	return r, act.Fail(err)
}

// A Reading is what a measurer reads, held against nothing.
type Reading struct {
	Tally stack.Tally
	// Questions are about readings that are hardly meant as they are. Sealing them says
	// that they are as read.
	Questions []stack.Question
}

// read reads a document of the planned kind by itself.
func (v MeasurerView) read(doc []byte) (Reading, error) {
	if err := v.open(); err != nil {
		return Reading{}, err
	}
	m, err := v.desk.measureAlone(doc)
	if err != nil {
		return Reading{}, err
	}
	if m.Tally.Stack.Kind() != v.Plan.Kind {
		return Reading{}, act.NewInvalid("stack.kind", "not-planned", "", measure.Say("the plan is for wood piled another way"),
			measure.Say("“%s”, as planned", v.Plan.Kind))
	}
	return Reading{m.Tally, m.Result.Questions}, nil
}

// open answers Conflict where no readings are taken.
func (v MeasurerView) open() error {
	switch {
	case v.State == Closed:
		return act.NewConflict("audit %d is closed; no more readings are taken", int(v.Number))
	case v.Plan == nil:
		return act.NewConflict("the plan of audit %d is not fixed yet; readings are taken once it is", int(v.Number))
	}
	return nil
}
