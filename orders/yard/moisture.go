package yard

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

// A Moisture is a set of moisture readings of the wood of an order or of a batch, with
// what they came to when they were saved.
type Moisture struct {
	ID       string         `json:"id"`
	OrderID  string         `json:"order_id,omitempty"` // this or BatchID
	BatchID  string         `json:"batch_id,omitempty"`
	Readings []wood.Reading `json:"readings"`
	Season   wood.Season    `json:"season"`
	By       string         `json:"by" names:"staff"` // who read, printed on receipts
	On       act.Date       `json:"on"`
	Created  time.Time      `json:"created"`
}

// A MoistureRequest is a set of readings as typed; without a limit they are held against
// that of the shop's rules, else against 20 % dry basis.
type MoistureRequest struct {
	Readings    string `json:"readings"` // as in wood.AskReadings, and the others too
	Basis       string `json:"basis"`
	Method      string `json:"method"`
	FreshFace   string `json:"fresh_face"`
	Temperature string `json:"temperature"`
	Accuracy    string `json:"accuracy"`
	Correction  string `json:"correction"`
	Limit       string `json:"limit"`
	ReadBy      string `json:"read_by"` // empty: the person who saves it
	On          string `json:"on"`      // "2006-01-02"; empty: today in the shop's zone
}

// ask is the part of it that says what was read.
func (r MoistureRequest) ask() wood.AskReadings {
	return wood.AskReadings{Readings: r.Readings, Basis: r.Basis, Method: r.Method, FreshFace: r.FreshFace,
		Temperature: r.Temperature, Accuracy: r.Accuracy, Correction: r.Correction, Limit: r.Limit}
}

// AddBatchMoisture judges moisture readings of the wood of a batch and saves them:
// receipts of loads drawn from it print the latest set.
func (s *Service) AddBatchMoisture(ctx context.Context, by act.Act, batchID string, r MoistureRequest) (Moisture, error) {
	return AddMoisture(ctx, s, s.acts, by, Moisture{BatchID: batchID}, r, func(tx Tx) error {
		_, err := tx.Batch(batchID)
		return err
	})
}

// AddMoisture saves readings of what like names, once for a request; there refuses those of
// what is not there.
func AddMoisture[T Tx](ctx context.Context, s *Service, acts act.Doer[T], by act.Act, like Moisture, r MoistureRequest, there func(T) error) (Moisture, error) {
	if r.ReadBy == "" {
		r.ReadBy = by.Actor.Person
	}
	w := act.Write{Verb: MoistureAdded, Subject: like.OrderID + like.BatchID, May: act.ToTally, Content: r}
	return act.Do(ctx, acts, by, w, func(tx T) (string, error) {
		if err := there(tx); err != nil {
			return "", err
		}
		m, err := s.readMoisture(tx, like, r)
		if err != nil {
			return "", err
		}
		return m.ID, tx.AddMoisture(m)
	}, func(tx T, id string) (Moisture, error) { return findMoisture(tx, like, id) })
}

// findMoisture gives the set with the id, of what like names.
func findMoisture(tx Tx, like Moisture, id string) (Moisture, error) {
	read, of := tx.Moistures, like.OrderID
	if like.BatchID != "" {
		read, of = tx.BatchMoistures, like.BatchID
	}
	sets, err := read(of)
	for _, m := range sets {
		if m.ID == id {
			return m, nil
		}
	}
	if err == nil {
		err = act.NewNotFound("those moisture readings aren’t here")
	}
	return Moisture{}, err
}

// readMoisture makes a set of what was typed, of what m names.
func (s *Service) readMoisture(tx Tx, m Moisture, r MoistureRequest) (Moisture, error) {
	in, err := s.reader(tx)
	if err != nil {
		return Moisture{}, err
	}
	var day act.Fields
	m.Created = in.now
	m.On = day.ReadOn(r.On, in.today)
	if m.Readings, m.Season, err = r.ask().Judge(in.set.MoistureLimit(m.On.String())); err != nil {
		_ = in.Inputs(err) // it is of no other kind
	}
	if m.By = in.name("read_by", r.ReadBy); m.By == "" && len(in.Faults) == 0 {
		in.Missing("read_by", measure.Say("the name of who read"))
	}
	in.Faults = append(in.Faults, day.Faults...)
	if err := in.Err(); err != nil {
		return Moisture{}, err
	}
	m.ID, err = act.NewID()
	return m, err
}

// A MoistureFact is what a receipt says of moisture readings.
type MoistureFact struct {
	Mean    wood.Moisture  `json:"mean"`
	Wettest wood.Moisture  `json:"wettest"`
	Bound   *wood.Moisture `json:"bound,omitempty"` // one-sided, 95 %
	// Accuracy is how far the meter may be out either way, in points of dry-basis
	// moisture: a statistic; it is in the bound. 0 where that was not reckoned with.
	Accuracy float64       `json:"accuracy_points,omitempty"`
	Limit    wood.Moisture `json:"limit"`
	AtMost   bool          `json:"at_most,omitempty"` // the limit itself is dry enough
	Verdict  wood.Verdict  `json:"verdict"`
	Pieces   int           `json:"pieces"`
	Method   wood.Method   `json:"method"`
	By       string        `json:"by" names:"staff"`
	On       act.Date      `json:"on"`
	// OfBatch tells that the batch was read, before the load was drawn from it.
	OfBatch bool `json:"of_batch,omitempty"`
}

// Newest is the set read last, of those of one day the one saved last; nil without
// any.
func Newest(sets []Moisture) *Moisture {
	var last *Moisture
	for i := range sets {
		if m := &sets[i]; last == nil || m.On.After(last.On) || m.On == last.On && !m.Created.Before(last.Created) {
			last = m
		}
	}
	return last
}

// FactOf is the fact of the newest set, nil without one.
func FactOf(sets []Moisture) *MoistureFact {
	m := Newest(sets)
	if m == nil {
		return nil
	}
	return &MoistureFact{
		OfBatch: m.BatchID != "",
		Mean:    m.Season.Mean, Wettest: m.Season.Wettest, Bound: m.Season.Bound, Limit: m.Season.Limit, AtMost: m.Season.AtMost, Accuracy: m.Season.Accuracy,
		Verdict: m.Season.Verdict, Pieces: m.Season.Pieces, Method: m.Readings[0].Method, By: m.By, On: m.On,
	}
}
