package people_test

import (
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/store"
)

// A house is people on a real database file, with a clock that is set.
type house struct {
	*people.Service
	t    *testing.T
	now  time.Time
	path string
}

func newHouse(t *testing.T) *house {
	t.Helper()
	h := &house{t: t, now: time.Date(2026, 11, 20, 15, 0, 0, 0, time.UTC), path: servertest.Path(t)}
	db, err := store.Open(t.Context(), h.path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = db.Close() })
	h.Service = people.New(act.Doer[people.Tx]{
		Store: act.Narrow(db, func(tx orders.Tx) people.Tx { return tx }), Now: func() time.Time { return h.now },
	})
	return h
}

func (h *house) ctx() context.Context { return h.t.Context() }

const ownersPassword = "four ash wedges by the door"

// owner makes the first owner and gives the session's token.
func (h *house) owner() string {
	h.t.Helper()
	made, err := h.OwnerCode(h.ctx())
	require.NoError(h.t, err)
	token, p, err := h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code, Name: "Rosalind Pike", Password: ownersPassword}, here())
	require.NoError(h.t, err)
	require.Equal(h.t, act.Owner, p.Role)
	return token
}

func here() people.Device { return people.Device{Name: "a browser", Address: "192.0.2.7"} }

// by is an act of whoever holds the token.
func (h *house) by(token string) act.Act {
	h.t.Helper()
	v, err := h.Visitor(h.ctx(), token)
	require.NoError(h.t, err)
	return act.Act{Actor: v.Actor, Request: uuid.NewString()}
}

// driver adds a driver and gives the token of the phone that was paired.
func (h *house) driver(owner, name string) (people.Person, string) {
	h.t.Helper()
	p, err := h.AddPerson(h.ctx(), h.by(owner), people.PersonRequest{Name: name, Role: "driver"})
	require.NoError(h.t, err)
	made, err := h.Invite(h.ctx(), h.by(owner), p.ID)
	require.NoError(h.t, err)
	token, in, err := h.Redeem(h.ctx(), people.CodeRequest{Code: strings.ToLower(made.Code)}, here())
	require.NoError(h.t, err)
	require.Equal(h.t, p.ID, in.ID)
	return p, token
}

func (h *house) role(token string) act.Role {
	h.t.Helper()
	v, err := h.Visitor(h.ctx(), token)
	require.NoError(h.t, err)
	return v.Actor.Role
}

func kind(err error) act.Kind { return act.KindOf(err) }

func TestTheFirstOwnerComesByACodeThatWorksOnce(t *testing.T) {
	h := newHouse(t)
	v, err := h.Visitor(h.ctx(), "")
	require.NoError(t, err)
	assert.True(t, v.Nobody)
	older, err := h.OwnerCode(h.ctx())
	require.NoError(t, err)
	made, err := h.OwnerCode(h.ctx())
	require.NoError(t, err)
	r := people.CodeRequest{Code: older.Code, Name: "Rosalind Pike", Password: ownersPassword}
	_, _, err = h.Redeem(h.ctx(), r, here())
	assert.Equal(t, act.Invalid, kind(err), "another was made since")

	r.Code, r.Password = made.Code, "short"
	_, _, err = h.Redeem(h.ctx(), r, here())
	assert.Equal(t, act.Invalid, kind(err))
	r.Password = ownersPassword
	token, _, err := h.Redeem(h.ctx(), r, here())
	require.NoError(t, err, "a slip in the password doesn't use the code up")
	assert.Equal(t, act.Owner, h.role(token))
	r.Name = "Somebody Else"
	_, _, err = h.Redeem(h.ctx(), r, here())
	assert.Equal(t, act.Invalid, kind(err), "used")

	v, err = h.Visitor(h.ctx(), "")
	require.NoError(t, err)
	assert.False(t, v.Nobody)
	assert.Empty(t, v.Actor.Role)
}

func TestCodesGetTooOld(t *testing.T) {
	h := newHouse(t)
	made, err := h.OwnerCode(h.ctx())
	require.NoError(t, err)
	h.now = made.Until
	_, _, err = h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code, Name: "Rosalind Pike", Password: ownersPassword}, here())
	assert.Equal(t, act.Invalid, kind(err))

	owner := h.owner()
	p, err := h.AddPerson(h.ctx(), h.by(owner), people.PersonRequest{Name: "Tam", Role: "driver"})
	require.NoError(t, err)
	made, err = h.Invite(h.ctx(), h.by(owner), p.ID)
	require.NoError(t, err)
	assert.Equal(t, 10*time.Minute, made.Until.Sub(h.now))
	h.now = made.Until
	_, _, err = h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code}, here())
	assert.Equal(t, act.Invalid, kind(err))
}

// Nothing that lets in can be read out of the file.
func TestNoSecretIsInTheFile(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	require.NoError(t, h.SetPassword(h.ctx(), h.by(owner), people.Session{}, people.PasswordRequest{Password: ownersPassword + "!"}))
	owner, _, err := h.SignIn(h.ctx(), people.SignInRequest{Name: "rosalind pike", Password: ownersPassword + "!"}, here())
	require.NoError(t, err)
	p, phone := h.driver(owner, "Tam")
	made, err := h.Invite(h.ctx(), h.by(owner), p.ID)
	require.NoError(t, err)
	recovery, err := h.RenewRecovery(h.ctx(), h.by(owner))
	require.NoError(t, err)
	require.Len(t, recovery, 8)
	for _, end := range []string{"", "-wal"} {
		content, err := os.ReadFile(h.path + end)
		require.NoError(t, err)
		for _, secret := range append(recovery, ownersPassword, owner, phone, made.Code) {
			assert.NotContains(t, string(content), secret)
			assert.NotContains(t, string(content), strings.ReplaceAll(secret, " ", ""))
		}
	}
	assert.GreaterOrEqual(t, len(owner), 43, "256 bits in base64")
}

func TestSignInByPasswordAndByRecoveryCode(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	recovery, err := h.RenewRecovery(h.ctx(), h.by(owner))
	require.NoError(t, err)
	for _, r := range []people.SignInRequest{
		{Name: "Rosalind Pike", Password: ownersPassword + "x"}, {Name: "Nobody", Password: ownersPassword},
		{Name: "Rosalind Pike"}, {}, {Name: "Rosalind Pike", Password: strings.Repeat("x", 100_000)},
	} {
		_, _, err := h.SignIn(h.ctx(), r, here())
		assert.Equal(t, act.Invalid, kind(err), r.Name)
	}
	r := people.SignInRequest{Name: "Rosalind Pike", Password: strings.ToLower(recovery[3])}
	token, _, err := h.SignIn(h.ctx(), r, here())
	require.NoError(t, err)
	assert.Equal(t, act.Owner, h.role(token))
	_, _, err = h.SignIn(h.ctx(), r, here())
	assert.Equal(t, act.Invalid, kind(err), "a recovery code works once")
	card, err := h.Card(h.ctx(), h.by(token).Actor)
	require.NoError(t, err)
	assert.Equal(t, 7, card.Recovery)
	assert.Len(t, card.Sessions, 2)
}

func TestSessionsEnd(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	p, phone := h.driver(owner, "Tam")
	assert.Equal(t, act.Driver, h.role(phone))
	assert.Empty(t, h.role(phone+"A"))

	h.now = h.now.Add(people.OwnIdle - time.Second)
	assert.Equal(t, act.Driver, h.role(phone))
	h.now = h.now.Add(people.OwnIdle - time.Second)
	assert.Equal(t, act.Driver, h.role(phone), "it was seen meanwhile")
	h.now = h.now.Add(people.OwnIdle)
	assert.Empty(t, h.role(phone))

	owner, _, err := h.SignIn(h.ctx(), people.SignInRequest{Name: "Rosalind Pike", Password: ownersPassword}, here())
	require.NoError(t, err)
	_, phone = h.pair(owner, p)
	_, other := h.pair(owner, p)
	card, err := h.Card(h.ctx(), h.by(phone).Actor)
	require.NoError(t, err)
	require.Len(t, card.Sessions, 2)
	v, err := h.Visitor(h.ctx(), other)
	require.NoError(t, err)
	require.NoError(t, h.EndSession(h.ctx(), h.by(phone), v.Session.ID), "one's own phone that was lost")
	assert.Empty(t, h.role(other))
	assert.Equal(t, act.Driver, h.role(phone))
	require.NoError(t, h.EndSessions(h.ctx(), h.by(owner), p.ID, ""))
	assert.Empty(t, h.role(phone))

	h.now = h.now.Add(people.SharedIdle)
	assert.Empty(t, h.role(owner), "a machine that isn't one's own holds 12 hours")
}

func (h *house) pair(owner string, p people.Person) (people.Person, string) {
	h.t.Helper()
	made, err := h.Invite(h.ctx(), h.by(owner), p.ID)
	require.NoError(h.t, err)
	token, in, err := h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code}, here())
	require.NoError(h.t, err)
	return in, token
}

func TestOnlyTheOwnerWhoSignedInLatelyDecidesWhoIsLetIn(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	p, phone := h.driver(owner, "Tam")
	v, err := h.Visitor(h.ctx(), owner)
	require.NoError(t, err)
	each := map[string]func(act.Act) error{
		"add": func(by act.Act) error {
			_, err := h.AddPerson(h.ctx(), by, people.PersonRequest{Name: "Eve " + by.Request, Role: "owner"})
			return err
		},
		"change": func(by act.Act) error {
			_, err := h.ChangePerson(h.ctx(), by, p.ID, people.ChangeRequest{Role: "owner", Version: 1})
			return err
		},
		"invite":      func(by act.Act) error { _, err := h.Invite(h.ctx(), by, p.ID); return err },
		"end theirs":  func(by act.Act) error { return h.EndSessions(h.ctx(), by, v.Actor.ID, "") },
		"end one":     func(by act.Act) error { return h.EndSession(h.ctx(), by, v.Session.ID) },
		"read who is": func(by act.Act) error { _, err := h.Roll(h.ctx(), by.Actor); return err },
	}
	for name, do := range each {
		assert.Equal(t, act.Forbidden, kind(do(h.by(phone))), name)
		assert.Equal(t, act.Unknown, kind(do(h.by(""))), name)
	}
	h.now = h.now.Add(people.SureFor)
	for _, name := range []string{"add", "change", "invite"} {
		assert.Equal(t, act.Unknown, kind(each[name](h.by(owner))), name)
	}
	_, err = h.RenewRecovery(h.ctx(), h.by(owner))
	assert.Equal(t, act.Unknown, kind(err))
	assert.Equal(t, act.Unknown, kind(h.SetPassword(h.ctx(), h.by(owner), v.Session, people.PasswordRequest{Password: "long enough for all"})))
	assert.Equal(t, act.Invalid, kind(h.Confirm(h.ctx(), v.Session, "not the password", here())))
	assert.Equal(t, act.Unknown, kind(each["add"](h.by(owner))))
	require.NoError(t, h.Confirm(h.ctx(), v.Session, ownersPassword, here()))
	require.NoError(t, each["add"](h.by(owner)))
}

func TestWhoIsLetOutIsOutAtOnce(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	p, phone := h.driver(owner, "Tam")
	made, err := h.Invite(h.ctx(), h.by(owner), p.ID)
	require.NoError(t, err)
	_, err = h.ChangePerson(h.ctx(), h.by(owner), p.ID, people.ChangeRequest{State: "out", Version: 1})
	require.NoError(t, err)
	assert.Empty(t, h.role(phone))
	_, _, err = h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code}, here())
	assert.Error(t, err, "a code made before")
	_, err = h.Invite(h.ctx(), h.by(owner), p.ID)
	assert.Equal(t, act.Conflict, kind(err))
	_, err = h.ChangePerson(h.ctx(), h.by(owner), p.ID, people.ChangeRequest{State: "in", Version: 1})
	assert.Equal(t, act.Conflict, kind(err), "not the latest version")
	_, err = h.ChangePerson(h.ctx(), h.by(owner), p.ID, people.ChangeRequest{State: "in", Version: 2})
	require.NoError(t, err)
	assert.Empty(t, h.role(phone), "let in again, a phone is paired again")
}

func TestOneOwnerStays(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	me := h.by(owner).Actor.ID
	for _, r := range []people.ChangeRequest{{State: "out", Version: 1}, {Role: "driver", Version: 1}} {
		_, err := h.ChangePerson(h.ctx(), h.by(owner), me, r)
		assert.Equal(t, act.Conflict, kind(err))
	}
	assert.Equal(t, act.Owner, h.role(owner), "nothing was changed")
}

func TestOwnerResetAtTheMachine(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	h.driver(owner, "Tam")
	made, err := h.OwnerCode(h.ctx())
	require.NoError(t, err)
	_, _, err = h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code, Name: "tam", Password: "long enough for all"}, here())
	assert.Equal(t, act.Invalid, kind(err), "a driver's name makes no owner")
	token, _, err := h.Redeem(h.ctx(), people.CodeRequest{Code: made.Code, Name: "rosalind pike", Password: "long enough for all"}, here())
	require.NoError(t, err)
	assert.Equal(t, act.Owner, h.role(token))
	assert.Empty(t, h.role(owner), "whoever else was in as this owner is out")
	_, _, err = h.SignIn(h.ctx(), people.SignInRequest{Name: "Rosalind Pike", Password: ownersPassword}, here())
	assert.Error(t, err)
	roll, err := h.Roll(h.ctx(), h.by(token).Actor)
	require.NoError(t, err)
	require.Len(t, roll.People, 2)
	var told []people.What
	for _, l := range roll.Log {
		told = append(told, l.What)
	}
	assert.Equal(t, []people.What{people.Refused, people.Paired, people.OwnerReset, people.Paired, people.CodeMade, people.Added, people.Paired, people.Added}, told)
	assert.Equal(t, "192.0.2.7, a browser", roll.Log[0].From)
}

func TestNamesAreNeverUsedTwice(t *testing.T) {
	h := newHouse(t)
	owner := h.owner()
	for _, name := range []string{"rosalind pike", " Rosalind Pike ", "", "Two\nlines"} {
		_, err := h.AddPerson(h.ctx(), h.by(owner), people.PersonRequest{Name: name, Role: "driver"})
		assert.Equal(t, act.Invalid, kind(err), name)
	}
	_, err := h.AddPerson(h.ctx(), h.by(owner), people.PersonRequest{Name: "Eve", Role: "buyer"})
	assert.Equal(t, act.Invalid, kind(err))
}
