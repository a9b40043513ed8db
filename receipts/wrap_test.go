package receipts

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

// blankPaper is a page with nothing on it.
func blankPaper(t *testing.T, p *Painter) *paper {
	t.Helper()
	return p.paper(setup{title: measure.Say("empty"), paper: orders.Letter})
}

// However wide a column is, each of its lines fits it and takes as many words as it can;
// no letter is lost, and a word is broken only where it alone is too wide.
func TestTextIsBrokenWhereAReaderExpectsIt(t *testing.T) {
	w := blankPaper(t, newPainter(t))
	r := rand.New(rand.NewPCG(7, 7))
	for range 400 {
		f := []face{noteFace(), mainFace(), boldFace()}[r.IntN(3)]
		width := 8 + r.Float64()*60
		var words []string
		for range 1 + r.IntN(25) {
			words = append(words, strings.Repeat([]string{"a", "wo", "mil", "°x"}[r.IntN(4)], 1+r.IntN(1+r.IntN(12))))
		}
		lines := w.wrap(f, strings.Join(words, " "), width)
		require.Equal(t, strings.Join(words, ""), strings.ReplaceAll(strings.Join(lines, ""), " ", ""))
		ends := map[int]string{} // by how many letters stand before its end
		count := 0
		for _, word := range words {
			count += len([]rune(word))
			ends[count] = word
		}
		count = 0
		for i, line := range lines {
			require.LessOrEqual(t, w.measure(f, line), width+1e-9, line)
			if i+1 == len(lines) {
				break
			}
			count += len([]rune(strings.ReplaceAll(line, " ", "")))
			next := strings.Fields(lines[i+1])[0]
			if ends[count] != "" {
				require.Greater(t, w.measure(f, line+" "+next), width, "“%s” has room for “%s”", line, next)
				continue
			}
			last := strings.Fields(line)
			require.Greater(t, w.measure(f, last[len(last)-1]+next), width, "a word that has room is broken before “%s”", next)
		}
	}
	require.Equal(t, []string{"one", "two three"}, w.wrap(mainFace(), "one\n two  three ", 100), "its own line ends stay")
	require.Empty(t, w.wrap(mainFace(), " \n ", 100))
}

// Columns begin level, go on line by line, and turn the page together: whole where a page
// holds them, else where it ends.
func TestColumnsStandLevel(t *testing.T) {
	p := plainPainter(t)
	for _, row := range []struct {
		from             float64 // millimetres above the foot
		lines, pages, on int     // and on which page the first line is
	}{
		{100, 5, 1, 0}, {10, 5, 2, 1}, {100, 200, 5, 0},
	} {
		w := blankPaper(t, p)
		w.y = w.bottom() - row.from
		left, right := w.left(), w.left()+80
		many := w.lines(mainFace(), 60, strings.TrimSuffix(strings.Repeat("left\n", row.lines), "\n"))
		few := w.lines(mainFace(), 60, "right\nright")
		require.Len(t, many, row.lines)
		w.columns(column{x: left, lines: many}, column{x: right, lines: few})
		pdf, err := w.bytes()
		require.NoError(t, err)
		texts := readPDF(t, p, pdf)
		var lefts, rights []painted
		for _, text := range texts {
			switch text.text {
			case "left":
				lefts = append(lefts, text)
				require.InDelta(t, left*72/25.4, text.x, 0.02)
			case "right":
				rights = append(rights, text)
				require.InDelta(t, right*72/25.4, text.x, 0.02)
			}
		}
		require.Len(t, lefts, row.lines)
		require.Len(t, rights, 2)
		require.Equal(t, row.on, lefts[0].page)
		require.Equal(t, row.pages, lefts[len(lefts)-1].page+1)
		for i := range rights {
			require.Equal(t, lefts[i].y, rights[i].y)
			require.Equal(t, lefts[i].page, rights[i].page)
		}
		for i := range lefts[1:] {
			if lefts[i].page == lefts[i+1].page {
				require.InDelta(t, mainFace().lead()*72/25.4, lefts[i].y-lefts[i+1].y, 0.02, "evenly spaced")
			} else {
				require.InDelta(t, lefts[0].x, lefts[i+1].x, 0.02)
				require.Less(t, lefts[i].y, (marginBottom+2*mainFace().lead())*72/25.4, "a page is filled before it is turned")
			}
		}
	}
}
