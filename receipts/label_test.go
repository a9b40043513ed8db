package receipts

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

func bundle(t *testing.T, code string) orders.Label {
	t.Helper()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get(code)
	require.NoError(t, err)
	volume, err := measure.ParseVolume("0.75 cu ft")
	require.NoError(t, err)
	return orders.Label{What: "Firewood, split red oak", Volume: volume, Price: money.Money{Minor: 750, Currency: "USD"},
		Origin: "Adams County, Ohio", Packer: orders.Party{Name: "Fern Hollow Wood", Address: "12 Fern Hollow Road\nAlder Bend, OH"}, Rules: set}
}

// Each label says what it is, how much, for how much, and who packed it; a page holds
// eight, whatever rules they are under, and none of them a barred term.
func TestALabelSaysAllThatIsAsked(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	quantity := map[string]string{"us-model": "0.75 ft³", "canada": "21.2 dm³", "france": "21.2 dm³", "michigan": "0.75 ft³"}
	for _, set := range book.All() {
		for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
			l := bundle(t, set.Code)
			pdf, err := plainPainter(t).Labels(l, orders.Shop{Language: "en", Paper: paper, Units: act.Imperial, Currency: "USD"})
			require.NoError(t, err, set.Code)
			again, err := plainPainter(t).Labels(l, orders.Shop{Language: "en", Paper: paper, Units: act.Imperial, Currency: "USD"})
			require.NoError(t, err)
			require.Equal(t, pdf, again)
			look(t, "labels-"+set.Code+"-"+string(paper), pdf)
			var texts []string
			for _, painted := range readPDF(t, plainPainter(t), pdf) {
				require.Zero(t, painted.page)
				texts = append(texts, painted.text)
			}
			text := strings.Join(texts, " ")
			for _, want := range []string{l.What, "Packed by Fern Hollow Wood", "Adams County", quantity[set.Code], "$7.50 ("} {
				if want != "" {
					require.GreaterOrEqual(t, strings.Count(text, want), 8, "%s: %s", set.Code, want)
				}
			}
			require.Empty(t, set.BarredIn(text), set.Code)
		}
	}
}

// The small letters and the figures of a quantity are as high as the rules ask: held
// against the outlines of the font, which the painter does not look at.
func TestLabelsAreAsHighAsTheRulesAsk(t *testing.T) {
	font, err := sfnt.Parse(gobold.TTF)
	require.NoError(t, err)
	for code, least := range map[string]float64{"us-model": 25.4 / 4, "canada": 9.5, "germany": 25.4 / 4} {
		pdf, err := plainPainter(t).Labels(bundle(t, code), orders.Shop{Language: "en", Paper: orders.A4, Units: act.Metric, Currency: "EUR"})
		require.NoError(t, err)
		size := 0.0
		for _, set := range regexp.MustCompile(`/\S+ ([0-9.]+) Tf`).FindAllSubmatch(pdf, -1) {
			points, err := strconv.ParseFloat(string(set[1]), 64)
			require.NoError(t, err)
			size = max(size, points)
		}
		for _, r := range "0123456789xmf" {
			var b sfnt.Buffer
			i, err := font.GlyphIndex(&b, r)
			require.NoError(t, err)
			bounds, _, err := font.GlyphBounds(&b, i, fixed.I(1000), 0)
			require.NoError(t, err)
			high := float64(-bounds.Min.Y) / 64 / 1000 * size * 25.4 / 72
			require.GreaterOrEqual(t, high, least, "%s: %c", code, r)
		}
	}
}
