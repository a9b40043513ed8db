package rules_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
)

// TestSets holds sets to what their law is known for; the law stands in each row.
func TestSets(t *testing.T) {
	tests := []struct {
		code             string
		imperial, metric rules.UnitCode
		asks             bool
		barred           []string
		allowed          string
		require          string // a field that this set asks for
		months           int
	}{
		// NIST Handbook 130 (2016), section 2.4.3 and 2.4.4
		{"us-model", rules.Cord, rules.CubicMetre, false, []string{"1 truckload"}, "1 cord", "identity", 0},
		// Maine Revised Statutes, title 10, section 2302: cord, cubic foot, loose cord; the
		// State's guide for buyers names rack, pile and truckload
		{"maine", rules.Cord, rules.Cord, true, []string{"a rack", "2 piles", "a truckload"}, "a loose cord, a face cord", "identity", 0},
		// Massachusetts General Laws, chapter 94, sections 298 and 299
		{"massachusetts", rules.CubicFoot, rules.CubicMetre, false, []string{"1 cord"}, "64 cubic feet", "purchaser-address", 0},
		// Minnesota Statutes, section 239.092(a); cubic feet since a cord varies by 239.33;
		// by the Department of Commerce's leaflet no term is barred
		{"minnesota", rules.CubicFoot, rules.CubicFoot, true, nil, "a face cord, a rick, a truckload", "measurer-name", 0},
		// New Jersey Administrative Code 13:47C-3.1 (2019)
		{"new-jersey", rules.Cord, rules.CubicMetre, false, []string{"a pile"}, "1 cord", "number", 6},
		// California Code of Regulations, title 4, as county offices restate it
		{"california", rules.Cord, rules.Cord, false, []string{"a face cord"}, "1 cord", "price", 0},
		// Florida Administrative Code 5J-22.003 (NIST Handbook 130, 2023); Florida Statutes 531.46
		{"florida", rules.Cord, rules.CubicMetre, false, []string{"2 piles"}, "1 cord", "package-count", 0},
		// Utah Administrative Code R70-910-4 (NIST Handbook 130, 2024)
		{"utah", rules.Cord, rules.CubicMetre, false, []string{"a truckload"}, "1 cord", "identity", 0},
		// Measurement Canada, selling firewood; Lucknow Sentinel, 15 December 1993
		{"canada", rules.Cord, rules.CubicMetre, false, []string{"a short cord", "a single cord", "a bush cord"}, "1 cord", "quantity", 0},
		// ISO 17225-5, voluntary and from memory: nothing is barred
		{"europe", rules.CubicMetre, rules.CubicMetre, true, nil, "3.6 m³ stacked, a rick", "piece-length", 0},
	}
	for _, tt := range tests {
		s := built(t, tt.code)
		assert.Equal(t, tt.imperial, s.SoldIn(false), tt.code)
		assert.Equal(t, tt.metric, s.SoldIn(true), tt.code)
		assert.Equal(t, tt.asks, s.AsksBasis(), tt.code)
		for _, barred := range tt.barred {
			assert.NotEmpty(t, s.BarredIn(barred), "%s: %s", tt.code, barred)
		}
		assert.Empty(t, s.BarredIn(tt.allowed), tt.code)
		assert.True(t, s.Requires(tt.require), tt.code)
		if tt.months > 0 {
			require.NotNil(t, s.Retention, tt.code)
			assert.Equal(t, tt.months, s.Retention.Months, tt.code)
		}
	}
}

// Every set stands by itself, says what it does not hold, and never calls read what
// somebody else restates.
func TestEverySetSaysHowFarItGoes(t *testing.T) {
	restated := regexp.MustCompile(`(?i)restat|repeat|quot|newspaper|forum|memory|common practice`)
	for _, s := range book(t).All() {
		assert.Empty(t, s.Extends, s.Code)
		assert.NotEmpty(t, s.Gaps, s.Code)
		for _, k := range knownIn(t, s) {
			if k.Status == rules.Read {
				assert.NotRegexp(t, restated, k.Source, s.Code)
			}
		}
	}
}

// knownIn are the sources of a set and of everything in it.
func knownIn(t *testing.T, s rules.Set) (list []rules.Known) {
	t.Helper()
	b, err := json.Marshal(s)
	require.NoError(t, err)
	var doc any
	require.NoError(t, json.Unmarshal(b, &doc))
	var walk func(any)
	walk = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if source, ok := v["source"].(string); ok {
				list = append(list, rules.Known{Source: source, Status: rules.Status(v["status"].(string))})
			}
			for _, inner := range v {
				walk(inner)
			}
		case []any:
			for _, inner := range v {
				walk(inner)
			}
		}
	}
	walk(doc)
	return list
}

// Weights and Measures Regulations (Canada), C.R.C. c. 1605, Schedule II, parts VIII and
// IX: 3 % under 1 unit, 0.03 of it to 2, and 1.5 % above, in cubic metres or cubic yards.
func TestCanadasToleranceGoesInSteps(t *testing.T) {
	canada := built(t, "canada")
	for _, tt := range []struct {
		due     measure.Volume
		unit    rules.UnitCode
		allowed float64 // cubic feet
	}{
		// worked out by hand: 27 cubic feet in a cubic yard
		{measure.Cord / 8, rules.Cord, 0.48},
		{measure.Cord / 4, rules.Cord, 0.81},
		{measure.Cord / 3, rules.Cord, 0.81},
		{measure.Cord / 2, rules.CubicFoot, 0.96},
		{measure.Cord, rules.Cord, 1.92},
		{27*measure.CubicFoot - measure.CubicInch, rules.Cord, 0.03 * (27 - 1.0/1728)},
		{27 * measure.CubicFoot, rules.Cord, 0.81},
		{54 * measure.CubicFoot, rules.Cord, 0.81},
		{54*measure.CubicFoot + measure.CubicInch, rules.Cord, 0.015 * (54 + 1.0/1728)},
		{measure.CubicMetre / 2, rules.CubicMetre, 0.015 * 35.31467},
		{measure.CubicMetre, rules.CubicMetre, 0.03 * 35.31467},
		{2 * measure.CubicMetre, rules.CubicMetre, 0.03 * 35.31467},
		{4 * measure.CubicMetre, rules.CubicMetre, 0.06 * 35.31467},
	} {
		tally := stack.Tally{Tape: measure.Inch / 8, Apart: stack.Apart{Answered: true},
			Sold: &measure.Said{Quantity: measure.Quantity{Volume: tt.due, Basis: measure.Ranked}},
			Stack: stack.Rows{Rows: []stack.Row{{Length: 4 * measure.Foot, Heights: []measure.Length{4 * measure.Foot}}},
				Pieces: stack.Pieces{Sample: []measure.Length{16 * measure.Inch}}}}
		p := procedure.Of(tally, canada.Reckoning(tt.unit))
		require.NotNil(t, p.Allowed, tt.due)
		assert.InDelta(t, tt.allowed, p.Allowed.In(measure.CubicFoot), 1e-5, tt.due)
	}
}

// The basis that the words of a law name decides what a meter has to show.
func TestMoistureLimitsOfTheDay(t *testing.T) {
	limit := func(s rules.Set, day string) string {
		l := s.MoistureLimit(day)
		return fmt.Sprint(l.Moisture, " ", l.AtMost)
	}
	s, err := rules.Parse([]byte(whole))
	require.NoError(t, err)
	assert.Equal(t, "20 % dry basis true", limit(s, "2025-12-31"), "before it is in force")
	assert.Equal(t, "20 % wet basis false", limit(s, "2026-01-01"))
	// EPA, film on moisture meters: 20 % or less, and a meter reads dry basis
	assert.Equal(t, "20 % dry basis true", limit(model(t), "2026-01-01"))
	assert.Equal(t, "20 % dry basis true", limit(built(t, "california"), "2026-01-01"), "a district's limit is not the state's")
}

// Massachusetts General Laws, chapter 94, section 298: firewood is over 8 inches long.
func TestKindlingIsNoFirewood(t *testing.T) {
	s := built(t, "massachusetts")
	for piece, sold := range map[measure.Length]bool{0: true, 8 * measure.Inch: false, 6 * measure.Inch: false, 9 * measure.Inch: true} {
		assert.Equal(t, sold, s.RefusePieces(piece) == nil, piece)
	}
	assert.ErrorContains(t, s.RefusePieces(8*measure.Inch), "section 298")
	assert.Nil(t, model(t).RefusePieces(measure.Inch))
}

// What a rule set in the form of before there were kinds of terms, conditions and steps
// says still holds.
func TestAFileInTheOldFormIsRead(t *testing.T) {
	old, err := os.ReadFile("testdata/old-form.json")
	require.NoError(t, err)
	b, err := book(t).With(old)
	require.NoError(t, err)
	s, err := b.Get("old-form")
	require.NoError(t, err)
	assert.Equal(t, []string{"barrow", "heap"}, s.BarredIn("a barrow, a heap"))
	assert.Equal(t, []procedure.ToleranceStep{{Share: 0.02}}, s.Reckoning(rules.Cord).Tolerance)
	assert.Equal(t, "say how dry it is", s.Moisture.Words)
	assert.True(t, s.Required[0].When.Holds(rules.Sale{Witnessed: true}), "always")
	assert.InDelta(t, 0.1, s.ShareLimit(), 1e-12)
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
	for _, code := range []string{"maine", "minnesota", "europe"} {
		assert.True(t, built(t, code).SellsOn(measure.Loose), code)
	}
	for _, code := range []string{"us-model", "massachusetts", "new-jersey", "california", "canada"} {
		assert.False(t, built(t, code).SellsOn(measure.Loose), code)
	}
	for _, s := range book(t).All() {
		assert.Nil(t, s.Refuse(measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, 16*measure.Inch), s.Code)
		fault := s.Refuse(loose, 16*measure.Inch)
		if s.SellsOn(measure.Loose) {
			assert.Nil(t, fault, s.Code)
			continue
		}
		require.NotNil(t, fault, s.Code)
		assert.Equal(t, "basis-not-sold", fault.Code)
		assert.Contains(t, fault.Reason.String(), s.Units[0].Source, "which rule")
		assert.Contains(t, fault.Reason.String(), string(s.Units[0].Status), "and how it is known")
		// stack.ThrownShare of 16 in pieces, 0.60 to 0.72: common practice, no source
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

	// a term of the base may be of another kind here
	freed, err := before.With([]byte(strings.Replace(own, `"required":`, `"undefined": [{"name": "pile", "source": "town office", "status": "read"}], "required":`, 1)))
	require.NoError(t, err)
	s, err = freed.Get("valley")
	require.NoError(t, err)
	assert.Empty(t, s.BarredIn("a pile"))

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
	}
	assert.NotEmpty(t, built(t, "massachusetts").Barred, "the set itself is as it was")
	assert.Less(t, len(built(t, "massachusetts").Unbarred().Notices), len(built(t, "massachusetts").Notices), "one speaks of what was once sold")
}

// A tally against cubic feet that may stand stacked or loose asks which, at the field of
// what was sold, and is not read at all; with the word it is.
func TestATallyAsksHowWhatWasSoldStands(t *testing.T) {
	doc := func(sold string) []byte {
		return []byte(`{"format": 2, "sold": "` + sold + `", "stack": {"kind": "rows", "pieces": ["16 in"], "rows": [{"length": "8 ft", "heights": ["4 ft"]}]}}`)
	}
	maine := built(t, "maine")
	tally, err := maine.ParseTally(doc("120 cubic feet"))
	var fault *measure.InputError
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, []string{"sold", "basis-unsaid"}, []string{fault.Field, fault.Code})
	assert.Zero(t, tally, "nothing is measured against a guess")
	tally, err = maine.ParseTally(doc("120 cubic feet stacked"))
	require.NoError(t, err)
	assert.Equal(t, measure.Quantity{Volume: 120 * measure.CubicFoot, Basis: measure.Ranked}, tally.Sold.Quantity)
	_, err = built(t, "us-model").ParseTally(doc("120 cubic feet"))
	assert.NoError(t, err, "there only one of the two is sold by the foot")
	_, err = maine.ParseTally([]byte(`{"format": 2}`))
	assert.Error(t, err)
	_, err = maine.ParseTally([]byte(`{"format": 2, "sold": "1 cord stacked"}`))
	assert.ErrorContains(t, err, "how the wood is piled is missing")
}

// What each unit holds: NIST SP 811, Appendix B.8; a litre is a cubic decimetre.
func TestUnitsHold(t *testing.T) {
	for unit, litres := range map[rules.UnitCode]float64{
		rules.Cord: 3624.556363776, rules.CubicFoot: 28.316846592, rules.CubicInch: 0.016387064, rules.CubicMetre: 1000, rules.Litre: 1, rules.CubicDecimetre: 1, rules.LooseCord: 0,
	} {
		assert.InDelta(t, litres, unit.Volume().In(measure.Litre), 1e-9, unit)
	}
}

// A package is labelled in the unit that its rules name for one, and else in what the
// reader buys by.
func TestPackageUnit(t *testing.T) {
	set := func(units ...rules.UnitCode) (s rules.Set) {
		for _, u := range units {
			s.Units = append(s.Units, rules.Unit{Unit: u, Basis: measure.Ranked})
		}
		return s
	}
	for _, row := range []struct {
		set              rules.Set
		imperial, metric rules.UnitCode
	}{
		{set(rules.Cord, rules.CubicFoot, rules.Litre), rules.CubicFoot, rules.Litre},
		{set(rules.Cord, rules.CubicFoot), rules.CubicFoot, rules.CubicFoot},
		{set(rules.Cord), rules.CubicFoot, rules.CubicFoot},
		{set(rules.CubicMetre), rules.CubicDecimetre, rules.CubicDecimetre},
		{set(rules.CubicMetre, rules.CubicDecimetre, rules.CubicFoot), rules.CubicDecimetre, rules.CubicDecimetre},
		{set(rules.Cord, rules.CubicMetre), rules.CubicFoot, rules.CubicDecimetre},
	} {
		assert.Equal(t, row.imperial, row.set.PackageUnit(false), "%v", row.set.Units)
		assert.Equal(t, row.metric, row.set.PackageUnit(true), "%v", row.set.Units)
	}
}

// A field is asked for where all of its condition is met.
func TestConditionsHold(t *testing.T) {
	dear := rules.Sale{Over: func(whole int64) bool { return whole <= 20 }, Volume: measure.Cord}
	cheap := rules.Sale{Over: func(int64) bool { return false }, Volume: measure.Cord / 8}
	seen := dear
	seen.Witnessed = true
	half := &rules.Amount{Volume: measure.Cord / 2}
	for name, c := range map[string]struct {
		when              *rules.Condition
		dear, cheap, seen bool
	}{
		"always":             {nil, true, true, true},
		"above 20":           {&rules.Condition{Over: 20}, true, false, true},
		"below half a cord":  {&rules.Condition{Under: half}, false, true, false},
		"not seen":           {&rules.Condition{Unwitnessed: true}, true, true, false},
		"above and not seen": {&rules.Condition{Over: 20, Unwitnessed: true}, true, false, false},
		"above and below":    {&rules.Condition{Over: 20, Under: half}, false, false, false},
	} {
		assert.Equal(t, []bool{c.dear, c.cheap, c.seen}, []bool{c.when.Holds(dear), c.when.Holds(cheap), c.when.Holds(seen)}, name)
	}
	exactly := dear
	exactly.Volume = half.Volume
	assert.False(t, (&rules.Condition{Under: half}).Holds(exactly), "half a cord is not under half a cord")
}

// A nation's rules on moving wood hold in each set that names it, a shop's own as well, once.
func TestANationsRulesOnMovingHoldInItsSets(t *testing.T) {
	b := book(t)
	ended := func(s rules.Set) (n int) {
		for _, m := range s.Moving {
			if m.Source == "85 FR 81085, 15 December 2020" {
				n++
			}
		}
		return n
	}
	for code, want := range map[string]int{"vermont": 1, "florida": 1, "us-model": 1, "canada": 0, "germany": 0} {
		s, err := b.Get(code)
		require.NoError(t, err)
		assert.Equal(t, want, ended(s), code)
	}
	for _, own := range []string{`"extends": "utah"`, `"extends": "utah", "nation": "us"`, `"extends": "europe", "nation": "us"`} {
		s, faults := b.Check([]byte(`{"code": "ours", ` + own + `, "name": "ours", "edition": "1", "date": "2026-01-31", "source": "the town", "status": "read"}`))
		require.Empty(t, faults, own)
		assert.Equal(t, 1, ended(s), own)
	}
	_, faults := b.Check([]byte(`{"code": "ours", "extends": "utah", "nation": "mars", "name": "ours", "edition": "1", "date": "2026-01-31", "source": "the town", "status": "read"}`))
	require.Len(t, faults, 1)
	assert.Contains(t, faults[0].Reason, "mars")
}

// Each way that a load may be sold under rules on moving wood is found by its code.
func TestWaysAreFoundByCode(t *testing.T) {
	ways := 0
	for _, s := range book(t).All() {
		for i, w := range s.Ways() {
			ways++
			found := s.Way(w.Code)
			require.NotNil(t, found, w.Code)
			assert.Equal(t, s.Ways()[i], *found, w.Code)
		}
		assert.Nil(t, s.Way("by rail"), s.Code)
	}
	assert.Positive(t, ways)
}

// Why a quantity is read back names the term where the set speaks of it, and never one
// that it bars.
func TestWhyAQuantityIsReadBack(t *testing.T) {
	s := rules.Set{
		Undefined: []rules.Term{{Name: "rick", Known: rules.Known{Source: "a leaflet", Status: rules.Read}}},
		Defined:   []rules.Term{{Name: "face cord", Known: rules.Known{Source: "a statute", Status: rules.Read}}},
	}
	for term, want := range map[string]string{
		"rick": "a rick has no size in law here (a leaflet; read)", "face cord": "a face cord is defined here (a statute; read) and isn’t a unit to sell by",
		"truckload": "that name isn’t a legal measure of wood",
	} {
		said := measure.Said{Barred: term, Quantity: measure.Quantity{Volume: measure.Cord / 2, Basis: measure.Ranked}}
		why := s.WhyReadBack(said)
		assert.Contains(t, why.String(), want, term)
		assert.Equal(t, said.Quantity, why.Args[len(why.Args)-1], term)
		assert.Equal(t, term != "truckload", s.SpeaksOf(term))
	}
}

// Where all wood is sold in metric units a point before three figures may part thousands,
// and is asked about; where any is sold by the cord it is a decimal point.
func TestAPointThatMayPartThousandsIsAskedAbout(t *testing.T) {
	doc := []byte(`{"format": 2, "sold": "1.500 m³ stacked", "stack": {"kind": "rows", "pieces": ["40 cm"], "rows": [{"length": "8 m", "heights": ["1 m"]}]}}`)
	set := func(units ...rules.UnitCode) (s rules.Set) {
		for _, u := range units {
			s.Units = append(s.Units, rules.Unit{Unit: u, Basis: measure.Ranked})
		}
		return s
	}
	kindling := rules.Set{Units: []rules.Unit{{Unit: rules.CubicMetre, Basis: measure.Ranked}, {Unit: rules.CubicFoot, Basis: measure.Ranked, Only: "kindling"}}}
	for name, c := range map[string]struct {
		set  rules.Set
		asks bool
	}{
		"metres": {set(rules.CubicMetre), true}, "litres": {set(rules.Litre), true}, "metres and by weight": {set(rules.CubicMetre, rules.Weight), true},
		"metres, and feet for kindling alone": {kindling, true}, "metres and cords": {set(rules.CubicMetre, rules.Cord), false}, "by weight alone": {set(rules.Weight), false}, "nothing": {set(), false},
	} {
		_, err := c.set.ParseTally(doc)
		if c.asks {
			assert.ErrorContains(t, err, "1.500 may be 1500 or 1.500", name)
		} else {
			assert.NoError(t, err, name)
		}
	}
}

// Nothing printed outside a set's own list holds a term that it bars, its sources
// neither.
func TestUnbarredLeavesOutWhatHoldsATerm(t *testing.T) {
	known := func(source string) rules.Known { return rules.Known{Source: source, Status: rules.Read} }
	s := rules.Set{
		Barred:    []rules.Term{{Name: "heap"}},
		Reading:   &rules.Reading{Known: known("the heap act")},
		Retention: &rules.Retention{Months: 6, Known: known("the heap act")},
	}
	u := s.Unbarred()
	assert.Nil(t, u.Reading)
	assert.Nil(t, u.Retention)
	s.Reading.Source, s.Retention.Source = "the wood act", "the wood act"
	u = s.Unbarred()
	assert.Equal(t, s.Reading, u.Reading)
	assert.Equal(t, s.Retention, u.Retention)
}
