package act

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"time"

	"github.com/google/uuid"

	"wellstowed/measure"
)

// A Store runs transactions of one kind.
type Store[T any] interface {
	// Read runs do on one consistent view of the data; do writes nothing.
	Read(ctx context.Context, do func(T) error) error
	// Write runs do in one transaction that is alone in writing: an error
	// from do undoes all of it. What is slow is done before. It may run do again where
	// nothing was kept of what it did, so do begins again with all that it fills.
	Write(ctx context.Context, do func(T) error) error
}

// Clock is a clock whose instants are as they are stored: UTC, whole microseconds.
func Clock(clock func() time.Time) func() time.Time {
	return func() time.Time { return clock().UTC().Truncate(time.Microsecond) }
}

// Narrow is a store seen as one with less to a transaction.
func Narrow[Wide, Less any](store Store[Wide], less func(Wide) Less) Store[Less] {
	return narrowed[Wide, Less]{store, less}
}

type narrowed[Wide, Less any] struct {
	store Store[Wide]
	less  func(Wide) Less
}

func (n narrowed[Wide, Less]) Read(ctx context.Context, do func(Less) error) error {
	return n.store.Read(ctx, func(tx Wide) error { return do(n.less(tx)) })
}

func (n narrowed[Wide, Less]) Write(ctx context.Context, do func(Less) error) error {
	return n.store.Write(ctx, func(tx Wide) error { return do(n.less(tx)) })
}

// A Doer does acts: on its store, dated by its clock.
type Doer[T Requests] struct {
	Store Store[T]
	Now   func() time.Time // UTC, whole microseconds
}

// A Write is one act that changes something.
type Write struct {
	Verb    Verb
	Subject string     // id of what it is done to; empty for what is new
	May     Permission // what the actor needs; empty where the subject lets in, as a link's code does
	Sure    bool       // the actor must have signed in lately
	Content any        // what was sent, compared as JSON but for its "confirmed" when the same request comes again
}

// Do does an act once for a request: write changes the data and names what came of it,
// read then gives that to the caller. A request that was done before is answered by read
// alone. Forbidden where the actor may not; Invalid without a request id; Conflict where
// the id was used for another act, or for this one with other content: then Error.Saved
// holds what was saved.
func Do[T Requests, R any](ctx context.Context, d Doer[T], by Act, w Write,
	write func(T) (result string, err error), read func(tx T, result string) (R, error)) (R, error) {
	o, err := let(d.Now, by, w)
	if err == nil {
		err = d.Store.Write(ctx, func(tx T) error { return finish(tx, &o, write) })
	}
	return give(ctx, d.Store, o, err, read)
}

// Nothing is the read of an act that gives nothing back.
func Nothing[T any](T, string) (struct{}, error) { return struct{}{}, nil }

// ErrMoved tells that what a slow act rests on moved between reading and writing.
var ErrMoved = errors.New("something moved meanwhile")

// mostAttempts bounds how often a slow act is prepared again before the others are held
// off.
const mostAttempts = 5

// A Slow act has work that is too slow for a transaction, such as painting a paper. All
// that it rests on is read, the work is done, and it is written in one transaction.
type Slow[T, D any] struct {
	Read func(T) (D, error)
	// Prepare does the work and gives what writes it, which answers ErrMoved where what
	// was read is no longer so.
	Prepare func(D) (write func(T) (result string, err error), err error)
}

// DoSlow is Do for a Slow act. Where others move what it rests on each time, it is at
// last prepared while they wait.
func DoSlow[T Requests, D, R any](ctx context.Context, d Doer[T], by Act, w Write,
	slow Slow[T, D], read func(tx T, result string) (R, error)) (R, error) {
	o, err := let(d.Now, by, w)
	if err == nil {
		err = doSlow(ctx, d.Store, &o, slow)
	}
	return give(ctx, d.Store, o, err, read)
}

func doSlow[T Requests, D any](ctx context.Context, store Store[T], o *once, slow Slow[T, D]) error {
	for range mostAttempts {
		if err := attempt(ctx, store, o, slow); !errors.Is(err, ErrMoved) {
			return err
		}
	}
	return store.Write(ctx, func(tx T) error { return finish(tx, o, slow.holding) })
}

// attempt prepares a slow act outside any transaction and writes it.
func attempt[T Requests, D any](ctx context.Context, store Store[T], o *once, slow Slow[T, D]) error {
	var data D
	found := false
	err := store.Read(ctx, func(tx T) (err error) {
		if found, err = o.before(tx); err == nil && !found {
			data, err = slow.Read(tx)
		}
		return err
	})
	if err != nil || found {
		return err
	}
	write, err := slow.Prepare(data)
	if err != nil {
		return err
	}
	return store.Write(ctx, func(tx T) error { return finish(tx, o, write) })
}

// holding reads, prepares and writes in one transaction.
func (s Slow[T, D]) holding(tx T) (string, error) {
	data, err := s.Read(tx)
	if err != nil {
		return "", err
	}
	write, err := s.Prepare(data)
	if err != nil {
		return "", err
	}
	return write(tx)
}

// A once is an act that was let in, and what came of it.
type once struct {
	done   Done
	result string
}

// let lets an act in: its actor may, its request has an id, and the clock gives a day
// that can be written down.
func let(now func() time.Time, by Act, w Write) (once, error) {
	if w.May != "" {
		if err := Allow(by.Actor, w.May); err != nil {
			return once{}, err
		}
	}
	if w.Sure {
		if err := AskAgain(by.Actor); err != nil {
			return once{}, err
		}
	}
	id, err := uuid.Parse(by.Request)
	if err != nil {
		return once{}, NewInvalid("request", "not-a-uuid", by.Request,
			measure.Say("the request has no id, so it could not be told from a repeated one"), measure.Say("a UUID"))
	}
	at := now()
	if at.Year() < FirstYear || at.Year() > LastYear {
		return once{}, NewConflict("this computer’s clock says %s, which cannot be right; nothing is saved until it is set", DateOf(at).Text())
	}
	content, err := contentOf(w.Content)
	return once{done: Done{
		Request: id.String(), Verb: w.Verb, Subject: w.Subject, Person: by.Actor.Person, Session: by.Actor.Session, At: at, Content: content,
	}}, err
}

// contentOf is SHA-256 of what was sent as JSON, in hex. What was "confirmed" is left out:
// that is asked for again whenever the same is sent again.
func contentOf(sent any) (string, error) {
	b, err := json.Marshal(sent)
	if err != nil {
		return "", err
	}
	var read any
	if err := json.Unmarshal(b, &read); err != nil {
		return "", err
	}
	if b, err = json.Marshal(unconfirmed(read)); err != nil {
		return "", err
	}
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:]), nil
}

func unconfirmed(v any) any {
	switch v := v.(type) {
	case map[string]any:
		delete(v, "confirmed")
		for _, member := range v {
			unconfirmed(member)
		}
	case []any:
		for _, element := range v {
			unconfirmed(element)
		}
	}
	return v
}

// finish does what is written once for a request, unless it was done before.
func finish[T Requests](tx T, o *once, write func(T) (string, error)) error {
	found, err := o.before(tx)
	if err != nil || found {
		return err
	}
	if o.result, err = write(tx); err != nil {
		return err
	}
	done := o.done
	done.Result = o.result
	return tx.AddDone(done)
}

// before tells whether the same request was done before, and takes its result.
func (o *once) before(tx Requests) (bool, error) {
	was, err := tx.Done(o.done.Request)
	switch {
	case err != nil || was == nil:
		return false, err
	case was.Verb != o.done.Verb || was.Subject != o.done.Subject:
		return false, &Error{Kind: Conflict, Saved: &Saved{Done: *was},
			Message: measure.Say("this was sent before and did something else; send it again with an id of its own")}
	case was.Content != "" && was.Content != o.done.Content:
		return false, &Error{Kind: Conflict, Saved: &Saved{Done: *was},
			Message: measure.Say("this was sent before and saved, with other content; what was sent now is not saved")}
	}
	o.result = was.Result
	return true, nil
}

// give reads what came of an act, or what was saved where it was sent with other
// content.
func give[T, R any](ctx context.Context, store Store[T], o once, err error, read func(T, string) (R, error)) (r R, _ error) {
	var refused *Error
	if errors.As(err, &refused) && refused.Saved != nil {
		if was := refused.Saved; was.Verb == o.done.Verb && was.Subject == o.done.Subject {
			if thing, unread := give(ctx, store, once{result: was.Result}, nil, read); unread == nil {
				was.Thing = thing
			}
		}
		return r, refused
	}
	if err == nil {
		err = store.Read(ctx, func(tx T) (err error) {
			r, err = read(tx, o.result)
			return err
		})
	}
	return r, Fail(err)
}
