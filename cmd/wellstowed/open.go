package main

import (
	"context"
	"fmt"
	"os"

	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/postgres"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// services are what verbs do things by.
type services struct {
	*orders.Service
	accounts *accounts.Service
	audits   *audits.Service
	roads    *road.Service
	dates    *calendar.Service
}

// opened is a database that was opened, to be written or only read.
type opened interface {
	orders.Store
	Accounts() act.Store[accounts.Tx]
	Audits() act.Store[audits.Tx]
	Road() act.Store[road.Tx]
	Calendar() act.Store[calendar.Tx]
}

// isThere refuses a database that is not there.
func isThere(path string) error {
	if postgres.Is(path) {
		return nil // opening it says so
	}
	if _, err := os.Stat(path); err != nil {
		return refuse("database %s: %w; name the shop's database with --db", path, err)
	}
	return nil
}

// beside is what files that belong to a database and are none of its own are called after:
// its path, or of one on a server a name in the folder that the program was started in.
func beside(database string) string {
	if !postgres.Is(database) {
		return database
	}
	at, err := postgres.At(database)
	if err != nil {
		return "wellstowed" // opening the database said so
	}
	return at.Name()
}

// withShop opens a database that must be there, brings it up to date, and closes it.
func (m machine) withShop(ctx context.Context, path string, do func(services) error) error {
	if err := isThere(path); err != nil {
		return err
	}
	db, err := store.Open(ctx, path)
	if err != nil {
		return fmt.Errorf("database %s: %w", postgres.Shown(path), err)
	}
	defer db.Close()
	return m.over(db, do)
}

// withShopToRead opens a database that must be there to be read: nothing of it changes.
func (m machine) withShopToRead(ctx context.Context, path string, do func(services) error) error {
	return m.withView(ctx, path, func(v *store.View) error { return m.over(v, do) })
}

func (m machine) withView(ctx context.Context, path string, do func(*store.View) error) error {
	if err := isThere(path); err != nil {
		return err
	}
	v, err := store.OpenToRead(ctx, path)
	if err != nil {
		return fmt.Errorf("database %s: %w", postgres.Shown(path), err)
	}
	defer v.Close()
	if v.LacksLog {
		fmt.Fprintf(m.err, "%s was copied while a program used it, and its log is not beside it: what was saved last may be lacking.\n", path)
	}
	return do(v)
}

func (m machine) over(db opened, do func(services) error) error {
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	s := orders.New(db, painter, m.clock)
	return do(services{s, accounts.New(db.Accounts(), m.clock), audits.New(db.Audits(), s.Rules(), painter, m.clock), road.New(db.Road(), painter, m.clock), calendar.New(db.Calendar(), m.clock)})
}
