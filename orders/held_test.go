package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
)

// An item of the checklist is written anew where its note alone, or its answer alone, is
// another; where neither is, it stays as it was written.
func TestAnItemIsRecordedWhereAnythingOfItDiffers(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	answer := func(answer, note string) audits.Item {
		t.Helper()
		y.now = y.now.Add(1_000_000_000)
		got, err := y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "voids", Answer: answer, Note: note}}})
		require.NoError(t, err)
		for _, item := range got.Checklist {
			if item.Code == "voids" {
				require.Equal(t, [2]string{answer, note}, [2]string{string(item.Answer), item.Note})
				return item
			}
		}
		t.Fatal("the item is gone")
		return audits.Item{}
	}
	first := answer("yes", "two of a fist")
	other := answer("yes", "three of a fist")
	require.True(t, other.Written.After(first.Written), "the note differs")
	changed := answer("no", "three of a fist")
	require.True(t, changed.Written.After(other.Written), "the answer differs")
	require.Equal(t, changed.Written, answer("no", "three of a fist").Written, "nothing differs")
}

// A buyer whose wood lies in a heap is told to stack it, not that nothing is missing.
func TestABuyerOfAHeapIsToldToStackIt(t *testing.T) {
	y := newYard(t)
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	heap := `{"format": 1, "apart": "none", "stack": {"kind": "heap", "shape": "rounded", "length": "12 ft", "width": "8 ft", "height": "4 ft", "nominal": "16 in"}}`
	f, err := y.SaveCaseTally(y.ctx, buyerAct(), cases.Key{Code: y.link(1)}, orders.TallyRequest{Document: []byte(heap)})
	require.NoError(t, err)
	require.Equal(t, cases.RankFirst, f.Step)
}
