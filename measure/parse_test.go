package measure

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// table reads a CSV of testdata without its heading.
func table(t testing.TB, name string) [][]string {
	t.Helper()
	file, err := os.Open("testdata/" + name)
	require.NoError(t, err)
	defer func() { require.NoError(t, file.Close()) }()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(rows), 120)
	return rows[1:]
}

// termsOf are those of a kind of quantity in the tables: "order" is read back to who
// typed it, "europe" is typed where points part thousands.
func termsOf(kind string) Terms {
	return Terms{ReadBack: kind == "order", Points: kind == "europe"}
}

// parseAs parses text as a kind of value and gives it in nanometres or
// nanolitres.
func parseAs(kind, text string) (int64, Said, error) {
	switch kind {
	case "length":
		l, err := ParseLength(text)
		return int64(l), Said{}, err
	case "volume":
		v, err := ParseVolume(text)
		return int64(v), Said{}, err
	}
	said, err := termsOf(kind).ParseQuantity(text)
	return int64(said.Quantity.Volume), said, err
}

// The wanted values of good.csv were worked out apart from any Go code, with exact
// fractions from the numbers each text means: an inch is 25.4 mm (NIST SP 811,
// Appendix B), a cord 128 cubic feet (NIST Handbook 130, method of sale, 2.4).
func TestParseGoodTable(t *testing.T) {
	for _, row := range table(t, "good.csv") {
		text, kind := row[0], row[1]
		t.Run(kind+" "+text, func(t *testing.T) {
			want, err := strconv.ParseInt(row[2], 10, 64)
			require.NoError(t, err)
			got, said, err := parseAs(kind, text)
			require.NoError(t, err)
			assert.Equal(t, want, got)
			assert.Equal(t, row[3], string(said.Quantity.Basis))
			assert.Equal(t, row[4], said.Barred)
			piece, _ := strconv.ParseInt(row[5], 10, 64)
			assert.Equal(t, piece, int64(said.PieceLength))
			assert.Equal(t, row[6], strings.Join(said.Rest, "; "))
			if kind != "length" && kind != "volume" {
				assert.Equal(t, text, said.Words)
			}
		})
	}
}

func TestParseBadTable(t *testing.T) {
	for _, row := range table(t, "bad.csv") {
		text, kind, code, why := row[0], row[1], row[2], row[3]
		t.Run(kind+" "+why, func(t *testing.T) {
			_, _, err := parseAs(kind, text)
			var fault *InputError
			require.ErrorAs(t, err, &fault, "%q must be refused: %s", text, why)
			assert.Equal(t, code, fault.Code, "%q: %v", text, err)
			assert.Empty(t, fault.Field)
			assert.NotEmpty(t, fault.Reason.Key)
			assert.NotEmpty(t, fault.Accepts.Key)
		})
	}
}
