package people

import (
	"context"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/alexedwards/argon2id"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// How long a password is, in characters. What it is made of is nobody's business.
const (
	shortestPassword = 10
	longestPassword  = 200
)

// hashing is argon2id with 19 MiB, two passes and one lane: OWASP Password Storage Cheat
// Sheet, "Argon2id", from memory.
var hashing = &argon2id.Params{Memory: 19 * 1024, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// nobodys is a hash held against where there is no password, so that an unknown name
// takes as long as a known one.
const nobodys = "$argon2id$v=19$m=19456,t=2,p=1$AAAAAAAAAAAAAAAAAAAAAA$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA"

func (s *Service) hash(ctx context.Context, password string) (string, error) {
	if err := s.enter(ctx); err != nil {
		return "", err
	}
	defer s.leave()
	return argon2id.CreateHash(password, hashing)
}

// matches tells whether the password is the one that was hashed; "" matches nothing.
func (s *Service) matches(ctx context.Context, password, hashed string) (bool, error) {
	if utf8.RuneCountInString(password) > longestPassword {
		return false, nil
	}
	if err := s.enter(ctx); err != nil {
		return false, err
	}
	defer s.leave()
	if hashed == "" {
		_, err := argon2id.ComparePasswordAndHash(password, nobodys)
		return false, err
	}
	return argon2id.ComparePasswordAndHash(password, hashed)
}

// enter waits until fewer than two passwords are being hashed.
func (s *Service) enter(ctx context.Context) error {
	select {
	case s.hashing <- struct{}{}:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (s *Service) leave() { <-s.hashing }

func checkPassword(in *act.Fields, field, password string) {
	accepts := measure.Say("%d characters or more, such as four words that don’t belong together", shortestPassword)
	switch n := utf8.RuneCountInString(password); {
	case n == 0:
		in.Missing(field, accepts)
	case n < shortestPassword:
		in.Add(field, "too-short", "", measure.Say("it is too short"), accepts)
	case n > longestPassword:
		in.Add(field, "too-long", "", measure.Say("it is too long"), measure.Say("%d characters or fewer", longestPassword))
	}
}

// A SignInRequest is who signs in: by name and password, or a recovery code in its place.
type SignInRequest struct {
	Name     string `json:"name"`
	Password string `json:"password"`
	Keep     string `json:"keep"` // "yes": this phone or machine is the person's own
}

// SignIn lets in by name and password, or by name and a recovery code, and gives the
// session's token. It is Invalid where they don't go together, whoever of them is wrong.
func (s *Service) SignIn(ctx context.Context, r SignInRequest, from Device) (token string, p Person, err error) {
	from.Own = r.Keep == "yes"
	p, way, err := s.proven(ctx, r, from)
	if err != nil {
		return "", Person{}, act.Fail(err)
	}
	return s.letIn(ctx, p.ID, from, SignedIn, wrongPassword(), func(tx Tx) error { return s.useRecovery(tx, way, p) })
}

// Confirm notes that who is in a session just showed who it is, by password or recovery
// code. It is Invalid where that is wrong.
func (s *Service) Confirm(ctx context.Context, in Session, password string, from Device) error {
	name := ""
	err := s.acts.Store.Read(ctx, func(tx Tx) error {
		p, err := tx.Person(in.PersonID)
		name = p.Name
		return err
	})
	if err != nil {
		return act.Fail(err)
	}
	p, way, err := s.proven(ctx, SignInRequest{Name: name, Password: password}, from)
	if err != nil {
		return act.Fail(err)
	}
	return s.confirm(ctx, in, p.ID, wrongPassword(), func(tx Tx) error { return s.useRecovery(tx, way, p) })
}

func wrongPassword() error {
	return act.NewInvalid("password", "wrong", "", measure.Say("that name and password don’t go together"),
		measure.Say("your own; the owner can make a code that lets you in"))
}

// proven is the person whose name and password, or recovery code, go together; way is
// the hash of the recovery code, "" where it was the password. What is refused is
// logged under the name of somebody who is here, and under no other.
func (s *Service) proven(ctx context.Context, r SignInRequest, from Device) (p Person, way string, err error) {
	var unused []string
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		p, err = tx.PersonNamed(strings.TrimSpace(r.Name))
		if act.KindOf(err) == act.NotFound {
			return nil
		}
		if err == nil {
			unused, err = tx.RecoveryCodes(p.ID)
		}
		return err
	})
	if err != nil {
		return Person{}, "", err
	}
	hashed := p.Password
	if p.State != LetIn {
		hashed, unused = "", nil
	}
	if code := hashOf(plain(r.Password)); slices.Contains(unused, code) {
		return p, code, nil
	}
	good, err := s.matches(ctx, r.Password, hashed)
	switch {
	case err != nil:
		return Person{}, "", err
	case good:
		return p, "", nil
	case p.ID != "":
		err = s.acts.Store.Write(ctx, func(tx Tx) error { return s.note(tx, Refused, p.Name, "", from.from()) })
	}
	if err == nil {
		err = wrongPassword()
	}
	return Person{}, "", err
}

// useRecovery uses up a recovery code, refusing one that was used meanwhile.
func (s *Service) useRecovery(tx Tx, hash string, p Person) error {
	if hash == "" {
		return nil
	}
	left, err := tx.RecoveryCodes(p.ID)
	if err != nil {
		return err
	}
	if !slices.Contains(left, hash) {
		return wrongPassword()
	}
	if err := tx.UseRecoveryCode(hash); err != nil {
		return err
	}
	return s.note(tx, RecoveryUsed, p.Name, "", "")
}
