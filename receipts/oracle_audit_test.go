package receipts

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// filledAudit is the report of an audit whose readings and results are of real tallies,
// and in which every other text is a word of its own.
func filledAudit(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) (audits.Report, []audits.Picture, map[string]string) {
	real, _ := sampleAudit(t, paper, 2, 3, "Una Reed", "Tobias Fenn")
	f := paperFiller(t)
	r := fill.Value(f, func(r *audits.Report) {
		r.Language, r.Paper, r.Units, r.Zone = "en", paper, units, "America/New_York"
		r.Subject.RuleSet, r.Subject.Sold, r.Subject.Ordered = set, real.Subject.Sold, real.Subject.Ordered
		r.Result, r.Together, r.Shares, r.Rules = real.Result, real.Together, nil, real.Rules
		for i := range r.Measurers {
			m, was := &r.Measurers[i], real.Measurers[i]
			m.Tally, m.Result, m.Procedure = was.Tally, was.Result, was.Procedure
			for n := range m.Struck {
				m.Struck[n].Tally = real.Measurers[0].Struck[0].Tally
			}
		}
		for i := range r.Attendances {
			r.Attendances[i].Attended = "yes"
		}
		for i := range r.Notes {
			r.Notes[i].Kind = []audits.NoteKind{audits.SellerAnswer, audits.CopyGiven}[i%2]
		}
		for i := range r.Holds {
			r.Holds[i].Apart = real.Holds[0].Apart
		}
	})
	var pictures []audits.Picture
	for _, p := range r.Photos {
		pictures = append(pictures, audits.Picture{Photo: p, JPEG: picture(t, 60, 40)})
	}
	return r, pictures, f.Texts
}

// Every text of an audit stands in its report, and every reason once, under all rule sets.
func TestEveryTextStandsInAnAuditReport(t *testing.T) {
	p := plainPainter(t)
	check := func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
		r, pictures, texts := filledAudit(t, set, units, paper)
		pdf, err := p.Audit(r, auditHash, pictures)
		require.NoError(t, err)
		requireWords(t, fmt.Sprintf("audit under %s", set.Code), p, pdf, r, texts, map[string]string{
			"Report.Checklist.Code": "the question stands", "Report.Photos.ID": "it has a number", "Report.Photos.Name": "what it shows stands",
			"Report.Photos.Type": "it is seen", "Report.Plans.Kind": "the stack is drawn", "Report.Subject.OrderID": "its number stands",
			"Report.Subject.TicketHas": "the checklist says it", "Report.Subject.Zone": "the report’s times are in it",
		})
		print := words.New("en", units).SoldIn(set.Unit)
		consult(t, fmt.Sprintf("reasons under %s, %s", set.Code, units), p, pdf, print, r.Zone, map[string]mention{
			"Report.*": never("held by their words"), "Report.Departures": sentences(), "Report.Favour": sentences(),
			"Report.Dates": sentences(), "Report.Limits": sentences(), "Report.Result": sentences(),
		}, r, map[string]bool{})
	}
	for n := range 5 {
		underSome(t, 5*n, check)
	}
}

// Every text of a buyer's case stands on its paper, and every amount and text of money on
// the statement of it, under all rule sets.
func TestEveryTextStandsOnACaseAndAStatement(t *testing.T) {
	p := plainPainter(t)
	underAll(t, func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
		f := paperFiller(t)
		c := sampleCase(t, set.Code, units)
		c.Case.Account = fill.Value(f, func(a *cases.Statement) {
			was := c.Case.Account
			a.RuleSet, a.Quantity, a.Slip, a.Has, a.Lacks, a.Payment, a.Used, a.Stacked = was.RuleSet, was.Quantity, was.Slip, was.Has, was.Lacks, was.Payment, was.Used, was.Stacked
		})
		c.Case.Entries = []cases.Entry{}
		for _, kind := range []cases.EntryKind{cases.Claim, cases.Answer, cases.Reply, cases.Office} {
			c.Case.Entries = append(c.Case.Entries, fill.Value(f, func(e *cases.Entry) { e.Kind, e.Remedy, e.Accepts = kind, cases.BringWood, cases.No }))
		}
		c.Case.Tallies[0].By = f.Word("Tally.By")
		pdf, err := p.Case(c, paper, c.Case.Tallies[0].Created)
		require.NoError(t, err)
		requireWords(t, "case under "+set.Code, p, pdf, c.Case, f.Texts, map[string]string{"Entry.ID": "no number", "Entry.By": "the side stands"})

		f = paperFiller(t)
		h := samplePayments()
		h.Order.Customer = fill.Value(f, func(c *orders.Customer) { c.PrintName, c.PrintAddress = "", "" })
		h.Payments = []orders.Payment{fill.Value(f, func(m *orders.Payment) { m.Method, m.Reverses, m.Reason = orders.Cheque, "", "" })}
		h.Payments = append(h.Payments, fill.Value(f, func(m *orders.Payment) {
			m.Method, m.Reverses, m.Reference = orders.Cheque, h.Payments[0].ID, h.Payments[0].Reference
		}))
		shop := fill.Value(f, func(s *orders.Shop) {
			s.Paper, s.Units, s.Language, s.RuleSet, s.Charges = paper, units, "en", set.Code, orders.Charges{}
		})
		pdf, err = p.Payments(h, shop, h.Payments[0].On)
		require.NoError(t, err)
		requireWords(t, "payments under "+set.Code, p, pdf, []any{h, shop}, f.Texts, map[string]string{
			"Customer.ID": "no number", "Customer.Record": "no number", "Payment.ID": "no number", "Payment.OrderID": "its number stands", "Payment.By": "not the customer’s business",
			"Shop.TaxNumber": "the receipts have it", "Shop.Zone": "days only"})
	})
}

// requireWords holds that every word that fills a value is on its paper, but for those of
// some fields, each with why.
func requireWords(t *testing.T, name string, p *Painter, pdf []byte, of any, texts, but map[string]string) {
	t.Helper()
	stored, err := json.Marshal(of)
	require.NoError(t, err)
	read := asPainted(readPDF(t, p, pdf))
	missing := map[string]bool{}
	for word, path := range texts {
		if strings.Contains(string(stored), word) && !strings.Contains(read, word) {
			missing[path] = true
		}
	}
	require.Equal(t, slices.Sorted(maps.Keys(but)), slices.Sorted(maps.Keys(missing)), "%s: %s", name, read)
}
