package yard

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWoodServesWhatWasOrdered(t *testing.T) {
	for _, row := range []struct {
		ordered, there string
		serves         bool
	}{
		{"", "red oak", true}, {"oak", "Red  Oak", true}, {"red oak", "oak", false}, {"oak", "cloak", false},
		{"beech", "sugar maple and beech", false}, {"sugar maple and beech", "beech", true}, {"Sugar maple and beech", "beech and sugar maple", true},
		{"mixed hardwood", "mixed hardwood", true}, {"hardwood", "mixed hardwood", true}, {"apple", "red oak", false},
		{"red oak; white oak", "white oak", true}, {"oak", "red oak 60 %; white oak 40 %", true}, {"oak", "red oak 60 %; sugar maple 40 %", false},
	} {
		assert.Equal(t, row.serves, Serves(row.ordered, row.there), "%s from %s", row.ordered, row.there)
	}
}
