package measure_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// Maine: a loose cord of 12 or 16 inch pieces is 180 cubic feet (10 MRSA 2302, as
// the Maine Forest Service restates it, January 2017).
func TestLooseCordsUnderTheirTerms(t *testing.T) {
	maine := measure.Terms{Piece: 16 * measure.Inch, Cord: func(b measure.Basis, _ measure.Length, _ measure.Preparation) (measure.Volume, *measure.InputError) {
		if b == measure.Loose {
			return 180 * measure.CubicFoot, nil
		}
		return measure.Cord, nil
	}}
	for text, feet := range map[string]measure.Volume{
		"1 loose cord": 180, "2 loose cords": 360, "a loose cord and a half": 270,
		"1 cord loose": 180, "half a thrown cord": 90, "180 cu ft loose": 180,
	} {
		said, err := maine.ParseQuantity(text)
		require.NoError(t, err, text)
		assert.Equal(t, measure.Quantity{Volume: feet * measure.CubicFoot, Basis: measure.Loose}, said.Quantity, text)
	}
	ranked, err := maine.ParseQuantity("1 cord")
	require.NoError(t, err)
	assert.Equal(t, measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, ranked.Quantity)
	_, err = measure.ParseQuantity("1 loose cord")
	assert.ErrorContains(t, err, "only where a rule set defines one")
}

func TestHowTheWoodIsPrepared(t *testing.T) {
	for text, want := range map[string]measure.Preparation{
		"1 cord": "", "1 cord of wood": "", "1 cord sawed": measure.Sawed, "1 cord of sawed wood": measure.Sawed,
		"1 cord, cut": measure.Sawed, "1 cord of sawed and split wood": measure.SawedAndSplit, "a cord and a half, cut and split": measure.SawedAndSplit,
		"1 cord stacked, sawn, split": measure.SawedAndSplit, "2 cords not sawed": measure.Unsawed, "64 cu ft loose, cut and split": measure.SawedAndSplit,
	} {
		said, err := measure.ParseQuantity(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, said.Preparation, text)
	}
	for _, text := range []string{"1 cord split and sawed", "1 cord of", "1 cord not", "1 cord sawed and", "1 cord not split", "1 cord sawed sawed"} {
		_, err := measure.ParseQuantity(text)
		assert.Error(t, err, text)
	}
}

func TestUnsaidBasis(t *testing.T) {
	for text, want := range map[string]bool{
		"3.6 m³": true, "64 cu ft": true, "3.6 m³ stacked": false, "3.6 m³, loose": false, "loose 64 cu ft": false,
		"1 cord": false, "two face cords of 16 inch": false,
	} {
		said, err := measure.ParseQuantity(text)
		if err != nil {
			t.Logf("%s: %v", text, err)
			continue
		}
		assert.Equal(t, want, said.Unsaid, text)
	}
}

func TestWithoutCords(t *testing.T) {
	for _, q := range []measure.Quantity{
		{Volume: measure.Cord, Basis: measure.Ranked}, {Volume: measure.Cord / 3, Basis: measure.Ranked},
		{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}, {Volume: 3 * measure.CubicMetre, Basis: measure.Container},
		{Volume: 2_415_427_014_298, Basis: measure.Ranked}, // 85.3 cubic feet, to the nanolitre
	} {
		for _, metric := range []bool{false, true} {
			text := q.WithoutCords(metric)
			assert.NotContains(t, text, "cord")
			said, err := measure.ParseQuantity(text)
			require.NoError(t, err, text)
			assert.Equal(t, q, said.Quantity, text)
		}
	}
	assert.Equal(t, "85.3 cu ft stacked", measure.Quantity{Volume: 2_415_427_014_298, Basis: measure.Ranked}.WithoutCords(false))
	assert.Equal(t, "128 cu ft stacked", measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}.WithoutCords(false))
	assert.Equal(t, "3.624556363776 m³ stacked", measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}.WithoutCords(true))
}
