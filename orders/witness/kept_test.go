package witness_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/witness"
)

// A receipt always has a chain and a seal; only a sheet may lack them, and a sheet's
// chain is read where it has one.
func TestOnlyASheetLacksChainOrSeal(t *testing.T) {
	const head, at, seal = "wellstowed-witness 1\n", " 2026-03-09T15:04:05Z ", "ABCD-EFGH-JKMN"
	chain, hash := strings.Repeat("ab", 32), strings.Repeat("0f", 32)
	for line, says := range map[string]string{
		"receipt 1" + at + "- " + seal + " " + hash:          "a chain",
		"receipt 1" + at + chain + " - " + hash:              "a seal",
		"sheet 1" + at + "- " + seal + " " + hash:            "a seal",
		"sheet 1" + at + chain + " " + seal + " " + hash:     "a seal",
		"sheet 1" + at + "short" + " - " + hash:              "a chain",
		"receipt 1" + at + "short" + " " + seal + " " + hash: "a chain",
	} {
		lines, faults := witness.Parse([]byte(head + line + "\n"))
		require.ErrorContains(t, errors.Join(faults...), says, line)
		require.Empty(t, lines, line)
	}
	lines, faults := witness.Parse([]byte(head + "sheet 1" + at + chain + " - " + hash + "\n"))
	require.Empty(t, faults)
	require.Len(t, lines, 1)
	require.Equal(t, chain, lines[0].Chain)
	require.Empty(t, lines[0].Seal)
}

// What is in a file already is kept: only a first line cut short is written again.
func TestBeginKeepsWhatIsThere(t *testing.T) {
	const head = "wellstowed-witness 1\n"
	for content, begins := range map[string]bool{
		"":                     true,
		head[:len(head)-1]:     true,
		head:                   false,
		head + "receipt 1 cut": false,
		"notes":                false,
		"notes of another kind, longer than the first line\n": false,
	} {
		path := filepath.Join(t.TempDir(), "w.txt")
		require.NoError(t, os.WriteFile(path, []byte(content), 0o600))
		begun, err := witness.At(path).Begin()
		require.NoError(t, err, "%q", content)
		require.Equal(t, begins, begun, "%q", content)
		want := content
		if begins {
			want = head
		}
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, want, string(got))
	}
}

// A path that cannot be read is an error, not a witness begun.
func TestBeginTellsWhatItCannotRead(t *testing.T) {
	begun, err := witness.At(t.TempDir()).Begin()
	require.Error(t, err)
	require.False(t, begun)
}
