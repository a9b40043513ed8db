package people

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Card is what a person sees of oneself.
type Card struct {
	Person   Person    `json:"person"`
	Sessions []Session `json:"sessions"`
	Recovery int       `json:"recovery"` // codes left
	Passkeys []Passkey `json:"passkeys"`
}

// Card gives what the one who asks has here. It is NotFound for who isn't a person, such as
// the owner of a machine without people.
func (s *Service) Card(ctx context.Context, who act.Actor) (c Card, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return c, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		if c.Person, err = tx.Person(who.ID); err != nil {
			return err
		}
		if c.Sessions, err = s.open(tx, c.Person); err != nil {
			return err
		}
		if c.Passkeys, err = tx.Passkeys(who.ID); err != nil {
			return err
		}
		left, err := tx.RecoveryCodes(who.ID)
		c.Recovery = len(left)
		return err
	})
	return c, act.Fail(err)
}

// A PasswordRequest is a new password, as typed.
type PasswordRequest struct {
	Password string `json:"password"`
}

// SetPassword sets one's own password and ends one's other sessions. Who does it signed
// in lately.
func (s *Service) SetPassword(ctx context.Context, by act.Act, in Session, r PasswordRequest) error {
	if err := s.mine(by); err != nil {
		return err
	}
	var f act.Fields
	checkPassword(&f, "password", r.Password)
	if err := f.Err(); err != nil {
		return err
	}
	hashed, err := s.hash(ctx, r.Password)
	if err != nil {
		return act.Fail(err)
	}
	// The content is left out: a quick hash of a password must not be kept.
	w := act.Write{Verb: PasswordChosen, Subject: by.Actor.ID, Sure: true}
	_, err = act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		p, err := tx.Person(by.Actor.ID)
		if err != nil {
			return "", err
		}
		p.Password = hashed
		if err := tx.ChangePerson(p); err != nil {
			return "", err
		}
		if err := s.endAll(tx, p.ID, in.ID); err != nil {
			return "", err
		}
		return p.ID, s.note(tx, PasswordSet, p.Name, p.Name, "")
	}, act.Nothing)
	return err
}

// mine refuses who isn't a person, and who didn't sign in lately, before any work is done.
func (s *Service) mine(by act.Act) error {
	if by.Actor.ID == "" {
		return &act.Error{Kind: act.Unknown, Message: measure.Say("sign in first")}
	}
	return act.AskAgain(by.Actor)
}

// A person has eight recovery codes of 80 random bits.
const (
	recoveryCodes  = 8
	recoveryLength = 16
)

// RenewRecovery gives a person new recovery codes, shown once, in the place of the old.
// Who does it signed in lately.
func (s *Service) RenewRecovery(ctx context.Context, by act.Act) ([]string, error) {
	if err := s.mine(by); err != nil {
		return nil, err
	}
	var shown, hashes []string
	for range recoveryCodes {
		secret, err := newSecret(recoveryLength)
		if err != nil {
			return nil, act.Fail(err)
		}
		shown, hashes = append(shown, spaced(secret)), append(hashes, hashOf(secret))
	}
	made := false
	w := act.Write{Verb: RecoveryMade, Subject: by.Actor.ID, Sure: true}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		made = true
		if err := tx.RenewRecoveryCodes(by.Actor.ID, hashes); err != nil {
			return "", err
		}
		return by.Actor.ID, s.note(tx, RecoveryRenewed, by.Actor.Person, by.Actor.Person, "")
	}, func(Tx, string) ([]string, error) {
		if !made {
			return nil, act.NewConflict("these codes were made and shown once; they are not kept. Make new ones")
		}
		return shown, nil
	})
}
