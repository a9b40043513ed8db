package people

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A TokenRequest asks for a token for a program, as typed.
type TokenRequest struct {
	Program string `json:"program"` // what it is called
	Person  string `json:"person"`  // id of whom it is let in as
}

// A Token lets a program in as a person, with what that person's role may. It is shown once;
// its hash is kept, as a session's is, and it is ended as a session is. What can't be undone
// isn't open to it: nobody signs in again with it.
type Token struct {
	Secret string  `json:"token"`
	Of     Session `json:"of"`
	Person Person  `json:"person"`
}

// MakeToken makes a token of a person for a program. Only the owner may, who signed in
// lately; Conflict where the person is let out.
func (s *Service) MakeToken(ctx context.Context, by act.Act, r TokenRequest) (Token, error) {
	made := Token{}
	w := act.Write{Verb: TokenAdded, May: act.ToPeople, Sure: true, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		var err error
		if made, err = s.token(tx, r); err != nil {
			return "", err
		}
		return made.Of.ID, s.note(tx, TokenMade, made.Person.Name, by.Actor.Person, made.Of.Program)
	}, func(Tx, string) (Token, error) {
		if made.Secret == "" {
			return made, act.NewConflict("this token was made and shown once; it is not kept. Make a new one")
		}
		return made, nil
	})
}

// token opens the session of a program.
func (s *Service) token(tx Tx, r TokenRequest) (made Token, err error) {
	var in act.Fields
	p, err := tx.Person(r.Person)
	switch {
	case act.KindOf(err) == act.NotFound:
		in.Missing("person", measure.Say("whom the program is let in as"))
	case err != nil:
		return made, err
	case p.State != LetIn:
		return made, act.NewConflict("%s is let out; let %s in again first", p.Name, p.Name)
	}
	name := in.Line("program", r.Program)
	if name == "" && len(in.Faults) == 0 {
		in.Missing("program", measure.Say("what the program is called, such as bookkeeping"))
	}
	if err := in.Err(); err != nil {
		return made, err
	}
	secret, hash, err := newToken()
	if err != nil {
		return made, err
	}
	id, err := act.NewID()
	if err != nil {
		return made, err
	}
	now := s.acts.Now()
	made = Token{Secret: secret, Person: p, Of: Session{ID: id, TokenHash: hash, PersonID: p.ID, Program: name, Begun: now, Seen: now, Sure: now.Add(-SureFor)}}
	return made, tx.AddSession(made.Of)
}

// PersonNamed gives the person of a name, to whoever sits at the machine.
func (s *Service) PersonNamed(ctx context.Context, name string) (p Person, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		p, err = tx.PersonNamed(name)
		return err
	})
	return p, act.Fail(err)
}
