package store

import (
	"context"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"gorm.io/gorm/schema"
)

func rows() []any {
	return []any{
		&shopRow{}, &counterRow{}, &requestRow{}, &customerRow{}, &customerRecordRow{}, &priceRow{}, &orderRow{}, &loadRow{},
		&receiptRow{}, &sheetRow{}, &tallyRow{}, &moistureRow{}, &bodyRow{}, &linkRow{},
		&caseRow{}, &accountRow{}, &caseTallyRow{}, &entryRow{},
		&batchRow{}, &batchEntryRow{},
		&paymentRow{}, &copyRow{}, &settlementRow{}, &stepRow{}, &wishRow{}, &wishEndRow{},
		&erasureRow{}, &erasedPaperRow{}, &erasedRecordRow{},
		&auditRow{}, &auditEntryRow{}, &auditMeasurerRow{}, &auditReadingRow{}, &linkOpeningRow{}, &auditPhotoRow{}, &auditReportRow{}, &lotDrawRow{}, &orderPhotoRow{}, &looseRow{},
		&personRow{}, &sessionRow{}, &codeRow{}, &recoveryRow{}, &peopleLogRow{}, &passkeyRow{}, &backupRow{}, &waitingRow{}, &actRow{}, &changeRow{},
		&vehicleRow{}, &roadYardRow{}, &roadPlanRow{}, &calendarLinkRow{},
	}
}

func opened(t *testing.T) *DB {
	t.Helper()
	db, err := Open(context.Background(), filepath.Join(t.TempDir(), "shop.db"))
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	return db
}

// The rows the program writes and the tables the migrations make have the same
// columns, of the same types, null where the row may be.
func TestMigrationsMatchRows(t *testing.T) {
	db := opened(t)
	var tables []string
	for _, row := range rows() {
		parsed, err := schema.Parse(row, &sync.Map{}, db.gorm.NamingStrategy)
		require.NoError(t, err)
		tables = append(tables, parsed.Table)
		want := map[string]string{}
		for _, f := range parsed.Fields {
			want[f.DBName] = storedAs(f)
		}
		require.Equal(t, want, columnsOf(t, db, parsed.Table), parsed.Table)
	}
	var made []string
	require.NoError(t, db.gorm.Raw(`SELECT name FROM sqlite_schema WHERE type = 'table'
		AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`).Scan(&made).Error)
	require.ElementsMatch(t, tables, made)
}

func storedAs(f *schema.Field) string {
	null := ""
	if strings.HasPrefix(f.FieldType.String(), "*") {
		null = " null"
	}
	switch f.DataType {
	case schema.Int, schema.Uint:
		return "INTEGER" + null
	case schema.Bytes:
		return "BLOB" + null
	default:
		return "TEXT" + null
	}
}

func columnsOf(t *testing.T, db *DB, table string) map[string]string {
	t.Helper()
	var infos []struct {
		Name    string
		Type    string
		Notnull int
	}
	require.NoError(t, db.gorm.Raw(`SELECT name, type, "notnull" FROM pragma_table_info(?)`, table).Scan(&infos).Error)
	columns := map[string]string{}
	for _, i := range infos {
		columns[i.Name] = i.Type
		if i.Notnull == 0 {
			columns[i.Name] += " null"
		}
	}
	return columns
}

func TestTablesAreStrictAndForeignKeysIndexed(t *testing.T) {
	db := opened(t)
	var lax []string
	require.NoError(t, db.gorm.Raw(`SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0
		AND name NOT LIKE 'sqlite_%' AND name <> 'goose_db_version'`).Scan(&lax).Error)
	require.Empty(t, lax)

	var bare []string
	require.NoError(t, db.gorm.Raw(`SELECT m.name || '.' || k."from" FROM sqlite_schema m, pragma_foreign_key_list(m.name) k
		WHERE m.type = 'table' AND NOT EXISTS (
			SELECT 1 FROM pragma_index_list(m.name) i, pragma_index_info(i.name) c WHERE c.seqno = 0 AND c.name = k."from")`).Scan(&bare).Error)
	require.Empty(t, bare)
}

// The list of orders is found by key, and what belongs to an order by index: no
// table is read through and nothing is sorted.
func TestTheListReadsByKey(t *testing.T) {
	db := opened(t)
	var plan []struct{ Detail string }
	require.NoError(t, db.gorm.Raw("EXPLAIN QUERY PLAN "+orderQuery+" WHERE o.number < ? ORDER BY o.number DESC LIMIT ?", 100, 50).Scan(&plan).Error)
	require.NotEmpty(t, plan)
	for _, step := range plan {
		require.NotContains(t, step.Detail, "SCAN")
		require.NotContains(t, step.Detail, "TEMP B-TREE")
	}
}

func TestPromisesAreReadBack(t *testing.T) {
	db := opened(t)
	require.NoError(t, checkPromises(context.Background(), db.pool))
	conn, err := db.pool.Conn(context.Background())
	require.NoError(t, err)
	defer conn.Close()
	_, err = conn.ExecContext(context.Background(), "PRAGMA synchronous = NORMAL")
	require.NoError(t, err)
	require.ErrorContains(t, checkConnection(context.Background(), conn), "synchronous")
}

func TestOlder(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want bool
	}{
		{"3.51.3", "3.51.3", false},
		{"3.51.2", "3.51.3", true},
		{"3.54.0", "3.51.3", false},
		{"3.9.9", "3.51.3", true},
		{"3.51", "3.51.3", true},
		{"4.0", "3.51.3", false},
	} {
		require.Equal(t, row.want, older(row.a, row.b), row.a)
	}
}
