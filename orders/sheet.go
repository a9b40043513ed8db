package orders

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// prepareSheet measures and paints the next measurement sheet.
func (s *Service) prepareSheet(d desk, r TallyRequest) (paper, error) {
	set, err := s.setOf(d.shop)
	if err != nil {
		return paper{}, err
	}
	m, err := measureOn(d, set, r.Document)
	if err != nil {
		return paper{}, err
	}
	var f act.Fields
	unplaced(&f, d.shop)
	customer := d.order.Customer
	s.spell(&f, &customer, spellings{r.PrintName, r.PrintAddress})
	readBy := s.printable(&f, "read_by", f.Line("read_by", r.ReadBy))
	if readBy == "" && len(f.Faults) == 0 {
		f.Missing("read_by", measure.Say("the name of who read"))
	}
	f.BarredInName(set, "read_by", readBy)
	barredInParties(&f, set, d.shop.vendor(), customer.printed())
	f.Hush(set)
	if err := cmp.Or(f.Err(), m.Answered()); err != nil {
		return paper{}, err
	}
	sheet := Sheet{
		Format: SheetFormat, Number: d.sheets + 1, Issued: s.now(),
		Language: d.shop.Language, Paper: d.shop.Paper, Units: d.shop.Units, Zone: d.shop.Zone,
		RuleSet: RuleSetOf(set, d.shop.Units), Model: m.Result.Model, Layout: s.printer.Layout(),
		Vendor: d.shop.vendor(), Purchaser: customer.printed(), Order: d.order.Number, Receipts: d.refs,
		ReadBy: readBy, Tally: m.Document, Result: m.Result, Previous: d.sheet,
	}
	for _, k := range d.photos {
		sheet.Photos = append(sheet.Photos, k.Fact())
	}
	sheet.Pictures = d.pictures
	procedure := procedure.Of(m.Tally, set.Reckoning(set.SoldIn(d.shop.Units == act.Metric)))
	sheet.Procedure = &procedure
	return s.paintSheet(d, customer, sheet, m)
}

// paintSheet paints a sheet and gives what writes it with its tally.
func (s *Service) paintSheet(d desk, customer Customer, sheet Sheet, m Measurement) (paper, error) {
	stored, err := sealSheet(sheet)
	if err != nil {
		return paper{}, err
	}
	stored.OrderID = d.order.ID
	if stored.PDF, err = s.printer.Sheet(sheet); err != nil {
		return paper{}, err
	}
	stored.PDFHash = ledger.Hash(stored.PDF)
	tally := Tally{
		OrderID: d.order.ID, Look: m.Document.Look, Document: m.Bytes, Result: m.Result,
		Sheet: sheet.Number, By: sheet.ReadBy, Created: sheet.Issued,
	}
	if tally.ID, err = act.NewID(); err != nil {
		return paper{}, err
	}
	write := func(tx Tx) error {
		if err := ledger.Take(tx, SheetNumbers, stored.Number); err != nil {
			return err
		}
		if err := keepSpelling(tx, d.order.Customer, customer); err != nil {
			return err
		}
		if err := tx.AddSheet(stored); err != nil {
			return err
		}
		if err := d.namePhotos(tx, stored.Number); err != nil {
			return err
		}
		return tx.AddTally(tally)
	}
	return paper{Write: write, Number: stored.Number}, nil
}

// sealSheet writes the bytes of a sheet and chains them.
func sealSheet(sheet Sheet) (StoredSheet, error) {
	named := personalOfSheet{sheet.Purchaser, sheet.ReadBy}
	sheet.Purchaser, sheet.ReadBy = Party{}, ""
	sealed, err := ledger.Close(sheet, named, sheet.Previous)
	return StoredSheet{Number: sheet.Number, Issued: sheet.Issued, Bytes: sealed.Bytes, Hash: sealed.Hash,
		Personal: sealed.Personal, Salt: sealed.Salt, PersonalHash: sealed.PersonalHash, Chain: sealed.Chain}, err
}

// Sheet gives an issued measurement sheet with the bytes as they were written.
func (s *Service) Sheet(ctx context.Context, who act.Actor, number int64) (issued IssuedSheet, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return IssuedSheet{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		issued, err = s.sheet(tx, number)
		return err
	})
	return issued, act.Fail(err)
}

func (s *Service) sheet(tx Tx, number int64) (IssuedSheet, error) {
	stored, err := tx.StoredSheet(number)
	if err != nil {
		return IssuedSheet{}, err
	}
	sheet, err := stored.Decode()
	if err == nil && !stored.Erased.IsZero() {
		stored.PDF, err = s.printer.Sheet(sheet)
	}
	return IssuedSheet{Sheet: sheet, OrderID: stored.OrderID, Bytes: stored.Bytes, Chain: stored.Chain, PDF: stored.PDF}, err
}

// Decode reads the sheet and, unless they were erased, its names.
func (s StoredSheet) Decode() (sheet Sheet, err error) {
	if err := json.Unmarshal(s.Bytes, &sheet); err != nil {
		return Sheet{}, fmt.Errorf("measurement sheet %d: %w", s.Number, err)
	}
	if !s.Erased.IsZero() {
		sheet.Purchaser, sheet.ReadBy, sheet.Erased = Party{}, "", act.DayIn(s.Erased, sheet.Zone)
		return sheet, nil
	}
	if s.Hash == "" { // of format 1: its purchaser is in its bytes
		return sheet, nil
	}
	var p personalOfSheet
	if err := json.Unmarshal(s.Personal, &p); err != nil {
		return Sheet{}, fmt.Errorf("purchaser of measurement sheet %d: %w", s.Number, err)
	}
	sheet.Purchaser, sheet.ReadBy = p.Purchaser, p.ReadBy
	return sheet, nil
}
