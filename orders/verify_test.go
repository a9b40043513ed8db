package orders_test

import (
	"context"
	"database/sql"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
)

// Verify verifies without a witness.
func (y *sellerYard) Verify(ctx context.Context, who act.Actor, seals map[int64]string) (proof.Verification, error) {
	return y.VerifyBy(ctx, who, seals, nil)
}

// VerifyBy verifies as another process would.
func (y *sellerYard) VerifyBy(ctx context.Context, who act.Actor, seals map[int64]string, witness *proof.Testimony) (proof.Verification, error) {
	y.t.Helper()
	db, err := store.Open(y.ctx, y.path)
	require.NoError(y.t, err)
	defer db.Close()
	return proof.Verify(ctx, db.Proving(), who, seals, witness)
}

// tamper changes the database behind the program's back.
func (y *sellerYard) tamper(statements ...string) {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path+"?_pragma=foreign_keys(0)")
	require.NoError(y.t, err)
	defer db.Close()
	for _, s := range statements {
		_, err := db.Exec(s)
		require.NoError(y.t, err, s)
	}
}

// fourReceipts are a cord in two loads and two whole ones.
func fourReceipts(t *testing.T) (*sellerYard, []orders.Issued) {
	y := newYard(t)
	first, second, third := y.take(goodOrder()), y.take(goodOrder()), y.take(goodOrder())
	return y, []orders.Issued{
		y.deliver(first.ID, orders.LoadRequest{Delivered: "1/2 cord"}),
		y.deliver(second.ID, orders.LoadRequest{}),
		y.deliver(first.ID, orders.LoadRequest{}),
		y.deliver(third.ID, orders.LoadRequest{}),
	}
}

func TestVerifyFindsNothingInAnHonestDatabase(t *testing.T) {
	y, issued := fourReceipts(t)
	v, err := y.Verify(y.ctx, auditor, map[int64]string{
		1: issued[0].Seal,
		4: strings.ToLower(strings.ReplaceAll(issued[3].Seal, "-", " ")), // copied by hand
	})
	require.NoError(t, err)
	require.Empty(t, v.Faults)
	require.Equal(t, 4, v.Receipts)
	require.EqualValues(t, 4, v.Last)
	require.Equal(t, issued[3].Seal, v.Seal)
	require.Contains(t, v.Limit.String(), "cannot be told from an honest one")
}

func TestVerifyOfNoReceipts(t *testing.T) {
	v, err := newYard(t).Verify(t.Context(), owner, nil)
	require.NoError(t, err)
	require.Zero(t, v.Receipts)
	require.Empty(t, v.Faults)
}

func TestVerifyFindsTampering(t *testing.T) {
	for _, row := range []struct {
		name   string
		change []string
		want   []string
	}{
		{"facts edited", []string{`UPDATE receipts SET facts = CAST(replace(CAST(facts AS TEXT), 'Red oak', 'Hickory') AS BLOB) WHERE number = 2`},
			[]string{"receipt 2: its facts are not those that were issued"}},
		{"facts edited with their hash", []string{`UPDATE receipts SET facts_sha256 = lower(hex(zeroblob(32))) WHERE number = 2`},
			[]string{"receipt 2: its facts are not those that were issued", "receipt 2: its chain does not follow from its hashes"}},
		{"facts that are no data", []string{`UPDATE receipts SET facts = x'00' WHERE number = 2`},
			[]string{"receipt 2: its facts are not those that were issued", "receipt 2: its stored data cannot be read"}},
		{"purchaser edited", []string{`UPDATE receipts SET personal = CAST('{"name":"Somebody","address":"Else"}' AS BLOB) WHERE number = 3`},
			[]string{"receipt 3: its purchaser is not the one it was issued to"}},
		{"PDF edited", []string{`UPDATE receipts SET pdf = x'25' WHERE number = 1`},
			[]string{"receipt 1: its PDF is not the one that was issued"}},
		{"seal edited", []string{`UPDATE receipts SET seal = '0000-0000-0000' WHERE number = 1`},
			[]string{"receipt 1: its seal does not follow from its chain"}},
		{"chain edited", []string{`UPDATE receipts SET chain = lower(hex(zeroblob(32))) WHERE number = 2`},
			[]string{"receipt 2: its chain does not follow from its hashes", "receipt 2: its seal does not follow from its chain",
				"receipt 3: it does not follow on the receipt before it"}},
		{"a receipt deleted", []string{`DELETE FROM loads WHERE receipt = 2`, `DELETE FROM receipts WHERE number = 2`},
			[]string{"receipt 2 is missing"}},
		{"two receipts deleted", []string{`DELETE FROM loads WHERE receipt IN (2, 3)`, `DELETE FROM receipts WHERE number IN (2, 3)`},
			[]string{"receipts 2 to 3 are missing"}},
		{"a receipt deleted and its load left", []string{`DELETE FROM receipts WHERE number = 2`},
			[]string{"receipt 2 is missing"}},
		{"the last receipt deleted", []string{`DELETE FROM loads WHERE receipt = 4`, `DELETE FROM receipts WHERE number = 4`},
			[]string{"receipt 4 is missing"}},
		{"two receipts swapped", []string{`UPDATE receipts SET number = 99 WHERE number = 2`, `UPDATE receipts SET number = 2 WHERE number = 4`, `UPDATE receipts SET number = 4 WHERE number = 99`},
			[]string{"receipt 2: its facts are those of receipt 4",
				"receipt 2: it does not follow on the receipt before it", "receipt 3: it does not follow on the receipt before it",
				"receipt 4: its facts are those of receipt 2",
				"receipt 4: it does not follow on the receipt before it"}},
		{"a load edited", []string{`UPDATE loads SET quantity = quantity + 1 WHERE receipt = 3`},
			[]string{"receipt 3: its load is missing or differs from its facts"}},
		{"a load deleted", []string{`DELETE FROM loads WHERE receipt = 3`},
			[]string{"receipt 3: its load is missing or differs from its facts"}},
		{"filed under another order", []string{`UPDATE receipts SET order_id = (SELECT id FROM orders WHERE number = 3) WHERE number = 1`},
			[]string{"receipt 1: it is filed under another order"}},
		{"filed under another time", []string{`UPDATE receipts SET issued = issued + 1 WHERE number = 1`},
			[]string{"receipt 1: it is filed under another time of issue"}},
		{"the counter set back", []string{`UPDATE counters SET last = 3 WHERE name = 'receipt'`},
			[]string{"receipt 4: the counter of receipts is at 3"}},
		{"the last receipt deleted and the counter set back", []string{`DELETE FROM loads WHERE receipt = 4`, `DELETE FROM receipts WHERE number = 4`, `UPDATE counters SET last = 3 WHERE name = 'receipt'`},
			nil}, // the limit: only a printed seal finds it, below
	} {
		y, issued := fourReceipts(t)
		y.tamper(row.change...)
		v, err := y.Verify(y.ctx, owner, nil)
		require.NoError(t, err, row.name)
		var got []string
		for _, f := range v.Faults {
			got = append(got, f.String())
		}
		require.Equal(t, row.want, got, row.name)
		if row.want == nil {
			v, err = y.Verify(y.ctx, owner, map[int64]string{4: issued[3].Seal})
			require.NoError(t, err)
			require.Len(t, v.Faults, 1)
		}
	}
}

// The batch a load is filed under is what the batch's stock is reckoned from.
func TestVerifyFindsALoadMovedBetweenBatches(t *testing.T) {
	const fault = ": its load is filed under another batch"
	for _, row := range []struct{ change, want string }{
		{`UPDATE loads SET batch_id = (SELECT id FROM batches ORDER BY rowid DESC LIMIT 1) WHERE receipt = 1`, "receipt 1" + fault},
		{`UPDATE loads SET batch_id = NULL WHERE receipt = 1`, "receipt 1" + fault},
		{`UPDATE loads SET batch_id = (SELECT id FROM batches ORDER BY rowid LIMIT 1) WHERE receipt = 2`, "receipt 2" + fault},
	} {
		y := newYard(t)
		b := y.putUp()
		y.putUp(func(r *yard.BatchRequest) { r.Name = "south bay" })
		o := y.take(goodOrder())
		y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID})
		y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord"})
		y.void(y.deliver(o.ID, orders.LoadRequest{Delivered: "1/4 cord", Batch: b.ID}).Receipt.Facts.Number, "typed twice")
		y.noFaults()
		y.tamper(row.change)
		v, err := y.Verify(y.ctx, owner, nil)
		require.NoError(t, err)
		require.Equal(t, []string{row.want}, said(v), row.change)
	}
}

func TestVerifyHoldsPrintedSealsAgainstTheDatabase(t *testing.T) {
	y, issued := fourReceipts(t)
	v, err := y.Verify(y.ctx, owner, map[int64]string{2: issued[0].Seal, 9: "ABCD-EFGH-JKMN"})
	require.NoError(t, err)
	require.Len(t, v.Faults, 2)
	require.Contains(t, v.Faults[0].String(), "receipt 2: the seal on paper is "+issued[0].Seal)
	require.Contains(t, v.Faults[1].String(), "receipt 9")
}

func TestNothingIsIssuedOnABrokenEnd(t *testing.T) {
	y, _ := fourReceipts(t)
	y.tamper(`DELETE FROM loads WHERE receipt = 4`, `DELETE FROM receipts WHERE number = 4`)
	_, err := y.Deliver(y.ctx, y.act(), y.take(goodOrder()).ID, orders.LoadRequest{})
	requireKind(t, act.Conflict, err)
	require.Contains(t, err.Error(), "receipt 4, which the next one follows on, is missing")
}

// What a closed audit is made of is held against its hashes as well.
func TestVerifyFindsTamperedAudits(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	_, err := y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "a.png", Of: "front", Bytes: picture(t, "png", 8, 8)})
	require.NoError(t, err)
	_, err = y.closed(a, "37 1/4 in", audits.CloseRequest{})
	require.NoError(t, err)
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, v.Faults)
	y.tamper(`UPDATE audit_reports SET report = x'7b7d', pdf = x'25'`, `UPDATE audit_photos SET original = x'00'`,
		`UPDATE counters SET last = 3 WHERE name = 'audit'`)
	v, err = y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	var said []string
	for _, f := range v.Faults {
		said = append(said, f.String())
	}
	require.Equal(t, []string{
		"audit 1: its PDF is not the one it was closed with",
		"audit 1: its report is not the one it was closed with",
		"audit 1: the photo “front” is not the one that was kept",
		"audits 2 to 3 are missing",
	}, said)
}
