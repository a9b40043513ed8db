package yard

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Batch is wood that was put up together, so that loads can be drawn from it. What
// is said of it may be corrected and what is left counted again: each such entry is
// added, and what stood before stays.
type Batch struct {
	ID string `json:"id"`
	// BatchFacts are as last corrected.
	BatchFacts
	PutUp   measure.Quantity `json:"put_up"`           // ranked or loose
	By      string           `json:"by" names:"staff"` // who wrote it down
	Created time.Time        `json:"created"`
	First   BatchFacts       `json:"first"`   // as said when it was put up
	Entries []BatchEntry     `json:"entries"` // oldest first
	// Moistures are the sets of readings of it, oldest first.
	Moistures []Moisture `json:"moistures"`
	// Drawn is what loads took since it was put up or last counted.
	Drawn  measure.Quantity `json:"drawn"`
	Left   measure.Quantity `json:"left"` // never below 0
	UsedUp bool             `json:"used_up"`
}

// BatchFacts are what is said of a batch.
type BatchFacts struct {
	Name        string         `json:"name" names:"yard"`    // "north bay"
	Species     string         `json:"species" names:"sale"` // as typed; a forecast needs it in the table of wood.All
	PieceLength measure.Length `json:"piece_length"`
	Cut         act.Date       `json:"cut,omitzero"`   // zero: not known
	Split       act.Date       `json:"split,omitzero"` // zero: not known
	Origin      string         `json:"origin,omitempty" names:"sale"`
	// Certificate is the number of a heat-treatment certificate, empty without one.
	Certificate string `json:"certificate,omitempty" names:"sale"`
	Notes       string `json:"notes,omitempty" names:"yard"` // never printed for the buyer
}

// A BatchEntryKind is what was written down of a batch later.
type BatchEntryKind string

// The kinds of entry.
const (
	BatchCorrected BatchEntryKind = "corrected"
	BatchRecounted BatchEntryKind = "recounted" // a used-up batch is in use again
	BatchUsedUp    BatchEntryKind = "used up"
)

// A BatchEntry is one thing written down of a batch after it was put up.
type BatchEntry struct {
	ID      string         `json:"id"`
	BatchID string         `json:"batch_id"`
	Seq     int            `json:"seq"` // in the batch, from 1
	Kind    BatchEntryKind `json:"kind"`
	Facts   *BatchFacts    `json:"facts,omitempty"` // of a correction: all of them
	// Left is what a recount found, on the batch's own basis.
	Left measure.Volume `json:"left,omitempty"`
	// After is the last receipt's number when it was written: loads of later ones
	// are drawn from what a recount found.
	After   int64     `json:"after"`
	On      act.Date  `json:"on"`
	Reason  string    `json:"reason" names:"yard"`
	By      string    `json:"by" names:"staff"`
	Created time.Time `json:"created"`
}

// A BatchLoad is a load drawn from a batch.
type BatchLoad struct {
	Load
	Order int64 `json:"order"` // its order's number
	// First is the receipt it was delivered with, where that was corrected since.
	First int64 `json:"first_receipt"`
}

// A BatchHistory is a batch with the loads drawn from it, oldest first.
type BatchHistory struct {
	Batch
	Loads []BatchLoad `json:"loads"`
}

// A BatchRef names a batch.
type BatchRef struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// A BatchFact is what a receipt says of the batch a load was drawn from.
type BatchFact struct {
	ID          string         `json:"id"`
	Name        string         `json:"name" names:"yard"`
	Species     string         `json:"species" names:"sale"`
	PieceLength measure.Length `json:"piece_length"`
	Cut         act.Date       `json:"cut,omitzero"`   // zero: not known
	Split       act.Date       `json:"split,omitzero"` // zero: not known
	Origin      string         `json:"origin,omitempty" names:"sale"`
	Certificate string         `json:"certificate,omitempty" names:"sale"`
}

// Fact is what a receipt says of the batch.
func (b Batch) Fact() *BatchFact {
	return &BatchFact{
		ID: b.ID, Name: b.Name, Species: b.Species, PieceLength: b.PieceLength, Cut: b.Cut, Split: b.Split,
		Origin: b.Origin, Certificate: b.Certificate,
	}
}

// Version counts what was written down of the batch; a correction names the one that
// was seen.
func (b Batch) Version() int64 { return int64(len(b.Entries)) + 1 }

// Open tells whether a load may be drawn from it.
func (b Batch) Open() bool { return !b.UsedUp && b.Left.Volume > 0 }

// Latest is the newest set of readings of it, nil without one.
func (b Batch) Latest() *Moisture { return Newest(b.Moistures) }

// counted is what the batch held when it was put up or last counted, and the last
// receipt's number then.
func (b Batch) counted() (measure.Volume, int64) {
	held, after := b.PutUp.Volume, int64(0)
	for _, e := range b.Entries {
		if e.Kind == BatchRecounted {
			held, after = e.Left, e.After
		}
	}
	return held, after
}

// Settle works out where the batch stands from its entries and its loads.
func (b *Batch) Settle(loads []BatchLoad) {
	b.BatchFacts = b.First
	for _, e := range b.Entries {
		switch e.Kind {
		case BatchCorrected:
			b.BatchFacts = *e.Facts
		case BatchRecounted:
			b.UsedUp = false
		case BatchUsedUp:
			b.UsedUp = true
		}
	}
	held, after := b.counted()
	var drawn measure.Volume
	for _, l := range loads {
		if l.First > after {
			drawn += l.Delivered.Volume
		}
	}
	b.Drawn = measure.Quantity{Volume: drawn, Basis: b.PutUp.Basis}
	b.Left = measure.Quantity{Volume: max(held-drawn, 0), Basis: b.PutUp.Basis}
}

// Room is what may be drawn in place of the load of a receipt; all is well where that
// load left before the batch was last counted.
func (h BatchHistory) Room(receipt int64) (left measure.Quantity, counts bool) {
	_, after := h.counted()
	left = h.Left
	for _, l := range h.Loads {
		if l.Receipt == receipt {
			left.Volume += l.Delivered.Volume
			return left, l.First > after
		}
	}
	return left, true
}

// ReadBatch gives a batch as it stands, and the loads drawn from it.
func ReadBatch(tx Tx, id string) (BatchHistory, error) {
	b, err := tx.Batch(id)
	if err != nil {
		return BatchHistory{}, err
	}
	return fillBatch(tx, b)
}

func fillBatch(tx Tx, b Batch) (h BatchHistory, err error) {
	if h.Loads, err = tx.BatchLoads(b.ID); err != nil {
		return BatchHistory{}, err
	}
	if b.Moistures, err = tx.BatchMoistures(b.ID); err != nil {
		return BatchHistory{}, err
	}
	b.Settle(h.Loads)
	h.Batch = b
	return h, nil
}
