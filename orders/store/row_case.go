package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/measure/stack"
	"wellstowed/orders/cases"
)

type caseRow struct {
	ID      string `gorm:"primaryKey"`
	Receipt *int64
	Created int64
}

func (caseRow) TableName() string { return "cases" }

type accountRow struct {
	CaseID  string `gorm:"primaryKey"`
	Version int64  `gorm:"primaryKey;autoIncrement:false"`
	Words   string
	Account string
	At      int64
}

func (accountRow) TableName() string { return "case_accounts" }

type caseTallyRow struct {
	CaseID   string `gorm:"primaryKey"`
	Look     int    `gorm:"primaryKey;autoIncrement:false"`
	Document []byte
	Result   []byte
	Model    int
	ReadBy   string
	Created  int64
}

func (caseTallyRow) TableName() string { return "case_tallies" }

type entryRow struct {
	ID      string `gorm:"primaryKey"`
	CaseID  string
	Kind    string
	Party   string
	By      string
	Text    string
	Remedy  string
	Accepts string
	At      int64
}

func (entryRow) TableName() string { return "case_entries" }

// Case gives a case with all that is in it.
func (t tx) Case(id string) (cases.Case, error) {
	var r caseRow
	if err := t.db.Where("id = ?", id).Take(&r).Error; err != nil {
		return cases.Case{}, missing(err, "that case isn’t here")
	}
	return t.fillCase(r)
}

// CaseOf gives the case on a receipt.
func (t tx) CaseOf(receipt int64) (cases.Case, error) {
	var r caseRow
	if err := t.db.Where("receipt = ?", receipt).Take(&r).Error; err != nil {
		return cases.Case{}, missing(err, "receipt %d has no case", int(receipt))
	}
	return t.fillCase(r)
}

// OwnCases are those on no receipt, newest first.
func (t tx) OwnCases() ([]cases.Case, error) {
	var rows []caseRow
	if err := t.db.Where("receipt IS NULL").Order("created DESC, id DESC").Find(&rows).Error; err != nil {
		return nil, err
	}
	cases := make([]cases.Case, len(rows))
	for i, r := range rows {
		var err error
		if cases[i], err = t.fillCase(r); err != nil {
			return nil, err
		}
	}
	return cases, nil
}

// Unanswered are the receipts whose case ends in the buyer's claim or refusal.
func (t tx) Unanswered() ([]int64, error) {
	var receipts []int64
	err := t.db.Raw(`SELECT c.receipt FROM cases c JOIN case_entries e ON e.case_id = c.id
		WHERE c.receipt IS NOT NULL AND (e.kind = 'claim' OR e.kind = 'reply' AND e.accepts = 'no')
		AND NOT EXISTS (SELECT 1 FROM case_entries later WHERE later.case_id = c.id AND (later.at, later.id) > (e.at, e.id) AND later.kind <> 'office')
		ORDER BY e.at, e.id`).Scan(&receipts).Error
	return receipts, err
}

func (t tx) fillCase(r caseRow) (cases.Case, error) {
	c := cases.Case{ID: r.ID, Created: instant(r.Created)}
	if r.Receipt != nil {
		c.Receipt = *r.Receipt
	}
	var err error
	if c.Account, err = t.account(r.ID); err != nil {
		return c, err
	}
	if c.Tallies, err = t.caseTallies(r.ID); err != nil {
		return c, err
	}
	c.Entries, err = t.entries(r.ID)
	return c, err
}

func (t tx) account(caseID string) (a cases.Statement, err error) {
	var r accountRow
	if err := t.db.Where("case_id = ?", caseID).Order("version DESC").Limit(1).Take(&r).Error; err != nil {
		return a, err
	}
	if err := json.Unmarshal([]byte(r.Account), &a); err != nil {
		return a, fmt.Errorf("account %d of case %s: %w", r.Version, caseID, err)
	}
	a.Version, a.Words, a.At = r.Version, r.Words, instant(r.At)
	return a, nil
}

func (t tx) caseTallies(caseID string) ([]cases.Tally, error) {
	var rows []caseTallyRow
	if err := t.db.Where("case_id = ?", caseID).Order("look").Find(&rows).Error; err != nil {
		return nil, err
	}
	tallies := make([]cases.Tally, len(rows))
	for i, r := range rows {
		tallies[i] = cases.Tally{Look: r.Look, Document: r.Document, By: r.ReadBy, Created: instant(r.Created)}
		if err := json.Unmarshal(r.Result, &tallies[i].Result); err != nil {
			return nil, fmt.Errorf("look %d of case %s: %w", r.Look, caseID, err)
		}
	}
	return tallies, nil
}

func (t tx) entries(caseID string) ([]cases.Entry, error) {
	var rows []entryRow
	if err := t.db.Where("case_id = ?", caseID).Order("at, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	entries := make([]cases.Entry, len(rows))
	for i, r := range rows {
		entries[i] = cases.Entry{
			ID: r.ID, Kind: cases.EntryKind(r.Kind), Party: stack.Party(r.Party), By: r.By, Text: r.Text,
			Remedy: cases.Remedy(r.Remedy), Accepts: cases.YesNo(r.Accepts), At: instant(r.At),
		}
	}
	return entries, nil
}

// AddCase adds a case; its account is added apart.
func (t tx) AddCase(c cases.Case) error {
	r := caseRow{ID: c.ID, Created: micros(c.Created)}
	if c.Receipt != 0 {
		r.Receipt = &c.Receipt
	}
	return t.db.Create(&r).Error
}

// AddAccount adds what the buyer now says.
func (t tx) AddAccount(caseID string, a cases.Statement) error {
	account, err := json.Marshal(a)
	if err != nil {
		return err
	}
	return t.db.Create(&accountRow{CaseID: caseID, Version: a.Version, Words: a.Words, Account: string(account), At: micros(a.At)}).Error
}

// AddCaseTally adds a tally of the buyer's.
func (t tx) AddCaseTally(caseID string, tally cases.Tally) error {
	result, err := json.Marshal(tally.Result)
	if err != nil {
		return err
	}
	return t.db.Create(&caseTallyRow{
		CaseID: caseID, Look: tally.Look, Document: tally.Document, Result: result,
		Model: tally.Result.Model, ReadBy: tally.By, Created: micros(tally.Created),
	}).Error
}

// AddEntry adds an entry.
func (t tx) AddEntry(caseID string, e cases.Entry) error {
	return t.db.Create(&entryRow{
		ID: e.ID, CaseID: caseID, Kind: string(e.Kind), Party: string(e.Party), By: e.By, Text: e.Text,
		Remedy: string(e.Remedy), Accepts: string(e.Accepts), At: micros(e.At),
	}).Error
}
