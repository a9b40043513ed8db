package receipts

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func storageAnswer(t *testing.T, kind storage.PlaceKind, v measure.Volume, width, depth, height measure.Length) storage.Answer {
	t.Helper()
	a, err := storage.Find(storage.Request{Volume: v, PieceLength: 16 * measure.Inch, Wood: storage.HeavyHardwood,
		Place: storage.Place{Kind: kind, Width: width, Depth: depth, Height: height, Braced: kind == storage.Alcove}})
	require.NoError(t, err)
	return a
}

// Every kind of place makes one page, on both papers, without an ill-placed word.
func TestStoragePlan(t *testing.T) {
	p := newPainter(t)
	for _, kind := range storage.PlaceKinds() {
		for paper, units := range map[orders.Paper]act.Units{orders.Letter: act.Imperial, orders.A4: act.Metric} {
			a := storageAnswer(t, kind, measure.Cord, 14*measure.Foot, 5*measure.Foot, 7*measure.Foot)
			for n := range a.Layouts {
				pdf, err := p.StoragePlan("en", a, n, paper, units, "")
				require.NoError(t, err)
				sound(t, pdf)
				if dir := os.Getenv("LOOK"); dir != "" {
					require.NoError(t, os.WriteFile(filepath.Join(dir, string(kind)+"-"+string(paper)+"-"+string('1'+rune(n))+".pdf"), pdf, 0o600))
				}
				assert.Equal(t, "1", pages(t, pdf), "%s on %s, plan %d", kind, paper, n+1)
				text := textOf(t, pdf)
				for _, want := range []string{"Storage plan", "From above", "From the front", "40 psf", "ask a qualified person", "local fire code", "common practice, no source"} {
					require.Contains(t, text, want, kind)
				}
				require.NotRegexp(t, `(?i)\bsafe|face cord|\brick\b`, text)
				again, err := p.StoragePlan("en", a, n, paper, units, "")
				require.NoError(t, err)
				require.Equal(t, pdf, again, "the same bytes each time")
			}
		}
	}
}

// Rows that are each as high as the roof over them have one view more, and still one page
// that says how high each is.
func TestStoragePlanUnderASlope(t *testing.T) {
	r := storage.Request{Volume: measure.Cord, PieceLength: 16 * measure.Inch, Wood: storage.HeavyHardwood, Stacked: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
		Place: storage.Place{Kind: storage.Shed, Width: 8 * measure.Foot, Depth: 5 * measure.Foot, Height: 7 * measure.Foot, Back: 4 * measure.Foot, Braced: true}}
	a, err := storage.Find(r)
	require.NoError(t, err)
	for paper, units := range map[orders.Paper]act.Units{orders.Letter: act.Imperial, orders.A4: act.Metric} {
		pdf, err := newPainter(t).StoragePlan("en", a, 0, paper, units, "")
		require.NoError(t, err)
		sound(t, pdf)
		require.Equal(t, "1", pages(t, pdf), paper)
		if units == act.Imperial {
			require.Contains(t, textOf(t, pdf), "from the back 40 in, 52 in and 64 in high")
		}
	}
}

// Rows from front to back under a sloping roof have one view more, and still one page.
func TestStoragePlanFromTheSide(t *testing.T) {
	for _, kind := range []storage.PlaceKind{storage.Shed, storage.Alcove, storage.Porch} {
		r := storage.Request{Volume: measure.Cord / 2, PieceLength: 16 * measure.Inch, Wood: storage.HeavyHardwood, Stacked: time.Date(2026, 11, 25, 0, 0, 0, 0, time.UTC),
			Place: storage.Place{Kind: kind, Width: 4 * measure.Foot, Depth: 10 * measure.Foot, Height: 8 * measure.Foot, Back: 7 * measure.Foot}}
		a, err := storage.Find(r)
		require.NoError(t, err)
		require.True(t, a.Layouts[0].Across)
		for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
			for n := range a.Layouts {
				pdf, err := newPainter(t).StoragePlan("en", a, n, paper, act.Imperial, "")
				require.NoError(t, err)
				if dir := os.Getenv("LOOK"); dir != "" {
					require.NoError(t, os.WriteFile(filepath.Join(dir, "side-"+string(kind)+"-"+string(paper)+"-"+string('1'+rune(n))+".pdf"), pdf, 0o600))
				}
				assert.Equal(t, "1", pages(t, pdf), "%s on %s, plan %d", kind, paper, n+1)
				text := textOf(t, pdf)
				assert.Contains(t, text, "From the side")
				assert.Contains(t, text, "It burns well from about")
				assert.Contains(t, text, "2027")
			}
		}
	}
}

func TestStoragePlanOfWhatFits(t *testing.T) {
	a := storageAnswer(t, storage.Alcove, 3*measure.Cord/2, 6*measure.Foot, 3*measure.Foot, 7*measure.Foot)
	pdf, err := newPainter(t).StoragePlan("en", a, 0, orders.Letter, act.Imperial, "")
	require.NoError(t, err)
	require.Contains(t, textOf(t, pdf), "does not.")
	require.Equal(t, "1", pages(t, pdf))
}

func TestNoPlanIsRefused(t *testing.T) {
	a := storageAnswer(t, storage.Alcove, measure.Cord, 6*measure.Foot, 1*measure.Foot, 7*measure.Foot)
	require.Empty(t, a.Layouts)
	_, err := newPainter(t).StoragePlan("en", a, 0, orders.Letter, act.Imperial, "")
	var in *measure.InputError
	require.ErrorAs(t, err, &in)
	require.Equal(t, "plan", in.Field)
}
