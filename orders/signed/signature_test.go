package signed_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/signed"
)

func TestStrokesAreReadAsDrawn(t *testing.T) {
	s := signed.Signature{Strokes: "0,0 12,24;600,150"}
	require.Equal(t, [][]signed.Point{{{X: 0, Y: 0}, {X: 12, Y: 24}}, {{X: 600, Y: 150}}}, s.Drawn())
	none, err := signed.Parse("")
	require.NoError(t, err)
	require.Empty(t, none)
}

func TestWhatIsNotASignatureIsRefused(t *testing.T) {
	for _, wrong := range []string{" ", ";", "1", "1,", ",1", "1,2,3", "601,0", "0,151", "-1,0", "+1,0", "01,0", "1,2 ", "1,2;;3,4", "1.5,2", "1, 2",
		strings.Repeat("1,2 ", 3000) + "1,2", "<path>"} {
		_, err := signed.Parse(wrong)
		require.ErrorContains(t, err, "those are not the lines of a signature", "%.20q", wrong)
	}
}

func FuzzParse(f *testing.F) {
	f.Add("0,0 12,24;600,150")
	f.Add("1,2;;")
	f.Fuzz(func(t *testing.T, text string) {
		strokes, err := signed.Parse(text)
		if err != nil {
			return
		}
		for _, stroke := range strokes {
			for _, p := range stroke {
				if p.X < 0 || p.X > signed.Width || p.Y < 0 || p.Y > signed.Height {
					t.Fatalf("%v is outside the box in %q", p, text)
				}
			}
		}
	})
}
