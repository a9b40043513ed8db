package main

import (
	"encoding/json"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// listed is the part of go list's answer that the rules need.
type listed struct {
	ImportPath   string
	Standard     bool
	Imports      []string
	TestImports  []string
	XTestImports []string
}

// ring is the order data moves in: a package imports only rings before its own.
var ring = []string{"measure", "orders", "receipts", "web", "cmd"}

// rooms is the order that data moves in within measure, and doors within orders: a
// package of one imports only those before it.
var (
	rooms = []string{"measure", "measure/strict", "measure/student", "measure/wood", "measure/face", "measure/stack", "measure/forms", "measure/procedure", "measure/series", "measure/rules", "measure/lot", "measure/storage", "measure/draw"}
	doors = []string{"orders/disk", "orders/act", "orders/lists", "orders/journal", "orders/day", "orders/spoken", "orders/money", "orders/signed", "orders/ledger", "orders/witness", "orders/yard", "orders/people", "orders/customers", "orders/prices", "orders/photos", "orders/loose", "orders/promise", "orders", "orders/road", "orders/calendar", "orders/offers", "orders/accounts", "orders/cases", "orders/minute", "orders/audits", "orders/privacy", "orders/proof", "orders/copies", "orders/postgres", "orders/postgres/servertest", "orders/store"}
)

// homes are the libraries that live behind one door.
var homes = []struct{ module, home, reason string }{
	{"gorm.io/", "wellstowed/orders/store", "the database stays behind orders.Store"},
	{"modernc.org/sqlite", "wellstowed/orders/store", "the database stays behind orders.Store"},
	{"github.com/jackc/pgx", "wellstowed/orders/postgres", "a server is spoken to in one place"},
	{"github.com/pressly/goose", "wellstowed/orders/store", "migrations belong to the store"},
	{"github.com/gofiber/", "wellstowed/web", "a request never leaves web"},
	{"github.com/jung-kurt/gofpdf", "wellstowed/receipts", "the PDF library is unmaintained: one place to replace it"},
	{"github.com/arran4/golang-ical", "wellstowed/receipts/calendar", "one place that knows how calendars are written"},
	{"gonum.org/", "wellstowed/measure/student", "what is worked out here is held against it, in tests"},
}

func TestImportsKeepTheDirection(t *testing.T) {
	for _, p := range listPackages(t) {
		for _, imp := range p.Imports {
			if fault := broken(p.ImportPath, imp); fault != "" {
				t.Errorf("%s imports %s: %s", p.ImportPath, imp, fault)
			}
		}
		tests := slices.Concat(p.Imports, p.TestImports, p.XTestImports)
		for _, imp := range tests {
			if fault := notAtHome(p.ImportPath, imp); fault != "" {
				t.Errorf("%s imports %s: %s", p.ImportPath, imp, fault)
			}
		}
	}
}

func TestTheRulesCanFail(t *testing.T) {
	for _, row := range []struct{ pkg, imp string }{
		{"wellstowed/measure", "wellstowed/orders"},
		{"wellstowed/measure", "wellstowed/measure/draw"},
		{"wellstowed/measure", "wellstowed/measure/stack"},
		{"wellstowed/measure/stack", "wellstowed/measure/rules"},
		{"wellstowed/measure/stack", "wellstowed/measure/draw"},
		{"wellstowed/measure/draw", "github.com/google/uuid"},
		{"wellstowed/measure", "os"},
		{"wellstowed/orders", "wellstowed/orders/store"},
		{"wellstowed/orders", "wellstowed/orders/audits"},
		{"wellstowed/orders/act", "wellstowed/orders"},
		{"wellstowed/orders/money", "wellstowed/orders"},
		{"wellstowed/orders/somewhere", "wellstowed/orders"},
		{"wellstowed/orders/store", "wellstowed/receipts"},
		{"wellstowed/web", "wellstowed/orders/store"},
		{"wellstowed/receipts", "wellstowed/web"},
	} {
		if broken(row.pkg, row.imp) == "" {
			t.Errorf("%s importing %s is allowed", row.pkg, row.imp)
		}
	}
	if notAtHome("wellstowed/orders", "gorm.io/gorm") == "" || notAtHome("wellstowed/cmd/wellstowed", "github.com/gofiber/fiber/v2") == "" {
		t.Error("a library may leave its home")
	}
}

// broken says why pkg may not import imp in its own code; empty when it may.
func broken(pkg, imp string) string {
	ours, isOurs := strings.CutPrefix(imp, "wellstowed/")
	if ringOf(pkg) == 0 && !isOurs {
		return outsideMeasure(imp)
	}
	if !isOurs {
		return ""
	}
	switch from, to := ringOf(pkg), ringOf(imp); {
	case to > from:
		return "data moves measure ← orders ← receipts ← web ← cmd; an import against it makes a circle of concerns"
	case pkg == "wellstowed/measure":
		return "lengths, volumes and what is typed know no other package of the project"
	case against(rooms, pkg, imp):
		return "within measure data moves " + strings.Join(rooms, " ← ")
	case against(doors, pkg, imp):
		return "within orders data moves " + strings.Join(doors, " ← ")
	case ours == "orders/store" && pkg != "wellstowed/cmd/wellstowed":
		return "only cmd knows the store; everybody else is given an *orders.Service"
	}
	return ""
}

// against tells whether imp stands in the order at or after the place of pkg, both of one
// ring; a package that the order doesn't name stands before all of it.
func against(order []string, pkg, imp string) bool {
	place := func(p string) int { return slices.Index(order, strings.TrimPrefix(p, "wellstowed/")) }
	return ringOf(pkg) == ringOf(imp) && place(imp) >= 0 && place(imp) >= place(pkg)
}

func outsideMeasure(imp string) string {
	if strings.Contains(strings.Split(imp, "/")[0], ".") {
		return "measure builds on the standard library alone, so that it runs anywhere"
	}
	if slices.Contains([]string{"os", "net", "net/http", "os/exec", "log", "log/slog"}, imp) {
		return "measure does no input or output"
	}
	return ""
}

// notAtHome says why pkg, or its tests, may not import the library imp.
func notAtHome(pkg, imp string) string {
	for _, h := range homes {
		if strings.HasPrefix(imp, h.module) && pkg != h.home {
			return "it belongs in " + h.home + " alone: " + h.reason
		}
	}
	return ""
}

// TestMeasureReadsNoClock allows package time for the dates that documents and data
// files hold, and nothing of it that tells or waits for the hour.
func TestMeasureReadsNoClock(t *testing.T) {
	clock := regexp.MustCompile(`\btime\.(Now|Since|Until|After|AfterFunc|Sleep|Tick|NewTimer|NewTicker)\b`)
	require.NoError(t, filepath.WalkDir(filepath.Join(root, "measure"), func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		if found := clock.Find(source); found != nil {
			t.Errorf("%s uses %s: the arithmetic is the same at any hour", path, found)
		}
		return err
	}))
}

func ringOf(pkg string) int {
	first, _, _ := strings.Cut(strings.TrimPrefix(pkg, "wellstowed/"), "/")
	return slices.Index(ring, first)
}

func listPackages(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-json=ImportPath,Standard,Imports,TestImports,XTestImports", "wellstowed/...")
	out, err := cmd.Output()
	require.NoError(t, err, "go list")
	var all []listed
	dec := json.NewDecoder(strings.NewReader(string(out)))
	for {
		var p listed
		if err := dec.Decode(&p); err == io.EOF {
			break
		} else {
			require.NoError(t, err)
		}
		require.GreaterOrEqual(t, ringOf(p.ImportPath), 0, "%s is in no known folder", p.ImportPath)
		all = append(all, p)
	}
	require.Greater(t, len(all), 8, "packages found")
	return all
}
