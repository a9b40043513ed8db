package words_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

func under(t *testing.T, code string, units act.Units) *words.Printer {
	t.Helper()
	return words.New("en", units).Under(setOf(t, code))
}

func setOf(t *testing.T, code string) rules.Set {
	t.Helper()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get(code)
	require.NoError(t, err)
	return set
}

func TestQuantitiesInTheUnitsOfTheRules(t *testing.T) {
	cord := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	loose := measure.Quantity{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}
	for _, tt := range []struct {
		code          string
		units         act.Units
		ranked, loose string
	}{
		{"us-model", act.Imperial, "1 cord (128 ft³)", "180 ft³ loose"},
		{"us-model", act.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"maine", act.Imperial, "1 cord (128 ft³)", "180 ft³ loose"},
		{"maine", act.Metric, "1 cord (128 ft³)", "180 ft³ loose"},
		{"massachusetts", act.Imperial, "128 ft³ stacked", "180 ft³ loose"},
		{"massachusetts", act.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"canada", act.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"europe", act.Imperial, "3.62 m³ stacked", "5.1 m³ loose"},
	} {
		p := under(t, tt.code, tt.units)
		assert.Equal(t, tt.ranked, p.Quantity(cord), "%s %s", tt.code, tt.units)
		assert.Equal(t, tt.loose, p.Quantity(loose), "%s %s", tt.code, tt.units)
	}
}

func TestFaultsRepeatNoBarredTerm(t *testing.T) {
	_, err := measure.ParseQuantity("1 hundred cords")
	var fault *measure.InputError
	require.ErrorAs(t, err, &fault)
	p := under(t, "massachusetts", act.Imperial)
	said := p.Sentence(fault)
	assert.Empty(t, setOf(t, "massachusetts").BarredIn(said), said)
	assert.Contains(t, said, "64 cu ft")
	assert.Empty(t, p.InputError(fault).Read)
	assert.Contains(t, under(t, "us-model", act.Imperial).Sentence(fault), "1 hundred cords", "elsewhere it is repeated")
}

func TestChaptersSayEveryRuleWithItsSource(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		n := 0
		for _, c := range words.New("en", act.Imperial).Chapters(set) {
			for _, r := range c.Rules {
				n++
				assert.NotEmpty(t, r.Words, set.Code)
				assert.Regexp(t, "^(read|second-hand|from memory): .", r.Source, set.Code)
				assert.NotContains(t, r.Words, "%!", set.Code)
			}
		}
		want := len(set.Units) + len(set.Barred) + len(set.Undefined) + len(set.Defined) + len(set.Required) + len(set.Ranked) + len(set.Loose) + len(set.Notices) + len(set.Moving) + len(set.Printed)
		for _, there := range []bool{set.Reading != nil, set.Tolerance != nil, set.Shares != nil, set.Tax != nil, set.Moisture != nil, set.Pieces != nil, set.Seasoned != nil, set.Label != nil, set.Retention != nil} {
			if there {
				want++
			}
		}
		if set.Tolerance != nil {
			want += len(set.Tolerance.Scales)
		}
		if set.Lots != nil {
			want += 5 // the plan, and each of its four tables
		}
		if set.Moisture != nil {
			want += len(set.Moisture.Limits)
		}
		assert.Equal(t, want, n, set.Code)
	}
}

// chapters are all rules of a set as they are worded, a line each.
func chapters(t *testing.T, code string) string {
	t.Helper()
	var lines []string
	for _, c := range words.New("en", act.Imperial).Chapters(setOf(t, code)) {
		lines = append(lines, c.Heading)
		for _, r := range c.Rules {
			lines = append(lines, r.Words)
		}
	}
	return strings.Join(lines, "\n")
}

func TestRulesAreWorded(t *testing.T) {
	for code, says := range map[string][]string{
		// Maine Forest Service, January 2017; title 10, sections 2302(1)(B) and 2624
		"maine": {"loose cord of pieces of 24 in: 195 ft³", "Terms the law defines, and does not name for selling by\n“face cord”: 4 feet high and 8 feet long",
			"date of delivery, on sales of more than 20 dollars", "whether the wood is green or dry (advised; no law asks for it)"},
		// Weights and Measures Regulations (Canada), Schedule II, parts VIII and IX
		"canada": {"sold by the stacked cubic metre, cubic decimetre: of less than 1 m³, 3 % of it; of up to 2 m³, 0.03 m³; of more than that, 1.5 % of it",
			"sold by the cord and fractions of a cord, cubic foot: of less than 27 ft³, 3 % of it; of up to 54 ft³, 0.81 ft³; of more than that, 1.5 % of it",
			"quantity delivered, unless the wood is measured in the buyer’s presence at the sale"},
		// Department of Commerce, leaflet; section 239.092(a)(1)
		"minnesota": {"Terms without a size in law, and not barred\n“face cord”: no size in law", "name of the person who measured or weighed the wood, where seller and buyer don’t both see the wood measured"},
		// South Coast and Bay Area, “20 percent by weight”, which names no basis
		"california":    {"at most 20 % dry basis or 20 % wet basis: the text does not say which, so readings are held against the first; for wood sold as seasoned in the Bay Area"},
		"massachusetts": {"bushel of 2,150.42 cubic inches", "A breach of section 298 or 299, the barred words too"},
	} {
		text := chapters(t, code)
		for _, want := range says {
			assert.Contains(t, text, want, code)
		}
	}
}
