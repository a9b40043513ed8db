package receipts

import (
	"bytes"
	"encoding/xml"
	"io"
	"os/exec"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// everyPaper is one paper of each kind, by what its title must be.
func everyPaper(t *testing.T, p *Painter) map[string][]byte {
	t.Helper()
	papers := map[string][]byte{}
	keep := func(title string, pdf []byte, err error) {
		require.NoError(t, err, title)
		papers[title] = pdf
	}
	for kind, title := range map[orders.ReceiptKind]string{
		orders.DeliveryReceipt: "Receipt 12", orders.VoidReceipt: "Void 12", orders.CorrectionReceipt: "Correction 12", orders.SettlementReceipt: "Settlement 12",
	} {
		r := sampleReceipt(orders.Letter)
		r.Facts.Kind = kind
		if kind.Ends() {
			r.Facts.Of, r.Facts.Reason, r.Facts.Former = 11, "The load came back", formerOf(r.Facts)
		}
		if kind == orders.SettlementReceipt {
			r = filledReceipt(t, kind, ruled(t, "us-model", act.Imperial), act.Imperial, orders.Letter)
			r.Facts.Number, r.Facts.Vendor, r.Facts.Issued, r.Facts.Zone = 12, sampleReceipt(orders.Letter).Facts.Vendor, sampleReceipt(orders.Letter).Facts.Issued, "America/New_York"
		}
		pdf, err := p.Receipt(r, sealText)
		keep(title+", Hollow Road Firewood, 9 March 2026", pdf, err)
	}
	pdf, err := p.Sheet(sampleSheet(t, orders.Letter, shortTally))
	keep("Measurement sheet 7, Hollow Road Firewood, 14 March 2026", pdf, err)
	audit, pictures := sampleAudit(t, orders.Letter, 2, 3, "Una Reed", "Tobias Fenn")
	pdf, err = p.Audit(audit, auditHash, pictures)
	keep("Audit report "+strconv.FormatInt(audit.Number, 10)+", "+inZone(audit.Issued, audit.Zone), pdf, err)
	pdf, err = p.Case(sampleCase(t, "us-model", act.Imperial), orders.Letter, time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC))
	keep("A buyer’s case, Hollow Road Firewood, 12 March 2026", pdf, err)
	pdf, err = p.StoragePlan("en", storageAnswer(t, storage.Shed, measure.Cord, 14*measure.Foot, 5*measure.Foot, 7*measure.Foot), 0, orders.Letter, act.Imperial, "")
	keep("Storage plan, in a free-standing shed", pdf, err)
	pdf, err = p.BlankTally("en", orders.Letter, act.Imperial)
	keep("Tally form", pdf, err)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	pdf, err = p.BuyingChecklist("en", set, orders.Letter, act.Imperial)
	keep("Buying wood, "+set.Name, pdf, err)
	payments := samplePayments()
	pdf, err = p.Payments(payments, orders.Shop{Name: "Hollow Road Firewood", Paper: orders.Letter, Units: act.Imperial, Language: "en", RuleSet: "us-model"}, payments.Payments[0].On)
	keep("Payments on order "+strconv.FormatInt(payments.Order.Number, 10)+", Hollow Road Firewood", pdf, err)
	verdict, err := lot.Judge(rules.Set{}, sampleLot(30, 12))
	require.NoError(t, err)
	pdf, err = p.Lot("en", rules.Set{}, sampleLot(30, 12), verdict, orders.Letter, act.Imperial, printedAt)
	keep("Packaged lot, 20 November 2026", pdf, err)
	return papers
}

func inZone(at time.Time, zone string) string {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return at.In(place).Format("2 January 2006")
}

// Every paper has a title of its own that says whose it is and of what day; the file tells
// it twice, and in which language it is, and asks readers to show it.
func TestEveryPaperHasATitleOfItsOwn(t *testing.T) {
	p := plainPainter(t)
	for title, pdf := range everyPaper(t, p) {
		require.Equal(t, title, infoTitle(t, pdf))
		require.Equal(t, []string{title, "en"}, xmpTexts(t, pdf, "li"), title)
		require.Contains(t, string(pdf), "/Lang (en)\n", title)
		require.Contains(t, string(pdf), "/DisplayDocTitle true", title)
		sound(t, pdf)
	}
}

// infoTitle is the title in the file's information, which comes behind the outline.
func infoTitle(t *testing.T, pdf []byte) string {
	t.Helper()
	title, _ := titleAt(t, pdf, bytes.LastIndex(pdf, []byte("/Title (")))
	return title
}

// titleAt reads the title that begins at a place of a PDF, and gives what follows it.
func titleAt(t *testing.T, pdf []byte, at int) (title string, rest []byte) {
	t.Helper()
	require.GreaterOrEqual(t, at, 0, "there is no title")
	var bare []byte
	i := at + len("/Title (")
	for ; pdf[i] != ')'; i++ {
		if pdf[i] == '\\' {
			if i++; pdf[i] == 'r' {
				bare = append(bare, '\r')
				continue
			}
		}
		bare = append(bare, pdf[i])
	}
	require.True(t, bytes.HasPrefix(bare, []byte{0xfe, 0xff}) && len(bare)%2 == 0, "%q", bare)
	var units []uint16
	for n := 2; n < len(bare); n += 2 {
		units = append(units, uint16(bare[n])<<8|uint16(bare[n+1]))
	}
	return string(utf16.Decode(units)), pdf[i+1:]
}

// xmpTexts are the texts of the elements of a name in a PDF's metadata, which must be
// sound XML where the catalog says that it is.
func xmpTexts(t *testing.T, pdf []byte, name string) (texts []string) {
	t.Helper()
	at := regexp.MustCompile(`/Metadata (\d+) 0 R`).FindSubmatch(pdf)
	require.NotNil(t, at)
	_, object, found := bytes.Cut(pdf, []byte("\n"+string(at[1])+" 0 obj\n"))
	require.True(t, found)
	require.True(t, bytes.HasPrefix(object, []byte("<< /Type /Metadata /Subtype /XML ")), "%.60q", object)
	_, stream, _ := bytes.Cut(object, []byte("stream\n"))
	stream, _, _ = bytes.Cut(stream, []byte("\nendstream"))
	d := xml.NewDecoder(bytes.NewReader(stream))
	for {
		token, err := d.Token()
		if err == io.EOF {
			return texts
		}
		require.NoError(t, err)
		if e, ok := token.(xml.StartElement); ok && e.Name.Local == name {
			var text string
			require.NoError(t, d.DecodeElement(&text, &e))
			texts = append(texts, text)
		}
	}
}

// A title in another script, with what XML and PDF escape, comes back whole.
func TestATitleKeepsItsLetters(t *testing.T) {
	p := plainPainter(t)
	r := sampleReceipt(orders.Letter)
	r.Facts.Vendor.Name = `Жукова & (Ødegård) \ <Sons>`
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	want := `Receipt 12, Жукова & (Ødegård) \ <Sons>, 9 March 2026`
	require.Equal(t, want, infoTitle(t, pdf))
	require.Equal(t, want, xmpTexts(t, pdf, "li")[0])
	sound(t, pdf)
	out, err := exec.Command(tool(t, "pdfinfo"), fileOf(t, pdf)).Output()
	require.NoError(t, err)
	require.Contains(t, string(out), want)
}

// The parts of a report of several pages are listed, each with the page that it begins on.
func TestAReportOfSeveralPagesHasAnOutline(t *testing.T) {
	p := plainPainter(t)
	audit, pictures := sampleAudit(t, orders.Letter, 2, 3, "Una Reed", "Tobias Fenn")
	pdf, err := p.Audit(audit, auditHash, pictures)
	require.NoError(t, err)
	sound(t, pdf)
	pages := reference.FindAllSubmatch(kids.FindSubmatch(pdf)[1], -1)
	onPage := map[string]int{}
	for n, page := range pages {
		onPage[string(page[1])] = n
	}
	texts := readPDF(t, p, pdf)
	listed := 0
	dest := regexp.MustCompile(`/Dest \[(\d+) 0 R /XYZ`)
	for rest := pdf; ; listed++ {
		at := bytes.Index(rest, []byte("<</Title ("))
		if at < 0 {
			break
		}
		var name string
		name, rest = titleAt(t, rest, at+2)
		page, found := onPage[string(dest.FindSubmatch(rest)[1])]
		require.True(t, found, name)
		require.Contains(t, pageText(texts, page), strings.ToUpper(name))
	}
	require.Greater(t, listed, len(pages))
	one, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	require.NotContains(t, string(one), "/Outlines")
}

// pageText is what a page says, as it was painted.
func pageText(all []painted, page int) string {
	var on []painted
	for _, text := range all {
		if text.page == page {
			on = append(on, text)
		}
	}
	return asPainted(on)
}
