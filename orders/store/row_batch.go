package store

import (
	"database/sql"
	"encoding/json"
	"fmt"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

type batchRow struct {
	ID          string `gorm:"primaryKey"`
	Name        string
	Species     string
	Quantity    int64
	Basis       string
	PieceLength int64
	CutOn       string
	SplitOn     string
	Origin      string
	Certificate string
	Notes       string
	PutUpBy     string
	Created     int64
}

func (batchRow) TableName() string { return "batches" }

type batchEntryRow struct {
	ID        string `gorm:"primaryKey"`
	BatchID   string
	Seq       int
	Kind      string
	Facts     *string
	Remaining int64
	After     int64
	WrittenOn string
	Reason    string
	WrittenBy string
	Created   int64
}

func (batchEntryRow) TableName() string { return "batch_entries" }

// Batch gives one batch with its entries.
func (t tx) Batch(id string) (yard.Batch, error) {
	var row batchRow
	if err := t.db.Where("id = ?", id).Take(&row).Error; err != nil {
		return yard.Batch{}, missing(err, "that batch isn’t here")
	}
	var entries []batchEntryRow
	if err := t.db.Where("batch_id = ?", id).Order("seq").Find(&entries).Error; err != nil {
		return yard.Batch{}, err
	}
	return row.batch(entries)
}

// Batches gives all batches with their entries, newest first.
func (t tx) Batches() ([]yard.Batch, error) {
	var rows []batchRow
	if err := t.db.Order("created DESC, id DESC").Find(&rows).Error; err != nil {
		return nil, err
	}
	var entries []batchEntryRow
	if err := t.db.Order("batch_id, seq").Find(&entries).Error; err != nil {
		return nil, err
	}
	of := map[string][]batchEntryRow{}
	for _, e := range entries {
		of[e.BatchID] = append(of[e.BatchID], e)
	}
	batches := make([]yard.Batch, len(rows))
	for i, r := range rows {
		b, err := r.batch(of[r.ID])
		if err != nil {
			return nil, err
		}
		batches[i] = b
	}
	return batches, nil
}

func (r batchRow) batch(entries []batchEntryRow) (yard.Batch, error) {
	b := yard.Batch{
		ID: r.ID, By: r.PutUpBy, Created: instant(r.Created), Entries: make([]yard.BatchEntry, 0, len(entries)),
		PutUp: measure.Quantity{Volume: measure.Volume(r.Quantity), Basis: measure.Basis(r.Basis)},
		First: yard.BatchFacts{
			Name: r.Name, Species: r.Species, PieceLength: measure.Length(r.PieceLength),
			Origin: r.Origin, Certificate: r.Certificate, Notes: r.Notes,
		},
	}
	for _, day := range []struct {
		text string
		to   *act.Date
	}{{r.CutOn, &b.First.Cut}, {r.SplitOn, &b.First.Split}} {
		if err := day.to.UnmarshalText([]byte(day.text)); err != nil {
			return b, fmt.Errorf("batch %s: %w", r.ID, err)
		}
	}
	for _, e := range entries {
		entry, err := e.entry()
		if err != nil {
			return b, fmt.Errorf("batch %s, entry %d: %w", r.ID, e.Seq, err)
		}
		b.Entries = append(b.Entries, entry)
	}
	return b, nil
}

func (r batchEntryRow) entry() (yard.BatchEntry, error) {
	e := yard.BatchEntry{
		ID: r.ID, BatchID: r.BatchID, Seq: r.Seq, Kind: yard.BatchEntryKind(r.Kind), Left: measure.Volume(r.Remaining),
		After: r.After, Reason: r.Reason, By: r.WrittenBy, Created: instant(r.Created),
	}
	var err error
	if e.On, err = act.ParseDate(r.WrittenOn); err != nil || r.Facts == nil {
		return e, err
	}
	return e, json.Unmarshal([]byte(*r.Facts), &e.Facts)
}

// AddBatch adds a batch as it was put up.
func (t tx) AddBatch(b yard.Batch) error {
	f := b.First
	return t.db.Create(&batchRow{
		ID: b.ID, Name: f.Name, Species: f.Species, Quantity: int64(b.PutUp.Volume), Basis: string(b.PutUp.Basis),
		PieceLength: int64(f.PieceLength), CutOn: f.Cut.String(), SplitOn: f.Split.String(), Origin: f.Origin,
		Certificate: f.Certificate, Notes: f.Notes, PutUpBy: b.By, Created: micros(b.Created),
	}).Error
}

// AddBatchEntry adds what was written down of a batch later.
func (t tx) AddBatchEntry(e yard.BatchEntry) error {
	row := batchEntryRow{
		ID: e.ID, BatchID: e.BatchID, Seq: e.Seq, Kind: string(e.Kind), Remaining: int64(e.Left), After: e.After,
		WrittenOn: e.On.String(), Reason: e.Reason, WrittenBy: e.By, Created: micros(e.Created),
	}
	if e.Facts != nil {
		facts, err := json.Marshal(e.Facts)
		if err != nil {
			return err
		}
		row.Facts = orNull(string(facts))
	}
	return t.db.Create(&row).Error
}

// batchLoadRow is a load with its order's number.
type batchLoadRow struct {
	Row         loadRow `gorm:"embedded"`
	OrderNumber int64
	First       int64
}

// batchLoadQuery reads the loads drawn from a batch that count, each with the receipt
// it was first delivered with: that of a correction names it.
const batchLoadQuery = `
WITH RECURSIVE back (receipt, number) AS (
  SELECT l.receipt, l.receipt FROM standing_loads l WHERE l.batch_id = @batch
  UNION ALL
  SELECT b.receipt, r.of_receipt FROM back b JOIN receipts r ON r.number = b.number AND r.kind = 'correction')
SELECT l.*, o.number AS order_number, (SELECT min(b.number) FROM back b WHERE b.receipt = l.receipt) AS first
FROM standing_loads l JOIN orders o ON o.id = l.order_id
WHERE l.batch_id = @batch ORDER BY l.receipt`

// BatchLoads gives the loads drawn from a batch, oldest first.
func (t tx) BatchLoads(id string) ([]yard.BatchLoad, error) {
	var rows []batchLoadRow
	if err := t.db.Raw(batchLoadQuery, sql.Named("batch", id)).Scan(&rows).Error; err != nil {
		return nil, err
	}
	loads := make([]yard.BatchLoad, len(rows))
	for i, r := range rows {
		load, err := r.Row.load()
		if err != nil {
			return nil, err
		}
		loads[i] = yard.BatchLoad{Load: load, Order: r.OrderNumber, First: r.First}
	}
	return loads, nil
}
