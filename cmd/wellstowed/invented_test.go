package main

import (
	"database/sql"
	"maps"
	"net/http"
	"net/http/cookiejar"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/orders/store"
	"wellstowed/receipts/words"
)

// invented is a language of invented words: every letter of a key is another, so that an
// English word on a page or a paper was put there past the catalogue.
const invented = "qaa"

var (
	aVerb = regexp.MustCompile(`%%|%[-+# 0]*(\[\d+\])?[\d.]*[a-zA-Z]`)
	// aCode is a seal, a link's code or a hash, aCommand what is typed to a computer.
	aCode         = regexp.MustCompile(`\b[0-9A-Z]{4}(-[0-9A-Z]{4})+\b|\b[0-9a-f]{8,}(-[0-9a-f]+)*\b|\bwidth=device-width, initial-scale=1\b`)
	aCommand      = regexp.MustCompile(`(wellstowed )?(serve|verify|backup|restore) --[a-z-]+ [A-Za-z0-9:.-]+( --db NEW)?`)
	anEnglishWord = regexp.MustCompile(`\b[A-Za-z]{3,}\b`)
)

func inventedWords(key string) (string, bool) {
	var b strings.Builder
	at := 0
	for _, verb := range aVerb.FindAllStringIndex(key, -1) {
		b.WriteString(strings.Map(inventedLetter, key[at:verb[0]]) + key[verb[0]:verb[1]])
		at = verb[1]
	}
	return b.String() + strings.Map(inventedLetter, key[at:]), true
}

func inventedLetter(r rune) rune {
	switch {
	case 'a' <= r && r <= 'z':
		return 'а' + (r-'a')%32
	case 'A' <= r && r <= 'Z':
		return 'А' + (r-'A')%32
	}
	return r
}

// TestEverySentenceComesFromTheCatalogue runs the demonstration in invented words and
// reads every page and paper: what is English there is a name, what somebody typed, or
// what a rule set or table states. Whatever else is, no language could word.
func TestEverySentenceComesFromTheCatalogue(t *testing.T) {
	words.AddLanguage(invented, inventedWords)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	require.NoError(t, db.Close())
	raw, err := sql.Open("sqlite", path)
	require.NoError(t, err)
	_, err = raw.Exec("UPDATE shop SET language = ?", invented)
	require.NoError(t, err)
	require.NoError(t, raw.Close())
	service, painter := demoShop(t, path, set, "imperial", book)
	jar, err := cookiejar.New(nil)
	require.NoError(t, err)
	c := &crawler{t: t, set: set, base: serveOn(t, path, service, painter), client: &http.Client{Jar: jar}, seen: map[string]bool{}}
	known := knownWords(t)
	english := map[string]string{} // to where it was first read
	c.read = func(name, text string) {
		if strings.HasSuffix(name, "as JSON") { // its keys and codes are names for programs
			return
		}
		text = aCommand.ReplaceAllString(aCode.ReplaceAllString(text, ""), "")
		for _, word := range anEnglishWord.FindAllString(text, -1) {
			if !known[strings.ToLower(word)] && english[word] == "" {
				english[word] = name
			}
		}
	}
	c.visit("/")
	c.buyersLink()
	c.handsPages()
	for _, word := range slices.Sorted(maps.Keys(english)) {
		assert.Fail(t, "English past the catalogue", "%s on %s", word, english[word])
	}
}

// knownWords are those of the demonstration, of rule sets and tables, and names.
func knownWords(t *testing.T) map[string]bool {
	t.Helper()
	known := map[string]bool{}
	files, err := filepath.Glob(root + "/measure/rules/*.json")
	require.NoError(t, err)
	for _, file := range append(files, "demo.json", root+"/measure/wood/species.csv") {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		for _, word := range anEnglishWord.FindAllString(string(text), -1) {
			known[strings.ToLower(word)] = true
		}
	}
	// The rest is the program's name, what languages call themselves (Español is cut at its ñ),
	// zones, who acts, and what demoShop and the crawler type.
	for _, word := range strings.Fields("Wellstowed English Espa UTC GMT EST EDT Nora Feld covered Dunmarrow owner") {
		known[strings.ToLower(word)] = true
	}
	return known
}
