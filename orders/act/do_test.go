package act_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
)

// A shelf is a store of names and of what requests did. A transaction that fails leaves
// it as it was.
type shelf struct {
	names []string
	done  map[string]act.Done
	moved int // how often the first names are moved under a slow act
}

func (s *shelf) Read(_ context.Context, do func(*shelf) error) error { return do(s) }

func (s *shelf) Write(_ context.Context, do func(*shelf) error) error {
	kept := &shelf{names: append([]string(nil), s.names...), done: map[string]act.Done{}, moved: s.moved}
	for id, d := range s.done {
		kept.done[id] = d
	}
	if err := do(kept); err != nil {
		return err
	}
	*s = *kept
	return nil
}

func (s *shelf) Done(request string) (*act.Done, error) {
	if d, found := s.done[request]; found {
		return &d, nil
	}
	return nil, nil
}

func (s *shelf) AddDone(d act.Done) error {
	s.done[d.Request] = d
	return nil
}

var noon = time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)

func doer(s *shelf, now time.Time) act.Doer[*shelf] {
	if s.done == nil {
		s.done = map[string]act.Done{}
	}
	return act.Doer[*shelf]{Store: s, Now: func() time.Time { return now }}
}

// put adds a name and gives it back as it is kept.
func put(s *shelf, now time.Time, by act.Act, w act.Write, name string) (string, error) {
	return act.Do(context.Background(), doer(s, now), by, w, func(tx *shelf) (string, error) {
		if name == "" {
			tx.names = append(tx.names, "half")
			return "", errors.New("no name")
		}
		tx.names = append(tx.names, name)
		return "shelf:" + name, nil
	}, func(_ *shelf, result string) (string, error) { return "kept as " + result, nil })
}

func by() act.Act {
	return act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}
}

func TestTheSameRequestIsOneAct(t *testing.T) {
	s, who, w := &shelf{}, by(), act.Write{Verb: "put", May: act.ToManage, Content: "ash"}
	for range 3 {
		got, err := put(s, noon, who, w, "ash")
		require.NoError(t, err)
		require.Equal(t, "kept as shelf:ash", got)
	}
	require.Equal(t, []string{"ash"}, s.names)
	require.Equal(t, noon, s.done[who.Request].At)
	require.Equal(t, "Odell", s.done[who.Request].Person)
}

func TestTheSameRequestWithOtherContentIsRefusedWithWhatWasSaved(t *testing.T) {
	s, who := &shelf{}, by()
	_, err := put(s, noon, who, act.Write{Verb: "put", May: act.ToManage, Content: "ash"}, "ash")
	require.NoError(t, err)

	got, err := put(s, noon, who, act.Write{Verb: "put", May: act.ToManage, Content: "oak"}, "oak")
	require.Empty(t, got)
	var refused *act.Error
	require.ErrorAs(t, err, &refused)
	require.Equal(t, act.Conflict, refused.Kind)
	require.NotNil(t, refused.Saved)
	require.Equal(t, "kept as shelf:ash", refused.Saved.Thing)
	require.Equal(t, noon, refused.Saved.At)
	require.Equal(t, []string{"ash"}, s.names, "nothing of the other content is kept")

	was := s.done[who.Request]
	was.Content = "" // as from before contents were kept
	s.done[who.Request] = was
	got, err = put(s, noon, who, act.Write{Verb: "put", May: act.ToManage, Content: "oak"}, "oak")
	require.NoError(t, err)
	require.Equal(t, "kept as shelf:ash", got)
}

// What was asked back is asked back again, so that it is no other content.
func TestWhatWasConfirmedIsNoContent(t *testing.T) {
	type order struct {
		Wood      string `json:"wood"`
		Confirmed string `json:"confirmed"`
	}
	type wish struct {
		Order order `json:"order"`
	}
	for _, sent := range [][2]any{
		{order{"ash", "1 cord"}, order{"ash", ""}},
		{wish{order{"ash", "1 cord"}}, wish{order{"ash", ""}}},
		{[]order{{"ash", "1 cord"}}, []order{{"ash", ""}}},
	} {
		s, who := &shelf{}, by()
		for _, content := range sent {
			_, err := put(s, noon, who, act.Write{Verb: "put", Content: content}, "ash")
			require.NoError(t, err)
		}
		require.Equal(t, []string{"ash"}, s.names)
	}
}

func TestARequestIsNotUsedForTwoActs(t *testing.T) {
	s, who := &shelf{}, by()
	_, err := put(s, noon, who, act.Write{Verb: "put", Subject: "a", Content: 1}, "ash")
	require.NoError(t, err)
	for _, w := range []act.Write{{Verb: "take", Subject: "a", Content: 1}, {Verb: "put", Subject: "b", Content: 1}} {
		_, err := put(s, noon, who, w, "ash")
		require.Equal(t, act.Conflict, act.KindOf(err))
	}
}

func TestWhatFailsIsNotDone(t *testing.T) {
	s, who, w := &shelf{}, by(), act.Write{Verb: "put", May: act.ToManage}
	_, err := put(s, noon, who, w, "")
	require.Equal(t, act.Internal, act.KindOf(err))
	require.Empty(t, s.names)
	_, err = put(s, noon, who, w, "ash")
	require.NoError(t, err, "the same request can be sent again once it is mended")

	who.Request = "again"
	_, err = put(s, noon, who, w, "ash")
	require.Equal(t, act.Invalid, act.KindOf(err), "an id that is none")
	who = by()
	who.Actor.Role = act.Driver
	_, err = put(s, noon, who, w, "ash")
	require.Equal(t, act.Forbidden, act.KindOf(err))
}

// A day that the program cannot read back is never written down.
func TestNothingIsDoneByAClockThatCannotBeRight(t *testing.T) {
	for _, now := range []time.Time{time.Unix(0, 0).UTC(), time.Date(1999, 12, 31, 23, 0, 0, 0, time.UTC), time.Date(2200, 1, 1, 0, 0, 0, 0, time.UTC)} {
		s := &shelf{}
		_, err := put(s, now, by(), act.Write{Verb: "put"}, "ash")
		require.Equal(t, act.Conflict, act.KindOf(err), "%s", now)
		require.Empty(t, s.names)
		require.Empty(t, s.done)
	}
}

// paint is a slow act that names how many names there were when it was prepared.
func paint(s *shelf, who act.Act, prepared *int) (string, error) {
	slow := act.Slow[*shelf, int]{
		Read: func(tx *shelf) (int, error) { return len(tx.names), nil },
		Prepare: func(n int) (func(*shelf) (string, error), error) {
			*prepared++
			if s.moved > 0 { // another process writes
				s.moved--
				s.names = append(s.names, "other")
			}
			return func(tx *shelf) (string, error) {
				if len(tx.names) != n {
					return "", act.ErrMoved
				}
				tx.names = append(tx.names, "mine")
				return "mine", nil
			}, nil
		},
	}
	return act.DoSlow(context.Background(), doer(s, noon), who, act.Write{Verb: "paint"}, slow,
		func(tx *shelf, result string) (string, error) { return result, nil })
}

func TestASlowActIsPreparedAgainWhereThingsMoved(t *testing.T) {
	for _, row := range []struct{ moved, prepared int }{{0, 1}, {2, 3}, {4, 5}} {
		s, prepared, who := &shelf{moved: row.moved}, 0, by()
		for range 2 {
			got, err := paint(s, who, &prepared)
			require.NoError(t, err)
			require.Equal(t, "mine", got)
		}
		require.Equal(t, row.prepared, prepared)
		require.Len(t, s.names, row.moved+1, "written once")
	}
}
