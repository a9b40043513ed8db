package wood

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A comma is one between digits only where a digit stands on either side of it, the first
// and the last letter of the text too.
func TestACommaBetweenDigitsIsFoundWhereverItStands(t *testing.T) {
	for text, at := range map[string]int{"0,0": 1, "9,9": 1, "18,5": 2, ",5": -1, "5,": -1, "a,5": -1, "5,b": -1, "18.5": -1, "a 1,2": 3, "": -1} {
		require.Equal(t, at, commaBetweenDigits(text), text)
	}
}
