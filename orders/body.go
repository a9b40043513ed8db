package orders

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Body is a truck's or trailer's body that was taped once up to a line, so that
// filling it to the line is a measurement.
type Body struct {
	ID       string               `json:"id"`
	Name     string               `json:"name"`     // "red truck"
	Line     string               `json:"line"`     // "lower board"
	Stack    measure.LoadDocument `json:"stack"`    // the readings
	Quantity measure.Quantity     `json:"quantity"` // up to the line
	On       Date                 `json:"on"`       // the day it was taped
	By       string               `json:"by"`       // who taped it
	Created  time.Time            `json:"created"`
}

// A BodyRequest is a body as taped. Bare numbers are feet for length and width and
// inches for the rest; in a metric shop metres and centimetres.
type BodyRequest struct {
	Name        string `json:"name"`
	Line        string `json:"line"`
	Arrangement string `json:"arrangement"` // "thrown" or "ranked"
	Length      string `json:"length"`      // inside
	Width       string `json:"width"`       // inside
	Height      string `json:"height"`      // from the floor to the line
	WellLength  string `json:"well_length"` // each of two wheel wells; empty: none
	WellWidth   string `json:"well_width"`
	WellHeight  string `json:"well_height"`
	TapedBy     string `json:"taped_by"` // empty: the person who saves it
	On          string `json:"on"`       // "2006-01-02"; empty: today in the shop's zone
}

// A BodyFact is what a receipt says of the body a load came in.
type BodyFact struct {
	Name string `json:"name"`
	Line string `json:"line"`
	On   Date   `json:"on"`
	By   string `json:"by"`
}

// Bodies gives the bodies in use, oldest first.
func (s *Service) Bodies(ctx context.Context, who Actor) (bodies []Body, err error) {
	if err := allow(who, toRead); err != nil {
		return nil, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		bodies, err = tx.Bodies()
		return err
	})
	return bodies, fail(err)
}

// AddBody measures a body that was taped, and saves it. It is Invalid with all
// faults.
func (s *Service) AddBody(ctx context.Context, by Act, r BodyRequest) (Body, error) {
	if r.TapedBy == "" {
		r.TapedBy = by.Actor.Person
	}
	return act.Do(ctx, s.acts, by, act.Write{Verb: BodyAdded, May: toManage, Content: r}, func(tx Tx) (string, error) {
		b, err := s.readBody(tx, r)
		if err != nil {
			return "", err
		}
		return b.ID, tx.AddBody(b)
	}, findBody)
}

// RetireBody takes a body out of use; receipts that name it stay as they are.
func (s *Service) RetireBody(ctx context.Context, by Act, id string) error {
	_, err := act.Do(ctx, s.acts, by, act.Write{Verb: BodyRetired, Subject: id, May: toManage}, func(tx Tx) (string, error) {
		return id, tx.RetireBody(id)
	}, act.Nothing)
	return err
}

func findBody(tx Tx, id string) (Body, error) {
	bodies, err := tx.Bodies()
	for _, b := range bodies {
		if b.ID == id {
			return b, nil
		}
	}
	if err == nil {
		err = &Error{Kind: NotFound, Message: measure.Say("that bed isn’t in use here")}
	}
	return Body{}, err
}

// readBody makes a body of what was typed.
func (s *Service) readBody(tx Tx, r BodyRequest) (b Body, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return Body{}, err
	}
	zone, err := time.LoadLocation(shop.Zone)
	if err != nil {
		return Body{}, err
	}
	set, err := s.setOf(shop)
	if err != nil {
		return Body{}, err
	}
	b.Created = s.now()
	var f fields
	for _, text := range []struct {
		field, typed string
		to           *string
	}{{"name", r.Name, &b.Name}, {"line", r.Line, &b.Line}, {"taped_by", r.TapedBy, &b.By}} {
		*text.to = s.printable(&f, text.field, f.line(text.field, text.typed))
		f.barredInName(set, text.field, *text.to)
	}
	if b.Name == "" {
		f.missing("name", measure.Say("what the truck or trailer is called, such as red truck"))
	}
	if b.Line == "" {
		f.missing("line", measure.Say("which line it is filled to, such as lower board"))
	}
	b.On = f.readOn(r.On, DateOf(b.Created.In(zone)))
	f.tape(&b, r, shop.Units)
	if err := f.err(); err != nil {
		return Body{}, err
	}
	b.ID, err = newID()
	return b, err
}

// tape measures the body from its readings.
func (f *fields) tape(b *Body, r BodyRequest, units Units) {
	long, small := "ft", "in"
	if units == Metric {
		long, small = "m", "cm"
	}
	box := measure.BoxDocument{
		Length: measure.WithUnit(r.Length, long), Width: measure.WithUnit(r.Width, long),
		Heights: []measure.Reading{measure.WithUnit(r.Height, small)},
	}
	if r.WellLength+r.WellWidth+r.WellHeight != "" {
		box.Wells = []measure.WellDocument{{Length: measure.WithUnit(r.WellLength, small), Width: measure.WithUnit(r.WellWidth, small),
			Height: measure.WithUnit(r.WellHeight, small), Count: 2}}
	}
	b.Stack = measure.LoadDocument{
		Kind: "load", Arrangement: measure.Reading(r.Arrangement),
		Calibrated: &measure.CalibratedDocument{Box: &box, On: measure.Reading(b.On.String()), By: measure.Reading(b.By), Line: measure.Reading(b.Line)},
	}
	quantity, err := volumeOf(b.Stack)
	var faults measure.InputErrors
	if errors.As(err, &faults) {
		f.tapeFaults(faults)
		return
	}
	f.parsed("height", err)
	b.Quantity = quantity
}

func volumeOf(load measure.LoadDocument) (measure.Quantity, error) {
	stack, err := json.Marshal(load)
	if err != nil {
		return measure.Quantity{}, err
	}
	doc, err := json.Marshal(measure.Document{Format: measure.TallyFormat, Stack: stack})
	if err != nil {
		return measure.Quantity{}, err
	}
	tally, err := measure.ParseTally(doc)
	if err != nil {
		return measure.Quantity{}, err
	}
	result, err := measure.Measure(tally)
	return result.Quantity, err
}

// tapeFaults puts the faults of the readings at the fields they were typed in.
func (f *fields) tapeFaults(faults measure.InputErrors) {
	places := map[string]string{
		"stack.arrangement": "arrangement", "stack.calibrated.box.length": "length", "stack.calibrated.box.width": "width",
		"stack.calibrated.box.heights": "height", "stack.calibrated.box.heights[0]": "height",
		"stack.calibrated.box.wells[0].length": "well_length", "stack.calibrated.box.wells[0].width": "well_width",
		"stack.calibrated.box.wells[0].height": "well_height", "stack.calibrated.by": "taped_by", "stack.calibrated.line": "line",
	}
	for _, e := range faults {
		field, known := places[e.Field]
		if !known {
			field = "height"
		}
		f.add(field, e.Code, e.Got, e.Reason, e.Accepts)
	}
}
