package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What is read the short way is what the whole grammar reads, to the nanometre, and
// nothing that it refuses or asks about.
func requireAsTheGrammar(t require.TestingT, text string, bare Length, points bool) (plain bool) {
	l, ok := plainLength(text, bare, points)
	if ok {
		want, fault := readLength(text, bare, points)
		require.Nil(t, fault, "%q", text)
		require.Equal(t, want, l, "%q", text)
	}
	return ok
}

// A plain number is one in any unit, and no length without.
func requirePlainNumber(t require.TestingT, text string) {
	if PlainNumber(text) {
		_, err := ParseLength(text)
		require.Error(t, err, "%q", text)
		_, err = ParseLengthIn(text, Nanometre)
		require.NoError(t, err, "%q", text)
	}
}

func TestPlainLengthsAreReadAsTheGrammarReadsThem(t *testing.T) {
	numbers := []string{"8", "16", "15.5", "0", "11", "12", "1.234", "1.2345", "999999", "1000000", "0.000001", "3.3333333", "1/2", "3/4", "5/4", "4/4", "0/4", "1/0", "1/999", "2 7/3", "11 1/2", "11 12/12",
		"12 1/2", "3 1/2/3", "007", "7-1/2", ".5", "1.", "1,5", "1e5", "0x1", "½", "3 ½", "two"}
	units := []string{"", "ft", "in", "'", "\"", "''", "cm", "mm", "m", "feet", "ft.", "inches", "in long", "km", "ft³", "³", " and", "/"}
	gaps := []string{"", " ", " ", "  ", "-", ", "}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(from []string) string { return rapid.SampledFrom(from).Draw(t, "part") }
		text := draw([]string{"", "", "", " ", "-"})
		for range rapid.IntRange(1, 3).Draw(t, "numbers") {
			text += draw(numbers) + draw(gaps) + draw(units) + draw(gaps[:4])
		}
		requirePlainNumber(t, text)
		bare := rapid.SampledFrom([]Length{0, Inch, Foot, Centimetre, Nanometre}).Draw(t, "bare")
		requireAsTheGrammar(t, text, bare, rapid.Bool().Draw(t, "points"))
	})
}

// What people type most is read the short way, whatever stands in the tally.
func TestCommonLengthsArePlain(t *testing.T) {
	for text, want := range map[string]Length{
		"16 in": 16 * Inch, "99.5 in": 199 * Inch / 2, "15 1/2 in": 31 * Inch / 2, `48"`: 48 * Inch, "8 ft": 8 * Foot, "8'": 8 * Foot,
		"8 ft 6 in": 102 * Inch, `8' 3 1/2"`: 199 * Inch / 2, `7'10"`: 94 * Inch, "2.51 m": 251 * Centimetre, "251 cm": 251 * Centimetre, "400 mm": 40 * Centimetre,
		"1/3 in": 8_466_667, "0.0000000 in": -1, "7 ft 12 in": -1, "1.234 m": 1234 * Millimetre,
	} {
		l, ok := plainLength(text, 0, false)
		assert.Equal(t, want >= 0, ok, text)
		if ok {
			assert.Equal(t, want, l, text)
		}
	}
	assert.True(t, requireAsTheGrammar(t, "1.234 m", 0, false))
	assert.False(t, requireAsTheGrammar(t, "1.234 m", 0, true), "a point may part thousands there")
	for text, is := range map[string]bool{"48": true, "47 1/2": true, "48.5": true, "1/3": true, "48 in": false, "": false, "forty": false, `47"`: false} {
		assert.Equal(t, is, PlainNumber(text), text)
	}
	assert.Zero(t, testing.AllocsPerRun(100, func() { _, _ = ParseLength("15 1/2 in") }))
}

func FuzzPlainLength(f *testing.F) {
	for _, seed := range []string{"8 ft 6 in", `8' 3 1/2"`, "2.51 m", "1/2in", "12 3/4"} {
		f.Add(seed, int64(Inch), true)
	}
	f.Fuzz(func(t *testing.T, text string, bare int64, points bool) {
		requirePlainNumber(t, text)
		requireAsTheGrammar(t, text, Length(max(0, bare)%int64(Metre)), points)
	})
}
