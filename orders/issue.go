package orders

import (
	"context"
	"errors"

	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
	"wellstowed/orders/yard"
)

// A desk is all that a paper of one order rests on.
type desk struct {
	shop        Shop
	order       Order
	loads       []yard.Load
	tallies     []Tally
	moist       []yard.Moisture
	bodies      []yard.Body
	batchID     string             // of the batch a load names, empty without one
	batch       *yard.BatchHistory // nil where there is none of that id
	photos      []photos.Kept      // that no sheet names
	pictures    [][]byte           // their shown copies, in their order
	payments    []Payment
	settlements []Settlement
	refs        []ReceiptRef
	filed       []StoredReceipt // the order's receipts, without their papers
	standing    []Facts         // of those whose loads count
	old         StoredReceipt   // the receipt that the paper speaks of, if any
	receipts    int64           // the last receipt's number
	chain       string          // the last receipt's chain, empty before the first
	sheets      int64           // the last sheet's number
	sheet       string          // the last sheet's chain, empty before the first
}

// A paper is what issuing comes to.
type paper = ledger.Numbered[Tx]

// An issuing is the paper that is asked for: of which order, and what else is read for it.
type issuing struct {
	act.Write
	order string // id
	of    int64  // the receipt that the paper speaks of, 0 without one
	batch string // id of the batch that is drawn from, empty without one
}

// issue gives the paper that prepare makes of the desk, once for a request; read reads it
// by its number.
func issue[R any](ctx context.Context, s *Service, by act.Act, e issuing, prepare func(desk) (paper, error), read func(*Service, Tx, int64) (R, error)) (R, error) {
	return ledger.Issue(ctx, s.issuer, by, e.Write, func(tx Tx) (desk, error) {
		if err := SureOfClock(tx, s.now(), by); err != nil {
			return desk{}, err
		}
		return e.desk(tx)
	}, func(d desk) (paper, error) {
		p, err := prepare(d)
		return paper{Number: p.Number, Write: func(tx Tx) error {
			if err := d.unmoved(tx); err != nil {
				return err
			}
			return p.Write(tx)
		}}, err
	}, func(tx Tx, number int64) (R, error) { return read(s, tx, number) })
}

// desk reads all that the paper rests on.
func (e issuing) desk(tx Tx) (desk, error) {
	d, err := readDesk(tx, e.order, e.batch)
	if err := errors.Join(err, d.closedByErasure()); err != nil {
		return desk{}, err
	}
	if e.of != 0 {
		d.old, err = tx.StoredReceipt(e.of)
	}
	if err == nil && e.Verb == TallySaved {
		err = d.readPhotos(tx)
	}
	return d, err
}

// readPhotos reads the photos of the order that no sheet names.
func (d *desk) readPhotos(tx Tx) error {
	all, err := tx.OrderPhotos(d.order.ID)
	if err != nil {
		return err
	}
	for _, k := range all {
		if k.Sheet != 0 {
			continue
		}
		shown, err := tx.OrderPhotoBytes(d.order.ID, k.ID, false)
		if err != nil {
			return err
		}
		d.photos, d.pictures = append(d.photos, k), append(d.pictures, shown)
	}
	return nil
}

// namePhotos writes down that a sheet names the photos on the desk; act.ErrMoved where one
// of them was dropped, or named by another, since.
func (d *desk) namePhotos(tx Tx, sheet int64) error {
	ids := make([]string, len(d.photos))
	for i, k := range d.photos {
		ids[i] = k.ID
	}
	if len(ids) == 0 {
		return nil
	}
	named, err := tx.NameOrderPhotos(ids, sheet)
	if err == nil && named != len(ids) {
		err = act.ErrMoved
	}
	return err
}

// readDesk reads all of an order, and of a batch where one is named.
func readDesk(tx Tx, orderID, batchID string) (d desk, err error) {
	d.batchID = batchID
	if err := d.readHeads(tx, orderID); err != nil {
		return desk{}, err
	}
	if d.loads, err = tx.Loads(orderID); err != nil {
		return desk{}, err
	}
	if d.tallies, err = tx.Tallies(orderID); err != nil {
		return desk{}, err
	}
	if d.refs, err = tx.ReceiptRefs(orderID); err != nil {
		return desk{}, err
	}
	if d.filed, err = tx.OrderReceipts(orderID); err != nil {
		return desk{}, err
	}
	if d.standing, err = standingFacts(d.filed); err != nil {
		return desk{}, err
	}
	if d.sheets > 0 {
		last, err := tx.StoredSheet(d.sheets)
		if act.KindOf(err) == act.NotFound {
			return desk{}, act.NewConflict("measurement sheet %d, which the next one follows on, is missing; nothing is issued until the database is put right", int(d.sheets))
		}
		if err != nil {
			return desk{}, err
		}
		d.sheet = last.Chain
	}
	if d.receipts == 0 {
		return d, nil
	}
	last, err := tx.StoredReceipt(d.receipts)
	if act.KindOf(err) == act.NotFound {
		return desk{}, act.NewConflict("receipt %d, which the next one follows on, is missing; nothing is issued until the database is put right", int(d.receipts))
	}
	d.chain = last.Chain
	return d, err
}

// readHeads reads what shows whether anything moved.
func (d *desk) readHeads(tx Tx, orderID string) (err error) {
	if d.shop, err = tx.Shop(); err != nil {
		return err
	}
	if d.order, err = tx.Order(orderID); err != nil {
		return err
	}
	if d.receipts, err = tx.LastNumber(ReceiptNumbers); err != nil {
		return err
	}
	if d.sheets, err = tx.LastNumber(SheetNumbers); err != nil {
		return err
	}
	if d.moist, err = tx.Moistures(orderID); err != nil {
		return err
	}
	if d.bodies, err = tx.Bodies(); err != nil {
		return err
	}
	if d.payments, err = tx.Payments(orderID); err != nil {
		return err
	}
	if d.settlements, err = tx.Settlements(orderID); err != nil {
		return err
	}
	return d.readBatch(tx)
}

// readBatch reads the batch that is named, if any.
func (d *desk) readBatch(tx Tx) error {
	if d.batchID == "" {
		return nil
	}
	h, err := yard.ReadBatch(tx, d.batchID)
	if act.KindOf(err) == act.NotFound {
		return nil
	}
	d.batch = &h
	return err
}

// unmoved answers ErrMoved when the desk is not as it was read. Every load and
// every tally moves a counter, and moisture readings, payments, settlements and what is
// written down of a batch only grow in number; whoever sent the same request moved one too.
func (d desk) unmoved(tx Tx) error {
	now := desk{batchID: d.batchID}
	if err := now.readHeads(tx, d.order.ID); err != nil {
		return err
	}
	if now.shop.Version != d.shop.Version || now.order.Version != d.order.Version ||
		now.order.Customer.Version != d.order.Customer.Version ||
		now.receipts != d.receipts || now.sheets != d.sheets || len(now.moist) != len(d.moist) ||
		len(now.payments) != len(d.payments) || len(now.settlements) != len(d.settlements) || !sameBatch(now.batch, d.batch) {
		return act.ErrMoved
	}
	return nil
}

// sameBatch tells whether a batch stands as it did.
func sameBatch(now, before *yard.BatchHistory) bool {
	if now == nil || before == nil {
		return now == before
	}
	return now.Version() == before.Version() && now.Left == before.Left && len(now.Moistures) == len(before.Moistures)
}
