package people

import (
	"context"
	"crypto/rand"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Purpose is what a one-time code does.
type Purpose string

// The purposes.
const (
	ForPhone Purpose = "phone" // lets a person's phone or computer in
	ForOwner Purpose = "owner" // makes an owner, or lets one in again; made at the machine alone
)

// A Code lets somebody in once, until a time. Only its hash is kept.
type Code struct {
	Hash     string
	Purpose  Purpose
	PersonID string // whose phone; empty for an owner's
	Made     time.Time
	Until    time.Time
	Used     time.Time // zero while it holds
}

// How long a code holds.
const (
	PhoneCodeFor = 10 * time.Minute
	OwnerCodeFor = time.Hour
)

// codeLetters are those of a code to be typed: none is mistaken for another. 32 of them,
// so that a random byte gives one evenly.
const codeLetters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// newSecret makes a code of n letters. Eight are 40 random bits: enough for what holds
// for minutes, once, and can be tried a few times a minute.
func newSecret(n int) (string, error) {
	b := make([]byte, n)
	if _, err := rand.Read(b); err != nil {
		return "", err
	}
	for i := range b {
		b[i] = codeLetters[int(b[i])%len(codeLetters)]
	}
	return string(b), nil
}

const codeLength = 8

// spaced is a code in fours, as it is read out.
func spaced(code string) string {
	var b strings.Builder
	for i, r := range code {
		if i > 0 && i%4 == 0 {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// plain is a code as it was typed, without what stands between its letters and with
// letters that look alike made one.
func plain(typed string) string {
	return strings.NewReplacer(" ", "", "-", "", "\u00a0", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(typed))
}

// An Invitation is a code as it is shown, once.
type Invitation struct {
	Code   string    `json:"code"` // in fours
	Until  time.Time `json:"until"`
	Person Person    `json:"person"`
}

// Invite makes a code that lets a person's phone in, and ends those made before. Only the
// owner may, who signed in lately; Conflict where the person is let out.
func (s *Service) Invite(ctx context.Context, by act.Act, personID string) (Invitation, error) {
	secret, err := newSecret(codeLength)
	if err != nil {
		return Invitation{}, act.Fail(err)
	}
	made := Invitation{}
	w := act.Write{Verb: PersonInvited, Subject: personID, May: act.ToPeople, Sure: true}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		p, err := tx.Person(personID)
		if err != nil {
			return "", err
		}
		if p.State != LetIn {
			return "", act.NewConflict("%s is let out; let %s in again first", p.Name, p.Name)
		}
		made = Invitation{Code: spaced(secret), Person: p}
		made.Until, err = s.keepCode(tx, secret, ForPhone, personID, PhoneCodeFor)
		if err != nil {
			return "", err
		}
		return personID, s.note(tx, CodeMade, p.Name, by.Actor.Person, "")
	}, func(Tx, string) (Invitation, error) {
		if made.Code == "" {
			return made, act.NewConflict("this code was made and shown once; it is not kept. Make a new one")
		}
		return made, nil
	})
}

// keepCode keeps a new code in the place of the unused ones for the same.
func (s *Service) keepCode(tx Tx, secret string, purpose Purpose, personID string, holds time.Duration) (time.Time, error) {
	now := s.acts.Now()
	if err := tx.UseCodes(personID, now); err != nil {
		return time.Time{}, err
	}
	c := Code{Hash: hashOf(secret), Purpose: purpose, PersonID: personID, Made: now, Until: now.Add(holds)}
	return c.Until, tx.AddCode(c)
}

// OwnerCode makes the code by which somebody becomes an owner, or an owner comes in
// again. It asks for nobody's leave: it is for who sits at the machine and can read the
// database. Codes made for the same before no longer hold.
func (s *Service) OwnerCode(ctx context.Context) (Invitation, error) {
	secret, err := newSecret(codeLength)
	if err != nil {
		return Invitation{}, act.Fail(err)
	}
	made := Invitation{Code: spaced(secret)}
	err = s.acts.Store.Write(ctx, func(tx Tx) error {
		made.Until, err = s.keepCode(tx, secret, ForOwner, "", OwnerCodeFor)
		return err
	})
	return made, act.Fail(err)
}

// A Device is what somebody comes in with.
type Device struct {
	Name    string // what the browser says it is
	Address string // it came from
	Own     bool   // a phone or machine of the person's own
}

// from is a device as the log keeps it.
func (d Device) from() string { return strings.Join([]string{d.Address, d.Name}, ", ") }

// A CodeRequest is a one-time code as typed. An owner's says who the owner is.
type CodeRequest struct {
	Code     string `json:"code"`
	Name     string `json:"name"`
	Password string `json:"password"`
}

// Redeem lets in by a one-time code and gives the session's token. A phone's code lets
// its person in. An owner's makes the owner of that name; where there is that owner, the
// password becomes the one given, and all other sessions and all passkeys end. It is Invalid where the
// code is wrong, used or too old.
func (s *Service) Redeem(ctx context.Context, r CodeRequest, from Device) (token string, p Person, err error) {
	hashed, err := s.ownerPassword(ctx, r)
	if err != nil {
		return "", p, act.Fail(err)
	}
	from.Own = true
	err = s.acts.Store.Write(ctx, func(tx Tx) error {
		c, err := s.codeThatHolds(tx, r.Code)
		if err != nil {
			return err
		}
		if p, err = s.lettingIn(tx, c, r, hashed); err != nil {
			return err
		}
		if err := tx.UseCodes(c.PersonID, s.acts.Now()); err != nil {
			return err
		}
		if token, err = s.begin(tx, p, from); err != nil {
			return err
		}
		return s.note(tx, Paired, p.Name, "", from.from())
	})
	if err != nil {
		return "", Person{}, act.Fail(err)
	}
	return token, p, nil
}

func (s *Service) codeThatHolds(tx Tx, typed string) (Code, error) {
	c, err := tx.Code(hashOf(plain(typed)))
	if act.KindOf(err) == act.NotFound || err == nil && (!c.Used.IsZero() || !s.acts.Now().Before(c.Until)) {
		return c, act.NewInvalid("code", "no-code", "", measure.Say("this code isn’t good, or no longer: each works once, for a few minutes"),
			measure.Say("the code as it was shown, such as H7K4 2MQ9"))
	}
	return c, err
}

// ownerPassword hashes the password typed with a code that makes an owner. The code is
// looked at first, so that nobody without one can make this machine hash.
func (s *Service) ownerPassword(ctx context.Context, r CodeRequest) (hashed string, err error) {
	purpose := Purpose("")
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		c, err := s.codeThatHolds(tx, r.Code)
		purpose = c.Purpose
		return err
	})
	if err != nil || purpose != ForOwner {
		return "", err
	}
	var in act.Fields
	if in.Line("name", r.Name) == "" && len(in.Faults) == 0 {
		in.Missing("name", measure.Say("your name, which stands under what you do here"))
	}
	checkPassword(&in, "password", r.Password)
	if err := in.Err(); err != nil {
		return "", err
	}
	return s.hash(ctx, r.Password)
}

// lettingIn is the person whom a code lets in.
func (s *Service) lettingIn(tx Tx, c Code, r CodeRequest, hashed string) (Person, error) {
	if c.Purpose == ForPhone {
		p, err := tx.Person(c.PersonID)
		if err == nil && p.State != LetIn {
			err = act.NewConflict("%s is let out", p.Name)
		}
		return p, err
	}
	p, err := tx.PersonNamed(strings.TrimSpace(r.Name))
	switch {
	case act.KindOf(err) == act.NotFound:
		return s.newOwner(tx, r.Name, hashed)
	case err != nil:
		return p, err
	case p.Role != act.Owner:
		return p, act.NewInvalid("name", "not-an-owner", r.Name, measure.Say("%s is here and isn’t an owner", p.Name), measure.Say("an owner’s name, or a new one"))
	}
	p.Password, p.State = hashed, LetIn
	if err := tx.ChangePerson(p); err != nil {
		return p, err
	}
	if err := s.endAll(tx, p.ID, ""); err != nil {
		return p, err
	}
	if err := tx.RemovePasskeys(p.ID); err != nil {
		return p, err
	}
	return p, s.note(tx, OwnerReset, p.Name, "", "")
}

func (s *Service) newOwner(tx Tx, name, hashed string) (Person, error) {
	var in act.Fields
	p := Person{Role: act.Owner, State: LetIn, Password: hashed, Version: 1, Created: s.acts.Now()}
	if err := readName(tx, &in, &p, name); err != nil {
		return p, err
	}
	id, err := s.add(tx, &in, p, "")
	if err != nil {
		return p, err
	}
	return tx.Person(id)
}
