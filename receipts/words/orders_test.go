package words_test

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	span "wellstowed/orders/day"
	"wellstowed/orders/yard"
)

// aloud is an order as it is read back: its figures don't break, which isn't heard.
func aloud(o orders.Order) string {
	lines, total := imperial().ReadBack(orders.ReadBack{Order: o, Why: measure.Say("a half is taken as half a cord")})
	return strings.ReplaceAll(strings.Join(append(lines, total), "|"), "\u00a0", " ")
}

// An order is read back with all that was taken down of it, and nothing that wasn't.
func TestOrdersAreReadBack(t *testing.T) {
	plain := orders.Order{Quantity: ranked(64), Customer: orders.Customer{Name: "Ada Quill"}}
	whole := plain
	whole.Species, whole.PieceLength, whole.Seasoning = "red oak", 16*measure.Inch, yard.Seasoned
	whole.Customer.Address, whole.Notes = "3 Mill Lane\nTarnby", "ring first\nmind the dog"
	whole.Day = span.Span{From: on(2026, time.April, 2), To: on(2026, time.April, 2)}
	whole.Price = orders.Price{Wood: dollars(140), Fees: []orders.PriceLine{{Kind: orders.DeliveryLine, Amount: dollars(20)}}}
	readAloud(t, []sentence{
		{"That’s 1/2 cord (64 ft³), for Ada Quill.|A half is taken as half a cord.|", aloud(plain)},
		{"That’s 1/2 cord (64 ft³) of red oak, in pieces 16 in long, seasoned, for Ada Quill, 3 Mill Lane, Tarnby.|A half is taken as half a cord." +
			"|The wood is $140.00 for the whole.|Delivery: $20.00.|To be delivered: Thursday 2 April 2026.|For the driver: ring first; mind the dog.|$160.00 in all.", aloud(whole)},
	})
	whole.Deposit = dollars(50)
	require.True(t, strings.HasSuffix(aloud(whole), "|$160.00 in all: $50.00 is paid, and $110.00 is left to pay."), aloud(whole))
}

// Each source of doubt and each way of reading has words of its own, none of them a code.
func TestEverySourceHasItsOwnWords(t *testing.T) {
	p := imperial()
	seen := map[string]stack.Source{}
	for _, s := range declaredSources(t) {
		words := p.Source(s, 0)
		require.NotEmpty(t, words, s)
		require.NotContains(t, words, "row 0")
		require.Empty(t, seen[words], "%s has the words of %s", s, seen[words])
		seen[words] = s
		require.Equal(t, "row 1: "+words, p.Source(s, 1))
	}
	readAloud(t, []sentence{
		{"steel", p.TapeMade(stack.SteelTape)}, {"cloth or fibreglass", p.TapeMade(stack.ClothTape)}, {"not said", p.TapeMade("")},
		{"to the nearest mark", p.Rounded(stack.RoundNearest)}, {"down to the mark below", p.Rounded(stack.RoundDown)}, {"not said how", p.Rounded("")},
		{"with a straightedge", p.Top(stack.Straightedge)}, {"by eye", p.Top(stack.ByEye)},
		{"checked", p.Stowing(stack.StowingChecked, stack.Gaps{})}, {"not checked", p.Stowing("", stack.Gaps{})},
		{"3 gaps in 60 pieces", p.Stowing(stack.StowingCounted, stack.Gaps{Count: 3, Pieces: 60})},
		{"oak", p.Said("oak")}, {"not said", p.Said("")},
	})
}
