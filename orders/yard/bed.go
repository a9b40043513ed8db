package yard

import (
	"context"
	"encoding/json"
	"errors"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// A Body is a truck's or trailer's body that was taped once up to a line, so that
// filling it to the line is a measurement.
type Body struct {
	ID       string             `json:"id"`
	Name     string             `json:"name" names:"yard"`  // "red truck"
	Line     string             `json:"line" names:"yard"`  // "lower board"
	Stack    stack.LoadDocument `json:"stack" names:"sale"` // the readings
	Quantity measure.Quantity   `json:"quantity"`           // up to the line
	On       act.Date           `json:"on"`                 // the day it was taped
	By       string             `json:"by" names:"staff"`   // who taped it
	Created  time.Time          `json:"created"`
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
	Name string   `json:"name" names:"yard"`
	Line string   `json:"line" names:"yard"`
	On   act.Date `json:"on"`
	By   string   `json:"by" names:"staff"`
}

// Bodies gives the bodies in use, oldest first.
func (s *Service) Bodies(ctx context.Context, who act.Actor) (bodies []Body, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	err = s.read(ctx, func(tx Tx) error {
		bodies, err = tx.Bodies()
		return err
	})
	return bodies, act.Fail(err)
}

// AddBody measures a body that was taped, and saves it. It is Invalid with all
// faults.
func (s *Service) AddBody(ctx context.Context, by act.Act, r BodyRequest) (Body, error) {
	if r.TapedBy == "" {
		r.TapedBy = by.Actor.Person
	}
	return act.Do(ctx, s.acts, by, act.Write{Verb: BodyAdded, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		b, err := s.readBody(tx, r)
		if err != nil {
			return "", err
		}
		return b.ID, tx.AddBody(b)
	}, findBody)
}

// RetireBody takes a body out of use; receipts that name it stay as they are.
func (s *Service) RetireBody(ctx context.Context, by act.Act, id string) error {
	_, err := act.Do(ctx, s.acts, by, act.Write{Verb: BodyRetired, Subject: id, May: act.ToManage}, func(tx Tx) (string, error) {
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
		err = act.NewNotFound("that bed isn’t in use here")
	}
	return Body{}, err
}

// readBody makes a body of what was typed.
func (s *Service) readBody(tx Tx, r BodyRequest) (b Body, err error) {
	in, err := s.reader(tx)
	if err != nil {
		return Body{}, err
	}
	b.Created = in.now
	b.Name, b.Line, b.By = in.name("name", r.Name), in.name("line", r.Line), in.name("taped_by", r.TapedBy)
	if b.Name == "" {
		in.Missing("name", measure.Say("what the truck or trailer is called, such as red truck"))
	}
	if b.Line == "" {
		in.Missing("line", measure.Say("which line it is filled to, such as lower board"))
	}
	b.On = in.ReadOn(r.On, in.today)
	in.tape(&b, r)
	if err := in.Err(); err != nil {
		return Body{}, err
	}
	b.ID, err = act.NewID()
	return b, err
}

// tape measures the body from its readings.
func (in *reader) tape(b *Body, r BodyRequest) {
	long, small := "ft", "in"
	if in.units == act.Metric {
		long, small = "m", "cm"
	}
	box := stack.BoxDocument{
		Length: stack.WithUnit(r.Length, long), Width: stack.WithUnit(r.Width, long),
		Heights: []stack.Reading{stack.WithUnit(r.Height, small)},
	}
	if r.WellLength+r.WellWidth+r.WellHeight != "" {
		box.Wells = []stack.WellDocument{{Length: stack.WithUnit(r.WellLength, small), Width: stack.WithUnit(r.WellWidth, small),
			Height: stack.WithUnit(r.WellHeight, small), Count: 2}}
	}
	b.Stack = stack.LoadDocument{
		Kind: "load", Arrangement: stack.Reading(r.Arrangement),
		Calibrated: &stack.CalibratedDocument{Box: &box, On: stack.Reading(b.On.String()), By: stack.Reading(b.By), Line: stack.Reading(b.Line)},
	}
	quantity, err := volumeOf(b.Stack)
	var faults measure.InputErrors
	if errors.As(err, &faults) {
		in.tapeFaults(faults)
		return
	}
	in.Parsed("height", err)
	b.Quantity = quantity
}

// Holding is what a body holds of pieces of just that length: of ranked wood the whole rows that
// fit, the way that fewer do, since how they lie isn't said. It is Invalid where the
// pieces don't fit in it.
func (b Body) Holding(piece measure.Length) (measure.Quantity, error) {
	if b.Quantity.Basis != measure.Ranked || piece <= 0 {
		return b.Quantity, nil
	}
	ranked := b.Stack
	ranked.Pieces = []stack.Reading{stack.Reading(piece.String())}
	return volumeOf(ranked)
}

func volumeOf(load stack.LoadDocument) (measure.Quantity, error) {
	readings, err := json.Marshal(load)
	if err != nil {
		return measure.Quantity{}, err
	}
	doc, err := json.Marshal(stack.Document{Format: stack.TallyFormat, Stack: readings})
	if err != nil {
		return measure.Quantity{}, err
	}
	tally, err := stack.ParseTally(doc)
	if err != nil {
		return measure.Quantity{}, err
	}
	result, err := stack.Measure(tally)
	return result.Quantity, err
}

// tapeFaults puts the faults of the readings at the fields they were typed in.
func (in *reader) tapeFaults(faults measure.InputErrors) {
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
		in.Add(field, e.Code, e.Got, e.Reason, e.Accepts)
	}
}
