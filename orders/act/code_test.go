package act

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCodesAreLongAndNeverTheSame(t *testing.T) {
	seen := map[string]bool{}
	for range 1000 {
		code, hash, err := NewCode()
		require.NoError(t, err)
		require.Regexp(t, `^[A-Z2-7]{26}$`, code)
		require.False(t, seen[code])
		seen[code] = true
		require.Len(t, hash, 64)
		require.NotContains(t, strings.ToUpper(hash), code)
	}
}

// A code copied in small letters or with a blank at its end opens the same link; any
// other text opens none.
func TestHashOfCode(t *testing.T) {
	code, hash, err := NewCode()
	require.NoError(t, err)
	assert.Equal(t, hash, HashOfCode(" "+strings.ToLower(code)+"\n"))
	rapid.Check(t, func(t *rapid.T) {
		other := rapid.StringN(0, 40, -1).Draw(t, "other")
		if strings.ToUpper(strings.TrimSpace(other)) != code && HashOfCode(other) == hash {
			t.Fatalf("%q opens the link of %q", other, code)
		}
	})
}
