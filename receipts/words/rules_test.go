package words_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

func under(t *testing.T, code string, units orders.Units) *words.Printer {
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
		units         orders.Units
		ranked, loose string
	}{
		{"us-model", orders.Imperial, "1 cord (128 ft³)", "180 ft³ loose"},
		{"us-model", orders.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"maine", orders.Imperial, "1 cord (128 ft³)", "180 ft³ loose"},
		{"maine", orders.Metric, "1 cord (128 ft³)", "180 ft³ loose"},
		{"massachusetts", orders.Imperial, "128 ft³ stacked", "180 ft³ loose"},
		{"massachusetts", orders.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"canada", orders.Metric, "3.62 m³ stacked", "5.1 m³ loose"},
		{"europe", orders.Imperial, "3.62 m³ stacked", "5.1 m³ loose"},
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
	p := under(t, "massachusetts", orders.Imperial)
	said := p.Sentence(fault)
	assert.Empty(t, setOf(t, "massachusetts").BarredIn(said), said)
	assert.Contains(t, said, "64 cu ft")
	assert.Empty(t, p.InputError(fault).Read)
	assert.Contains(t, under(t, "us-model", orders.Imperial).Sentence(fault), "1 hundred cords", "elsewhere it is repeated")
}

func TestChaptersSayEveryRuleWithItsSource(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		n := 0
		for _, c := range words.New("en", orders.Imperial).Chapters(set) {
			for _, r := range c.Rules {
				n++
				assert.NotEmpty(t, r.Words, set.Code)
				assert.Regexp(t, "^(read|second-hand|from memory): .", r.Source, set.Code)
				assert.NotContains(t, r.Words, "%!", set.Code)
			}
		}
		want := len(set.Units) + len(set.Barred) + len(set.Required) + len(set.Ranked) + len(set.Loose) + len(set.Notices)
		for _, there := range []bool{set.Reading != nil, set.Tolerance != nil, set.Shares != nil, set.Tax != nil, set.Moisture != nil, set.Retention != nil} {
			if there {
				want++
			}
		}
		assert.Equal(t, want, n, set.Code)
	}
	var maine []string
	for _, c := range words.New("en", orders.Imperial).Chapters(setOf(t, "maine")) {
		for _, r := range c.Rules {
			maine = append(maine, r.Words)
		}
	}
	// Maine Forest Service, January 2017
	assert.Contains(t, strings.Join(maine, "\n"), "loose cord of pieces of 24 in: 195 ft³")
}
