package rules_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// TestSets holds each set to what its law is known for; the law stands in each row.
func TestSets(t *testing.T) {
	tests := []struct {
		code             string
		imperial, metric rules.UnitCode
		asks             bool
		barred, allowed  string
		require          string // a field that this set asks for
		months           int
	}{
		// NIST Handbook 130 (2016), section 2.4.3 and 2.4.4
		{"us-model", rules.Cord, rules.CubicMetre, false, "1 truckload", "1 cord", "identity", 0},
		// Maine Revised Statutes, title 10, section 2302: cord, cubic foot, loose cord
		{"maine", rules.Cord, rules.Cord, true, "a face cord", "a loose cord", "seasoning", 0},
		// Massachusetts General Laws, chapter 94, sections 298 and 299
		{"massachusetts", rules.CubicFoot, rules.CubicMetre, false, "1 cord", "64 cubic feet", "purchaser-address", 0},
		// Minnesota Statutes, section 239.092(a)
		{"minnesota", rules.Cord, rules.Cord, false, "a face cord", "1 cord", "origin", 0},
		// New Jersey Administrative Code 13:47C-3.1 (2019)
		{"new-jersey", rules.Cord, rules.CubicMetre, false, "a pile", "1 cord", "number", 6},
		// California Code of Regulations, title 4, as county offices restate it
		{"california", rules.Cord, rules.Cord, false, "a face cord", "1 cord", "price", 0},
		// Measurement Canada, selling firewood
		{"canada", rules.Cord, rules.CubicMetre, false, "a short cord", "1 cord", "vendor-name", 0},
		// EN ISO 17225-5, from memory
		{"europe", rules.CubicMetre, rules.CubicMetre, true, "a rick", "3.6 m³ stacked", "piece-length", 0},
	}
	require.Len(t, book(t).All(), len(tests), "every set is here")
	for _, tt := range tests {
		s := built(t, tt.code)
		assert.Equal(t, tt.imperial, s.SoldIn(false), tt.code)
		assert.Equal(t, tt.metric, s.SoldIn(true), tt.code)
		assert.Equal(t, tt.asks, s.AsksBasis(), tt.code)
		assert.NotEmpty(t, s.BarredIn(tt.barred), tt.code)
		assert.Empty(t, s.BarredIn(tt.allowed), tt.code)
		var codes []string
		for _, f := range s.Required {
			codes = append(codes, f.Code)
		}
		assert.Contains(t, codes, tt.require, tt.code)
		if tt.months > 0 {
			require.NotNil(t, s.Retention, tt.code)
			assert.Equal(t, tt.months, s.Retention.Months, tt.code)
		}
		assert.Empty(t, s.Extends, tt.code+" stands by itself")
	}
}

func TestLooseCordOf(t *testing.T) {
	tests := []struct {
		code  string
		piece measure.Length
		feet  measure.Volume
		says  string
	}{
		// Maine Forest Service, January 2017
		{"maine", 12 * measure.Inch, 180, ""},
		{"maine", 16 * measure.Inch, 180, ""},
		{"maine", 24 * measure.Inch, 195, ""},
		{"maine", 14 * measure.Inch, 0, "for pieces of 1 ft, 16 in, 2 ft alone"},
		{"maine", 20 * measure.Inch, 0, "and these are 20 in"},
		// Minnesota Statutes, section 239.33
		{"minnesota", 16 * measure.Inch, 0, "sawed wood, and as"},
		{"us-model", 16 * measure.Inch, 0, "define no loose measure"},
	}
	for _, tt := range tests {
		v, reason := built(t, tt.code).LooseCordOf(tt.piece)
		assert.Equal(t, tt.feet*measure.CubicFoot, v, "%s %s", tt.code, tt.piece)
		assert.Contains(t, reason.String(), tt.says, "%s %s", tt.code, tt.piece)
	}
}

func TestSpellAndRound(t *testing.T) {
	third := measure.Quantity{Volume: 2 * measure.Cord / 3, Basis: measure.Ranked}
	for _, tt := range []struct {
		code   string
		metric bool
		want   string
	}{
		{"us-model", false, "2/3 cord"},
		{"massachusetts", false, "85.3 cu ft stacked"},
		{"massachusetts", true, "2.42 m³ stacked"},
		{"europe", false, "2.42 m³ stacked"},
	} {
		s := built(t, tt.code)
		text := s.Spell(s.Round(third, tt.metric), tt.metric)
		assert.Equal(t, tt.want, text, tt.code)
		said, err := measure.ParseQuantity(text)
		require.NoError(t, err)
		assert.Equal(t, s.Round(third, tt.metric), said.Quantity, tt.code)
	}
}

// own is a shop's file that adds to the model law.
const own = `{
 "code": "valley", "name": "The valley's ordinance", "edition": "2", "date": "2026-02-01",
 "extends": "us-model",
 "source": "town office", "status": "read",
 "barred": [{"name": "heap", "source": "town office", "status": "read"}],
 "required": [{"code": "seasoning", "name": "green or dry", "source": "town office", "status": "read"}]
}`

func TestAFileOfTheShopsOwn(t *testing.T) {
	before := book(t)
	after, err := before.With([]byte(own))
	require.NoError(t, err)
	s, err := after.Get("valley")
	require.NoError(t, err)
	assert.Equal(t, []string{"pile", "heap"}, s.BarredIn("a heap, a pile"))
	assert.Equal(t, rules.Cord, s.SoldIn(false), "the model law's units")
	assert.Len(t, s.Required, 10)
	assert.Len(t, after.All(), len(before.All())+1)
	_, err = before.Get("valley")
	assert.Error(t, err, "a book is never changed")

	replaced, err := before.With([]byte(whole))
	require.NoError(t, err)
	replaced, err = replaced.With([]byte(whole))
	require.NoError(t, err)
	assert.Len(t, replaced.All(), len(before.All())+1, "its own code is replaced")
}

func TestABadFileOfTheShopsOwn(t *testing.T) {
	for text, want := range map[string]string{
		`{"code": "x",` + "\n" + `"extends": "atlantis", "name": "X", "edition": "1", "date": "2026-01-01", "source": "s", "status": "read"}`: "line 2: extends: read “atlantis”",
		"{\n\"code\": \"x\"\n}": "line 1: name: is missing",
		"nonsense":              "line 1:",
	} {
		_, err := book(t).With([]byte(text))
		assert.ErrorContains(t, err, want)
	}
}

// What is printed of a set outside its own list holds none of the terms it bars, and
// loses little else.
func TestUnbarred(t *testing.T) {
	for _, s := range book(t).All() {
		u := s.Unbarred()
		b, err := json.Marshal(u)
		require.NoError(t, err)
		assert.Empty(t, u.Barred, s.Code)
		for _, text := range []string{u.Name, string(b)} {
			assert.Empty(t, s.BarredIn(text), s.Code)
		}
		assert.Len(t, u.Units, len(s.Units), s.Code)
		assert.Len(t, u.Required, len(s.Required), s.Code)
		assert.NotEmpty(t, s.Barred, "the set itself is as it was")
	}
	assert.Less(t, len(built(t, "massachusetts").Unbarred().Notices), len(built(t, "massachusetts").Notices), "one speaks of what was once sold")
}
