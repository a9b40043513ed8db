package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

func TestRulesVerb(t *testing.T) {
	list := program(t, "", "rules")
	require.Equal(t, exitDone, list.code, list.err)
	for _, code := range []string{"california", "canada", "europe", "maine", "massachusetts", "minnesota", "new-jersey", "us-model"} {
		assert.Contains(t, list.out, code+" ")
		one := program(t, "", "rules", code)
		require.Equal(t, exitDone, one.code, one.err)
		assert.Contains(t, one.out, "A reading of the law, not legal advice.", code)
		assert.Contains(t, one.out, "Wood is sold by", code)
		data := program(t, "", "rules", code, "--json")
		require.Equal(t, exitDone, data.code, data.err)
		set, err := rules.Parse([]byte(data.out))
		require.NoError(t, err, "what is printed is a file of one's own: "+code)
		assert.Equal(t, code, set.Code)
	}
	none := program(t, "", "rules", "atlantis")
	assert.Equal(t, exitRefused, none.code)
	assert.Contains(t, none.err, "accepted: california")
}

func TestARuleFileOfTheShopsOwn(t *testing.T) {
	file := filepath.Join(t.TempDir(), "valley.json")
	require.NoError(t, os.WriteFile(file, []byte(`{
 "code": "valley", "name": "The valley's ordinance", "edition": "2", "date": "2026-02-01",
 "extends": "us-model", "source": "town office", "status": "read",
 "barred": [{"name": "barrow", "source": "town office", "status": "read"}]
}`), 0o600))
	one := program(t, "", "rules", "valley", "--rules", file)
	require.Equal(t, exitDone, one.code, one.err)
	assert.Contains(t, one.out, "barrow")
	assert.Contains(t, one.out, "truckload", "with all of the set it extends")
	byEnv := programWith(t, map[string]string{"WELLSTOWED_RULES": file}, "", "rules")
	assert.Contains(t, byEnv.out, "valley")

	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), `"status": "read"}]`, `"status": "hearsay"}]`, 1)), 0o600))
	for _, args := range [][]string{{"rules", "--rules", file}, {"serve", "--demo", "--rules", file, "--listen", "127.0.0.1:0"}} {
		bad := program(t, "", args...)
		assert.Equal(t, exitRefused, bad.code, args)
		assert.Contains(t, bad.err, "valley.json: line 4: barred[0].status:", args)
		assert.Contains(t, bad.err, "hearsay", args)
	}
	assert.Equal(t, exitRefused, program(t, "", "rules", "--rules", file+".none").code)
}

func TestMeasureUnderRules(t *testing.T) {
	r := program(t, "", "measure", exampleShort, "--under", "massachusetts")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Measured    123.2 ft³ stacked")
	assert.Equal(t, exitRefused, program(t, "", "measure", exampleShort, "--under", "atlantis").code)
}
