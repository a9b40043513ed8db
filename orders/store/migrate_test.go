package store

import (
	"context"
	"database/sql"
	"io/fs"
	"strings"
	"testing"

	"github.com/pressly/goose/v3"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/audits"
	"wellstowed/orders/proof"
)

// databaseAt makes a database file as a program of that migration left it.
func databaseAt(t *testing.T, version int64) (path string, pool *sql.DB) {
	t.Helper()
	path = t.TempDir() + "/shop.db"
	pool, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	files, err := fs.Sub(migrations, "migrations")
	require.NoError(t, err)
	provider, err := goose.NewProvider(goose.DialectSQLite3, pool, files)
	require.NoError(t, err)
	_, err = provider.UpTo(t.Context(), version)
	require.NoError(t, err)
	return path, pool
}

// Readings from before there were batches are those of their order still.
func TestReadingsOutliveTheirMigration(t *testing.T) {
	path, pool := databaseAt(t, 5)
	const order, set = "019c0000-0000-7000-8000-000000000001", "019c0000-0000-7000-8000-000000000002"
	for _, row := range []string{
		`INSERT INTO customers VALUES ('` + order + `', 1, 'Ada Quill', '', '', '', '')`,
		`INSERT INTO orders (id, number, version, customer_id, words, quantity, basis, species, piece_length, seasoning, currency, wood, fees, deposit, notes, created, changed)
			VALUES ('` + order + `', 1, 1, '` + order + `', '1 cord', 9, 'ranked', 'Red oak', 1, '', 'USD', 0, '[]', 0, '', 1, 1)`,
		`INSERT INTO moistures (id, order_id, readings, season, read_by, read_on, created) VALUES ('` + set + `', '` + order + `',
			'[{"moisture":{"percent":15,"basis":"dry"},"method":"pin meter","piece":1,"fresh_face":true}]',
			'{"pieces":1,"readings":1,"mean":{"percent":15,"basis":"dry"},"spread_points":0,"driest":{"percent":15,"basis":"dry"},
			"wettest":{"percent":15,"basis":"dry"},"limit":{"percent":20,"basis":"dry"},"verdict":"not settled","more":4}', 'Wren', '2026-03-07', 7)`,
	} {
		_, err := pool.ExecContext(t.Context(), row)
		require.NoError(t, err)
	}
	require.NoError(t, pool.Close())

	db, err := Open(context.Background(), path)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.Read(t.Context(), func(tx orders.Tx) error {
		sets, err := tx.Moistures(order)
		require.Len(t, sets, 1)
		require.Equal(t, set, sets[0].ID)
		require.Equal(t, order, sets[0].OrderID)
		require.Empty(t, sets[0].BatchID)
		require.Equal(t, wood.Neither, sets[0].Season.Verdict)
		o, more := tx.Order(order)
		require.NoError(t, more)
		require.Empty(t, o.Certificate)
		return err
	}))
}

// A shop from before it was asked where it is has said so where it is not in UTC.
func TestAShopInUTCIsAskedWhereItIs(t *testing.T) {
	for zone, located := range map[string]bool{"UTC": false, "America/New_York": true} {
		path, pool := databaseAt(t, 12)
		_, err := pool.ExecContext(t.Context(), `UPDATE shop SET zone = ?`, zone)
		require.NoError(t, err)
		require.NoError(t, pool.Close())
		db, err := Open(context.Background(), path)
		require.NoError(t, err)
		require.NoError(t, db.Read(t.Context(), func(tx orders.Tx) error {
			shop, err := tx.Shop()
			require.Equal(t, located, shop.Located, zone)
			require.Equal(t, zone, shop.Zone)
			return err
		}))
		require.NoError(t, db.Close())
	}
}

// Readings from before they were sealed are kept with no seal, who took them is a
// measurer, and a link that was renewed is the second.
func TestReadingsOfAuditsOutliveTheirMigrations(t *testing.T) {
	path, pool := databaseAt(t, 21)
	const id, una, tobias = "019c0000-0000-7000-8000-000000000001", "019c0000-0000-7000-8000-00000000000a", "019c0000-0000-7000-8000-00000000000b"
	codes := map[string]string{una: strings.Repeat("a", 64), tobias: strings.Repeat("b", 64)}
	const doc = `{"format":1,"stack":{"kind":"rows"}}`
	for _, row := range []string{
		`INSERT INTO audits VALUES ('` + id + `', 1, 3, NULL, '{}', '{}', 'Fern Hollow Wood', 'fern hollow wood', 9, 'ranked', '2026-03-07', 'Pim', 5, NULL, '', '')`,
		`INSERT INTO audit_hands VALUES ('` + una + `', '` + id + `', 1, 'Una Reed', '` + codes[una] + `', 6, NULL)`,
		`INSERT INTO audit_hands VALUES ('` + tobias + `', '` + id + `', 2, 'Tobias Fenn', '` + codes[tobias] + `', 6, 7)`,
		`INSERT INTO audit_readings VALUES ('` + una + `', 1, CAST('rows=1' AS BLOB), CAST('` + doc + `' AS BLOB), 8, 0, NULL, '')`,
		`INSERT INTO audit_readings VALUES ('` + una + `', 2, x'', CAST('` + doc + `' AS BLOB), 9, 1, 11, 'a height was misread')`,
		`INSERT INTO audit_readings VALUES ('` + una + `', 3, x'', CAST('` + doc + `' AS BLOB), 10, 1, NULL, '')`,
	} {
		_, err := pool.ExecContext(t.Context(), row)
		require.NoError(t, err, row)
	}
	require.NoError(t, pool.Close())

	db, err := Open(context.Background(), path)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.Audits().Write(t.Context(), func(tx audits.Tx) error {
		kept, err := tx.StoredAudit(id)
		require.NoError(t, err)
		require.Equal(t, []audits.Measurer{
			{ID: una, Name: "Una Reed", Added: instant(6), Drafts: 1, HandedIn: instant(9), Corrected: instant(10), Struck: 1},
			{ID: tobias, Name: "Tobias Fenn", Added: instant(6), Renewed: instant(7)},
		}, kept.Audit.Measurers)
		readings, err := tx.AuditReadings(una)
		require.NoError(t, err)
		require.Equal(t, []audits.SavedReading{
			{N: 1, Typed: []byte("rows=1"), Document: []byte(doc), Created: instant(8)},
			{N: 2, Document: []byte(doc), Created: instant(9), Handed: true, Struck: instant(11), Reason: "a height was misread"},
			{N: 3, Document: []byte(doc), Created: instant(10), Handed: true},
		}, readings)
		for measurer, link := range map[string]int{una: 1, tobias: 2} {
			who, err := tx.AuditMeasurerOf(codes[measurer])
			require.NoError(t, err)
			require.Equal(t, audits.MeasurerOf{AuditID: id, ID: measurer, Link: link}, who)
			require.NoError(t, tx.AddLinkOpening(measurer, audits.LinkOpening{At: instant(20), Link: link}), "openings are kept from now on")
		}
		return nil
	}))
}

// A database from before the journal begins it with every row there is.
func TestAnOlderDatabaseBeginsItsJournal(t *testing.T) {
	path, pool := databaseAt(t, 12)
	_, err := pool.ExecContext(t.Context(), `INSERT INTO customers VALUES ('019c0000-0000-7000-8000-000000000001', 1, 'Ada Quill', '', '', '', '')`)
	require.NoError(t, err)
	require.NoError(t, pool.Close())
	db, err := Open(context.Background(), path)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.Proving().Read(t.Context(), func(tx proof.Tx) error {
		head, faults, err := tx.WalkJournal()
		require.EqualValues(t, 1, head.ID)
		require.Empty(t, faults)
		return err
	}))
	var begun int
	require.NoError(t, db.gorm.Raw(`SELECT count(*) FROM journal_rows WHERE did = 'begun' AND of_table = 'customers'`).Scan(&begun).Error)
	require.Equal(t, 1, begun)
}
