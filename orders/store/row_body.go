package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

type bodyRow struct {
	ID      string `gorm:"primaryKey"`
	Name    string
	Line    string
	Stack   string
	Volume  int64
	Basis   string
	TapedOn string
	TapedBy string
	Created int64
	Retired int64
}

func (bodyRow) TableName() string { return "bodies" }

// Bodies gives the bodies in use, oldest first.
func (t tx) Bodies() ([]yard.Body, error) {
	var rows []bodyRow
	if err := t.db.Where("retired = ?", 0).Order("created, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	bodies := make([]yard.Body, len(rows))
	for i, r := range rows {
		body, err := r.body()
		if err != nil {
			return nil, fmt.Errorf("body %s: %w", r.ID, err)
		}
		bodies[i] = body
	}
	return bodies, nil
}

func (r bodyRow) body() (yard.Body, error) {
	b := yard.Body{
		ID: r.ID, Name: r.Name, Line: r.Line, By: r.TapedBy, Created: instant(r.Created),
		Quantity: measure.Quantity{Volume: measure.Volume(r.Volume), Basis: measure.Basis(r.Basis)},
	}
	var err error
	if b.On, err = act.ParseDate(r.TapedOn); err != nil {
		return b, err
	}
	return b, json.Unmarshal([]byte(r.Stack), &b.Stack)
}

// AddBody adds a body.
func (t tx) AddBody(b yard.Body) error {
	stack, err := json.Marshal(b.Stack)
	if err != nil {
		return err
	}
	return t.db.Create(&bodyRow{
		ID: b.ID, Name: b.Name, Line: b.Line, Stack: string(stack),
		Volume: int64(b.Quantity.Volume), Basis: string(b.Quantity.Basis),
		TapedOn: b.On.String(), TapedBy: b.By, Created: micros(b.Created),
	}).Error
}

// RetireBody takes a body out of use.
func (t tx) RetireBody(id string) error {
	done := t.db.Model(&bodyRow{}).Where("id = ? AND retired = ?", id, 0).Select("Retired").Updates(bodyRow{Retired: 1})
	if done.Error == nil && done.RowsAffected == 0 {
		return &act.Error{Kind: act.NotFound, Message: measure.Say("that bed isn’t in use here")}
	}
	return done.Error
}
