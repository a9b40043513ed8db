// Package people is who works with a shop's database: persons and their roles, how they
// are let in, the sessions they are in by, and the log of who was let in and out.
package people

import (
	"context"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A State tells whether a person is let in.
type State string

// The states.
const (
	LetIn  State = "in"
	LetOut State = "out" // kept, since what was done keeps the name
)

// A Person works with the shop's database. A name is never used for two.
type Person struct {
	ID       string    `json:"id"`
	Name     string    `json:"name" names:"staff"`
	Role     act.Role  `json:"role"`
	State    State     `json:"state"`
	Password string    `json:"-" names:"staff"` // argon2id in PHC form, with its salt; empty: none
	Version  int64     `json:"version"`
	Created  time.Time `json:"created"`
}

// HasPassword tells whether the person can sign in by one.
func (p Person) HasPassword() bool { return p.Password != "" }

// Roles are those a person may have, from who may do most.
func Roles() []act.Role { return []act.Role{act.Owner, act.Driver, act.Auditor} }

// A What is what a line of the log tells.
type What string

// What the log tells.
const (
	Added           What = "added"
	Changed         What = "role changed"
	ShutOut         What = "let out"
	LetBack         What = "let in again"
	CodeMade        What = "code made"
	SignedIn        What = "signed in"
	Paired          What = "let in by a code"
	Refused         What = "sign-in refused"
	SignedOut       What = "signed out"
	AllEnded        What = "sessions ended"
	PasswordSet     What = "password set"
	RecoveryRenewed What = "recovery codes made"
	RecoveryUsed    What = "recovery code used"
	OwnerReset      What = "owner reset at the machine"
	PasskeyMade     What = "passkey made"
	PasskeyRemoved  What = "passkey removed"
	TokenMade       What = "token made"

	SignedInByPasskey What = "signed in by passkey"
)

// A Line is one line of the log of who was let in and out.
type Line struct {
	At   time.Time `json:"at"`
	What What      `json:"what"`
	Name string    `json:"name" names:"staff"` // of whom
	By   string    `json:"by,omitempty" names:"staff"`
	From string    `json:"from,omitempty" names:"staff"` // address and device of a sign-in
}

// A Tx is one transaction. What is not there is answered NotFound.
type Tx interface {
	act.Requests
	// AnyPerson tells whether there is one, let in or out.
	AnyPerson() (bool, error)
	// People are all, those let in first, by name.
	People() ([]Person, error)
	Person(id string) (Person, error)
	// PersonNamed finds a person by name, capitals or not.
	PersonNamed(name string) (Person, error)
	AddPerson(p Person) error
	// ChangePerson saves over the person at p.Version and raises the version.
	ChangePerson(p Person) error

	// SessionByHash gives a session by its token's hash, ended or not.
	SessionByHash(hash string) (Session, error)
	Session(id string) (Session, error)
	// Sessions are those of a person that were not ended, the last seen first.
	Sessions(personID string) ([]Session, error)
	AddSession(s Session) error
	// ChangeSession saves when a session was seen, was sure, and ended.
	ChangeSession(s Session) error
	// EndSessions ends all of a person's but one, "" for none.
	EndSessions(personID, but string, at time.Time) error

	// Code gives a one-time code by its hash, used or not.
	Code(hash string) (Code, error)
	AddCode(c Code) error
	// UseCodes marks as used the codes of a person, or, for "", those that make an owner.
	UseCodes(personID string, at time.Time) error

	// RecoveryCodes are a person's that were not used, by their hashes.
	RecoveryCodes(personID string) ([]string, error)
	// RenewRecoveryCodes puts others in the place of all a person has.
	RenewRecoveryCodes(personID string, hashes []string) error
	UseRecoveryCode(hash string) error

	// Passkeys are a person's, oldest first.
	Passkeys(personID string) ([]Passkey, error)
	AddPasskey(k Passkey) error
	// ChangePasskey saves what a use of it changed.
	ChangePasskey(k Passkey) error
	RemovePasskey(personID, id string) error
	RemovePasskeys(personID string) error

	AddLine(l Line) error
	// Lines are the last of the log, newest first.
	Lines(limit int) ([]Line, error)
}

// The verbs that write.
const (
	PersonAdded    act.Verb = "add person"
	PersonChanged  act.Verb = "change person"
	PersonInvited  act.Verb = "make code for person"
	SessionsEnded  act.Verb = "end sessions"
	PasswordChosen act.Verb = "set password"
	RecoveryMade   act.Verb = "make recovery codes"
	PasskeyAdded   act.Verb = "add passkey"
	PasskeyTaken   act.Verb = "remove passkey"
	TokenAdded     act.Verb = "make token for program"
)

// A Service is all that can be done with people.
type Service struct {
	acts    act.Doer[Tx]
	hashing chan struct{} // two passwords are hashed at once: each takes 19 MiB
	asked   challenges
}

// New makes a Service.
func New(acts act.Doer[Tx]) *Service {
	return &Service{acts: acts, hashing: make(chan struct{}, 2)}
}

// logLines is how much of the log is shown.
const logLines = 200

// A Roll is the people there are, with the sessions they are in by, and the log.
type Roll struct {
	People []Member `json:"people"`
	Log    []Line   `json:"log"`
}

// A Member is a person with the sessions that are open.
type Member struct {
	Person
	Sessions []Session `json:"sessions"`
}

// Roll gives the people there are. Only the owner may.
func (s *Service) Roll(ctx context.Context, who act.Actor) (r Roll, err error) {
	if err := act.Allow(who, act.ToPeople); err != nil {
		return r, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		all, err := tx.People()
		if err != nil {
			return err
		}
		for _, p := range all {
			m := Member{Person: p}
			if m.Sessions, err = s.open(tx, p); err != nil {
				return err
			}
			r.People = append(r.People, m)
		}
		r.Log, err = tx.Lines(logLines)
		return err
	})
	return r, act.Fail(err)
}

// open are the sessions a person is in by.
func (s *Service) open(tx Tx, p Person) ([]Session, error) {
	sessions, err := tx.Sessions(p.ID)
	return slices.DeleteFunc(sessions, func(in Session) bool { return !in.holds(s.acts.Now()) }), err
}

// A PersonRequest is a person as typed.
type PersonRequest struct {
	Name string `json:"name"`
	Role string `json:"role"`
}

// A ChangeRequest changes a person's role, or lets a person out or in again.
type ChangeRequest struct {
	Role    string `json:"role"`  // empty: as it is
	State   string `json:"state"` // "in", "out"; empty: as it is
	Version int64  `json:"version"`
}

// AddPerson adds a person, who can come in once a code was made. It is Invalid where
// the name is taken. Only the owner may, who signed in lately.
func (s *Service) AddPerson(ctx context.Context, by act.Act, r PersonRequest) (Person, error) {
	w := act.Write{Verb: PersonAdded, May: act.ToPeople, Sure: true, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		var in act.Fields
		p := Person{Role: readRole(&in, r.Role), State: LetIn, Version: 1, Created: s.acts.Now()}
		if err := readName(tx, &in, &p, r.Name); err != nil {
			return "", err
		}
		return s.add(tx, &in, p, by.Actor.Person)
	}, Tx.Person)
}

// add adds a person whose request had no faults.
func (s *Service) add(tx Tx, in *act.Fields, p Person, by string) (id string, err error) {
	if err := in.Err(); err != nil {
		return "", err
	}
	if p.ID, err = act.NewID(); err != nil {
		return "", err
	}
	if err := tx.AddPerson(p); err != nil {
		return "", err
	}
	return p.ID, s.note(tx, Added, p.Name, by, "")
}

// readName reads the name of a new person.
func readName(tx Tx, in *act.Fields, p *Person, name string) error {
	if p.Name = in.Line("name", strings.TrimSpace(name)); p.Name == "" {
		if len(in.Faults) == 0 {
			in.Missing("name", measure.Say("the name that stands under what this person does"))
		}
		return nil
	}
	_, err := tx.PersonNamed(p.Name)
	switch {
	case err == nil:
		in.Add("name", "taken", name, measure.Say("somebody here has that name already"), measure.Say("a name of its own, such as with a surname"))
		return nil
	case act.KindOf(err) == act.NotFound:
		return nil
	}
	return err
}

func readRole(in *act.Fields, text string) act.Role {
	if role := act.Role(text); slices.Contains(Roles(), role) {
		return role
	}
	in.Add("role", "not-a-role", text, measure.Say("it isn’t a role"), measure.Say("owner, driver or auditor"))
	return ""
}

// ChangePerson changes a role, or lets a person out or in again, which ends the
// person's sessions and codes. It is Conflict where no owner would be left. Only the
// owner may, who signed in lately.
func (s *Service) ChangePerson(ctx context.Context, by act.Act, id string, r ChangeRequest) (Person, error) {
	w := act.Write{Verb: PersonChanged, Subject: id, May: act.ToPeople, Sure: true, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		p, err := tx.Person(id)
		if err != nil {
			return "", err
		}
		was := p
		if err := p.change(r); err != nil {
			return "", err
		}
		if err := tx.ChangePerson(p); err != nil {
			return "", err
		}
		if err := ownerLeft(tx); err != nil {
			return "", err
		}
		if err := s.endAll(tx, p.ID, ""); err != nil {
			return "", err
		}
		return id, s.note(tx, whatChanged(was, p), p.Name, by.Actor.Person, "")
	}, Tx.Person)
}

func (p *Person) change(r ChangeRequest) error {
	var in act.Fields
	if r.Role != "" {
		p.Role = readRole(&in, r.Role)
	}
	switch State(r.State) {
	case "":
	case LetIn, LetOut:
		p.State = State(r.State)
	default:
		in.Add("state", "not-a-state", r.State, measure.Say("it isn’t understood"), measure.Say("in or out"))
	}
	p.Version = r.Version
	return in.Err()
}

func whatChanged(was, is Person) What {
	switch {
	case was.State != is.State && is.State == LetOut:
		return ShutOut
	case was.State != is.State:
		return LetBack
	}
	return Changed
}

// ownerLeft refuses a change after which nobody could change anything.
func ownerLeft(tx Tx) error {
	all, err := tx.People()
	if err != nil {
		return err
	}
	if slices.ContainsFunc(all, func(p Person) bool { return p.Role == act.Owner && p.State == LetIn }) {
		return nil
	}
	return act.NewConflict("one owner has to stay; make somebody else an owner first")
}

// endAll ends a person's sessions, but one where it is named, and unused codes.
func (s *Service) endAll(tx Tx, personID, but string) error {
	if err := tx.EndSessions(personID, but, s.acts.Now()); err != nil {
		return err
	}
	return tx.UseCodes(personID, s.acts.Now())
}

// note writes a line of the log.
func (s *Service) note(tx Tx, what What, name, by, from string) error {
	return tx.AddLine(Line{At: s.acts.Now(), What: what, Name: name, By: by, From: from})
}
