package orders_test

import (
	"os"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/proof"
	"wellstowed/orders/witness"
)

// A crash between a receipt and its line, or in the middle of a line, is made good at
// the next start, whatever was left of the file.
func TestWhatACrashLostIsCaughtUp(t *testing.T) {
	t.Parallel()
	y, file, path := witnessed(t)
	require.NoError(t, y.CatchUp(y.ctx, owner)) // it is told of the journal as well
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	sorted := func(content []byte) []string { return strings.Split(string(content), "\n") }
	for left := range len(whole) {
		require.NoError(t, os.WriteFile(path, whole[:left], 0o600))
		_, err := file.Begin()
		require.NoError(t, err)
		require.NoError(t, y.CatchUp(y.ctx, owner), "%d bytes were left", left)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.ElementsMatch(t, sorted(whole), sorted(now), "%d bytes were left", left)
		require.Empty(t, y.faultsBy(nil, file))
	}
}

// Programs that share a database and a witness add each receipt once, in order.
func TestProgramsThatIssueAtOnceShareAWitness(t *testing.T) {
	y, _, path := witnessed(t)
	var ids []string
	for range 8 {
		ids = append(ids, y.take(goodOrder()).ID)
	}
	services := []*orders.Service{y.openWitnessed(witness.At(path)), y.openWitnessed(witness.At(path))}
	var wait sync.WaitGroup
	for i, id := range ids {
		wait.Go(func() {
			_, err := services[i%2].Deliver(y.ctx, y.act(), id, orders.LoadRequest{})
			assert.NoError(t, err)
		})
	}
	wait.Wait()
	lines, err := witness.At(path).Lines()
	require.NoError(t, err)
	require.Len(t, lines, 14)
	require.Empty(t, y.faultsBy(nil, witness.At(path)))
}

// A witness that says otherwise is left as it is, and the first line that differs is
// named.
func TestAWitnessThatSaysOtherwiseIsLeftAsItIs(t *testing.T) {
	_, _, other := witnessed(t)
	another, err := os.ReadFile(other)
	require.NoError(t, err)
	y, _, path := witnessed(t)
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	whole := string(content)
	lines := strings.SplitAfter(whole, "\n")
	pdf := strings.Fields(lines[2])[5]
	for name, row := range map[string]struct{ text, says string }{
		"another shop's":    {string(another), "line 2 has another chain of receipt 1"},
		"of a newer state":  {whole + strings.Replace(lines[4], "receipt 4", "receipt 5", 1), "line 8 has receipt 5, which is not in the database"},
		"another PDF":       {strings.Replace(whole, pdf, strings.Repeat("0", 64), 1), "line 3 has another PDF of receipt 2"},
		"another time":      {strings.Replace(whole, "receipt 2 2026-03-09", "receipt 2 2026-03-08", 1), "line 3 has another seal or time of issue of receipt 2"},
		"two lines swapped": {strings.Replace(whole, lines[2]+lines[3], lines[3]+lines[2], 1), "line 3 has receipt 3, and no line before it has receipt 2"},
		"a line removed":    {strings.Replace(whole, lines[3], "", 1), "line 4 has receipt 4, and no line before it has receipt 3"},
		"a line twice":      {whole + lines[4], "line 8 has receipt 4 out of order, or twice"},
		"a line unreadable": {strings.Replace(whole, lines[3], "spilled coffee\n", 1), `line 4: read "spilled coffee"`},
		"no witness":        {"Milk, eggs\n", "line 1: the file is no witness"},
	} {
		require.NoError(t, os.WriteFile(path, []byte(row.text), 0o600))
		err := y.CatchUp(y.ctx, owner)
		requireKind(t, act.Conflict, err)
		require.Contains(t, err.Error(), row.says, name)
		now, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, row.text, string(now), name)
	}
}

// What is wrong with a witness is named with its line, and the rest is held against
// the papers all the same.
func TestVerifyNamesTheLinesOfAWitness(t *testing.T) {
	y, _, path := witnessed(t)
	content, err := os.ReadFile(path)
	require.NoError(t, err)
	whole := string(content)
	lines := strings.SplitAfter(whole, "\n")
	const lacks2 = "receipt 2: it is not in the witness file, which goes on after it"
	for name, row := range map[string]struct {
		text string
		want []string
	}{
		"a line removed": {strings.Replace(whole, lines[2], "", 1), []string{
			"the witness file, line 3: it has receipt 3, and no line before it has receipt 2", lacks2}},
		"a line unreadable": {strings.Replace(whole, lines[2], "spilled coffee\n", 1), []string{
			`the witness file, line 3: read "spilled coffee": it has 2 fields, where 6 are expected`,
			"the witness file, line 4: it has receipt 3, and no line before it has receipt 2", lacks2}},
		"two lines swapped": {strings.Replace(whole, lines[2]+lines[3], lines[3]+lines[2], 1), []string{
			"the witness file, line 3: it has receipt 3, and no line before it has receipt 2",
			"the witness file, line 4: receipt 2 is out of order, or twice"}},
		"a last line cut short": {strings.TrimSuffix(whole, "\n"), []string{
			"the witness file, line 7: it is cut short; the next issue or start writes it again"}},
	} {
		read, faults := witness.Parse([]byte(row.text))
		v, err := y.VerifyBy(y.ctx, owner, nil, proof.Testify(read, faults...))
		require.NoError(t, err)
		require.Equal(t, row.want, said(v), name)
	}
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Equal(t, []int{4, 1, 0, 2}, []int{v.Receipts, v.Voided, v.Corrected, v.Sheets})
	y.correct(1, func(r *orders.CorrectionRequest) { r.Species = "Hickory" })
	v, err = y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, v.Faults, "a corrected receipt verifies")
	require.Equal(t, []int{5, 1, 1, 2}, []int{v.Receipts, v.Voided, v.Corrected, v.Sheets})
}
