package orders_test

import (
	"database/sql"
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
		{"audit_reports", "1", "audit 1", map[string]string{"audit_id": "joins rows by itself"}},
		{"audit_photos", "1", "audit 1", map[string]string{"added": "the report holds it", "shown": "made of the original",
			"id": "joins rows by itself", "sha256": "the facts hold it"}},
	}
}

// A column as SQLite describes it.
type column struct {
	name, kind string
	notNull    bool
}

func columnsOf(t *testing.T, path, table string) (all []column) {
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
		all = []string{c.name + " + 1000"}
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
func matrixYard(t *testing.T) *yard {
	y := newYard(t)
	for range 2 {
		y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	}
	y.void(1, "The load came back")
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	y.measure(y.orderOf(2))
	y.measure(y.orderOf(4))
	a, err := y.OpenAudit(y.ctx, y.auditing(), orders.AuditRequest{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "2"})
	require.NoError(t, err)
	_, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, orders.PhotoRequest{Name: "a.png", Of: "front", Bytes: picture(t, "png", 8, 8)})
	require.NoError(t, err)
	_, err = y.closed(a, "48 in", orders.CloseRequest{})
	require.NoError(t, err)
	y.noFaults()
	return y
}

// Whatever is written into any column of a paper, or of what is held against it, verify
// finds it and says of which paper it is.
func TestEveryColumnOfAPaperIsHeld(t *testing.T) {
	t.Parallel()
	y := matrixYard(t)
	whole := y.mould()
	var unfound []string
	for _, p := range paperedTables() {
		columns := columnsOf(t, y.path, p.table)
		for name := range p.free {
			require.True(t, slices.ContainsFunc(columns, func(c column) bool { return c.name == name }), "%s has no column %s", p.table, name)
		}
		for _, c := range columns {
			if p.free[c.name] != "" {
				continue
			}
			for _, edit := range c.edits() {
				twin := whole.cast(t)
				if !twin.spoil(p.table, c.name, edit, p.row) {
					continue // it holds that already
				}
				v, err := twin.Verify(y.ctx, owner, nil)
				if err != nil || !strings.Contains(strings.Join(said(v), "\n"), p.said) {
					unfound = append(unfound, fmt.Sprintf("%s.%s = %s where %s: %v %v", p.table, c.name, edit, p.row, err, said(v)))
				}
			}
		}
	}
	require.Empty(t, unfound, "%s", strings.Join(unfound, "\n"))
}

// spoil writes into a column, past what the table allows, and tells whether that
// changed anything.
func (y *yard) spoil(table, name, value, row string) bool {
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
	files, err := filepath.Glob("*.go")
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
	return slices.Sorted(maps.Keys(keys))
}
