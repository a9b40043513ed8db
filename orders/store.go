package orders

import "context"

// Store keeps a shop's data.
type Store interface {
	Read(ctx context.Context, do func(Tx) error) error
	Write(ctx context.Context, do func(Tx) error) error
	Close() error
}

// Tx is one transaction.
type Tx interface{}
