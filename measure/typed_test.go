package measure

import (
	"fmt"
	"go/ast"
	"go/parser"
	positions "go/token"
	"math/big"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// inWords spells a number from 0 to 999 as it is said, with "and" after the hundreds
// where and is set.
func inWords(n int, and bool) string {
	small := strings.Fields("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen")
	tens := strings.Fields("_ _ twenty thirty forty fifty sixty seventy eighty ninety")
	switch {
	case n < 20:
		return small[n]
	case n < 100 && n%10 == 0:
		return tens[n/10]
	case n < 100:
		return tens[n/10] + "-" + small[n%10]
	case n%100 == 0:
		return small[n/100] + " hundred"
	case and:
		return small[n/100] + " hundred and " + inWords(n%100, and)
	}
	return small[n/100] + " hundred " + inWords(n%100, and)
}

func TestEveryNumberInWords(t *testing.T) {
	for n := range maxSpoken + 1 {
		for _, and := range []bool{true, false} {
			words := inWords(n, and)
			for _, c := range []struct {
				text string
				want Length
			}{
				{words + " inches", Length(n) * Inch},
				{strings.ReplaceAll(words, "-", " ") + " inches", Length(n) * Inch},
				{words + " and a half inches", Length(n)*Inch + Inch/2},
				{words + " and 3/4 inches", Length(n)*Inch + 3*Inch/4},
				{strings.ToUpper(words) + " MM", Length(n) * Millimetre},
			} {
				got, err := ParseLength(c.text)
				require.NoError(t, err)
				require.Equal(t, c.want, got, c.text)
			}
		}
		_, err := ParseLength(inWords(n, true) + " 1/2 inches")
		var fault *InputError
		require.ErrorAs(t, err, &fault)
		require.Equal(t, "ambiguous", fault.Code, "%d before a fraction in figures", n)
	}
}

// A number and a fraction mean the same however they are written.
func TestFractionsHoweverWritten(t *testing.T) {
	names := map[int64]string{2: "half", 3: "third", 4: "quarter", 5: "fifth", 6: "sixth", 7: "seventh", 8: "eighth", 9: "ninth", 10: "tenth", 12: "twelfth", 16: "sixteenth"}
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.Int64Range(1, 40).Draw(t, "whole")
		parts := rapid.SampledFrom([]int64{2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 16}).Draw(t, "parts")
		count := rapid.Int64Range(1, parts-1).Draw(t, "count")
		want, _ := nearest(times(new(big.Rat).Add(big.NewRat(whole, 1), big.NewRat(count, parts)), int64(Foot)))
		name := names[parts]
		if count > 1 {
			name = strings.Replace(name+"s", "halfs", "halves", 1)
		}
		for _, text := range []string{
			fmt.Sprintf("%d %d/%d ft", whole, count, parts), fmt.Sprintf("%d-%d/%d ft", whole, count, parts), fmt.Sprintf("%d & %d/%d ft", whole, count, parts),
			fmt.Sprintf("%d and %d/%dths ft", whole, count, parts), fmt.Sprintf("%d and %s %s feet", whole, inWords(int(count), true), name),
			fmt.Sprintf("%s and %s %s feet", inWords(int(whole), true), inWords(int(count), true), name), fmt.Sprintf("%s and %d⁄%d feet", inWords(int(whole), true), count, parts),
		} {
			got, err := ParseLength(text)
			require.NoError(t, err)
			require.Equal(t, Length(want), got, text)
		}
		alone, err := ParseLength(fmt.Sprintf("a %d/%d ft", count, parts))
		require.NoError(t, err)
		plain, err := ParseLength(fmt.Sprintf("%d/%d ft", count, parts))
		require.NoError(t, err)
		require.Equal(t, plain, alone)
	})
}

// Feet and inches mean the same however they are written.
func TestFeetAndInchesHoweverWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet, inches := rapid.Int64Range(1, 99).Draw(t, "feet"), rapid.Int64Range(0, 11).Draw(t, "inches")
		want := Length(feet)*Foot + Length(inches)*Inch
		for _, form := range []string{"%d ft %d in", "%d ft %d", "%d' %d", "%d'%d\"", "%d'-%d\"", "%d'-%d", "%d feet and %d inches", "%d′ %d″", "%d ft, %d in", "%dft %din", "%d foot %d long"} {
			text := fmt.Sprintf(form, feet, inches)
			got, err := ParseLength(text)
			require.NoError(t, err)
			require.Equal(t, want, got, text)
		}
		if inches != 3 { // 8ft3 may be cubic feet
			got, err := ParseLength(fmt.Sprintf("%dft%d", feet, inches))
			require.NoError(t, err)
			require.Equal(t, want, got)
		}
		centimetres := rapid.Int64Range(0, 99).Draw(t, "centimetres")
		got, err := ParseLength(fmt.Sprintf("%dm%02d", feet, centimetres))
		require.NoError(t, err)
		require.Equal(t, Length(feet)*Metre+Length(centimetres)*Centimetre, got)
	})
}

// Every spelling of a unit against the GNU units program, to its nine digits.
func TestSpelledUnitsAgreeWithGNU(t *testing.T) {
	for name, spelled := range map[string][]string{
		"cord":   {"cord", "cords", "full cord", "full cords"},
		"foot^3": {"cf", "cuft", "cu ft", "cu. ft.", "cubic foot", "cubic feet", "ft³", "ft3", "ft^3"},
		"yard^3": {"cubic yard", "cubic yards", "cu yd", "yd³", "yd3", "cu. yds."},
		"inch^3": {"cu in", "cubic inches", "in³"},
		"m^3":    {"m³", "m3", "cu m", "cubic metres", "cubic meters"},
		"litre":  {"L", "litre", "liters"},
	} {
		want := 7 * gnu(t, name, "m^3")
		for _, unit := range spelled {
			v, err := ParseVolume("7 " + unit)
			require.NoError(t, err)
			assert.InEpsilon(t, want, v.In(CubicMetre), 1e-9, unit)
		}
	}
	for _, unit := range []string{"rm", "Ster", "stere", "steres", "Raummeter"} { // a stacked cubic metre: common practice, no source
		said, err := ParseQuantity("7 " + unit)
		require.NoError(t, err)
		assert.InEpsilon(t, 7*gnu(t, "stere", "m^3"), said.Quantity.Volume.In(CubicMetre), 1e-9, unit)
	}
	for name, spelled := range map[string][]string{
		"foot": {"ft", "foot", "feet", "'", "′"}, "inch": {"in", "ins", "inch", "inches", `"`, "″", "''"},
		"m": {"m", "metre", "meters"}, "cm": {"cm", "centimetres"}, "mm": {"mm", "millimeters"},
	} {
		want := 7 * gnu(t, name, "m")
		for _, unit := range spelled {
			l, err := ParseLength("7 " + unit)
			require.NoError(t, err)
			assert.InEpsilon(t, want, l.In(Metre), 1e-12, unit)
		}
	}
}

// Both readings of a number in words before a fraction in figures are named.
func TestBothReadingsAreNamed(t *testing.T) {
	for text, both := range map[string][2]string{
		"two 1/2 cords": {"2 1/2", "1"}, "three 1/4 cord": {"3 1/4", "3/4"}, "one ½ cord": {"1 1/2", "1/2"}, "thirty-two 1/8 cords": {"32 1/8", "4"},
	} {
		_, err := ParseQuantity(text)
		var fault *InputError
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, both[0]+" or "+both[1]+", in figures", fault.Accepts.String(), text)
		for _, one := range both {
			_, err := ParseQuantity(one + " cords")
			assert.NoError(t, err)
		}
	}
}

// What is offered in place of a box is read as what it holds.
func TestBoxIsOfferedBack(t *testing.T) {
	_, err := ParseQuantity("4 x 4 x 8")
	var fault *InputError
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "a stack of 4 ft by 4 ft by 8 ft holds 1 cord", fault.Reason.String())
	offered := fault.Accepts.Args[0].(Quantity)
	said, err := ParseQuantity(offered.String())
	require.NoError(t, err)
	assert.Equal(t, Quantity{Cord, Ranked}, said.Quantity)

	said, err = Terms{ReadBack: true}.ParseQuantity("4 x 4 x 8")
	require.NoError(t, err)
	assert.Equal(t, [3]Length{4 * Foot, 4 * Foot, 8 * Foot}, said.Sides)
	assert.True(t, said.Unsaid, "whether it is stacked is not said")
}

// A refused value is told what would be accepted in its place, not always the same.
func TestFaultsSayWhatWouldBeAccepted(t *testing.T) {
	for text, accepted := range map[string]string{
		"1,234 cu ft": "1234, or 1.2340", "1e3 cords": "the number written out, such as 1000 for 1e3", "16": "the unit after it: 16 m³, 16 cu ft or 16 of a cord",
		"31/2 cords": "the whole number, a space and the fraction, such as 3 1/2", "1 cord 16": "the unit after it, if it is how long the pieces are: 16 in or 16 cm",
		"64 parsecs": "cords, cu ft, m³ or litres", "20000 cords": "at most 10000 cords", "3 fm": "the stacked or the loose volume, such as 3.6 m³ stacked",
	} {
		_, err := ParseQuantity(text)
		var fault *InputError
		require.ErrorAs(t, err, &fault)
		assert.Equal(t, accepted, fault.Accepts.String(), text)
	}
}

// The parsers of typed text stand on what a length, a volume, a quantity, a text and a
// fault are, and on nothing of the tally or the model, so that they can be moved.
func TestTypedTextStandsByItself(t *testing.T) {
	base := []string{"error.go", "text.go", "length.go", "volume.go", "quantity.go", "format.go", "limits.go"}
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	declared := map[string]string{} // in files that they may not use
	var typed []*ast.File
	set := positions.NewFileSet()
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(set, name, nil, 0)
		require.NoError(t, err)
		switch {
		case strings.HasPrefix(name, "typed_"):
			typed = append(typed, file)
		case !slices.Contains(base, name):
			for object := range file.Scope.Objects {
				declared[object] = name
			}
		}
	}
	require.NotEmpty(t, typed)
	for _, file := range typed {
		for _, used := range file.Unresolved {
			home, elsewhere := declared[used.Name]
			assert.False(t, elsewhere, "%s uses %s of %s", set.Position(used.Pos()), used.Name, home)
		}
	}
}
