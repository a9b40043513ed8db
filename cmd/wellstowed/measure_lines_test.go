package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lines are answered in their order and by their number, however long each takes and
// wherever bad and empty ones stand, as if each had been measured by itself.
func TestLinesAreAnsweredInTheirOrder(t *testing.T) {
	row := func(length string) string {
		return `{"format":2,"stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"` + length + `","heights":["4 ft","4 ft","4 ft"]}]}}`
	}
	long := `{"format":2,"stack":{"kind":"rows","nominal":"16 in","rows":[` + strings.Repeat(`{"length":"8 ft","heights":["4 ft","4 ft","4 ft"]},`, 900)
	long = strings.TrimSuffix(long, ",") + `]}}`
	var text strings.Builder
	var want []string
	for n := 1; n <= 1000; n++ {
		line := row(fmt.Sprintf("%d mm", 1000+n))
		switch {
		case n%97 == 0:
			line = ""
		case n%89 == 0:
			line = `{"format":2}`
		case n%250 == 1:
			line = long
		}
		fmt.Fprintln(&text, line)
		if line == "" {
			continue
		}
		alone := program(t, strings.Repeat("\n", n-1)+line, "measure", "-", "--lines")
		want = append(want, strings.TrimSuffix(alone.out, "\n"))
	}
	all := program(t, text.String(), "measure", "-", "--lines")
	assert.Equal(t, exitRefused, all.code)
	require.Equal(t, want, strings.Split(strings.TrimSuffix(all.out, "\n"), "\n"))
}
