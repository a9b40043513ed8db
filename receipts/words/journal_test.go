package words_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
	"wellstowed/orders/journal"
	"wellstowed/receipts/words"
)

// Every verb that an act is declared with in orders and its folders has a sentence that says
// who did what.
func TestEveryActIsASentenceOfWhoDidWhat(t *testing.T) {
	p := words.New("en", act.Imperial)
	declared := regexp.MustCompile(`act\.Verb += "([^"]+)"`)
	verbs := 0
	require.NoError(t, filepath.WalkDir("../../orders", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, found := range declared.FindAllStringSubmatch(string(text), -1) {
			verbs++
			line := p.JournalLine(journal.Line{Verb: found[1], Person: "Tam Birch"}, "UTC")
			assert.NotContains(t, line, "“", "%s has no sentence", found[1])
			assert.Contains(t, line, ": Tam Birch ", found[1])
		}
		return err
	}))
	assert.Greater(t, verbs, 60)
}

func TestHistorySaysWhoDidWhat(t *testing.T) {
	p := words.New("en", act.Imperial)
	at := time.Date(2026, 3, 14, 15, 9, 0, 0, time.UTC)
	for _, row := range []struct{ verb, person, want string }{
		{"take order", "owner", "the owner took the order."},
		{"cancel order", "Rosalind Pike", "Rosalind Pike cancelled the order."},
		{"add entry", "", "the buyer, by the link, wrote into the record of wood bought."},
		{"clear file", "", "the program cleared what was erased out of the file."},
		{"prune", "Tam", "Tam did “prune”."}, // of a newer version
		{journal.Tables, "", "the journal goes back to here."},
	} {
		line := p.JournalLine(journal.Line{At: at, Verb: row.verb, Person: row.person}, "America/New_York")
		assert.Equal(t, "14 March 2026, 11:09 EDT: "+row.want, line)
	}
}
