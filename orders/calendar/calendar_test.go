package calendar_test

import (
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/calendar"
	"wellstowed/orders/people"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/store"
)

func by(who act.Actor) act.Act {
	return act.Act{Actor: who, Request: uuid.Must(uuid.NewV7()).String()}
}

// A link is one person's: a driver neither sees nor withdraws another's, an owner does both, and it
// ends when its person is let out or may no longer deliver.
func TestALinkIsOnePersonsAndEndsWithHim(t *testing.T) {
	db, err := store.Open(t.Context(), servertest.Path(t))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	clock := func() time.Time { return time.Date(2026, 11, 27, 15, 0, 0, 0, time.UTC) }
	shop, dates := orders.New(db, nil, clock), calendar.New(db.Calendar(), clock)
	boss := act.Actor{Person: "Odell", Role: act.Owner}
	person := func(name, role string) (people.Person, act.Actor) {
		p, err := shop.People.AddPerson(t.Context(), by(boss), people.PersonRequest{Name: name, Role: role})
		require.NoError(t, err)
		return p, act.Actor{ID: p.ID, Person: p.Name, Role: p.Role}
	}
	_, owner := person("Odell", "owner")
	hers, wren := person("Wren", "driver")
	_, sorrel := person("Sorrel", "driver")
	code, err := dates.Make(t.Context(), by(wren))
	require.NoError(t, err)
	_, err = dates.Read(t.Context(), code)
	require.NoError(t, err)
	mine, err := dates.Links(t.Context(), wren)
	require.NoError(t, err)
	require.Len(t, mine, 1)
	others, err := dates.Links(t.Context(), sorrel)
	require.NoError(t, err)
	assert.Empty(t, others)
	assert.Equal(t, act.NotFound, act.KindOf(dates.Withdraw(t.Context(), by(sorrel), mine[0].ID)))
	all, err := dates.Links(t.Context(), owner)
	require.NoError(t, err)
	assert.Len(t, all, 1)

	_, err = shop.People.ChangePerson(t.Context(), by(owner), hers.ID, people.ChangeRequest{Role: "auditor", State: "in", Version: hers.Version})
	require.NoError(t, err)
	_, err = dates.Read(t.Context(), code)
	assert.Equal(t, act.NotFound, act.KindOf(err), "an auditor delivers nothing")
	_, err = shop.People.ChangePerson(t.Context(), by(owner), hers.ID, people.ChangeRequest{Role: "driver", State: "out", Version: hers.Version + 1})
	require.NoError(t, err)
	_, err = dates.Read(t.Context(), code)
	assert.Equal(t, act.NotFound, act.KindOf(err), "let out")
	require.NoError(t, dates.Withdraw(t.Context(), by(owner), mine[0].ID))

	auditor := act.Actor{Person: "Pim", Role: act.Auditor}
	_, err = dates.Links(t.Context(), auditor)
	assert.Equal(t, act.Forbidden, act.KindOf(err))
	_, err = dates.Make(t.Context(), by(auditor))
	assert.Equal(t, act.Forbidden, act.KindOf(err))
	_, err = dates.Deliveries(t.Context(), auditor)
	assert.Equal(t, act.Forbidden, act.KindOf(err))
	request := by(sorrel)
	_, err = dates.Make(t.Context(), request)
	require.NoError(t, err)
	_, err = dates.Make(t.Context(), request)
	assert.Equal(t, act.Conflict, act.KindOf(err), "a code isn’t shown twice")
}

// A link that was made while nobody signed in ends with the first person: nobody would answer
// for it.
func TestALinkOfBeforePeopleEndsWithTheFirst(t *testing.T) {
	db, err := store.Open(t.Context(), servertest.Path(t))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	clock := func() time.Time { return time.Date(2026, 11, 27, 15, 0, 0, 0, time.UTC) }
	shop, dates := orders.New(db, nil, clock), calendar.New(db.Calendar(), clock)
	boss := act.Actor{Person: "Odell", Role: act.Owner}
	code, err := dates.Make(t.Context(), by(boss))
	require.NoError(t, err)
	_, err = dates.Read(t.Context(), code)
	require.NoError(t, err)
	_, err = shop.People.AddPerson(t.Context(), by(boss), people.PersonRequest{Name: "Odell", Role: "owner"})
	require.NoError(t, err)
	_, err = dates.Read(t.Context(), code)
	assert.Equal(t, act.NotFound, act.KindOf(err))
	links, err := dates.Links(t.Context(), boss)
	require.NoError(t, err)
	assert.Empty(t, links)
}
