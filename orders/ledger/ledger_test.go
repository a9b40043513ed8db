package ledger_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

func TestCanonicalKeepsTheOrderAndEscapesNothing(t *testing.T) {
	b, err := ledger.Canonical(struct {
		Z string `json:"z"`
		A int    `json:"a"`
	}{"<oak & ash>", 1})
	require.NoError(t, err)
	require.Equal(t, `{"z":"<oak & ash>","a":1}`, string(b))
}

// What could not be read again is never put under a seal.
func TestLastingRefusesWhatDoesNotReadBack(t *testing.T) {
	type paper struct {
		On act.Date `json:"on"`
	}
	_, err := ledger.Lasting(paper{act.Date{Year: 2026, Month: time.March, Day: 9}})
	require.NoError(t, err)
	_, err = ledger.Lasting(paper{act.Date{Year: 1970, Month: time.January, Day: 1}})
	require.ErrorContains(t, err, "cannot be read back")
	_, err = ledger.Lasting(map[string]any{"b": 1, "a": []string{"x"}})
	require.NoError(t, err)
	_, err = ledger.Lasting(struct {
		Kept any `json:"kept"`
	}{struct {
		B int `json:"b"`
		A int `json:"a"`
	}{1, 2}})
	require.ErrorContains(t, err, "reads back as something else", "its order would not be kept")
	_, err = ledger.Close(paper{act.Date{Year: 1970, Month: 1, Day: 1}}, "nobody", "")
	require.Error(t, err)
}

func TestAChainFollowsFromAllBeforeIt(t *testing.T) {
	first, err := ledger.Close("facts", "Ada Quill", "")
	require.NoError(t, err)
	second, err := ledger.Close("facts", "Ada Quill", first.Chain)
	require.NoError(t, err)
	require.Equal(t, first.Hash, second.Hash)
	require.NotEqual(t, first.PersonalHash, second.PersonalHash, "salted")
	require.NotEqual(t, first.Chain, second.Chain)
	again, err := ledger.Chain(first.Chain, second.Hash, second.PersonalHash)
	require.NoError(t, err)
	require.Equal(t, second.Chain, again)
	_, err = ledger.Chain("no hash", second.Hash, second.PersonalHash)
	require.Error(t, err)
}

func TestASealIsReadAsItIsCopied(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		chain := ledger.Hash([]byte(rapid.String().Draw(t, "anything")))
		seal, err := ledger.Seal(chain)
		if err != nil || len(seal) != len("XXXX-XXXX-XXXX") {
			t.Fatalf("%q: %v", seal, err)
		}
		careless := []byte(seal)
		for i, c := range careless {
			switch {
			case c == '0':
				careless[i] = 'o'
			case c == '1':
				careless[i] = "lI"[i%2]
			case c == '-':
				careless[i] = ' '
			case c >= 'A':
				careless[i] = c + 'a' - 'A'
			}
		}
		if ledger.SealAsRead(string(careless)) != ledger.SealAsRead(seal) {
			t.Fatalf("%s read as %s", seal, careless)
		}
	})
	_, err := ledger.Seal("beef")
	require.Error(t, err)
}
