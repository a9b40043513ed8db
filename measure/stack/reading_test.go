package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestWithUnit(t *testing.T) {
	for text, want := range map[string]Reading{
		"48": "48 in", "48 1/2": "48 1/2 in", "½": "½ in", " 48": " 48 in",
		"48 in": "48 in", "4 ft": "4 ft", "": "", "-4": "-4", "1,234": "1,234", "banana": "banana", "8' 3": "8' 3",
	} {
		assert.Equal(t, want, WithUnit(text, "in"), text)
	}
}
