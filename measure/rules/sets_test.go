package rules_test

import (
	"encoding/json"
	"fmt"
	"strings"
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
		// Minnesota Statutes, section 239.092(a); cubic feet since a cord varies by 239.33
		{"minnesota", rules.CubicFoot, rules.CubicFoot, false, "a face cord", "1 cord", "origin", 0},
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

func TestCordOf(t *testing.T) {
	const in = measure.Inch
	tests := []struct {
		code  string
		basis measure.Basis
		piece measure.Length
		how   measure.Preparation
		feet  measure.Volume
		fault string
		says  string
	}{
		// Maine Forest Service, January 2017
		{"maine", measure.Loose, 12 * in, "", 180, "", ""},
		{"maine", measure.Loose, 16 * in, measure.SawedAndSplit, 180, "", ""},
		{"maine", measure.Loose, 24 * in, "", 195, "", ""},
		{"maine", measure.Loose, 14 * in, "", 0, "needs-rule-set", "for pieces of 1 ft, 16 in, 2 ft alone"},
		{"maine", measure.Loose, 20 * in, "", 0, "needs-rule-set", "and these are 20 in"},
		{"maine", measure.Loose, 0, "", 0, "needs-piece-length", "how long the pieces are"},
		{"maine", measure.Ranked, 16 * in, "", 128, "", ""},
		// Minnesota Statutes, section 239.33: 128 in 4 foot lengths, sawed 110 ranked
		// and 160 loose, sawed and split 120 ranked and 175 loose
		{"minnesota", measure.Ranked, 48 * in, "", 128, "", ""},
		{"minnesota", measure.Ranked, 16 * in, measure.Sawed, 110, "", ""},
		{"minnesota", measure.Ranked, 16 * in, measure.SawedAndSplit, 120, "", ""},
		{"minnesota", measure.Ranked, 0, measure.SawedAndSplit, 120, "", ""},
		{"minnesota", measure.Loose, 16 * in, measure.Sawed, 160, "", ""},
		{"minnesota", measure.Loose, 16 * in, measure.SawedAndSplit, 175, "", ""},
		{"minnesota", measure.Ranked, 16 * in, "", 0, "preparation-unsaid", "how is the wood prepared?"},
		{"minnesota", measure.Loose, 16 * in, "", 0, "preparation-unsaid", "Minnesota Statutes, section 239.33"},
		{"minnesota", measure.Ranked, 0, "", 0, "preparation-unsaid", "wood in 4 foot lengths"},
		{"minnesota", measure.Ranked, 16 * in, measure.Unsawed, 0, "needs-rule-set", "of no other wood in pieces of that length"},
		{"minnesota", measure.Ranked, 50 * in, "", 0, "needs-rule-set", "and these are 50 in"},
		{"us-model", measure.Loose, 16 * in, "", 0, "needs-rule-set", "define no loose measure"},
		{"us-model", measure.Ranked, 16 * in, measure.Sawed, 128, "", ""},
	}
	for _, tt := range tests {
		name := fmt.Sprint(tt.code, tt.basis, tt.piece, tt.how)
		m, fault := built(t, tt.code).CordOf(tt.basis, tt.piece, tt.how)
		assert.Equal(t, tt.feet*measure.CubicFoot, m.Volume.Volume, name)
		if tt.fault == "" {
			assert.Nil(t, fault, name)
			continue
		}
		require.NotNil(t, fault, name)
		assert.Equal(t, tt.fault, fault.Code, name)
		assert.Contains(t, fault.Reason.String(), tt.says, name)
	}
}

// Which sets let wood be sold loose, and which ask whether a volume is of stacked or
// of loose wood; the law of each stands in TestSets.
func TestLooseWoodIsRefusedWhereOnlyStackedIsSold(t *testing.T) {
	loose := measure.Quantity{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}
	sold := map[string]bool{"maine": true, "minnesota": true, "europe": true}
	for _, s := range book(t).All() {
		assert.Nil(t, s.Refuse(measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, 16*measure.Inch), s.Code)
		fault := s.Refuse(loose, 16*measure.Inch)
		if sold[s.Code] {
			assert.Nil(t, fault, s.Code)
			continue
		}
		require.NotNil(t, fault, s.Code)
		assert.Equal(t, "basis-not-sold", fault.Code)
		assert.Contains(t, fault.Reason.String(), s.Units[0].Source, "which rule")
		assert.Contains(t, fault.Reason.String(), string(s.Units[0].Status), "and how it is known")
		// measure.ThrownShare of 16 in pieces, 0.60 to 0.72: common practice, no source
		assert.Contains(t, fault.Accepts.String(), "108 cu ft to 130 cu ft once stacked", s.Code)
		assert.Contains(t, fault.Accepts.String(), "to plan with and not to sell by")
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

	// the model law itself amended: the same code, and all of it besides
	amended, err := before.With([]byte(strings.Replace(own, `"valley"`, `"us-model"`, 1)))
	require.NoError(t, err)
	assert.Len(t, amended.All(), len(before.All()))
	s, err = amended.Get("us-model")
	require.NoError(t, err)
	assert.Equal(t, []string{"pile", "heap"}, s.BarredIn("a heap, a pile"))

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
		// it holds together only with what it extends
		`{"code": "x", "extends": "us-model", "name": "X", "edition": "1", "date": "2026-01-01", "source": "s", "status": "read",` + "\n" +
			`"loose": [{"name": "loose cord", "piece_from": "16 in", "piece_to": "16 in", "volume": "180 cu ft", "source": "s", "status": "read"}]}`: "line 2: loose: there is a loose measure, and no unit of sale",
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
