package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var (
	quoted   = regexp.MustCompile("`[^`]+`")
	blank    = regexp.MustCompile("<[a-z]+>")
	testName = regexp.MustCompile(`^Test[A-Z][A-Za-z0-9]*$`)
	// filePath is a path inside the project, with a folder or the ending of a source file.
	filePath = regexp.MustCompile(`^[a-z.][A-Za-z0-9_.*-]*(/[A-Za-z0-9_.*-]+)+$|^[a-z][a-z0-9_*]*\.(go|csv)$`)
)

// TestDevelopersNamesWhatThereIs reads DEVELOPERS.md, as whoever makes a change does: the
// files and tests it sends them to are there, and each row of the map of changes has a
// test.
func TestDevelopersNamesWhatThereIs(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	tests := testsThereAre(t)
	for _, q := range quoted.FindAllString(string(text), -1) {
		name := strings.Trim(q, "`")
		switch pattern := blank.ReplaceAllString(name, "*"); {
		case testName.MatchString(name):
			assert.Contains(t, tests, name, "a test that DEVELOPERS.md names")
		case filePath.MatchString(pattern):
			found, err := filepath.Glob(filepath.Join(root, pattern))
			require.NoError(t, err, name)
			assert.NotEmpty(t, found, "DEVELOPERS.md names %s", name)
		}
	}
	rows := changeMap(t, string(text))
	assert.Greater(t, len(rows), 20)
	for _, row := range rows {
		cells := strings.Split(strings.Trim(row, "|"), "|")
		require.Len(t, cells, 4, row)
		for _, q := range quoted.FindAllString(cells[3], -1) {
			assert.Regexp(t, testName, strings.Trim(q, "`"), row)
		}
		assert.Contains(t, cells[3], "`Test", "a change that no test holds: %s", row)
		assert.Contains(t, cells[1], "`", "a change that lands nowhere: %s", row)
	}
}

// changeMap is the rows of the table under “Where a change lands”.
func changeMap(t *testing.T, text string) []string {
	t.Helper()
	_, part, found := strings.Cut(text, "\n## Where a change lands\n")
	require.True(t, found)
	part, _, _ = strings.Cut(part, "\n## ")
	var rows []string
	for line := range strings.Lines(part) {
		if strings.HasPrefix(line, "| ") && !strings.HasPrefix(line, "| ---") {
			rows = append(rows, strings.TrimSpace(line))
		}
	}
	require.NotEmpty(t, rows)
	return rows[1:] // less the heading
}

// testsThereAre are the names of all tests of the project.
func testsThereAre(t *testing.T) map[string]bool {
	t.Helper()
	declared := regexp.MustCompile(`(?m)^func (Test[A-Za-z0-9]+)\(`)
	tests := map[string]bool{}
	require.NoError(t, filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		for _, m := range declared.FindAllSubmatch(source, -1) {
			tests[string(m[1])] = true
		}
		return err
	}))
	return tests
}
