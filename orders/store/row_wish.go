package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

type wishRow struct {
	ID        string `gorm:"primaryKey"`
	Request   string
	WantedBy  string
	WantedFor string
	Person    string
	Created   int64
}

func (wishRow) TableName() string { return "wishes" }

type wishEndRow struct {
	WishID  string `gorm:"primaryKey"`
	OrderID *string
	Reason  string
	Person  string
	Created int64
}

func (wishEndRow) TableName() string { return "wish_ends" }

// wishView is a wish with how it ended.
type wishView struct {
	Row     wishRow `gorm:"embedded"`
	OrderID string
	Reason  string
	Ended   int64
}

// Wishes gives all wishes in the order they were made, ended ones too.
func (t tx) Wishes() ([]orders.Wish, error) {
	var views []wishView
	err := t.db.Raw(`SELECT w.*, coalesce(e.order_id, '') AS order_id, coalesce(e.reason, '') AS reason, coalesce(e.created, 0) AS ended
		FROM wishes w LEFT JOIN wish_ends e ON e.wish_id = w.id ORDER BY w.created, w.id`).Scan(&views).Error
	if err != nil {
		return nil, err
	}
	wishes := make([]orders.Wish, len(views))
	for i, v := range views {
		if wishes[i], err = v.wish(); err != nil {
			return nil, fmt.Errorf("wish %s: %w", v.Row.ID, err)
		}
	}
	return wishes, nil
}

func (v wishView) wish() (orders.Wish, error) {
	w := orders.Wish{ID: v.Row.ID, For: v.Row.WantedFor, By: v.Row.Person, Asked: instant(v.Row.Created), OrderID: v.OrderID, Dropped: v.Reason}
	if v.Ended != 0 {
		w.Ended = instant(v.Ended)
	}
	if v.Row.WantedBy != "" {
		var err error
		if w.Until, err = act.ParseDate(v.Row.WantedBy); err != nil {
			return w, err
		}
	}
	return w, json.Unmarshal([]byte(v.Row.Request), &w.Request)
}

// AddWish adds a wish.
func (t tx) AddWish(w orders.Wish) error {
	request, err := json.Marshal(w.Request)
	if err != nil {
		return err
	}
	return t.db.Create(&wishRow{ID: w.ID, Request: string(request), WantedBy: w.Until.String(), WantedFor: w.For, Person: w.By, Created: micros(w.Asked)}).Error
}

// EndWish adds how a wish ended.
func (t tx) EndWish(w orders.Wish, by string) error {
	row := wishEndRow{WishID: w.ID, Reason: w.Dropped, Person: by, Created: micros(w.Ended)}
	if w.OrderID != "" {
		row.OrderID = &w.OrderID
	}
	return t.db.Create(&row).Error
}
