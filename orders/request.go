package orders

import (
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// An errand is one writing request: who asks, what for, and of what.
type errand struct {
	act     Act
	verb    Verb
	subject string
	// of is the receipt that a paper speaks of, and order the order's id; zero where
	// the order is the subject.
	of    int64
	order string
	batch string // id of the batch that is drawn from, empty without one
}

// begin checks the request id and gives its one spelling.
func begin(act Act, verb Verb, subject string) (errand, error) {
	id, err := uuid.Parse(act.Request)
	if err != nil {
		return errand{}, invalid("request", "not-a-uuid", act.Request,
			measure.Say("the request has no id, so it could not be told from a repeated one"), measure.Say("a UUID"))
	}
	act.Request = id.String()
	return errand{act: act, verb: verb, subject: subject}, nil
}

// done returns what the same request came to before, nil when it is new. An id
// used for anything else is a Conflict.
func (d errand) done(tx Tx) (*Done, error) {
	before, err := tx.Done(d.act.Request)
	if err != nil || before == nil {
		return nil, err
	}
	if before.Verb != d.verb || before.Subject != d.subject {
		return nil, conflict("this request was used before for something else; open the page again and repeat it")
	}
	return before, nil
}

// keep records in the writing transaction that the request is done.
func (s *Service) keep(tx Tx, d errand, result string) error {
	return tx.AddDone(Done{
		Request: d.act.Request, Verb: d.verb, Subject: d.subject, Result: result,
		Person: d.act.Actor.Person, At: s.now(),
	})
}

// paperNumber is the number of the paper that was issued.
func paperNumber(d *Done) (int64, error) { return act.ParseNumber(d.Result) }

// once gives what write came to, or what the same request came to before.
func (s *Service) once(tx Tx, e errand, write func(Tx) (result string, err error)) (string, error) {
	before, err := e.done(tx)
	if err != nil {
		return "", err
	}
	if before != nil {
		return before.Result, nil
	}
	result, err := write(tx)
	if err != nil {
		return "", err
	}
	return result, s.keep(tx, e, result)
}
