package receipts

import (
	"cmp"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

func formerOf(f orders.Facts) *orders.Former {
	return &orders.Former{
		Issued: time.Date(2026, 3, 9, 19, 5, 0, 0, time.UTC), Seal: "WXYZ-2345-6789", DeliveredOn: f.DeliveredOn, Delivered: f.Delivered,
		Priced: f.Priced, Species: f.Species, PieceLength: f.PieceLength, Seasoning: f.Seasoning, Total: f.Price.Total(), Deposit: f.Deposit,
	}
}

// A correction prints which receipt it corrects, each thing that changed, and why.
func TestCorrectionOnPaper(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = orders.CorrectionReceipt, 11, "The last row was not unloaded", formerOf(r.Facts)
	r.Facts.Delivered, r.Facts.Seasoning, r.Facts.Storage = ranked(measure.Cord*3/4), yard.Green, nil
	r.WasPurchaser = &orders.Party{Name: "Ida Thornqvist", Address: r.Purchaser.Address}
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	require.Equal(t, "1", pages(t, pdf))
	text := textOf(t, pdf)
	for _, want := range []string{
		"Corrects receipt 11 of 9 March 2026.", "Delivered: was 1 cord (128 ft³), is 3/4 cord (96 ft³)", "Purchaser: was Ida Thornqvist, is Ida Thornquist",
		"Seasoning: was seasoned, is green", "Why: The last row was not unloaded", "WXYZ-2345-6789", "$425.00",
	} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "Address: was", "what stayed is not listed")
}

// A void prints what it ends and why, and asks for no money.
func TestVoidOnPaper(t *testing.T) {
	r := sampleReceipt(orders.A4)
	r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = orders.VoidReceipt, 11, "The load came back", formerOf(r.Facts)
	r.Facts.Delivered, r.Facts.Priced, r.Facts.DeliveredOn = measure.Quantity{}, measure.Quantity{}, act.Date{}
	r.Facts.Price, r.Facts.Storage, r.Facts.Moisture = orders.Price{Wood: usd(0)}, nil, nil
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	for _, want := range []string{"Makes receipt 11 of 9 March 2026 void.", "1 cord (128 ft³) delivered on 9 March 2026", "Total: $425.00", "Why: The load came back", sealText} {
		require.Contains(t, text, want)
	}
	require.NotContains(t, text, "To pay")
}

// A void and a correction are titled so, and what they do is the largest thing on them.
func TestVoidAndCorrectionHaveTitlesOfTheirOwn(t *testing.T) {
	for kind, want := range map[orders.ReceiptKind][]string{
		orders.VoidReceipt:       {"Void 12", "Receipt 11 is void"},
		orders.CorrectionReceipt: {"Correction 12", "In place of receipt 11"},
	} {
		for _, size := range []orders.Paper{orders.Letter, orders.A4} {
			r := sampleReceipt(size)
			r.Facts.Number, r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = 12, kind, 11, "The load came back", formerOf(r.Facts)
			pdf, err := newPainter(t).Receipt(r, sealText)
			require.NoError(t, err)
			sound(t, pdf)
			text := strings.Join(strings.Fields(textOf(t, pdf)), " ")
			require.Contains(t, text, want[0])
			require.Contains(t, text, want[1])
			require.NotContains(t, text, "Receipt 12")
			keep(t, string(kind)+"-"+string(size)+".pdf", pdf)
		}
	}
}

// A receipt that was ended says across each page by which paper; all of it can be read
// under that, and what was stored is another file.
func TestAnEndedReceiptSaysSoAcrossThePage(t *testing.T) {
	for _, kind := range []orders.ReceiptKind{orders.VoidReceipt, orders.CorrectionReceipt} {
		r := sampleReceipt(orders.Letter)
		p := plainPainter(t)
		stored, err := p.Receipt(r, sealText)
		require.NoError(t, err)
		ended, err := p.Ended(r, sealText, orders.Ending{Number: 13, Kind: kind})
		require.NoError(t, err)
		sound(t, ended)
		again, err := p.Receipt(r, sealText)
		require.NoError(t, err)
		require.Equal(t, stored, again, "the paper as it was issued stays")
		says := map[orders.ReceiptKind]string{orders.VoidReceipt: "receipt 13 says why", orders.CorrectionReceipt: "Corrected by receipt 13"}[kind]
		keep(t, "ended-"+string(kind)+".pdf", ended)
		require.Contains(t, asPainted(readPDF(t, p, ended)), says)
		require.NotContains(t, asPainted(readPDF(t, p, stored)), "receipt 13")
		require.Contains(t, asPainted(readPDF(t, p, ended)), sealText)
	}
}

// A stack measured short before stands on the receipt, with what the seller says of it.
func TestMeasuredShortOnPaper(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	measured := ranked(measure.Cord * 7 / 8)
	r.Facts.Measured = &measured
	r.Facts.Measuring = &orders.MeasuringFact{Sheet: 4, Word: stack.Short, Missing: measure.Cord / 8, Why: "A row was left on the trailer"}
	p := plainPainter(t)
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	text := asPainted(readPDF(t, p, pdf))
	require.Contains(t, text, "Short by 1/8 cord (16 ft³) of what was ordered, by sheet 4. More is delivered, the seller says: A row was left on the trailer")
	r.Facts.Deposit.Minor = 0
	pdf, err = newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	require.NotContains(t, textOf(t, pdf), "Prepaid", "no line for nothing")
	require.NotContains(t, textOf(t, pdf), "$0.00")
	keep(t, "short.pdf", pdf)
}

// What crosses an ended receipt out is two thin lines, between which all of it is read; the
// words stand in the margin, over none of its figures.
func TestTheWordsOfAnEndedReceiptCoverNothing(t *testing.T) {
	p := plainPainter(t)
	for _, kind := range []orders.ReceiptKind{orders.VoidReceipt, orders.CorrectionReceipt} {
		ended, err := p.Ended(sampleReceipt(orders.Letter), sealText, orders.Ending{Number: 1234, Kind: kind})
		require.NoError(t, err)
		says := map[orders.ReceiptKind]string{orders.VoidReceipt: "Void: receipt 1234 says why.", orders.CorrectionReceipt: "Corrected by receipt 1234."}[kind]
		boxes, err := exec.Command(tool(t, "pdftotext"), "-bbox", fileOf(t, ended), "-").Output()
		require.NoError(t, err)
		inMargin := 0
		for _, m := range regexp.MustCompile(`xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">([^<]*)</word>`).FindAllStringSubmatch(string(boxes), -1) {
			from, to := points(t, []byte(m[1])), points(t, []byte(m[2]))
			if from < (marginLeft-1)*72/25.4 {
				require.LessOrEqual(t, to, marginLeft*72/25.4+1, m[3])
				require.Contains(t, says, m[3])
				inMargin++
			}
		}
		require.Equal(t, len(strings.Fields(says)), inMargin)
	}
}

// A void fills its page: its parts are spread over it, and who signs stands at its foot.
func TestAVoidFillsItsPage(t *testing.T) {
	for _, size := range []orders.Paper{orders.Letter, orders.A4} {
		r := sampleReceipt(size)
		r.Facts.Kind, r.Facts.Of, r.Facts.Reason, r.Facts.Former = orders.VoidReceipt, 11, "The load came back", formerOf(r.Facts)
		p := plainPainter(t)
		pdf, err := p.Receipt(r, sealText)
		require.NoError(t, err)
		texts := readPDF(t, p, pdf)
		slices.SortStableFunc(texts, func(a, b painted) int { return cmp.Compare(b.y, a.y) })
		high := points(t, mediaBox.FindSubmatch(pdf)[2])
		last := high - marginTop*72/25.4
		for _, text := range texts {
			require.Less(t, last-text.y, high/5, "nothing stands above “%s”", text.text)
			last = text.y
		}
		require.Less(t, matching(texts, `^Seal `+sealText)[0].y, high/6)
	}
}
