// Package proof holds what a shop's database keeps against its hashes, its chain, seals
// read off paper and a witness: receipts, sheets and the reports of audits.
package proof

import (
	"context"
	"errors"
	"maps"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
)

// A Verification is what reading all receipts came to.
type Verification struct {
	Receipts  int // how many were read
	Voided    int // how many of them were made void since
	Corrected int // how many of them were corrected since
	Sheets    int // how many measurement sheets were read
	Unchained int // of those, how many are from before sheets were chained
	Erased    int // how many receipts had their names erased
	Blank     int // how many sheets had
	// BlankAudits is how many audits had, and with them their reports.
	BlankAudits int
	Last        int64  // number of the last
	Seal        string // seal of the last
	// Faults say what does not agree, each with its receipt's number, in order.
	Faults []measure.Text
	// Altered say what is damaged in the file, and what is not as the program wrote it, by
	// the journal.
	Altered []measure.Text
	Writes  int64 // how many the journal holds
	// Notes say what is no fault and yet to be known.
	Notes []measure.Text
	// Limit says what a verification cannot find.
	Limit measure.Text
}

// verifyPage is how many receipts are held at once.
const verifyPage = 50

// Verify reads all receipts and measurement sheets and recomputes every hash, and
// holds seals, by receipt number, as read off paper, against them, and each paper
// against a witness; nil: without one.
func Verify(ctx context.Context, store act.Store[Tx], who act.Actor, seals map[int64]string, witness *Testimony) (Verification, error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Verification{}, err
	}
	v := verifier{seals: maps.Clone(seals), witness: witness, named: map[int64]naming{}}
	v.found.Limit = measure.Say("Without a printed seal or a witness file kept elsewhere, a rolled-back database, or one whose papers and journal were wholly written again, cannot be told from an honest one.")
	if witness != nil {
		v.found.Faults = append(v.found.Faults, witness.faults...)
		v.found.Limit = measure.Say("Held against the witness file: papers issued after its last line, and a witness file that was rewritten as well, cannot be told.")
	}
	if err := store.Read(ctx, v.run); err != nil {
		return Verification{}, act.Fail(err)
	}
	return v.found, nil
}

// Damaged is what is damaged in the file of a database, of any schema.
func Damaged(ctx context.Context, store act.Store[Tx]) ([]measure.Text, error) {
	var v verifier
	err := store.Read(ctx, v.damage)
	return v.found.Altered, act.Fail(err)
}

// A Tx is what verifying needs of a transaction.
type Tx interface {
	orders.Tx
	audits.Tx
	// NamesBack are the records that were erased and hold names again.
	NamesBack() ([]NamedAgain, error)
	Journal
	// AllOrderPhotos say what the photos of all orders are, by order, oldest first.
	AllOrderPhotos() ([]photos.Kept, error)
	// Damage is what the database finds wrong with its own file, in its words.
	Damage() ([]string, error)
}

// A verifier walks the receipts in order.
type verifier struct {
	found Verification
	chain string // of the receipt before
	seals map[int64]string

	witness *Testimony       // nil without one
	named   map[int64]naming // photos that sheets name, by the sheet's number
}

func (v *verifier) fault(key string, args ...any) {
	v.found.Faults = append(v.found.Faults, measure.Say(key, args...))
}

func (v *verifier) run(tx Tx) error {
	if err := errors.Join(v.damage(tx), v.journal(tx)); err != nil {
		return err
	}
	for {
		page, err := tx.StoredReceipts(v.found.Last, verifyPage)
		if err != nil {
			return err
		}
		if len(page) == 0 {
			return v.end(tx)
		}
		for _, r := range page {
			v.receipt(r)
		}
	}
}

func (v *verifier) damage(tx Tx) error {
	damage, err := tx.Damage()
	for _, found := range damage {
		v.alter("the file is damaged: %s", found)
	}
	return err
}

func (v *verifier) receipt(r orders.StoredReceipt) {
	gap := r.Number != v.found.Last+1
	if gap {
		v.missing(v.found.Last+1, r.Number-1)
	}
	n := int(r.Number)
	v.hashes(r)
	if len(r.Personal) == 0 {
		r.Personal = []byte("{}") // said above; the rest is read on
	}
	decoded, err := r.Decode()
	if err != nil {
		v.fault("receipt %d: its stored data cannot be read", n)
	} else {
		v.columns(r, decoded.Facts)
		if !gap && decoded.Facts.Previous != v.chain {
			v.fault("receipt %d: it does not follow on the receipt before it", n)
		}
		v.links(r, decoded.Facts.Previous)
	}
	v.printedSeal(r)
	v.witnessed(ledger.Line{Paper: ledger.Receipt, Number: r.Number, Issued: r.Issued, Chain: r.Chain, Seal: r.Seal, PDFHash: r.PDFHash})
	v.chain = r.Chain
	v.count(r)
	v.found.Last, v.found.Seal = r.Number, r.Seal
}

func (v *verifier) count(r orders.StoredReceipt) {
	v.found.Receipts++
	switch {
	case r.Ended == nil:
	case r.Ended.Kind == orders.VoidReceipt:
		v.found.Voided++
	default:
		v.found.Corrected++
	}
}

// hashes holds the stored bytes against their hashes.
func (v *verifier) hashes(r orders.StoredReceipt) {
	n := int(r.Number)
	if ledger.Hash(r.FactBytes) != r.FactsHash {
		v.fault("receipt %d: its facts are not those that were issued", n)
	}
	if !r.Erased.IsZero() {
		v.erased("receipt", r.Number, r.Erased, r.Personal, r.Salt, r.PDF)
		v.found.Erased++
		return
	}
	switch {
	case len(r.Personal) == 0:
		v.fault("receipt %d: its names are gone, and no erasure is recorded", n)
	case ledger.Hash(r.Salt, r.Personal) != r.PersonalHash:
		v.fault("receipt %d: its purchaser is not the one it was issued to", n)
	}
	if ledger.Hash(r.PDF) != r.PDFHash {
		v.fault("receipt %d: its PDF is not the one that was issued", n)
	}
}

// columns holds what is kept beside the bytes against the facts.
func (v *verifier) columns(r orders.StoredReceipt, f orders.Facts) {
	n := int(r.Number)
	if f.Number != r.Number {
		v.fault("receipt %d: its facts are those of receipt %d", n, int(f.Number))
	}
	if f.Kind != r.Kind || f.Of != r.Of {
		v.fault("receipt %d: it is filed as another kind, or as naming another receipt", n)
	}
	if !f.Issued.Equal(r.Issued) {
		v.fault("receipt %d: it is filed under another time of issue", n)
	}
	if f.Order != r.OrderNumber {
		v.fault("receipt %d: it is filed under another order", n)
	}
	if f.Delivered != r.Delivered || f.DeliveredOn != r.DeliveredOn {
		v.fault("receipt %d: its load is missing or differs from its facts", n)
	}
	if f.Kind.HandsOver() && f.BatchID() != r.Batch {
		v.fault("receipt %d: its load is filed under another batch", n)
	}
}

// links recomputes chain and seal.
func (v *verifier) links(r orders.StoredReceipt, previous string) {
	n := int(r.Number)
	if chain, err := ledger.Chain(previous, r.FactsHash, r.PersonalHash); err != nil || chain != r.Chain {
		v.fault("receipt %d: its chain does not follow from its hashes", n)
	}
	if seal, err := ledger.Seal(r.Chain); err != nil || seal != r.Seal {
		v.fault("receipt %d: its seal does not follow from its chain", n)
	}
}

func (v *verifier) printedSeal(r orders.StoredReceipt) {
	printed, asked := v.seals[r.Number]
	delete(v.seals, r.Number)
	if asked && ledger.SealAsRead(printed) != ledger.SealAsRead(r.Seal) {
		v.fault("receipt %d: the seal on paper is %s, the seal here is %s", int(r.Number), printed, r.Seal)
	}
}

func (v *verifier) missing(from, to int64) {
	v.faultRange("receipt", from, to, "is missing", "are missing")
}

// faultRange notes a fault of one paper or of several in a row.
func (v *verifier) faultRange(paper string, from, to int64, one, several string) {
	if from == to {
		v.fault("%s %d "+one, paper, int(from))
		return
	}
	v.fault("%ss %d to %d "+several, paper, int(from), int(to))
}

// end holds the counter and the seals that are left against what was found.
func (v *verifier) end(tx Tx) error {
	last, err := tx.LastNumber(ledger.ReceiptNumbers)
	if err != nil {
		return err
	}
	if last > v.found.Last {
		v.missing(v.found.Last+1, last)
	}
	if last < v.found.Last {
		v.fault("receipt %d: the counter of receipts is at %d", int(v.found.Last), int(last))
	}
	for _, n := range slices.Sorted(maps.Keys(v.seals)) {
		v.fault("receipt %d: a seal on paper was given, and that receipt isn’t here", int(n))
	}
	v.unheard(ledger.Receipt, v.found.Last)
	if err := v.sheets(tx); err != nil {
		return err
	}
	if err := v.orderPhotos(tx); err != nil {
		return err
	}
	if err := v.namesBack(tx); err != nil {
		return err
	}
	return v.audits(tx)
}

// erased holds an erased paper against having names again. Its personal hash is taken
// as it stands.
func (v *verifier) erased(paper string, number int64, at time.Time, personal, salt, pdf []byte) {
	on := act.DayIn(at, "UTC").Text()
	if len(personal) > 0 || slices.ContainsFunc(salt, func(b byte) bool { return b != 0 }) {
		v.fault("%s %d: its names were erased on %s, and it holds names again", paper, int(number), on)
	}
	if len(pdf) > 0 {
		v.fault("%s %d: its names were erased on %s, and it holds a PDF with them again", paper, int(number), on)
	}
}

// namesBack names records whose names were erased and that have some again.
func (v *verifier) namesBack(tx Tx) error {
	all, err := tx.NamesBack()
	for _, r := range all {
		switch r.Kind {
		case orders.OrderRecord:
			v.fault("order %d: its names were erased, and it holds names or notes again", int(r.Number))
		case orders.AuditRecord:
			v.fault("audit %d: its names were erased, and it holds names, readings or photos again", int(r.Number))
		case orders.PlaceRecord:
			v.fault("waiting list: the names of a place were erased, and it holds names again")
		case orders.CaseRecord:
			v.fault("own records: the names of one were erased, and it holds names again")
		}
	}
	return err
}

// NamedAgain is a record that was erased and holds names again. Number is that of an
// order or an audit, 0 for the others.
type NamedAgain struct {
	Kind   orders.RecordKind
	Number int64
}
