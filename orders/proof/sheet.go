package proof

import (
	"bytes"
	"encoding/json"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/ledger"
)

// sheets walks the measurement sheets in order.
func (v *verifier) sheets(tx orders.Tx) error {
	var last int64
	chain := ""
	for {
		page, err := tx.StoredSheets(last, verifyPage)
		if err != nil {
			return err
		}
		if len(page) == 0 {
			return v.endSheets(tx, last)
		}
		for _, s := range page {
			if s.Number != last+1 {
				v.faultRange("sheet", last+1, s.Number-1, "is missing", "are missing")
			}
			v.sheet(s, chain, s.Number != last+1)
			last, chain = s.Number, s.Chain
			v.found.Sheets++
			if s.Hash == "" {
				v.found.Unchained++
			}
			v.witnessed(ledger.Line{Paper: ledger.Sheet, Number: s.Number, Issued: s.Issued, Chain: s.Chain, PDFHash: s.PDFHash})
		}
	}
}

// sheet holds a sheet against its hashes, its link, its order and its tally.
func (v *verifier) sheet(s orders.StoredSheet, previous string, gap bool) {
	n := int(s.Number)
	if !s.Erased.IsZero() {
		v.erased("sheet", s.Number, s.Erased, s.InBytes(), s.Salt, s.PDF)
		v.found.Blank++
	} else if ledger.Hash(s.PDF) != s.PDFHash {
		v.fault("sheet %d: its PDF is not the one that was issued", n)
	}
	gone := s.NamesGone()
	if gone {
		v.fault("sheet %d: its names are gone, and no erasure is recorded", n)
		s.Personal = []byte("{}") // the rest is read on
	}
	sheet, err := s.Decode()
	if err != nil {
		v.fault("sheet %d: its stored data cannot be read", n)
		return
	}
	if sheet.Number != s.Number {
		v.fault("sheet %d: its data are those of sheet %d", n, int(sheet.Number))
	}
	if !sheet.Issued.Equal(s.Issued) {
		v.fault("sheet %d: it is filed under another time of issue", n)
	}
	if sheet.Order != s.OrderNumber {
		v.fault("sheet %d: it is filed under another order", n)
	}
	v.tallyOf(s, sheet)
	v.naming(s, sheet)
	if unchained(s, sheet) && previous == "" {
		return
	}
	if ledger.Hash(s.Bytes) != s.Hash {
		v.fault("sheet %d: its data are not those that were issued", n)
	}
	if s.Erased.IsZero() && !gone && !named(s) {
		v.fault("sheet %d: its purchaser or reader is not the one it was issued with", n)
	}
	if chain, err := ledger.Chain(sheet.Previous, s.Hash, s.PersonalHash); err != nil || chain != s.Chain {
		v.fault("sheet %d: its chain does not follow from its hashes", n)
	}
	if !gap && sheet.Previous != previous {
		v.fault("sheet %d: it does not follow on the sheet before it", n)
	}
}

// unchained tells that a sheet is from before sheets were chained, and pretends to
// nothing else.
func unchained(s orders.StoredSheet, sheet orders.Sheet) bool {
	return s.Hash == "" && s.Chain == "" && s.PersonalHash == "" && sheet.Format < 2
}

// named tells whether a chained sheet has the purchaser and the reader it was issued with.
func named(s orders.StoredSheet) bool { return ledger.Hash(s.Salt, s.Personal) == s.PersonalHash }

// tallyOf holds what is kept of a sheet's tally against the sheet.
func (v *verifier) tallyOf(s orders.StoredSheet, sheet orders.Sheet) {
	n := int(s.Number)
	if document, err := ledger.Canonical(sheet.Tally); err != nil || !bytes.Equal(document, s.Tally.Document) {
		v.fault("sheet %d: its tally is missing or differs from its data", n)
		return
	}
	var outcome stack.Word
	if sheet.Result.Finding != nil {
		outcome = sheet.Result.Finding.Word
	}
	if !sameJSON[stack.Result](s.Tally.Result, sheet.Result) || stack.WordOf(s.Tally.Outcome) != outcome {
		v.fault("sheet %d: the result kept with its tally is not the one on it", n)
	}
	otherReader := s.Erased.IsZero() && (unchained(s, sheet) || s.Hash != "" && named(s)) && s.Tally.ReadBy != sheet.ReadBy
	if s.Tally.OrderID != s.OrderID || s.Tally.Look != sheet.Tally.Look || otherReader {
		v.fault("sheet %d: its tally is filed under another order, another check or another reader", n)
	}
}

// sameJSON tells whether stored JSON says the same as a value.
func sameJSON[T any](stored []byte, value T) bool {
	var kept T
	if json.Unmarshal(stored, &kept) != nil {
		return false
	}
	a, errA := ledger.Canonical(kept)
	b, errB := ledger.Canonical(value)
	return errA == nil && errB == nil && bytes.Equal(a, b)
}

func (v *verifier) endSheets(tx orders.Tx, last int64) error {
	v.unheard(ledger.Sheet, last)
	counted, err := tx.LastNumber(ledger.SheetNumbers)
	if err != nil {
		return err
	}
	if counted > last {
		v.faultRange("sheet", last+1, counted, "is missing", "are missing")
	}
	if counted < last {
		v.fault("sheet %d: the counter of sheets is at %d", int(last), int(counted))
	}
	return nil
}
