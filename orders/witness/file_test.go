package witness_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/ledger"
	"wellstowed/orders/witness"
)

func line(n int64) ledger.Line {
	return ledger.Line{Paper: ledger.Receipt, Number: n, Issued: time.Date(2026, 3, 9, 15, 4, 5, 678_000, time.UTC),
		Chain: strings.Repeat("ab", 32), Seal: "ABCD-EFGH-JKMN", PDFHash: strings.Repeat("0f", 32)}
}

// What is appended reads back; a last line cut short is written over by the next.
func TestAWitnessReadsBack(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.txt")
	f := witness.At(path)
	begun, err := f.Begin()
	require.NoError(t, err)
	require.True(t, begun)
	sheet := line(1)
	sheet.Paper, sheet.Seal, sheet.Chain = ledger.Sheet, "", ""
	require.NoError(t, f.Append([]ledger.Line{line(1), sheet}))
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, append(content, "receipt 2 2026-"...), 0o600))

	again := witness.At(path)
	begun, err = again.Begin()
	require.NoError(t, err)
	require.False(t, begun)
	require.NoError(t, again.Append([]ledger.Line{line(2)}))
	got, err := again.Lines()
	require.NoError(t, err)
	second := line(2)
	first := line(1)
	first.At, sheet.At, second.At = 2, 3, 4
	require.Equal(t, []ledger.Line{first, sheet, second}, got)
}

// A file whose disk is not in is an error, and is never begun anew by writing.
func TestAWitnessThatIsGoneIsNotBegunAnew(t *testing.T) {
	path := filepath.Join(t.TempDir(), "w.txt")
	f := witness.At(path)
	_, err := f.Begin()
	require.NoError(t, err)
	require.NoError(t, os.Remove(path))
	require.Error(t, f.Append([]ledger.Line{line(1)}))
	require.NoFileExists(t, path)
}

func TestAFaultyWitnessIsRefusedWithItsLine(t *testing.T) {
	good := "receipt 1 2026-03-09T15:04:05.678Z " + strings.Repeat("ab", 32) + " ABCD-EFGH-JKMN " + strings.Repeat("0f", 32) + "\n"
	for _, row := range []struct{ content, says string }{
		{"", "line 1"},
		{"something else\n", "line 1"},
		{"wellstowed-witness 1\n" + good + strings.TrimSpace(good), "line 3: it is cut short"},
		{"wellstowed-witness 1\n" + strings.Replace(good, "receipt", "invoice", 1), "neither receipt, sheet nor journal"},
		{"wellstowed-witness 1\n" + strings.Replace(good, " 1 ", " 01 ", 1), "not written as the program writes it"},
		{"wellstowed-witness 1\n" + strings.Replace(good, " 1 ", " 0 ", 1), "a number of a paper"},
		{"wellstowed-witness 1\n" + strings.Replace(good, "ab", "AB", 1), "a chain"},
		{"wellstowed-witness 1\n" + strings.Replace(good, "ABCD", "ABCU", 1), "a seal"},
		{"wellstowed-witness 1\n" + strings.Replace(good, "0f", "0", 1), "a hash of a PDF"},
		{"wellstowed-witness 1\n\n" + good, "it has 1 fields"},
		{"wellstowed-witness 1\n" + strings.Replace(good, "2026-03-09T", "2026-03-32T", 1), "a time"},
	} {
		_, faults := witness.Parse([]byte(row.content))
		require.ErrorContains(t, errors.Join(faults...), row.says, "%q", row.content)
	}
}

// Whatever is taken is written the same again, so no two files mean the same.
func FuzzParse(f *testing.F) {
	f.Add([]byte("wellstowed-witness 1\nreceipt 1 2026-03-09T15:04:05.678Z " + strings.Repeat("ab", 32) + " ABCD-EFGH-JKMN " + strings.Repeat("0f", 32) + "\n"))
	f.Add([]byte("wellstowed-witness 1\nsheet 7 2026-03-09T15:04:05Z - - " + strings.Repeat("0f", 32) + "\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		lines, faults := witness.Parse(content)
		if len(faults) > 0 {
			return
		}
		path := filepath.Join(t.TempDir(), "w.txt")
		file := witness.At(path)
		_, err := file.Begin()
		require.NoError(t, err)
		require.NoError(t, file.Append(lines))
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, content, got)
	})
}
