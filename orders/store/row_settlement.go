package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

type settlementRow struct {
	ID        string `gorm:"primaryKey"`
	OrderID   string
	Receipt   int64
	Sheet     int64
	Owed      int64
	Basis     string
	Pieces    string
	Worth     int64
	Currency  string
	Choice    string
	AgreedOn  string
	AgreedHow string
	Reason    string
	Replaces  *string
	Person    string
	Created   int64
}

func (settlementRow) TableName() string { return "settlements" }

type stepRow struct {
	Receipt      int64 `gorm:"primaryKey;autoIncrement:false"`
	SettlementID string
	Brought      int64
	Given        int64
	Closes       int64
	DoneOn       string
	Person       string
	Created      int64
}

func (stepRow) TableName() string { return "settlement_steps" }

// Settlements gives the settlements of an order with their steps, oldest first.
func (t tx) Settlements(orderID string) ([]orders.Settlement, error) {
	var rows []settlementRow
	if err := t.db.Where("order_id = ?", orderID).Order("created, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	settlements := make([]orders.Settlement, len(rows))
	for i, r := range rows {
		s, err := r.settlement()
		if err == nil {
			s.Steps, err = t.steps(r)
		}
		if err != nil {
			return nil, fmt.Errorf("settlement %s: %w", r.ID, err)
		}
		s.Replaced = i < len(rows)-1
		settlements[i] = s
	}
	return settlements, nil
}

func (t tx) steps(of settlementRow) ([]orders.SettlementStep, error) {
	var rows []stepRow
	if err := t.db.Where("settlement_id = ?", of.ID).Order("receipt").Find(&rows).Error; err != nil {
		return nil, err
	}
	steps := make([]orders.SettlementStep, len(rows))
	for i, r := range rows {
		on, err := act.ParseDate(r.DoneOn)
		if err != nil {
			return nil, err
		}
		steps[i] = orders.SettlementStep{Receipt: r.Receipt, Brought: measure.Volume(r.Brought), Closes: r.Closes != 0, On: on, By: r.Person, Created: instant(r.Created)}
		if r.Given != 0 {
			steps[i].Given = money.Money{Minor: r.Given, Currency: of.Currency}
		}
	}
	return steps, nil
}

func (r settlementRow) settlement() (orders.Settlement, error) {
	s := orders.Settlement{
		ID: r.ID, OrderID: r.OrderID, Receipt: r.Receipt, Sheet: r.Sheet,
		Owed:  measure.Quantity{Volume: measure.Volume(r.Owed), Basis: measure.Basis(r.Basis)},
		Worth: money.Money{Minor: r.Worth, Currency: r.Currency}, Choice: orders.SettleBy(r.Choice),
		AgreedHow: orders.AgreedHow(r.AgreedHow), Reason: r.Reason, By: r.Person, Created: instant(r.Created),
	}
	if r.Replaces != nil {
		s.Replaces = *r.Replaces
	}
	var err error
	if s.AgreedOn, err = act.ParseDate(r.AgreedOn); err != nil {
		return s, err
	}
	return s, json.Unmarshal([]byte(r.Pieces), &s.Pieces)
}

// AddSettlement adds a settlement.
func (t tx) AddSettlement(s orders.Settlement) error {
	pieces, err := json.Marshal(s.Pieces)
	if err != nil {
		return err
	}
	row := settlementRow{
		ID: s.ID, OrderID: s.OrderID, Receipt: s.Receipt, Sheet: s.Sheet, Owed: int64(s.Owed.Volume), Basis: string(s.Owed.Basis),
		Pieces: string(pieces), Worth: s.Worth.Minor, Currency: s.Worth.Currency, Choice: string(s.Choice),
		AgreedOn: s.AgreedOn.String(), AgreedHow: string(s.AgreedHow), Reason: s.Reason, Person: s.By, Created: micros(s.Created),
	}
	if s.Replaces != "" {
		row.Replaces = &s.Replaces
	}
	return t.db.Create(&row).Error
}

// AddSettlementStep adds what was done about a settlement.
func (t tx) AddSettlementStep(settlementID string, s orders.SettlementStep) error {
	row := stepRow{
		Receipt: s.Receipt, SettlementID: settlementID, Brought: int64(s.Brought), Given: s.Given.Minor,
		DoneOn: s.On.String(), Person: s.By, Created: micros(s.Created),
	}
	if s.Closes {
		row.Closes = 1
	}
	return t.db.Create(&row).Error
}
