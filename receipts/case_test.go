package receipts

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
)

// sampleCase is an invented case under a rule set: a cord sold and less of it there.
func sampleCase(t *testing.T, code string, units act.Units) cases.File {
	t.Helper()
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get(code)
	require.NoError(t, err)
	metric := units == act.Metric
	sold := set.Round(ranked(measure.Cord), metric)
	doc := []byte(strings.Replace(shortTally, "1 cord", set.Spell(sold, metric), 1))
	tally, err := stack.ParseTally(doc)
	require.NoError(t, err)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	at := time.Date(2026, 3, 10, 15, 0, 0, 0, time.UTC)
	return cases.File{
		Party: stack.Buyer, Language: "en", Units: units, Zone: "America/New_York", Set: set, Unit: set.SoldIn(metric), Currency: "USD",
		Today: act.Date{Year: 2026, Month: 3, Day: 12}, Step: cases.WeighAnswer,
		Case: cases.Case{
			Account: cases.Statement{
				Version: 1, RuleSet: code, Quantity: sold, PieceLength: 16 * measure.Inch, Wood: "Sugar maple and red oak, said to be seasoned",
				Seller:      orders.Party{Name: "Hollow Road Firewood", Address: "18 Hollow Road\nNorthfield, VT 05663", Phone: "802 555 0142"},
				Buyer:       orders.Party{Name: "Ida Thornquist", Address: "4 Mill Lane\nRoxbury, VT 05669"},
				DeliveredOn: act.Date{Year: 2026, Month: 3, Day: 9}, Price: usd(32000), Slip: cases.Yes,
				Has: []string{"vendor-name", "quantity"}, Lacks: []string{"price"},
				Answers: cases.Answers{Vehicle: "Grey flatbed, plate 123-ABC", Payment: orders.Cheque, Used: cases.No, Stacked: cases.Yes},
			},
			Tallies: []cases.Tally{{Look: 1, Document: doc, Result: result, By: "Ida Thornquist", Created: at}},
			Entries: []cases.Entry{
				{Kind: cases.Claim, Party: stack.Buyer, By: "Ida Thornquist", Text: "Less is here than was sold.", Remedy: cases.BringWood, At: at.Add(time.Hour)},
				{Kind: cases.Answer, Party: stack.Seller, By: "Hollow Road", Text: "We come on Friday with the rest.", Remedy: cases.BringWood, At: at.Add(30 * time.Hour)},
			},
		},
	}
}

func TestCasePaper(t *testing.T) {
	p := newPainter(t)
	made := time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC)
	for _, row := range []struct {
		set   string
		units act.Units
		paper orders.Paper
		want  []string
	}{
		{"us-model", act.Imperial, orders.Letter, []string{"1 cord (128 ft³)"}},
		{"massachusetts", act.Imperial, orders.Letter, []string{"128 ft³ stacked"}},
		{"europe", act.Metric, orders.A4, []string{"m³ stacked"}},
	} {
		f := sampleCase(t, row.set, row.units)
		pdf, err := p.Case(f, row.paper, made)
		require.NoError(t, err)
		sound(t, pdf)
		look(t, "case-"+row.set, pdf)
		require.Equal(t, "2", pages(t, pdf), row.set)
		text := textOf(t, pdf)
		for _, want := range append(row.want, "Short by", "Ida Thornquist", "Hollow Road Firewood", "123-ABC", "by cheque", "$320.00", "Delivered 3 days ago, on 9 March",
			"Asks for the wood that is missing. Less is here than was sold.", "Offers to bring the wood that is missing. We come on Friday",
			"A buyer’s own measurement, not", "an official one.", "New Hampshire (2014", "not legal advice") {
			require.Contains(t, text, want, row.set)
		}
		require.Empty(t, f.Set.BarredIn(text), row.set)
		again, err := p.Case(f, row.paper, made)
		require.NoError(t, err)
		require.Equal(t, pdf, again, "the same bytes each time")
	}
}

// Before anything is measured or answered there is room to write both.
func TestCasePaperBeforeAnything(t *testing.T) {
	f := sampleCase(t, "us-model", act.Imperial)
	f.Case.Tallies, f.Case.Entries, f.Case.Account.Slip, f.Case.Account.Has, f.Case.Account.Lacks, f.Step = nil, nil, cases.No, nil, nil, cases.MeasureFirst
	pdf, err := newPainter(t).Case(f, orders.A4, time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	look(t, "case-empty", pdf)
	require.Equal(t, "1", pages(t, pdf))
	text := textOf(t, pdf)
	for _, want := range []string{"Not measured yet.", "None was left.", "The seller’s answer"} {
		require.Contains(t, text, want)
	}
}

func TestCasePaperPrintsNoBarredTerm(t *testing.T) {
	f := sampleCase(t, "massachusetts", act.Imperial)
	f.Case.Entries[0].Text = "I paid for a cord"
	_, err := newPainter(t).Case(f, orders.Letter, time.Time{})
	require.ErrorContains(t, err, "entries[0].text")
}

// Under every set the checklist is one page on both papers and names what its ticket
// must hold.
func TestBuyingChecklist(t *testing.T) {
	p := newPainter(t)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		for paper, units := range map[orders.Paper]act.Units{orders.Letter: act.Imperial, orders.A4: act.Metric} {
			pdf, err := p.BuyingChecklist("en", set, paper, units)
			require.NoError(t, err)
			sound(t, pdf)
			look(t, "buying-"+set.Code+"-"+string(paper), pdf)
			require.Equal(t, "1", pages(t, pdf), "%s on %s", set.Code, paper)
			text := inOrder(t, pdf)
			require.Contains(t, text, "plate")
			require.Contains(t, text, "ranked and well stowed")
			require.Empty(t, set.BarredIn(text), set.Code)
			require.Contains(t, text, "Measurement Canada. Read in copies")
		}
	}
}

// look keeps a paper to be looked at where LOOK names a folder.
func look(t *testing.T, name string, pdf []byte) {
	t.Helper()
	if dir := os.Getenv("LOOK"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o600))
	}
}

// What was bought stands on one page, under its heading.
func TestWhatWasBoughtStaysTogether(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Case(sampleCase(t, "us-model", act.Imperial), orders.Letter, time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC))
	require.NoError(t, err)
	pages := map[string]int{}
	for _, text := range readPDF(t, p, pdf) {
		pages[text.text] = text.page
	}
	for _, label := range []string{"Bought", "Vehicle", "Delivered", "Price", "Closely stacked"} {
		require.Contains(t, pages, label)
		require.Equal(t, pages["WHAT WAS BOUGHT"], pages[label], label)
	}
}

// Wood sold in words that name no measure: its volume, and neither short nor full.
func TestCasePaperOfWordsThatNameNoMeasure(t *testing.T) {
	made := time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC)
	for _, row := range []struct{ set, words, said, ask string }{
		{"us-model", "a truckload", "Sold as “a truckload”: those words name no lawful measure.", "A cord is 128 ft³ of wood, stacked in rows."},
		{"us-model", "2 face cords", "Sold as “2 face cords”: those words name no lawful measure.", "A cord is 128 ft³"},
		{"massachusetts", "half a pickup", "Sold as “half a pickup”: those words name no lawful measure.", "write down the amount in cubic feet, stacked."},
	} {
		f := sampleCase(t, row.set, act.Imperial)
		a, latest := &f.Case.Account, f.Case.Latest()
		a.AsWords, a.Words, a.Quantity, f.Step = true, row.words, measure.Quantity{}, cases.AskAmount
		latest.Document = []byte(strings.Replace(shortTally, `"sold": "1 cord", `, "", 1))
		tally, err := stack.ParseTally(latest.Document)
		require.NoError(t, err)
		require.Nil(t, tally.Sold)
		latest.Result, err = stack.Measure(tally)
		require.NoError(t, err)
		f.Case.Entries = nil
		pdf, err := newPainter(t).Case(f, orders.Letter, made)
		require.NoError(t, err)
		sound(t, pdf)
		look(t, "case-words-"+row.set, pdf)
		text := strings.Join(strings.Fields(textOf(t, pdf)), " ")
		require.Contains(t, text, row.said)
		require.Contains(t, text, row.ask)
		require.Contains(t, text, "give or take")
		require.Contains(t, text, "Next: ask the seller for the amount in writing. Until then this can be neither short nor full.")
		require.NotContains(t, text, "Short")
		require.NotContains(t, text, "Full")
		require.Empty(t, f.Set.BarredIn(strings.ReplaceAll(text, "“"+row.words+"”", "")), "only between quotation marks")
	}
}
