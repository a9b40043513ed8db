package people

import (
	"bytes"
	"context"
	"encoding/json"
	"sync"
	"time"

	"github.com/go-webauthn/webauthn/protocol"
	"github.com/go-webauthn/webauthn/webauthn"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Passkey is what is kept of one: what is public of it. Its secret stays in the device.
type Passkey struct {
	ID         string    `json:"id"`
	PersonID   string    `json:"-"`
	Device     string    `json:"device" names:"staff"` // it was made on
	Credential []byte    `json:"-" names:"staff"`      // webauthn.Credential as JSON
	Added      time.Time `json:"added"`
}

// A Site is the name that passkeys are bound to, and the address that pages have there.
type Site struct {
	Name   string // "yard.example"
	Origin string // "https://yard.example:8443"
}

// A Challenge is what a browser is asked to sign, and the id to answer it by.
type Challenge struct {
	ID      string `json:"id"`
	Options any    `json:"options"` // as WebAuthn's JSON forms have it
}

// How long a challenge can be answered, and how many wait at once.
const (
	challengeFor   = 5 * time.Minute
	mostChallenges = 1000
)

// challenges are those that wait for an answer. Each is answered once; a start of the
// program forgets them, and somebody presses the button again.
type challenges struct {
	mu   sync.Mutex
	wait map[string]waiting
}

type waiting struct {
	data  webauthn.SessionData
	until time.Time
	whose string // person who adds a passkey or shows again who it is; empty: whoever signs in
}

func (c *challenges) put(w waiting, now time.Time) (string, error) {
	id, _, err := newToken()
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.wait == nil || len(c.wait) >= mostChallenges {
		c.wait = c.since(now)
	}
	c.wait[id] = w
	return id, err
}

// since are those that still can be answered; where they are too many, none is.
func (c *challenges) since(now time.Time) map[string]waiting {
	kept := map[string]waiting{}
	for id, w := range c.wait {
		if now.Before(w.until) && len(kept) < mostChallenges/2 {
			kept[id] = w
		}
	}
	return kept
}

func (c *challenges) take(id, whose string, now time.Time) (webauthn.SessionData, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	w, found := c.wait[id]
	delete(c.wait, id)
	if !found || w.whose != whose || !now.Before(w.until) {
		return w.data, act.NewConflict("that took too long, or was answered already; press the button again")
	}
	return w.data, nil
}

// A keyHolder is a person as the library knows one.
type keyHolder struct {
	Person
	keys []webauthn.Credential
}

func (h keyHolder) WebAuthnID() []byte                         { return []byte(h.ID) }
func (h keyHolder) WebAuthnName() string                       { return h.Name }
func (h keyHolder) WebAuthnDisplayName() string                { return h.Name }
func (h keyHolder) WebAuthnCredentials() []webauthn.Credential { return h.keys }

func (site Site) relying() (*webauthn.WebAuthn, error) {
	return webauthn.New(&webauthn.Config{
		RPID: site.Name, RPDisplayName: "Wellstowed", RPOrigins: []string{site.Origin},
		AuthenticatorSelection: protocol.AuthenticatorSelection{
			ResidentKey: protocol.ResidentKeyRequirementRequired, UserVerification: protocol.VerificationRequired,
		},
	})
}

func (s *Service) keyHolder(ctx context.Context, id string) (h keyHolder, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		if h.Person, err = tx.Person(id); err != nil {
			return err
		}
		kept, err := tx.Passkeys(id)
		for _, k := range kept {
			var c webauthn.Credential
			if err := json.Unmarshal(k.Credential, &c); err != nil {
				return err
			}
			h.keys = append(h.keys, c)
		}
		return err
	})
	return h, err
}

// BeginPasskey asks a person's browser to make a passkey. Who does it signed in lately.
func (s *Service) BeginPasskey(ctx context.Context, by act.Act, site Site) (Challenge, error) {
	if err := s.mine(by); err != nil {
		return Challenge{}, err
	}
	h, err := s.keyHolder(ctx, by.Actor.ID)
	if err != nil {
		return Challenge{}, act.Fail(err)
	}
	rp, err := site.relying()
	if err != nil {
		return Challenge{}, act.Fail(err)
	}
	options, data, err := rp.BeginRegistration(h, webauthn.WithExclusions(webauthn.Credentials(h.keys).CredentialDescriptors()))
	if err != nil {
		return Challenge{}, act.Fail(err)
	}
	return s.ask(options.Response, data, by.Actor.ID)
}

func (s *Service) ask(options any, data *webauthn.SessionData, whose string) (Challenge, error) {
	now := s.acts.Now()
	id, err := s.asked.put(waiting{data: *data, until: now.Add(challengeFor), whose: whose}, now)
	return Challenge{ID: id, Options: options}, act.Fail(err)
}

// AddPasskey keeps the passkey that a person's browser made.
func (s *Service) AddPasskey(ctx context.Context, by act.Act, site Site, challenge string, answer []byte, from Device) (Passkey, error) {
	if err := s.mine(by); err != nil {
		return Passkey{}, err
	}
	k, err := s.madePasskey(ctx, by, site, challenge, answer, from)
	if err != nil {
		return Passkey{}, act.Fail(err)
	}
	w := act.Write{Verb: PasskeyAdded, Subject: by.Actor.ID, Sure: true, Content: answer}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if err := tx.AddPasskey(k); err != nil {
			return "", err
		}
		return k.ID, s.note(tx, PasskeyMade, by.Actor.Person, by.Actor.Person, from.from())
	}, func(Tx, string) (Passkey, error) { return k, nil })
}

func (s *Service) madePasskey(ctx context.Context, by act.Act, site Site, challenge string, answer []byte, from Device) (k Passkey, err error) {
	data, err := s.asked.take(challenge, by.Actor.ID, s.acts.Now())
	if err != nil {
		return k, err
	}
	h, err := s.keyHolder(ctx, by.Actor.ID)
	if err != nil {
		return k, err
	}
	rp, err := site.relying()
	if err != nil {
		return k, err
	}
	parsed, err := protocol.ParseCredentialCreationResponseBytes(answer)
	if err != nil {
		return k, badPasskey(err)
	}
	made, err := rp.CreateCredential(h, data, parsed)
	if err != nil {
		return k, badPasskey(err)
	}
	k = Passkey{PersonID: h.ID, Device: from.Name, Added: s.acts.Now()}
	if k.ID, err = act.NewID(); err != nil {
		return k, err
	}
	k.Credential, err = json.Marshal(made)
	return k, err
}

func badPasskey(err error) error {
	return &act.Error{Kind: act.Invalid, Message: measure.Say("that passkey isn’t one of yours here, or wasn’t read whole; try it again or come in another way"), Err: err}
}

// RemovePasskey takes one of one's own passkeys away. Who does it signed in lately.
func (s *Service) RemovePasskey(ctx context.Context, by act.Act, id string) error {
	if err := s.mine(by); err != nil {
		return err
	}
	w := act.Write{Verb: PasskeyTaken, Subject: id, Sure: true}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if err := tx.RemovePasskey(by.Actor.ID, id); err != nil {
			return "", err
		}
		return id, s.note(tx, PasskeyRemoved, by.Actor.Person, by.Actor.Person, "")
	}, act.Nothing)
	return err
}

// AskPasskey asks a browser for a passkey: anybody's, or that of the person of an id, who
// is in and shows again who it is.
func (s *Service) AskPasskey(site Site, whose string) (Challenge, error) {
	rp, err := site.relying()
	if err != nil {
		return Challenge{}, act.Fail(err)
	}
	options, data, err := rp.BeginDiscoverableLogin(webauthn.WithUserVerification(protocol.VerificationRequired))
	if err != nil {
		return Challenge{}, act.Fail(err)
	}
	return s.ask(options.Response, data, whose)
}

// SignInByPasskey lets in by a passkey and gives the session's token.
func (s *Service) SignInByPasskey(ctx context.Context, site Site, challenge string, answer []byte, from Device) (token string, p Person, err error) {
	from.Own = true // a passkey is on a device of one's own
	p, k, err := s.byPasskey(ctx, site, challenge, answer, "")
	if err != nil {
		return "", Person{}, act.Fail(err)
	}
	return s.letIn(ctx, p.ID, from, SignedInByPasskey, badPasskey(nil), func(tx Tx) error { return tx.ChangePasskey(k) })
}

// ConfirmByPasskey notes that who is in a session just showed who it is.
func (s *Service) ConfirmByPasskey(ctx context.Context, in Session, site Site, challenge string, answer []byte) error {
	p, k, err := s.byPasskey(ctx, site, challenge, answer, in.PersonID)
	if err != nil {
		return act.Fail(err)
	}
	return s.confirm(ctx, in, p.ID, badPasskey(nil), func(tx Tx) error { return tx.ChangePasskey(k) })
}

// byPasskey is the person whose passkey answered a challenge, and the passkey as this use
// leaves it.
func (s *Service) byPasskey(ctx context.Context, site Site, challenge string, answer []byte, whose string) (Person, Passkey, error) {
	data, err := s.asked.take(challenge, whose, s.acts.Now())
	if err != nil {
		return Person{}, Passkey{}, err
	}
	rp, err := site.relying()
	if err != nil {
		return Person{}, Passkey{}, err
	}
	parsed, err := protocol.ParseCredentialRequestResponseBytes(answer)
	if err != nil {
		return Person{}, Passkey{}, badPasskey(err)
	}
	user, used, err := rp.ValidatePasskeyLogin(func(_, handle []byte) (webauthn.User, error) {
		return s.keyHolder(ctx, string(handle))
	}, data, parsed)
	if err != nil || used.Authenticator.CloneWarning {
		return Person{}, Passkey{}, badPasskey(err)
	}
	h := user.(keyHolder)
	k, err := s.usedPasskey(ctx, h.ID, used)
	return h.Person, k, err
}

// usedPasskey is the kept passkey of a credential, with what its use changed.
func (s *Service) usedPasskey(ctx context.Context, personID string, used *webauthn.Credential) (k Passkey, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		kept, err := tx.Passkeys(personID)
		if err != nil {
			return err
		}
		for _, k = range kept {
			var c webauthn.Credential
			if err := json.Unmarshal(k.Credential, &c); err != nil {
				return err
			}
			if bytes.Equal(c.ID, used.ID) {
				k.Credential, err = json.Marshal(used)
				return err
			}
		}
		return badPasskey(nil)
	})
	return k, err
}
