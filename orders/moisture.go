package orders

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
	By       string         `json:"by"` // who read, printed on receipts
	On       Date           `json:"on"`
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

// AddMoisture judges moisture readings of an order's wood and saves them; receipts
// issued from then on print the latest set. It is Invalid with all faults, Conflict
// for a cancelled order.
func (s *Service) AddMoisture(ctx context.Context, act Act, orderID string, r MoistureRequest) (Moisture, error) {
	return s.addMoisture(ctx, act, Moisture{OrderID: orderID}, r)
}

// AddBatchMoisture does for the wood of a batch what AddMoisture does for that of an
// order: receipts of loads drawn from it print the latest set.
func (s *Service) AddBatchMoisture(ctx context.Context, act Act, batchID string, r MoistureRequest) (Moisture, error) {
	return s.addMoisture(ctx, act, Moisture{BatchID: batchID}, r)
}

// addMoisture saves readings of what m names.
func (s *Service) addMoisture(ctx context.Context, by Act, like Moisture, r MoistureRequest) (Moisture, error) {
	if r.ReadBy == "" {
		r.ReadBy = by.Actor.Person
	}
	w := act.Write{Verb: MoistureAdded, Subject: like.OrderID + like.BatchID, May: toTally, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		m, err := s.readMoisture(tx, like, r)
		if err != nil {
			return "", err
		}
		return m.ID, tx.AddMoisture(m)
	}, func(tx Tx, id string) (Moisture, error) { return findMoisture(tx, like, id) })
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
		err = &Error{Kind: NotFound, Message: measure.Say("those moisture readings aren’t here")}
	}
	return Moisture{}, err
}

// readable refuses readings of what is not there.
func (m Moisture) readable(tx Tx) error {
	if m.BatchID != "" {
		_, err := tx.Batch(m.BatchID)
		return err
	}
	order, err := tx.Order(m.OrderID)
	if err == nil {
		err = order.named()
	}
	if err == nil && order.State == Cancelled {
		err = conflict("order %d is cancelled; there is nothing of it to read", int(order.Number))
	}
	return err
}

// readMoisture makes a set of what was typed, of what m names.
func (s *Service) readMoisture(tx Tx, m Moisture, r MoistureRequest) (Moisture, error) {
	if err := m.readable(tx); err != nil {
		return Moisture{}, err
	}
	shop, err := tx.Shop()
	if err != nil {
		return Moisture{}, err
	}
	set, err := s.setOf(shop)
	if err != nil {
		return Moisture{}, err
	}
	zone, err := time.LoadLocation(shop.Zone)
	if err != nil {
		return Moisture{}, err
	}
	now := s.now()
	var f, day fields
	m.Created = now
	m.On = day.readOn(r.On, DateOf(now.In(zone)))
	f.readings(&m, r, set.MoistureLimit(m.On.String()))
	m.By = s.printable(&f, "read_by", f.line("read_by", r.ReadBy))
	if m.By == "" && len(f.Faults) == 0 {
		f.missing("read_by", measure.Say("the name of who read"))
	}
	f.barredInName(set, "read_by", m.By)
	f.Faults = append(f.Faults, day.Faults...)
	if err := f.err(); err != nil {
		return Moisture{}, err
	}
	m.ID, err = newID()
	return m, err
}

// readings reads and judges them, by a limit where none was typed.
func (f *fields) readings(m *Moisture, r MoistureRequest, limit wood.Limit) {
	var err error
	if m.Readings, m.Season, err = r.ask().Judge(limit); err != nil {
		_ = f.inputs(err) // it is of no other kind
	}
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
	By       string        `json:"by"`
	On       Date          `json:"on"`
	// OfBatch tells that the batch was read, before the load was drawn from it.
	OfBatch bool `json:"of_batch,omitempty"`
}

// newest is the set read last, of those of one day the one saved last; nil without
// any.
func newest(sets []Moisture) *Moisture {
	var last *Moisture
	for i := range sets {
		if m := &sets[i]; last == nil || m.On.After(last.On) || m.On == last.On && !m.Created.Before(last.Created) {
			last = m
		}
	}
	return last
}

// LatestMoisture is the newest set of readings of the order's own wood, nil without
// one.
func (h History) LatestMoisture() *Moisture { return newest(h.Moistures) }

// moistureFact is the fact of the newest set, nil without one.
func moistureFact(sets []Moisture) *MoistureFact {
	m := newest(sets)
	if m == nil {
		return nil
	}
	return &MoistureFact{
		OfBatch: m.BatchID != "",
		Mean:    m.Season.Mean, Wettest: m.Season.Wettest, Bound: m.Season.Bound, Limit: m.Season.Limit, AtMost: m.Season.AtMost, Accuracy: m.Season.Accuracy,
		Verdict: m.Season.Verdict, Pieces: m.Season.Pieces, Method: m.Readings[0].Method, By: m.By, On: m.On,
	}
}
