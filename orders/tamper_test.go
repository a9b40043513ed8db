package orders_test

import (
	"crypto/sha256"
	"database/sql"
	"encoding/base32"
	"encoding/hex"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
)

// forge rewrites receipts from number from up and recomputes every hash, chain and
// seal after them, as whoever knows the program could. It is written apart from the
// program.
func (y *sellerYard) forge(from int64, edit func(facts string) string) {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path+"?_pragma=foreign_keys(0)")
	require.NoError(y.t, err)
	defer db.Close()
	var last int64
	require.NoError(y.t, db.QueryRow(`SELECT max(number) FROM receipts`).Scan(&last))
	var was, is string
	if from > 1 {
		require.NoError(y.t, db.QueryRow(`SELECT chain FROM receipts WHERE number = ?`, from-1).Scan(&is))
		was = is
	}
	for n := from; n <= last; n++ {
		var facts []byte
		var personal, chain string
		require.NoError(y.t, db.QueryRow(`SELECT facts, personal_sha256, chain FROM receipts WHERE number = ?`, n).Scan(&facts, &personal, &chain))
		text := edit(strings.Replace(string(facts), `"previous":"`+was+`"`, `"previous":"`+is+`"`, 1))
		hash := sha256.Sum256([]byte(text))
		before, err := hex.DecodeString(is)
		require.NoError(y.t, err)
		purchaser, err := hex.DecodeString(personal)
		require.NoError(y.t, err)
		sum := sha256.Sum256(append(append(before, hash[:]...), purchaser...))
		seal := base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").EncodeToString(sum[:])
		was, is = chain, hex.EncodeToString(sum[:])
		_, err = db.Exec(`UPDATE receipts SET facts = ?, facts_sha256 = ?, chain = ?, seal = ? WHERE number = ?`,
			[]byte(text), hex.EncodeToString(hash[:]), is, seal[0:4]+"-"+seal[4:8]+"-"+seal[8:12], n)
		require.NoError(y.t, err)
	}
}

// exchange swaps columns of receipts 1 and 3 from outside.
func exchange(columns ...string) []string {
	var set []string
	for _, c := range columns {
		set = append(set, c+" = (SELECT o."+c+" FROM old o WHERE o.number = 4 - receipts.number)")
	}
	return []string{
		`CREATE TABLE old AS SELECT * FROM receipts`,
		`UPDATE receipts SET ` + strings.Join(set, ", ") + ` WHERE number IN (1, 3)`,
		`DROP TABLE old`,
	}
}

// What can be done to the file from outside, and what is said of it: with nothing
// kept outside, with the newest seal on paper as well, with the witness as well. A
// want is a part of the words shown; where all are empty nothing is found, which is
// the limit that is printed.
func TestTamperingIsNamed(t *testing.T) {
	sql := func(statements ...string) func(*sellerYard) {
		return func(y *sellerYard) { y.tamper(statements...) }
	}
	dear := func(facts string) string { return strings.ReplaceAll(facts, "28000", "38000") }
	const rewritten = "has another chain of it: it, or one before it, was rewritten after it was issued"
	for _, row := range []struct {
		name                  string
		do                    func(*sellerYard)
		alone, paper, witness []string
	}{
		{"a price edited", sql(`UPDATE receipts SET facts = CAST(replace(CAST(facts AS TEXT), '28000', '38000') AS BLOB) WHERE number = 3`),
			[]string{"receipt 3: its facts are not those that were issued"}, nil, nil},
		{"a price edited with its hash", func(y *sellerYard) {
			y.tamper(`CREATE TABLE old AS SELECT number, chain, seal FROM receipts`)
			y.forge(3, func(facts string) string {
				if strings.Contains(facts, `"number":3,`) {
					return dear(facts)
				}
				return facts
			})
			y.tamper(`UPDATE receipts SET (chain, seal) = (SELECT chain, seal FROM old WHERE old.number = receipts.number)`, `DROP TABLE old`)
		}, []string{"receipt 3: its chain does not follow from its hashes"}, nil, nil},
		{"a price edited with hash, chain and seal", func(y *sellerYard) {
			y.tamper(`CREATE TABLE old AS SELECT * FROM receipts WHERE number = 4`)
			y.forge(3, dear)
			y.tamper(`DELETE FROM receipts WHERE number = 4`, `INSERT INTO receipts SELECT * FROM old`, `DROP TABLE old`)
		}, []string{"receipt 4: it does not follow on the receipt before it"}, nil, []string{"receipt 3: the witness file, line 4, " + rewritten}},
		{"an amount edited in a load", sql(`UPDATE loads SET quantity = quantity / 2 WHERE receipt = 3`),
			[]string{"receipt 3: its load is missing or differs from its facts"}, nil, nil},
		{"one deleted in the middle", sql(`DELETE FROM loads WHERE receipt = 3`, `DELETE FROM receipts WHERE number = 3`),
			[]string{"receipt 3 is missing"}, nil, nil},
		{"the last deleted, a void", sql(`DELETE FROM receipts WHERE number = 4`),
			[]string{"receipt 4 is missing"}, []string{"receipt 4: a seal on paper was given, and that receipt isn’t here"}, []string{"receipt 4 is in the witness file and not here"}},
		{"a void deleted and the counter lowered", sql(`DELETE FROM receipts WHERE number = 4`, `UPDATE counters SET last = 3 WHERE name = 'receipt'`),
			nil, []string{"receipt 4: a seal on paper was given, and that receipt isn’t here"}, []string{"receipt 4 is in the witness file and not here"}},
		{"the last two deleted and the counter lowered", sql(`DELETE FROM loads WHERE receipt = 3`, `DELETE FROM receipts WHERE number > 2`, `UPDATE counters SET last = 2 WHERE name = 'receipt'`),
			nil, []string{"receipt 4: a seal on paper was given, and that receipt isn’t here"}, []string{"receipts 3 to 4 are in the witness file and not here"}},
		{"a void filed as a receipt of its own", sql(`UPDATE receipts SET kind = '', of_receipt = NULL WHERE number = 4`),
			[]string{"receipt 4: it is filed as another kind, or as naming another receipt"}, nil, nil},
		{"two rows swapped", sql(`UPDATE receipts SET number = 99 WHERE number = 1`, `UPDATE receipts SET number = 1 WHERE number = 3`, `UPDATE receipts SET number = 3 WHERE number = 99`),
			[]string{"receipt 1: its facts are those of receipt 3", "receipt 3: its facts are those of receipt 1"}, nil, []string{"receipt 1: the witness file, line 2, has another PDF"}},
		{"two PDFs swapped", sql(exchange("pdf")...),
			[]string{"receipt 1: its PDF is not the one that was issued", "receipt 3: its PDF is not the one that was issued"}, nil, nil},
		{"two PDFs swapped with their hashes", sql(exchange("pdf", "pdf_sha256")...),
			nil, nil, []string{"receipt 1: the witness file, line 2, has another PDF", "receipt 3: the witness file, line 4, has another PDF"}},
		{"all rebuilt", func(y *sellerYard) { y.forge(1, dear) },
			nil, []string{"receipt 4: the seal on paper is"}, []string{"receipt 1: the witness file, line 2, " + rewritten, "receipt 4: the witness file, line 5, " + rewritten}},
	} {
		y, file, _ := witnessed(t)
		newest, err := y.Newest(y.ctx, owner)
		require.NoError(t, err)
		row.do(y)
		lines, err := file.Lines()
		require.NoError(t, err)
		y.requireNamed(row.name, nil, nil, row.alone)
		y.requireNamed(row.name, map[int64]string{4: newest.Seal}, nil, append(row.alone[:len(row.alone):len(row.alone)], row.paper...))
		y.requireNamed(row.name, nil, proof.Testify(lines), append(row.alone[:len(row.alone):len(row.alone)], row.witness...))
	}
}

// requireNamed tells whether verify says all of want, and nothing at all where want
// is empty; without anything kept outside the limit is printed either way.
func (y *sellerYard) requireNamed(name string, seals map[int64]string, w *proof.Testimony, want []string) {
	y.t.Helper()
	v, err := y.VerifyBy(y.ctx, owner, seals, w)
	require.NoError(y.t, err, name)
	if w == nil {
		require.Contains(y.t, v.Limit.String(), "cannot be told from an honest one", name)
		require.Contains(y.t, v.Limit.String(), "wholly written again, cannot be told from an honest one", name)
	}
	found := strings.Join(said(v), "\n")
	for _, words := range want {
		require.Contains(y.t, found, words, name)
	}
	if len(want) == 0 {
		require.Empty(y.t, found, name)
	}
}

// An older copy put back, on which other receipts are then issued, is whole by
// itself; nothing of it is written to the witness.
func TestAnOlderCopyPutBackIsFound(t *testing.T) {
	servertest.FileOnly(t)
	y, file, path := witnessed(t)
	later := y.take(goodOrder())
	y.tamper(`VACUUM INTO '` + y.path + `.copy'`)
	seal := y.deliver(later.ID, orders.LoadRequest{}).Seal
	before, err := os.ReadFile(path)
	require.NoError(t, err)

	copied := &sellerYard{t: t, ctx: y.ctx, path: y.path + ".copy", now: y.now}
	copied.Service = copied.open()
	require.Equal(t, []string{"receipt 5 is in the witness file and not here: the database is an older copy, or it was deleted"}, copied.faultsBy(nil, file))
	copied.deliver(copied.take(goodOrder()).ID, orders.LoadRequest{})
	copied.deliver(later.ID, orders.LoadRequest{})
	require.Empty(t, copied.faultsAlone(), "the stated limit")

	v, err := copied.Verify(y.ctx, owner, map[int64]string{5: seal})
	require.NoError(t, err)
	require.Contains(t, strings.Join(said(v), "\n"), "receipt 5: the seal on paper is "+seal)
	require.Contains(t, strings.Join(copied.faultsBy(nil, file), "\n"), "receipt 5: the witness file, line 8, has another chain of it")

	copied.Service = copied.openWitnessed(file)
	err = copied.CatchUp(y.ctx, owner)
	requireKind(t, act.Conflict, err)
	require.Contains(t, err.Error(), "line 8 has another chain of receipt 5 than the database")
	copied.deliver(copied.take(goodOrder()).ID, orders.LoadRequest{})
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, before, after, "nothing is added to it")
	require.Contains(t, copied.WitnessTrouble(y.ctx).String(), "line 8 has another chain of receipt 5")
}

// openWitnessed gives another service on the same file, as another process would have.
func (y *sellerYard) openWitnessed(file witness.File) *orders.Service {
	y.t.Helper()
	db, err := store.Open(y.ctx, y.path)
	require.NoError(y.t, err)
	y.t.Cleanup(func() { require.NoError(y.t, db.Close()) })
	return orders.New(db, paperless{}, func() time.Time { return y.now }, orders.WitnessedBy(file))
}
