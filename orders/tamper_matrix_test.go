package orders_test

import (
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/audits"
	"wellstowed/orders/ledger"
	"wellstowed/orders/photos"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
)

// A papered table holds papers, or what is kept beside them and held against them. said
// is how verify names the paper of a row.
type papered struct {
	table string
	row   string // SQL that picks one row
	said  string
	// free are columns that nothing is held against, each with why.
	free map[string]string
}

func paperedTables() []papered {
	return []papered{
		{"receipts", "number = 2", "receipt 2", nil},
		{"receipts", "number = 3", "receipt 3", nil}, // a void, which names another
		{"sheets", "number = 1", "sheet 1", nil},
		{"sheets", "number = 2", "sheet 2", nil},
		{"loads", "receipt = 2", "receipt 2", map[string]string{
			"id": "names nothing", "order_id": "the receipt’s own is held", "created": "shown nowhere"}},
		{"tallies", "sheet = 2", "sheet 2", map[string]string{
			"id": "names nothing", "created": "the sheet’s own is held", "model": "the result holds it"}},
		{"audits", "number = 1", "audit 1", map[string]string{
			"id": "joins rows by itself", "version": "counts changes", "seller_key": "a spelling of the seller’s name",
			"capacity": "the report holds it", "opened_by": "the report holds it"}},
		{"audit_readings", "handed = 1 AND measurer_id = (SELECT id FROM audit_measurers WHERE n = 1)", "audit 1", map[string]string{
			"n": "counts savings", "typed": "the form; what was read of it is sealed"}},
		{"audit_reports", "1", "audit 1", map[string]string{"audit_id": "joins rows by itself"}},
		{"audit_photos", "1", "audit 1", map[string]string{"added": "the report holds it", "shown": "made of the original", "sha256": "the facts hold it"}},
		{"order_photos", "1", "photo", map[string]string{
			"id": "names nothing", "added": "puts photos in order", "shown": "made of the original", "sha256": "the facts hold it"}},
	}
}

// A column as SQLite describes it.
type column struct {
	name, kind string
	notNull    bool
}

func columnsOf(t *testing.T, path, table string) (all []column) {
	servertest.FileOnly(t)
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	defer db.Close()
	rows, err := db.Query(`SELECT name, type, "notnull" FROM pragma_table_info(?)`, table)
	require.NoError(t, err)
	defer rows.Close()
	for rows.Next() {
		var c column
		require.NoError(t, rows.Scan(&c.name, &c.kind, &c.notNull))
		all = append(all, c)
	}
	require.NoError(t, rows.Err())
	require.NotEmpty(t, all)
	return all
}

// edits are what somebody could write into a column instead.
func (c column) edits() []string {
	var all []string
	switch c.kind {
	case "INTEGER":
		all = []string{"CASE " + c.name + " WHEN 1 THEN 0 ELSE " + c.name + " + 1000 END"} // a flag is turned
	case "TEXT":
		all = []string{ // another last character, or JSON with other figures in it, or nothing
			"CASE WHEN json_valid(" + c.name + ") THEN replace(" + c.name + ", '1', '2') " +
				"ELSE substr(" + c.name + ", 1, length(" + c.name + ") - 1) || CASE substr(" + c.name + ", -1) WHEN '1' THEN '2' ELSE '1' END END",
			"''",
		}
	case "BLOB":
		all = []string{"randomblob(length(" + c.name + ") + 1)", "substr(" + c.name + ", 1, length(" + c.name + ") - 1)", "x''"}
	}
	if !c.notNull {
		all = append(all[:1], "CASE WHEN "+c.name+" IS NULL THEN 1 END")
	}
	return all
}

// matrixYard is a yard with a receipt made void, two sheets, and a closed audit with a
// photo.
func matrixYard(t *testing.T) *sellerYard {
	y := newYard(t)
	for range 2 {
		y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	}
	y.void(1, "The load came back")
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	y.measure(y.orderOf(2))
	y.photograph(y.orderOf(4), photos.Request{Name: "b.png", Shows: "stack", Bytes: picture(t, "png", 9, 8)})
	y.measure(y.orderOf(4))
	a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "2"})
	require.NoError(t, err)
	_, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "a.png", Of: "front", Bytes: picture(t, "png", 8, 8)})
	require.NoError(t, err)
	_, err = y.closed(a, "48 in", audits.CloseRequest{})
	require.NoError(t, err)
	y.noFaults()
	return y
}

// An ear gathers what verify says.
type ear struct {
	t     *testing.T
	named map[string]bool // keys of faults
}

func (e ear) hear(y *sellerYard, seals map[int64]string, w *proof.Testimony) string {
	e.t.Helper()
	v, err := y.VerifyBy(y.ctx, owner, seals, w)
	require.NoError(e.t, err)
	for _, f := range v.Faults {
		e.named[f.Key] = true
	}
	return strings.Join(said(v), "\n")
}

// columns edits each column of each paper, and gives the edits that verify says nothing
// of, or not of which paper it is.
func (e ear) columns(whole mould) (unfound []string) {
	for _, p := range paperedTables() {
		columns := columnsOf(e.t, whole.y.path, p.table)
		for name := range p.free {
			require.True(e.t, slices.ContainsFunc(columns, func(c column) bool { return c.name == name }), "%s has no column %s", p.table, name)
		}
		for _, c := range columns {
			if p.free[c.name] != "" {
				continue
			}
			for _, edit := range c.edits() {
				twin := whole.cast(e.t)
				if !twin.spoil(p.table, c.name, edit, p.row) {
					continue // it holds that already
				}
				if found := e.hear(twin, nil, nil); !strings.Contains(found, p.said) {
					unfound = append(unfound, fmt.Sprintf("%s.%s = %s where %s: %s", p.table, c.name, edit, p.row, found))
				}
			}
		}
	}
	return unfound
}

// spoil writes into a column, past what the table allows, and tells whether that
// changed anything.
func (y *sellerYard) spoil(table, name, value, row string) bool {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path+"?_pragma=foreign_keys(0)&_pragma=ignore_check_constraints(1)")
	require.NoError(y.t, err)
	defer db.Close()
	done, err := db.Exec(fmt.Sprintf("UPDATE %s SET %s = %s WHERE %s AND %[2]s IS NOT %[3]s", table, name, value, row))
	require.NoError(y.t, err, "%s.%s = %s", table, name, value)
	n, err := done.RowsAffected()
	require.NoError(y.t, err)
	return n > 0
}

// faultKeys are the texts of faults as they stand in the program, found in its source.
func faultKeys(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob("proof/*.go")
	require.NoError(t, err)
	keys := map[string]bool{}
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if of, ok := call.Fun.(*ast.SelectorExpr); !ok || of.Sel.Name != "fault" && of.Sel.Name != "faultRange" {
				return true
			}
			for _, arg := range call.Args {
				if lit, ok := arg.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					text, err := strconv.Unquote(lit.Value)
					require.NoError(t, err)
					if strings.Contains(text, " ") { // else the name of a paper
						keys[text] = true
					}
				}
			}
			return true
		})
	}
	require.Greater(t, len(keys), 40, "the faults that verify can name")
	return slices.Sorted(maps.Keys(keys))
}

// spoilings are edits from outside that columns alone don't show: rows that go, that
// change places, counters, names and papers that come back, and what is kept elsewhere.
func spoilings() []func(*sellerYard) {
	sql := func(statements ...string) func(*sellerYard) { return func(y *sellerYard) { y.tamper(statements...) } }
	return []func(*sellerYard){
		sql(`DELETE FROM receipts WHERE number = 2`),
		sql(`DELETE FROM receipts WHERE number = 4`),
		sql(`DELETE FROM receipts WHERE number IN (2, 3)`),
		sql(`UPDATE receipts SET number = 99 WHERE number = 1`, `UPDATE receipts SET number = 1 WHERE number = 2`, `UPDATE receipts SET number = 2 WHERE number = 99`),
		sql(`UPDATE counters SET last = last - 1 WHERE name = 'receipt'`),
		sql(`UPDATE counters SET last = last - 1 WHERE name = 'sheet'`),
		sql(`UPDATE counters SET last = last - 1 WHERE name = 'audit'`),
		sql(`UPDATE counters SET last = last + 5 WHERE name = 'audit'`),
		sql(`DELETE FROM sheets WHERE number = 1`),
		sql(`UPDATE sheets SET number = 99 WHERE number = 1`, `UPDATE sheets SET number = 1 WHERE number = 2`, `UPDATE sheets SET number = 2 WHERE number = 99`),
		sql(`UPDATE sheets SET sheet = CAST(replace(CAST(sheet AS TEXT), '"issued"', '"posted"') AS BLOB) WHERE number = 1`),
		sql(`UPDATE sheets SET sheet = x'00' WHERE number = 1`),
		sql(`DELETE FROM audit_reports`),
		sql(`DELETE FROM order_photos`),
		sql(`UPDATE loads SET batch_id = 'elsewhere' WHERE receipt = 2`),
		sql(`UPDATE receipts SET personal = x'', salt = zeroblob(16) WHERE number = 2`),
		sql(`UPDATE sheets SET personal = x'' WHERE number = 1`),
		func(y *sellerYard) { // rewritten with its hash, chain and seal, and the next one put back as it was
			y.tamper(`CREATE TABLE old AS SELECT * FROM receipts WHERE number = 4`)
			y.forge(2, func(facts string) string { return strings.ReplaceAll(facts, "28000", "38000") })
			y.tamper(`DELETE FROM receipts WHERE number = 4`, `INSERT INTO receipts SELECT * FROM old`, `DROP TABLE old`)
		},
		func(y *sellerYard) { y.spoil("audit_readings", "circumstances", "'no JSON'", "1") },
		// with the purchaser of sheet 1 sealed anew: its chain follows, and sheet 2 doesn't follow on it
		func(y *sellerYard) { y.forgeSheet(1) },
	}
}

// forgeSheet gives a sheet another hash of its names, and a chain that follows from it.
func (y *sellerYard) forgeSheet(number int64) {
	servertest.FileOnly(y.t)
	y.t.Helper()
	s := strconv.FormatInt(number, 10)
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	var hash string
	require.NoError(y.t, db.QueryRow(`SELECT sheet_sha256 FROM sheets WHERE number = `+s).Scan(&hash))
	personal := sha256.Sum256([]byte("sixteen bytes ok" + `{"purchaser":{"name":"Somebody Else","address":""},"read_by":"Wren"}`))
	bytes, err := hex.DecodeString(hash)
	require.NoError(y.t, err)
	chain := sha256.Sum256(append(bytes, personal[:]...))
	y.tamper(fmt.Sprintf(`UPDATE sheets SET personal = CAST('{"purchaser":{"name":"Somebody Else","address":""},"read_by":"Wren"}' AS BLOB),
		salt = CAST('sixteen bytes ok' AS BLOB), personal_sha256 = '%x', chain = '%x' WHERE number = %s`, personal, chain, s))
}

// erasedYard is a yard of which all names were erased: of an order with receipts and
// sheets, and of what has none.
func erasedYard(t *testing.T) *sellerYard {
	y, _ := throughTheYear(t)
	y.loose()
	y.now = y.now.AddDate(2, 0, 0)
	plan := y.erasurePlan()
	y.eraseAll(strconv.Itoa(plan.Count()))
	return y
}

// namesBack are names and papers that come back after an erasure.
func namesBack() []string {
	return []string{
		`UPDATE receipts SET personal = CAST('{"name":"Zephyrine Ostrak","address":""}' AS BLOB) WHERE number = 1`,
		`UPDATE receipts SET pdf = x'25' WHERE number = 1`,
		`UPDATE sheets SET pdf = x'25' WHERE number = 1`,
		`UPDATE customers SET phone = '555-0188'`,
		`UPDATE wishes SET wanted_for = 'Zephyrine'`,
		`UPDATE case_entries SET text = 'Zephyrine'`,
		`UPDATE audits SET subject = json_set(subject, '$.place', 'Tarnby')`,
	}
}

// Whatever is written into any column of a paper, or of what is held against it, verify
// finds it and says of which paper it is; and every fault that verify can name is named
// for some edit, so that none of its checks can be lost unseen.
func TestEveryEditIsFoundAndEveryFaultIsNamed(t *testing.T) {
	t.Parallel()
	e := ear{t: t, named: map[string]bool{}}
	y := matrixYard(t)
	whole := y.mould()
	unfound := e.columns(whole)
	require.Empty(t, unfound, "%s", strings.Join(unfound, "\n"))
	for _, spoil := range spoilings() {
		twin := whole.cast(t)
		spoil(twin)
		require.NotEmpty(t, e.hear(twin, nil, nil))
	}
	gone := erasedYard(t).mould()
	for _, change := range namesBack() {
		twin := gone.cast(t)
		twin.tamper(change)
		require.NotEmpty(t, e.hear(twin, nil, nil), change)
	}
	e.hear(y, map[int64]string{1: "0000-0000-0000", 99: "0000-0000-0000"}, nil)

	witnessed, file, _ := witnessed(t)
	lines, err := file.Lines()
	require.NoError(t, err)
	for _, change := range witnessEdits() {
		e.hear(witnessed, nil, proof.Testify(change(slices.Clone(lines)), errors.New("line 3: not understood")))
	}
	var missing []string
	for _, key := range faultKeys(t) {
		found := false
		for said := range e.named {
			found = found || said == key || strings.HasSuffix(said, " "+key)
		}
		if !found {
			missing = append(missing, key)
		}
	}
	require.Empty(t, missing, "no edit leads to these")
}

// witnessEdits are what can be wrong between a witness and a database.
func witnessEdits() []func([]ledger.Line) []ledger.Line {
	edit := func(change func(*ledger.Line)) func([]ledger.Line) []ledger.Line {
		return func(lines []ledger.Line) []ledger.Line { change(&lines[1]); return lines }
	}
	return []func([]ledger.Line) []ledger.Line{
		edit(func(l *ledger.Line) { l.Chain = strings.Repeat("0", 64) }),
		edit(func(l *ledger.Line) { l.Seal = "0000-0000-0000" }),
		edit(func(l *ledger.Line) { l.PDFHash = strings.Repeat("0", 64) }),
		edit(func(l *ledger.Line) { l.Issued = l.Issued.Add(1) }),
		edit(func(l *ledger.Line) { l.Number = 1 }),
		func(lines []ledger.Line) []ledger.Line { return slices.Delete(lines, 1, 2) },
		func(lines []ledger.Line) []ledger.Line {
			return append(lines, ledger.Line{Paper: ledger.Receipt, Number: 5}, ledger.Line{Paper: ledger.Sheet, Number: 3},
				ledger.Line{Paper: ledger.Sheet, Number: 4})
		},
	}
}
