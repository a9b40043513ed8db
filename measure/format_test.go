package measure

import (
	"encoding/json"
	"math"
	"math/big"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestLengthString(t *testing.T) {
	for want, l := range map[string]Length{
		"0 in": 0, "1/64 in": Inch / 64, "15 1/2 in": 31 * Inch / 2, "48 1/2 in": 97 * Inch / 2,
		"4 ft": 4 * Foot, "8 ft": 8 * Foot, "99 1/2 in": 199 * Inch / 2, "119 63/64 in": 10*Foot - Inch/64,
		"10 ft": 10 * Foot, "10 ft 3 1/2 in": 10*Foot + 7*Inch/2, "10 ft 1/4 in": 10*Foot + Inch/4,
		"2.51 m": 251 * Centimetre, "41.5 cm": 415 * Millimetre, "3.2 mm": 32 * Millimetre / 10,
		"0.000001 mm": 1, "1 m": Metre, "1 cm": Centimetre, "-8 ft": -8 * Foot,
		"-9223372036.854775808 m": math.MinInt64,
	} {
		assert.Equal(t, want, l.String())
	}
}

func TestVolumeString(t *testing.T) {
	for want, v := range map[string]Volume{
		"0 cords": 0, "1 cord": Cord, "2 cords": 2 * Cord, "1 1/3 cords": Cord + Cord/3, "1/2 cord": 64 * CubicFoot,
		"5/9 cord": 5 * (Cord / 9), "23/24 cord": 23 * (Cord / 24), "1/16 cord": 8 * CubicFoot,
		"1 cu ft": CubicFoot, "180.5 cu ft": 361 * CubicFoot / 2, "3.6 m³": 3600 * Litre,
		"0.000000000001 m³": 1, "-1 1/3 cords": -Cord - Cord/3, "-1 cu ft": -CubicFoot,
		"-9223372.036854775808 m³": math.MinInt64,
	} {
		assert.Equal(t, want, v.String())
	}
}

func TestQuantityString(t *testing.T) {
	for want, q := range map[string]Quantity{
		"1 1/3 cords": {Cord + Cord/3, Ranked}, "180 cu ft stacked": {180 * CubicFoot, Ranked}, // 45/32 cord is no simple fraction
		"128 cu ft loose": {Cord, Loose}, "3.6 m³ loose": {3600 * Litre, Loose},
		"64 cu ft in a container": {Cord / 2, Container}, "-1 cord": {-Cord, Ranked},
	} {
		assert.Equal(t, want, q.String())
	}
}

func TestLengthReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLength(t)
		back, err := ParseLength(l.String())
		if err != nil || back != l {
			t.Fatalf("%d is written %q and read back as %d, %v", int64(l), l, int64(back), err)
		}
	})
}

// drawLength draws whole 64ths of an inch as often as any nanometre.
func drawLength(t *rapid.T) Length {
	if rapid.Bool().Draw(t, "64ths") {
		return Length(rapid.Int64Range(0, int64(MaxLength/(Inch/64))).Draw(t, "n")) * (Inch / 64)
	}
	return Length(rapid.Int64Range(0, int64(MaxLength)).Draw(t, "nanometres"))
}

func TestVolumeReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawVolume(t, MaxVolume)
		back, err := ParseVolume(v.String())
		if err != nil || back != v {
			t.Fatalf("%d is written %q and read back as %d, %v", int64(v), v, int64(back), err)
		}
	})
}

// drawVolume draws from 1 nanolitre to high, simple parts of a cord and millionths
// of cubic feet as often as any other.
func drawVolume(t *rapid.T, high Volume) Volume {
	step := rapid.SampledFrom([]Volume{1, Litre, CubicInch, CubicFoot / 64, Cord / 24, Cord / 16, Cord / 9, Cord}).Draw(t, "step")
	return step * Volume(rapid.Int64Range(1, int64(high/step)).Draw(t, "n"))
}

func TestQuantityReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := Quantity{drawVolume(t, MaxQuantity), rapid.SampledFrom([]Basis{Ranked, Loose, Container}).Draw(t, "basis")}
		back, err := ParseQuantity(q.String())
		if err != nil || back.Quantity != q || back.Barred != "" {
			t.Fatalf("%v is written %q and read back as %v, %v", q.Volume, q, back.Quantity, err)
		}
	})
}

// 0.3048 m to the foot is exact (NIST SP 811, Appendix B.8).
func TestFeetAndMetresReadAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		feet := rapid.IntRange(0, 30_000).Draw(t, "feet")
		metres := new(big.Rat).Mul(big.NewRat(int64(feet), 1), big.NewRat(3048, 10_000)).FloatString(4)
		a, err := ParseLength(strconv.Itoa(feet) + "'")
		if err != nil {
			t.Fatal(err)
		}
		b, err := ParseLength(metres + " m")
		if err != nil || a != b {
			t.Fatalf("%d ft is %d nm and %s m is %d nm, %v", feet, a, metres, b, err)
		}
	})
}

func TestLengthAsText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(-math.MaxInt64, math.MaxInt64).Draw(t, "nanometres"))
		stored, err := json.Marshal(l)
		if err != nil {
			t.Fatal(err)
		}
		var back Length
		if err := json.Unmarshal(stored, &back); err != nil || back != l {
			t.Fatalf("%s was stored for %d and read back as %d, %v", stored, int64(l), int64(back), err)
		}
	})
	stored, err := json.Marshal(8 * Foot)
	require.NoError(t, err)
	assert.Equal(t, `"8 ft"`, string(stored))
	var l Length
	var fault *InputError
	require.ErrorAs(t, l.UnmarshalText([]byte("8")), &fault)
	assert.Equal(t, "no-unit", fault.Code)
	require.ErrorAs(t, l.UnmarshalText([]byte("--8 ft")), &fault)
	assert.Equal(t, "negative", fault.Code)
}

func TestVolumeIsStoredAsNanolitres(t *testing.T) {
	stored, err := json.Marshal(Quantity{Cord, Ranked})
	require.NoError(t, err)
	assert.JSONEq(t, `{"nanolitres": 3624556363776, "basis": "ranked"}`, string(stored))
}

func TestParseLengthIn(t *testing.T) {
	for _, c := range []struct {
		text string
		unit Length
		want Length
	}{
		{"48", Inch, 48 * Inch}, {"48 1/2", Inch, 97 * Inch / 2}, {"48½", Inch, 97 * Inch / 2}, {"8,5", Foot, 17 * Foot / 2},
		{"251", Centimetre, 251 * Centimetre}, {"8 ft", Inch, 8 * Foot}, {`8' 3"`, Centimetre, 99 * Inch}, {"0", Inch, 0},
		{"half", Inch, Inch / 2}, {"8' 3", Inch, 99 * Inch}, {"7ft10", Centimetre, 94 * Inch},
	} {
		got, err := ParseLengthIn(c.text, c.unit)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
	for text, code := range map[string]string{
		"8 in 3": "no-unit", "-4": "negative", "1,234": "ambiguous", "1e309": "exponent", "": "empty", "NaN": "not-finite", "48 x": "unknown-unit",
	} {
		_, err := ParseLengthIn(text, Inch)
		var fault *InputError
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, code, fault.Code, text)
	}
}

func TestParseQuantityOf(t *testing.T) {
	said, err := ParseQuantityOf("two face cords", 16*Inch)
	require.NoError(t, err)
	want := Said{Words: "two face cords", Quantity: Quantity{2 * (Cord / 3), Ranked}, Barred: "face cord", PieceLength: 16 * Inch}
	assert.Equal(t, want, said)

	said, err = ParseQuantityOf("two face cords of 24 in", 16*Inch)
	require.NoError(t, err)
	assert.Equal(t, 24*Inch, said.PieceLength, "words go before the form")

	said, err = ParseQuantityOf("1 cord", 16*Inch)
	require.NoError(t, err)
	assert.Equal(t, Said{Words: "1 cord", Quantity: Quantity{Cord, Ranked}, Cord: Cord}, said)
}

func TestErrorText(t *testing.T) {
	for want, parse := range map[string]func() error{
		`read “48”: “48” has no unit; accepted: the unit after it: 48 ft, 48 in or 48 cm`: func() error {
			_, err := ParseLength("48")
			return err
		},
		"read “1,234 cu ft”: 1,234 may be 1234 or 1.234; accepted: 1234, or 1.2340": func() error {
			_, err := ParseQuantity("1,234 cu ft")
			return err
		},
		"read “64 ft”: this is a length, not a volume; accepted: a volume such as 64 cu ft or 3.6 m³": func() error {
			_, err := ParseVolume("64 ft")
			return err
		},
		"read “a truckload”: this term has no size that can be checked and isn’t a legal quantity; accepted: cords and fractions of a cord, cubic feet or cubic metres": func() error {
			_, err := ParseQuantity("a truckload")
			return err
		},
	} {
		assert.EqualError(t, parse(), want)
	}
}

func TestErrorsOfHugeTextStaySmall(t *testing.T) {
	_, err := ParseLength(strings.Repeat("8", 1_000_000))
	assert.Less(t, len(err.Error()), 300)
	_, err = ParseLength(strings.Repeat("8", MaxText))
	var fault *InputError
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "too-large", fault.Code, "%d characters are read", MaxText)
}

// A cord is 3.624 556 m³ (NIST SP 811, Appendix B.8, seven digits).
func TestCordInCubicMetres(t *testing.T) {
	assert.InDelta(t, 3.624556, Cord.In(CubicMetre), 0.0000005)
	assert.Equal(t, 128*CubicFoot, Cord)
}

// Our units against those of the GNU units program, to its nine digits.
func TestUnitsAgreeWithGNU(t *testing.T) {
	for from, ours := range map[string]Volume{"cord": Cord, "foot^3": CubicFoot, "yard^3": CubicYard, "inch^3": CubicInch, "litre": Litre} {
		assert.InEpsilon(t, gnu(t, from, "m^3"), ours.In(CubicMetre), 1e-9, from)
	}
	for from, ours := range map[string]Length{"foot": Foot, "inch": Inch} {
		assert.InEpsilon(t, gnu(t, from, "m"), ours.In(Metre), 1e-12, from)
	}
}

// gnu converts one of from; without the program the test is skipped, but not where
// the checks run for all.
func gnu(t *testing.T, from, to string) float64 {
	t.Helper()
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("GNU units is not installed")
		}
		t.Skip("GNU units is not installed: its values are not compared")
	}
	out, err := exec.Command(program, "-t", "-o", "%.15g", from, to).Output()
	require.NoError(t, err)
	value, err := strconv.ParseFloat(strings.TrimSpace(string(out)), 64)
	require.NoError(t, err)
	return value
}
