package receipts

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/receipts/words"
)

var linkDrawn = regexp.MustCompile(`/Rect \[([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)\][^>]*/URI \((tel:[+\d]+)\)`)

// Telephone numbers on a paper are called by pressing them, each where it stands: the
// seller's in the head of a receipt and where it says whom to call.
func TestTelephoneNumbersAreLinked(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	sound(t, pdf)
	texts := readPDF(t, p, pdf)
	var dials []string
	for _, m := range linkDrawn.FindAllSubmatch(pdf, -1) {
		left, top, right, foot := points(t, m[1]), points(t, m[2]), points(t, m[3]), points(t, m[4])
		under := slices.ContainsFunc(texts, func(a painted) bool {
			return a.x <= left+0.1 && a.to >= right-0.1 && a.y > min(top, foot) && a.y < max(top, foot) && regexp.MustCompile(`802 555 01\d\d`).MatchString(a.text)
		})
		require.True(t, under, "a link on no number: %s", m[0])
		dials = append(dials, string(m[5]))
	}
	slices.Sort(dials)
	require.Equal(t, []string{"tel:8025550142", "tel:8025550142"}, dials)
	sheet, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	require.NoError(t, err)
	require.Len(t, linkDrawn.FindAll(sheet, -1), 2)
}

// What isn’t a number isn’t linked.
func TestWhatIsNoNumberIsNotLinked(t *testing.T) {
	for phone, want := range map[string]string{"": "", "ask": "", "802 555 0142": "8025550142", "+44 20 7946 0000": "+442079460000", "12": ""} {
		require.Equal(t, want, words.Dialled(phone), phone)
	}
}
