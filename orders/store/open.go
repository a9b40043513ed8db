// Package store keeps a shop's data in one SQLite file.
package store

import (
	"context"

	"wellstowed/orders"
)

// A DB is an open database of one shop.
type DB struct{}

var _ orders.Store = (*DB)(nil)

func Open(ctx context.Context, path string) (*DB, error)                 { return &DB{}, nil }
func (db *DB) Read(ctx context.Context, do func(orders.Tx) error) error  { return nil }
func (db *DB) Write(ctx context.Context, do func(orders.Tx) error) error { return nil }
func (db *DB) Close() error                                              { return nil }
