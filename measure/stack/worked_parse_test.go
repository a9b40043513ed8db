package stack

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The worked examples as documents come to the same results as their readings.
func TestWorkedExamplesAsDocuments(t *testing.T) {
	for file, want := range map[string]Tally{
		"example-short.json":       nearestTally(),
		"example-not-settled.json": notSettledTally(),
	} {
		doc, err := os.ReadFile(filepath.Join("..", "..", "testdata", file))
		require.NoError(t, err)
		tally, err := ParseTally(doc)
		require.NoError(t, err, file)
		assert.Equal(t, want, tally, file)
		assert.Equal(t, measured(t, want), measured(t, tally), file)
	}
}

// The same readings in feet and inches, in metres and in centimetres come to the
// same result to the nanolitre.
func TestTalliesInFeetAndMetresAgree(t *testing.T) {
	doc := func(quantity, tape, raised, piece, length, high, low, over string) []byte {
		return []byte(strings.NewReplacer("QUANTITY", quantity, "TAPE", tape, "RAISED", raised, "PIECE", piece,
			"LENGTH", length, "HIGH", high, "LOW", low, "OVER", over).Replace(`{"format": 1, "sold": "QUANTITY", "apart": "none",
			"tape": "TAPE", "raised": "RAISED", "stack": {"kind": "rows", "nominal": "PIECE",
			"rows": [{"length": "LENGTH", "heights": ["HIGH", "LOW", "HIGH", "HIGH"], "ends": [{"kind": "tapered", "over": "OVER"}]}]}}`))
	}
	var results []Result
	for _, d := range [][]byte{
		doc("64 cu ft", "1/4 in", "4 in", "16 in", "8 ft 3 1/2 in", "4 ft", "46 1/4 in", "1 ft"),
		doc("64 cu ft", "0.635 cm", "10.16 cm", "40.64 cm", "252.73 cm", "121.92 cm", "117.475 cm", "30.48 cm"),
		doc("64 cu ft", "0.00635 m", "0.1016 m", "0.4064 m", "2.5273 m", "1.2192 m", "1.17475 m", "0.3048 m"),
	} {
		tally, err := ParseTally(d)
		require.NoError(t, err)
		results = append(results, measured(t, tally))
	}
	assert.Equal(t, results[0], results[1])
	assert.Equal(t, results[0], results[2])
}
