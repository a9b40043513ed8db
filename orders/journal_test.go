package orders_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
)

// alteredBy says what is not as the program wrote it, with a witness or nil.
func (y *sellerYard) alteredBy(witness *proof.Testimony) string {
	y.t.Helper()
	v, err := y.VerifyBy(y.ctx, owner, nil, witness)
	require.NoError(y.t, err)
	texts := []string{}
	for _, text := range v.Altered {
		texts = append(texts, text.String())
	}
	return strings.Join(texts, "\n")
}

// What no paper holds is held by the journal: a payment, a price, a name.
func TestEditsBesideThePapersAreNamed(t *testing.T) {
	for change, says := range map[string]string{
		`UPDATE payments SET amount = amount * 10`:                                      "amount is not as the program wrote it on 9 March 2026 by Odell (add payment)",
		`UPDATE orders SET wood = 1`:                                                    "order 1: wood is not as the program wrote it on 9 March 2026 by Odell (take order)",
		`UPDATE customers SET name = 'Somebody Else'`:                                   "order 1, customers ",
		`DELETE FROM payments`:                                                          "it is gone; the program wrote it on 9 March 2026 by Odell (add payment)",
		`PRAGMA ignore_check_constraints = 1; INSERT INTO counters VALUES ('other', 3)`: "counters other: the program did not write it",
		`UPDATE journal_acts SET person = 'Tam Birch'`:                                  "journal, write 1: it is not as the program wrote it",
		`DELETE FROM journal_acts WHERE verb = 'tables'`:                                "journal: write 1 is gone",
	} {
		y := newYard(t)
		y.pay(y.take(goodOrder()).ID, orders.PaymentRequest{Amount: "50", Method: "cash"})
		require.Empty(t, y.alteredBy(nil))
		y.tamper(change)
		require.Contains(t, y.alteredBy(nil), says, change)
	}
}

// A journal that was written again from an older copy holds by itself; the witness knows
// another. That is what a witness is for.
func TestAJournalWrittenAgainIsNamedByTheWitness(t *testing.T) {
	servertest.FileOnly(t)
	y, file, _ := witnessed(t)
	older := filepath.Join(t.TempDir(), "older.db")
	from, err := store.OpenToCopy(y.ctx, y.path)
	require.NoError(t, err)
	require.NoError(t, from.CopyTo(y.ctx, older))
	require.NoError(t, from.Close())
	y.take(goodOrder())
	require.NoError(t, y.CatchUp(y.ctx, owner))

	y.path = older
	y.Service = y.openWitnessed(file)
	require.Empty(t, y.alteredBy(nil))
	require.Contains(t, y.alteredBy(testimony(t, file)), "the database is an older copy, or writes were taken out of it")
	other := goodOrder()
	other.CustomerName = "Somebody Else"
	y.take(other)
	require.Empty(t, y.alteredBy(nil))
	require.Contains(t, y.alteredBy(testimony(t, file)), "a write by then was altered, and the journal written again to fit")
	require.ErrorContains(t, y.CatchUp(y.ctx, owner), "has another journal up to write")
}

func testimony(t *testing.T, file witness.File) *proof.Testimony {
	t.Helper()
	lines, err := file.Lines()
	require.NoError(t, err)
	return proof.Testify(lines)
}
