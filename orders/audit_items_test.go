package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/audits"
)

// An answer on the checklist is kept with who gave it and when, also where the answer
// alone or the note alone is changed; one that is sent as it is stays whose it was.
func TestAnItemKeepsWhatWasChangedLast(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	a := y.prepared(y.audited())
	answer := func(r audits.ItemRequest) audits.Item {
		t.Helper()
		y.now = y.now.Add(time.Minute)
		var err error
		a, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{r}})
		require.NoError(t, err)
		for _, item := range a.Checklist {
			if item.Code == r.Code {
				return item
			}
		}
		require.Fail(t, "the item is gone")
		return audits.Item{}
	}
	first := answer(audits.ItemRequest{Code: "weather", Answer: "yes", Note: "overcast"})
	require.Equal(t, audits.AnswerYes, first.Answer)
	require.Equal(t, "overcast", first.Note)
	require.True(t, y.now.Equal(first.Written))
	require.NotEmpty(t, first.By)

	noted := answer(audits.ItemRequest{Code: "weather", Answer: "yes", Note: "rain later"})
	require.Equal(t, "rain later", noted.Note, "the note alone was changed")
	require.True(t, noted.Written.After(first.Written))

	again := answer(audits.ItemRequest{Code: "weather", Answer: "yes", Note: "rain later"})
	require.Equal(t, noted, again, "sent as it is")

	turned := answer(audits.ItemRequest{Code: "weather", Answer: "no", Note: "rain later"})
	require.Equal(t, audits.AnswerNo, turned.Answer, "the answer alone was changed")
	require.Equal(t, "rain later", turned.Note)
	require.True(t, turned.Written.After(noted.Written))
	require.False(t, turned.Filled)
}
