package orders_test

import (
	"crypto/sha256"
	"database/sql"
	"encoding/base32"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
)

// witnessed is a yard of four receipts and two sheets whose papers are witnessed.
func witnessed(t *testing.T) (*sellerYard, witness.File, string) {
	t.Helper()
	y := newYard(t)
	path := filepath.Join(t.TempDir(), "witness.txt")
	file := witness.At(path)
	_, err := file.Begin()
	require.NoError(t, err)
	db, err := store.Open(y.ctx, y.path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	y.Service = orders.New(db, paperless{}, func() time.Time { return y.now }, orders.WitnessedBy(file))
	for range 3 {
		y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	}
	y.void(2, "The load came back")
	y.measure(y.orderOf(1))
	y.measure(y.orderOf(3))
	return y, file, path
}

func (y *sellerYard) faultsBy(seals map[int64]string, file witness.File) []string {
	y.t.Helper()
	lines, err := file.Lines()
	require.NoError(y.t, err)
	v, err := y.VerifyBy(y.ctx, owner, seals, proof.Testify(lines))
	require.NoError(y.t, err)
	return said(v)
}

func said(v proof.Verification) (texts []string) {
	for _, f := range v.Faults {
		texts = append(texts, f.String())
	}
	return texts
}

func (y *sellerYard) faultsAlone() []string {
	y.t.Helper()
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(y.t, err)
	return said(v)
}

func TestEveryPaperIsWitnessed(t *testing.T) {
	y, file, _ := witnessed(t)
	lines, err := file.Lines()
	require.NoError(t, err)
	require.Len(t, lines, 6)
	require.Equal(t, mustReceipt(y, 4).Chain, lines[3].Chain)
	require.Empty(t, y.faultsBy(nil, file))
	require.Empty(t, y.WitnessTrouble(y.ctx).Key)
}

// A disk that is out stops nobody: the receipt stands, it is said, and the next
// issue writes what is lacking.
func TestAWitnessThatWasOutCatchesUp(t *testing.T) {
	y, file, path := witnessed(t)
	require.NoError(t, os.Rename(path, path+".out"))
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	require.Contains(t, y.WitnessTrouble(y.ctx).String(), "cannot be read or written")
	require.NoError(t, os.Rename(path+".out", path))
	require.Contains(t, y.WitnessTrouble(y.ctx).String(), "from receipt 5 on")
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	require.Empty(t, y.WitnessTrouble(y.ctx).Key)
	require.Empty(t, y.faultsBy(nil, file))
	lines, err := file.Lines()
	require.NoError(t, err)
	require.Len(t, lines, 8)
}

// A PDF changed with its stored hash is found by the witness alone.
func TestAPDFChangedWithItsHashIsFoundByTheWitness(t *testing.T) {
	y, file, _ := witnessed(t)
	other := fmt.Sprintf("%x", sha256.Sum256([]byte("%")))
	y.tamper(`UPDATE receipts SET pdf = x'25', pdf_sha256 = '`+other+`' WHERE number = 1`,
		`UPDATE sheets SET pdf = x'25', pdf_sha256 = '`+other+`' WHERE number = 2`)
	require.Empty(t, y.faultsAlone())
	require.Equal(t, []string{"receipt 1: the witness file, line 2, has another PDF of it", "sheet 2: the witness file, line 7, has another PDF of it"}, y.faultsBy(nil, file))
}

// An old backup put back is found by the witness, and nothing is written over what
// the witness knows.
func TestARollbackIsFoundByTheWitness(t *testing.T) {
	y, file, _ := witnessed(t)
	y.tamper(`DELETE FROM receipts WHERE number = 4`, `UPDATE counters SET last = 3 WHERE name = 'receipt'`,
		`DELETE FROM tallies WHERE sheet = 2`, `DELETE FROM sheets WHERE number = 2`, `UPDATE counters SET last = 1 WHERE name = 'sheet'`)
	require.Empty(t, y.faultsAlone(), "the limit without a witness")
	require.Equal(t, []string{
		"receipt 4 is in the witness file and not here: the database is an older copy, or it was deleted",
		"sheet 2 is in the witness file and not here: the database is an older copy, or it was deleted",
	}, y.faultsBy(nil, file))
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}) // another receipt 4
	require.Contains(t, y.WitnessTrouble(y.ctx).String(), "line 5 has another chain of receipt 4")
	require.Contains(t, y.faultsBy(nil, file), "receipt 4: the witness file, line 5, has another chain of it: it, or one before it, was rewritten after it was issued")
}

// All receipts rewritten from the second on, every hash and seal recomputed: alone
// it looks honest, which is the stated limit; a seal or the witness names each.
func TestAChainRebuiltFromScratch(t *testing.T) {
	y, file, _ := witnessed(t)
	printed := mustReceipt(y, 3).Seal
	y.rebuild()
	require.Empty(t, y.faultsAlone())
	v, err := y.Verify(y.ctx, owner, map[int64]string{3: printed})
	require.NoError(t, err)
	require.Len(t, v.Faults, 1)
	require.Contains(t, v.Faults[0].String(), "receipt 3: the seal on paper is "+printed)
	var want []string
	for n := 2; n <= 4; n++ {
		want = append(want, fmt.Sprintf("receipt %d: the witness file, line %d, has another chain of it: it, or one before it, was rewritten after it was issued", n, n+1))
	}
	require.Equal(t, want, y.faultsBy(nil, file))
}

// rebuild makes receipt 2 hickory and recomputes what hangs on it, as somebody who
// knows how receipts are kept could.
func (y *sellerYard) rebuild() {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	previous := ""
	for n := 1; n <= 4; n++ {
		var facts, personalHash string
		require.NoError(y.t, db.QueryRow(`SELECT CAST(facts AS TEXT), personal_sha256 FROM receipts WHERE number = ?`, n).Scan(&facts, &personalHash))
		if n == 2 {
			facts = strings.Replace(facts, "Red oak", "Hickory", 1)
		}
		if at := strings.Index(facts, `"previous":"`); at >= 0 && n > 1 {
			facts = facts[:at] + `"previous":"` + previous + `"` + facts[at+len(`"previous":"`)+64+1:]
		}
		hash := sha256.Sum256([]byte(facts))
		before, err := hex.DecodeString(previous)
		require.NoError(y.t, err)
		personal, err := hex.DecodeString(personalHash)
		require.NoError(y.t, err)
		chain := sha256.Sum256(append(append(before, hash[:]...), personal...))
		text := base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").EncodeToString(chain[:])
		previous = hex.EncodeToString(chain[:])
		_, err = db.Exec(`UPDATE receipts SET facts = CAST(? AS BLOB), facts_sha256 = ?, chain = ?, seal = ? WHERE number = ?`,
			facts, hex.EncodeToString(hash[:]), previous, text[:4]+"-"+text[4:8]+"-"+text[8:12], n)
		require.NoError(y.t, err)
	}
}

func TestVerifyFindsTamperedSheets(t *testing.T) {
	for _, row := range []struct {
		name, change string
		want         []string
	}{
		{"data edited", `UPDATE sheets SET sheet = CAST(replace(CAST(sheet AS TEXT), 'Alder Bend Firewood', 'Somebody') AS BLOB) WHERE number = 1`,
			[]string{"sheet 1: its data are not those that were issued"}},
		{"reader edited", `UPDATE sheets SET personal = CAST(replace(CAST(personal AS TEXT), 'Wren', 'Pim') AS BLOB) WHERE number = 1`,
			[]string{"sheet 1: its purchaser or reader is not the one it was issued with"}},
		{"PDF edited", `UPDATE sheets SET pdf = x'25' WHERE number = 2`, []string{"sheet 2: its PDF is not the one that was issued"}},
		{"tally edited", `UPDATE tallies SET document = x'7b7d' WHERE sheet = 2`, []string{"sheet 2: its tally is missing or differs from its data"}},
		{"a sheet deleted", `DELETE FROM sheets WHERE number = 1`, []string{"sheet 1 is missing"}},
		{"the last deleted", `DELETE FROM sheets WHERE number = 2`, []string{"sheet 2 is missing"}},
		{"made to look unchained", `UPDATE sheets SET sheet_sha256 = '', chain = '' WHERE number = 2`,
			[]string{"sheet 2: its data are not those that were issued", "sheet 2: its chain does not follow from its hashes"}},
		{"kind of a receipt", `UPDATE receipts SET kind = 'settlement' WHERE number = 4`,
			[]string{"receipt 4: it is filed as another kind, or as naming another receipt"}},
	} {
		y, _, _ := witnessed(t)
		require.Empty(t, y.faultsAlone(), row.name)
		y.tamper(row.change)
		require.Equal(t, row.want, y.faultsAlone(), row.name)
	}
}
