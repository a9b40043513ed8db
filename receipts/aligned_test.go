package receipts

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

const mmInPoints = 72 / 25.4

// matching are the texts of a paper that a pattern fits, from the top.
func matching(texts []painted, pattern string) (found []painted) {
	of := regexp.MustCompile(pattern)
	for _, text := range texts {
		if of.MatchString(text.text) {
			found = append(found, text)
		}
	}
	slices.SortStableFunc(found, func(a, b painted) int { return a.page*10_000 - b.page*10_000 + int(b.y-a.y) })
	return found
}

// beside are the texts on the line of one, from the left.
func beside(texts []painted, a painted) (on []painted) {
	for _, b := range texts {
		if b.page == a.page && math.Abs(b.y-a.y) < 0.5 {
			on = append(on, b)
		}
	}
	slices.SortFunc(on, func(a, b painted) int { return int(a.x - b.x) })
	return on
}

// Amounts of money end at the right margin, each on the line of what it is for, over a
// hairline across the page; sums are bold, and nothing else is.
func TestAmountsStandUnderEachOther(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	lines, _ := readPen(t, pdf)
	wide := points(t, mediaBox.FindSubmatch(pdf)[1])
	amounts := matching(texts, `^\D{1,2}\d+\.\d\d$`)
	require.Len(t, amounts, 7)
	require.Equal(t, payFace().size, amounts[0].size, "what is to pay is large at the head")
	require.Equal(t, amounts[0].text, amounts[6].text)
	for _, amount := range amounts[1:] {
		require.InDelta(t, wide-marginRight*mmInPoints, amount.to, 3, amount.text)
		require.InDelta(t, amounts[1].to, amount.to, 0.1, amount.text)
		on := beside(texts, amount)
		require.Len(t, on, 2, "%s is for one thing", amount.text)
		require.InDelta(t, marginLeft*mmInPoints, on[0].x, 0.1)
		ruled := slices.ContainsFunc(lines, func(l penned) bool {
			return l.y == l.up && math.Abs(l.x-on[0].x) < 0.1 && l.to >= amount.to && l.y < amount.y && l.y > amount.y-8
		})
		require.True(t, ruled, "no line under %s", amount.text)
	}
}

// In the table of heights every figure ends under the number of its station, and rows are
// evenly spaced.
func TestHeightsStandUnderTheirStation(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	head := beside(texts, matching(texts, `^Length$`)[0])
	require.Len(t, head, 7, "row, length and five stations")
	var rows [][]painted
	for _, length := range []string{"96 in", "95 in", "96 1/2 in"} {
		first := matching(texts, `^`+length+`$`)[0]
		on := beside(texts, first)
		require.Len(t, on, 7, length)
		for i, cell := range on[1:] {
			require.InDelta(t, head[i+1].to, cell.to, 0.1, "%s of %s", cell.text, length)
		}
		require.InDelta(t, head[0].x, on[0].x, 0.1)
		rows = append(rows, on)
	}
	apart := head[3].to - head[2].to
	for i := 3; i < 6; i++ {
		require.InDelta(t, apart, head[i+1].to-head[i].to, 0.1, "stations are evenly spaced")
	}
	require.InDelta(t, rows[0][0].y-rows[1][0].y, rows[1][0].y-rows[2][0].y, 0.1)
	require.Equal(t, []string{"2", "95 in", "47 in", "48 in", "46 in", "47 1/2 in", "46 1/2 in"}, wordsOf(rows[1]))
}

func wordsOf(all []painted) (said []string) {
	for _, a := range all {
		said = append(said, a.text)
	}
	return said
}

// The budget of a working has its figures under each other, beside each as many marks as the
// share has fiftieths, and they and the rest together are the whole.
func TestSharesOfTheDoubtAreDrawnAsTheyAre(t *testing.T) {
	p := plainPainter(t)
	s := sampleSheet(t, orders.Letter, shortTally)
	pdf, err := p.Working(s)
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	lines, _ := readPen(t, pdf)
	shares := matching(texts, `^[\d.]+ %$`)
	require.GreaterOrEqual(t, len(shares), 8)
	sum := 0.0
	var cubic []painted
	for i, share := range shares {
		on := beside(texts, share)
		require.Len(t, on, 3)
		require.InDelta(t, shares[0].to, share.to, 0.1)
		cubic = append(cubic, on[1])
		require.InDelta(t, cubic[0].to, on[1].to, 0.1)
		percent, err := strconv.ParseFloat(strings.TrimSuffix(share.text, " %"), 64)
		require.NoError(t, err)
		var marks []float64
		long := 0
		for _, l := range lines {
			if l.page == share.page && l.x == l.to && math.Abs(l.y-share.y) < 0.1 && l.x > share.to {
				marks = append(marks, l.x)
				if l.up-l.y > 2*mmInPoints {
					long++
				}
			}
		}
		if i == len(shares)-1 {
			require.Equal(t, "100.0 %", share.text)
			require.InDelta(t, 100, sum, 0.5)
			require.Empty(t, marks)
			break
		}
		sum += percent
		require.InDelta(t, percent/2, float64(len(marks)), 0.51, on[0].text)
		require.Equal(t, len(marks)/5, long, "every tenth of the whole has a longer mark")
		slices.Sort(marks)
		for n := range marks {
			require.InDelta(t, marks[0]+float64(n)*52*mmInPoints/50, marks[n], 0.1)
		}
	}
}

// The boxes of the form fill the page's width without a gap, those of a line are equally
// high, and what is written into by hand is large enough for a glove and a pencil.
func TestTheBoxesOfTheFormFillTheirLines(t *testing.T) {
	p := plainPainter(t)
	for paper, units := range map[orders.Paper]act.Units{orders.Letter: act.Imperial, orders.A4: act.Metric} {
		pdf, err := p.BlankTally("en", paper, units)
		require.NoError(t, err)
		_, all := readPen(t, pdf)
		wide := points(t, mediaBox.FindSubmatch(pdf)[1])
		byLine := map[float64][]framed{}
		for _, b := range all {
			if b.right-b.x > 12 { // not a square to tick
				byLine[b.high] = append(byLine[b.high], b)
			}
		}
		counts := map[int]int{}
		for _, line := range byLine {
			slices.SortFunc(line, func(a, b framed) int { return int(a.x - b.x) })
			counts[len(line)]++
			require.InDelta(t, marginLeft*mmInPoints, line[0].x, 0.1)
			require.InDelta(t, wide-marginRight*mmInPoints, line[len(line)-1].right, 0.1)
			for i := range line[1:] {
				require.InDelta(t, line[i].right, line[i+1].x, 0.1)
				require.InDelta(t, line[i].y, line[i+1].y, 0.1)
			}
		}
		require.Equal(t, map[int]int{3: 1, 4: 2, 10: 1, 13: 7}, counts, "what is sold and how it is read, ten pieces, six rows under their head")
		high := map[string]int{}
		for _, line := range byLine {
			if len(line) == 13 {
				high[strconv.FormatFloat(line[0].high-line[0].y, 'f', 0, 64)]++
				for i := 3; i < 12; i++ {
					require.InDelta(t, line[2].right-line[2].x, line[i].right-line[i].x, 0.1, "heights have equal room")
				}
				require.GreaterOrEqual(t, line[2].right-line[2].x, 11*mmInPoints)
				require.GreaterOrEqual(t, line[12].right-line[12].x, 30*mmInPoints, "ends and gaps have room for words")
			}
		}
		require.Len(t, high, 2, "the head, and rows of one height: %v", high)
		texts := readPDF(t, p, pdf)
		for n := 1; n <= formRowCount; n++ { // the number of a row is in the middle of its first box
			inside := slices.ContainsFunc(matching(texts, `^`+strconv.Itoa(n)+`$`), func(a painted) bool {
				return slices.ContainsFunc(all, func(b framed) bool {
					return b.right-b.x < 30 && a.x > b.x && a.to < b.right && math.Abs((a.x+a.to)/2-(b.x+b.right)/2) < 0.2 && math.Abs(a.y+a.size*0.36-(b.y+b.high)/2) < 1.5
				})
			})
			require.True(t, inside, "row %d", n)
		}
	}
}

// Who read signs, who wrote the report, and the seller: as one who came, or as one who may
// sign later. All of them on the page of what they sign.
func TestWhoSignsAnAudit(t *testing.T) {
	p := plainPainter(t)
	for _, row := range []struct {
		attended []string
		seller   string
	}{
		{nil, "Seller, or who came for him"}, {[]string{"yes"}, "Seller, or who came for him"}, {[]string{"declined"}, "Seller, if he signs later"},
		{[]string{"declined", "yes"}, "Seller, or who came for him"}, {[]string{"yes", "no"}, "Seller, if he signs later"},
	} {
		r, pictures := sampleAudit(t, orders.Letter, 2, 3, "Una Reed", "Tobias Fenn")
		r.Attendances = nil
		for i, attended := range row.attended {
			r.Attendances = append(r.Attendances, audits.Attendance{Attended: attended, Who: "Jon Hale", Written: r.Opened.Add(time.Duration(i) * time.Hour)})
		}
		pdf, err := p.Audit(r, auditHash, pictures)
		require.NoError(t, err)
		texts := readPDF(t, p, pdf)
		heading := matching(texts, `^SIGNED$`)
		require.Len(t, heading, 1)
		require.Zero(t, heading[0].page, "it fits the first page")
		for _, who := range []string{"Read by: Una Reed", "Read by: Tobias Fenn", "Written by: Nora Feld", row.seller + ": Hollow"} {
			line := matching(texts, "^"+regexp.QuoteMeta(who))
			require.Len(t, line, 1, who)
			require.Equal(t, heading[0].page, line[0].page)
			require.Less(t, line[0].y, heading[0].y)
		}
	}
}

// What was bought stands three facts to a line, each under its name, and neither side
// again, whose names are at the head.
func TestFactsOfACaseStandInThrees(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Case(sampleCase(t, "us-model", act.Imperial), orders.Letter, printedAt)
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	page := matching(texts, `^WHAT WAS BOUGHT$`)[0]
	next := matching(texts, `^ON THE DELIVERY TICKET$`)[0]
	third := (points(t, mediaBox.FindSubmatch(pdf)[1]) - (marginLeft+marginRight)*mmInPoints) / 3
	places := map[int]int{}
	for _, text := range texts {
		if text.page != page.page || text.y >= page.y || text.page == next.page && text.y <= next.y || text.y < footersBelow {
			continue
		}
		n := (text.x - marginLeft*mmInPoints) / third
		require.InDelta(t, math.Round(n), n, 0.002, text.text)
		places[int(math.Round(n))]++
		require.NotContains(t, []string{"Seller", "Buyer"}, text.text)
	}
	require.Len(t, places, 3)
	require.GreaterOrEqual(t, places[0], places[2])
}

// The heading over the stack has the first row with it wherever on the page it comes, and
// what is missing of the row; one row alone is drawn on half of the page, or smaller where it
// would be so high that the readings had no room.
func TestTheFirstRowIsWithItsHeading(t *testing.T) {
	p := plainPainter(t)
	one := `{"format":2,"sold":"1 cord","apart":"none","stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"%s","heights":["50 in","49 in","47 in","48 in","50 in"]}]}}`
	for name, row := range map[string]struct {
		doc      string
		from, to float64 // of the page's width, how much the readings take
	}{
		"three rows": {shortTally, 0, 1}, "a long row": {strings.Replace(one, "%s", "24 ft", 1), 0.3, 0.5}, "a short one": {strings.Replace(one, "%s", "6 ft", 1), 0.1, 0.3},
	} {
		for room := 10.0; room < 250; room += 15 {
			s := sampleSheet(t, orders.Letter, row.doc)
			tally, err := readTally(s.Tally)
			require.NoError(t, err)
			w := blankPaper(t, p)
			w.y = w.bottom() - room
			w.pictures(s.Result, tally, 0, details()[0])
			pdf, err := w.bytes()
			require.NoError(t, err)
			texts := readPDF(t, p, pdf)
			heading, first := matching(texts, `^THE STACK AS MEASURED$`), matching(texts, `^Row 1: `)
			require.Len(t, heading, 1)
			require.Equal(t, heading[0].page, first[0].page, "%s, %.0f mm above the foot", name, room)
			require.Less(t, first[0].y, heading[0].y)
			heights := matching(texts, `^(4[789]|50) in$`)
			if row.to == 1 {
				continue
			}
			if len(heights) == 0 { // where they have no room stations have numbers, with the heights in the table
				heights = matching(texts[slices.Index(texts, first[0]):], `^[1-5]$`)
			}
			require.Len(t, heights, 5, name)
			left, right := heights[0].x, heights[0].to
			for _, h := range heights {
				require.Equal(t, first[0].page, h.page, "%s, %.0f mm above the foot", name, room)
				left, right = min(left, h.x), max(right, h.to)
			}
			share := (right - left) / (w.inner() * mmInPoints)
			require.True(t, share >= row.from && share <= row.to, "%s takes %.2f of the width", name, share)
		}
	}
}

// The shares on a sheet of one page, the largest one by one and the rest together, are the
// whole.
func TestSharesOnASheetAreTheWhole(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	shares := matching(readPDF(t, p, pdf), `^[\d.]+ %$`)
	require.Len(t, shares, 5)
	sum := 0.0
	for _, share := range shares {
		require.InDelta(t, shares[0].to, share.to, 0.1)
		sum += number(t, strings.TrimSuffix(share.text, " %"))
	}
	require.InDelta(t, 100, sum, 0.3)
}
