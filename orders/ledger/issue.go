package ledger

import (
	"context"

	"wellstowed/orders/act"
)

// Tx is what issuing needs of a transaction.
type Tx interface {
	act.Requests
	Papers
}

// An Issuer issues numbered papers, one at a time in this process. Painting one takes too
// long for a transaction, so its number must be known before it is taken: see act.Slow.
type Issuer[T Tx] struct {
	Acts    act.Doer[T]
	Witness Witness       // told of each paper; nil without one
	Turn    chan struct{} // of room for one
}

// NewIssuer makes an Issuer.
func NewIssuer[T Tx](acts act.Doer[T], w Witness) *Issuer[T] {
	return &Issuer[T]{Acts: acts, Witness: w, Turn: make(chan struct{}, 1)}
}

// A Numbered paper has the number given, by Write in the transaction.
type Numbered[T any] struct {
	Number int64
	Write  func(T) error
}

// Issue issues the paper that prepare makes of what read gives, once for a request; give
// reads it by its number. A paper stands whatever comes of telling the witness, which
// catches up at the next one.
func Issue[T Tx, D, R any](ctx context.Context, i *Issuer[T], by act.Act, w act.Write, read func(T) (D, error),
	prepare func(D) (Numbered[T], error), give func(T, int64) (R, error)) (r R, err error) {
	select {
	case i.Turn <- struct{}{}:
	case <-ctx.Done():
		return r, act.Fail(ctx.Err())
	}
	defer func() { <-i.Turn }()
	defer i.tell(context.WithoutCancel(ctx))
	slow := act.Slow[T, D]{Read: read, Prepare: func(d D) (func(T) (string, error), error) {
		p, err := prepare(d)
		return func(tx T) (string, error) { return act.FormatNumber(p.Number), p.Write(tx) }, err
	}}
	return act.DoSlow(ctx, i.Acts, by, w, slow, func(tx T, result string) (r R, err error) {
		number, err := act.ParseNumber(result)
		if err != nil {
			return r, err
		}
		return give(tx, number)
	})
}

func (i *Issuer[T]) tell(ctx context.Context) {
	if i.Witness != nil {
		_ = Extend(ctx, i.Acts.Store, i.Witness, false)
	}
}

// The counters of papers.
const (
	ReceiptNumbers act.Counter = "receipt"
	SheetNumbers   act.Counter = "sheet"
)

// Take takes the next number of a counter, which must be the one on the paper.
func Take(tx act.Counters, c act.Counter, want int64) error {
	got, err := tx.NextNumber(c)
	if err == nil && got != want {
		return act.ErrMoved
	}
	return err
}
