package people

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"time"

	"wellstowed/orders/act"
)

// A Session is how a browser stays signed in: a secret token of 256 random bits, of
// which only the hash is kept.
type Session struct {
	ID        string `json:"id"`
	TokenHash string `json:"-"` // SHA-256, hex
	PersonID  string `json:"-"`
	Own       bool   `json:"own"`                  // on a phone or a machine of the person's own
	Device    string `json:"device" names:"staff"` // what the browser says it is
	// Program is what the program is called that uses this as its token; empty: a browser.
	Program string    `json:"program,omitempty" names:"staff"`
	Begun   time.Time `json:"begun"`
	Seen    time.Time `json:"seen"` // to within seenStep
	Sure    time.Time `json:"-"`    // when the person last showed who it is
	Ended   time.Time `json:"-"`    // zero while it is open
}

// How long a session holds with nobody seen, on a device of one's own and on another;
// how long after a sign-in nobody is asked again for what can't be undone; and how
// exactly it is kept when a session was seen.
const (
	OwnIdle    = 30 * 24 * time.Hour
	SharedIdle = 12 * time.Hour
	TokenIdle  = 365 * 24 * time.Hour // of a program's token
	SureFor    = 5 * time.Minute
	seenStep   = 5 * time.Minute
)

// Idle is how long the session holds with nobody seen.
func (s Session) Idle() time.Duration {
	switch {
	case s.Program != "":
		return TokenIdle
	case s.Own:
		return OwnIdle
	}
	return SharedIdle
}

func (s Session) holds(now time.Time) bool {
	return s.Ended.IsZero() && now.Sub(s.Seen) < s.Idle()
}

func (s Session) stale(now time.Time) bool { return now.Sub(s.Sure) >= SureFor }

// tokenBytes are the random bytes of a session's token: 256 bits.
const tokenBytes = 32

func newToken() (token, hash string, err error) {
	b := make([]byte, tokenBytes)
	if _, err := rand.Read(b); err != nil {
		return "", "", err
	}
	token = base64.RawURLEncoding.EncodeToString(b)
	return token, hashOf(token), nil
}

func hashOf(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// A Visitor is who sends a request.
type Visitor struct {
	Actor   act.Actor // without a role: nobody
	Session Session   // without an id: none
	Nobody  bool      // there are no people yet
	// Withdrawn tells that the token is of a session that was ended, or of somebody who
	// was let out: what the device keeps is to go.
	Withdrawn bool
}

// Visitor tells who sends a request with a session's token, "" for none. Somebody with
// no token, or with one that doesn't hold, is nobody, also in a database without
// people: whether to take that one as its owner is for who knows how the request came.
func (s *Service) Visitor(ctx context.Context, token string) (v Visitor, err error) {
	seen := false
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		var in Session
		var p Person
		if token != "" {
			if in, p, err = s.holder(tx, hashOf(token)); err != nil {
				return err
			}
			if v.Withdrawn, err = s.withdrawn(tx, hashOf(token), p); err != nil {
				return err
			}
		}
		if p.ID == "" {
			anybody, err := tx.AnyPerson()
			v.Nobody = !anybody
			return err
		}
		now := s.acts.Now()
		v.Session, v.Actor = in, act.Actor{ID: p.ID, Person: p.Name, Role: p.Role, Session: in.ID, Stale: in.stale(now)}
		seen = now.Sub(in.Seen) >= seenStep
		return nil
	})
	if err == nil && seen {
		err = s.seen(ctx, v.Session.TokenHash)
	}
	return v, act.Fail(err)
}

// holder is the session of a token and its person, the zero ones where it no longer
// holds.
func (s *Service) holder(tx Tx, hash string) (Session, Person, error) {
	in, err := tx.SessionByHash(hash)
	if act.KindOf(err) == act.NotFound {
		return Session{}, Person{}, nil
	}
	if err != nil || !in.holds(s.acts.Now()) {
		return Session{}, Person{}, err
	}
	p, err := tx.Person(in.PersonID)
	if err != nil || p.State != LetIn {
		return Session{}, Person{}, err
	}
	return in, p, nil
}

// withdrawn tells whether a token that p holds, or nobody, is of a session that didn't
// just run out.
func (s *Service) withdrawn(tx Tx, hash string, p Person) (bool, error) {
	if p.ID != "" {
		return false, nil
	}
	in, err := tx.SessionByHash(hash)
	if act.KindOf(err) == act.NotFound {
		return false, nil
	}
	return err == nil && (!in.Ended.IsZero() || s.acts.Now().Sub(in.Seen) < in.Idle()), err
}

// seen keeps when a session was seen, unless it ended meanwhile.
func (s *Service) seen(ctx context.Context, hash string) error {
	return s.acts.Store.Write(ctx, func(tx Tx) error {
		in, p, err := s.holder(tx, hash)
		if err != nil || p.ID == "" {
			return err
		}
		in.Seen = s.acts.Now()
		return tx.ChangeSession(in)
	})
}

// begin opens a session for a person and gives its token.
func (s *Service) begin(tx Tx, p Person, from Device) (string, error) {
	token, hash, err := newToken()
	if err != nil {
		return "", err
	}
	id, err := act.NewID()
	if err != nil {
		return "", err
	}
	now := s.acts.Now()
	return token, tx.AddSession(Session{ID: id, TokenHash: hash, PersonID: p.ID, Own: from.Own, Device: from.Name, Begun: now, Seen: now, Sure: now})
}

// letIn opens a session for who was just proven to be a person, once that person may
// still come in and the proof is used up. Else it is refused as wrong.
func (s *Service) letIn(ctx context.Context, id string, from Device, how What, wrong error, use func(Tx) error) (token string, p Person, err error) {
	err = s.acts.Store.Write(ctx, func(tx Tx) error {
		if p, err = tx.Person(id); err != nil {
			return err
		}
		if p.State != LetIn {
			return wrong
		}
		if err := use(tx); err != nil {
			return err
		}
		if token, err = s.begin(tx, p, from); err != nil {
			return err
		}
		return s.note(tx, how, p.Name, "", from.from())
	})
	if err != nil {
		return "", Person{}, act.Fail(err)
	}
	return token, p, nil
}

// confirm notes that who is in a session just showed who it is, once the proof is used
// up. It is refused as wrong where somebody else is in the session.
func (s *Service) confirm(ctx context.Context, in Session, id string, wrong error, use func(Tx) error) error {
	err := s.acts.Store.Write(ctx, func(tx Tx) error {
		now, who, err := s.holder(tx, in.TokenHash)
		if err != nil {
			return err
		}
		if who.ID != id {
			return wrong
		}
		if err := use(tx); err != nil {
			return err
		}
		now.Sure = s.acts.Now()
		return tx.ChangeSession(now)
	})
	return act.Fail(err)
}

// SignOut ends the session of a token; one that is not there is out already.
func (s *Service) SignOut(ctx context.Context, token string) error {
	err := s.acts.Store.Write(ctx, func(tx Tx) error {
		in, p, err := s.holder(tx, hashOf(token))
		if err != nil || p.ID == "" {
			return err
		}
		in.Ended = s.acts.Now()
		if err := tx.ChangeSession(in); err != nil {
			return err
		}
		return s.note(tx, SignedOut, p.Name, "", "")
	})
	return act.Fail(err)
}

// EndSession ends one session: one's own, or, for the owner who signed in lately,
// anybody's.
func (s *Service) EndSession(ctx context.Context, by act.Act, id string) error {
	if err := act.Allow(by.Actor, act.ToRead); err != nil {
		return err
	}
	whose := ""
	err := s.acts.Store.Read(ctx, func(tx Tx) error {
		in, err := tx.Session(id)
		whose = in.PersonID
		return err
	})
	if err != nil {
		return act.Fail(err)
	}
	_, err = act.Do(ctx, s.acts, by, s.ending(by, whose, id), func(tx Tx) (string, error) {
		in, err := tx.Session(id)
		if err != nil {
			return "", err
		}
		if in.Ended.IsZero() {
			in.Ended = s.acts.Now()
		}
		if err := tx.ChangeSession(in); err != nil {
			return "", err
		}
		return id, s.noteOf(tx, AllEnded, whose, by.Actor.Person)
	}, act.Nothing)
	return err
}

// EndSessions ends all sessions of a person but the one it is asked from: one's own, or,
// for the owner who signed in lately, anybody's.
func (s *Service) EndSessions(ctx context.Context, by act.Act, personID, but string) error {
	if personID != by.Actor.ID {
		but = ""
	}
	_, err := act.Do(ctx, s.acts, by, s.ending(by, personID, personID), func(tx Tx) (string, error) {
		if err := s.endAll(tx, personID, but); err != nil {
			return "", err
		}
		return personID, s.noteOf(tx, AllEnded, personID, by.Actor.Person)
	}, act.Nothing)
	return err
}

// ending is the act of ending sessions of a person. One's own need no more than being
// in: whoever finds a strange one must be able to end it at once.
func (s *Service) ending(by act.Act, whose, subject string) act.Write {
	w := act.Write{Verb: SessionsEnded, Subject: subject}
	if by.Actor.ID == "" || by.Actor.ID != whose {
		w.May, w.Sure = act.ToPeople, true
	}
	return w
}

func (s *Service) noteOf(tx Tx, what What, personID, by string) error {
	p, err := tx.Person(personID)
	if err != nil {
		return err
	}
	return s.note(tx, what, p.Name, by, "")
}
