package receipts

import (
	"fmt"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// lotFacts are what the report on a lot is painted of.
type lotFacts struct {
	Lot     lot.Lot
	Verdict lot.Verdict
}

// filledLot is a lot and a verdict of which every field has a value of its own, but that
// both name the same packages.
func filledLot(t *testing.T, finding lot.Finding) lotFacts {
	return fill.Value(paperFiller(t), func(f *lotFacts) {
		seed := uint64(918_273)
		f.Lot.Seed, f.Lot.Drawn = &seed, []uint64{445_566, 778_899}
		f.Verdict.Finding, f.Verdict.Why[0].Code = finding, "over-individual-limit"
		for i := range f.Lot.Packages {
			f.Lot.Packages[i].Area = lot.Area(i+31) * lot.SquareInch
			f.Lot.Packages[i].Number = f.Verdict.Packages[i].Number
		}
	})
}

// lotMentions are what doesn't stand on a report once and in the usual words.
func lotMentions(print *words.Printer, f lotFacts) map[string]mention {
	figure := mention{says: func(v any) []string {
		n := v.(lot.Figure[int])
		return []string{strconv.Itoa(n.Value), print.Mark(n.Known)}
	}}
	return map[string]mention{
		"lotFacts.Lot.Labelled":        as(print.Package),
		"lotFacts.Lot.Limit":           never("the verdict’s stands"),
		"lotFacts.Lot.Seed":            as(func(seed uint64) string { return print.Drawn(seed, f.Verdict.Picks) }),
		"lotFacts.Lot.Drawn":           as(func([]uint64) string { return print.Say(f.Lot.Draws()) }),
		"lotFacts.Lot.Packages.Number": never("the verdict’s stands"),
		"lotFacts.Lot.Packages.Volume": never("the verdict’s stands"),
		"lotFacts.Lot.Packages.Length": as(print.Reading),
		"lotFacts.Lot.Packages.Area":   as(print.End),

		"lotFacts.Verdict.Finding":      as(func(lot.Finding) string { return print.LotFinding(f.Verdict) }),
		"lotFacts.Verdict.Why.Code":     never("for programs"),
		"lotFacts.Verdict.Notes.Code":   never("for programs"),
		"lotFacts.Verdict.Plan.Name":    as(func(string) string { return print.PlanName(f.Verdict.Plan) }),
		"lotFacts.Verdict.Plan.For":     never("in the sentence of the plan"),
		"lotFacts.Verdict.Plan.LotSize": never("the lot’s stands"),
		"lotFacts.Verdict.Plan.Sample":  figure,
		"lotFacts.Verdict.Plan.Allowed": figure,
		"lotFacts.Verdict.Plan.Factor":  never("the one for those measured stands"),
		"lotFacts.Verdict.Factor": {says: func(v any) []string {
			factor := v.(lot.Figure[float64])
			return []string{print.Factor(&factor), print.Mark(factor.Known)}
		}},
		"lotFacts.Verdict.Picks":           never("in the sentence of the seed"),
		"lotFacts.Verdict.Packages.Volume": as(print.Package),
		"lotFacts.Verdict.Packages.Error":  as(func(v measure.Volume) string { return "** " + print.PackageError(v) }),
		"lotFacts.Verdict.Packages.Drawn":  {times: len(f.Verdict.Packages), say: func(any) string { return "drawn" }},
		"lotFacts.Verdict.Packages.Over":   never("the star at its error"),
		"lotFacts.Verdict.Packages.Twice":  never("the stars at its error"),
		"lotFacts.Verdict.Individual":      as(func(measure.Volume) string { return print.IndividualLimit(f.Lot, f.Verdict) }),
		"lotFacts.Verdict.Mean":            as(print.PackageError),
		"lotFacts.Verdict.Spread":          as(print.Package),
		"lotFacts.Verdict.Limit":           as(print.Package),
		"lotFacts.Verdict.Grounds": {says: func(v any) (texts []string) {
			for _, g := range v.([]lot.Ground) {
				texts = append(texts, print.Ground(g))
			}
			return texts
		}},
	}
}

// onEveryPaper runs a check in both systems of units, each on its own size of paper.
func onEveryPaper(check func(units act.Units, paper orders.Paper)) {
	check(act.Imperial, orders.Letter)
	check(act.Metric, orders.A4)
}

// Every fact of a lot and of the verdict on it stands on the report once.
func TestEveryFactStandsOnALotReportOnce(t *testing.T) {
	p := plainPainter(t)
	for _, finding := range []lot.Finding{lot.Pass, lot.Fail, lot.NotJudged} {
		onEveryPaper(func(units act.Units, paper orders.Paper) {
			f := filledLot(t, finding)
			print, used := words.New("en", units), map[string]bool{}
			pdf, err := p.Lot("en", rules.Set{}, f.Lot, f.Verdict, paper, units, printedAt)
			require.NoError(t, err)
			consult(t, fmt.Sprintf("lot that is %s, %s", finding, units), p, pdf, print, "UTC", lotMentions(print, f), f, used)
			allUsed(t, lotMentions(print, f), used)
		})
	}
}

// Every reason that a real lot is judged by stands on its report once.
func TestEveryReasonStandsOnALotReportOnce(t *testing.T) {
	limited, unseeded, few := sampleLot(30, 12), sampleLot(1, 1), sampleLot(300, 12)
	limit := 10 * measure.CubicInch
	limited.Limit, unseeded.Seed = &limit, nil
	few.Drawn = []uint64{777, 12345}
	p := plainPainter(t)
	for name, l := range map[string]lot.Lot{"plain": sampleLot(30, 12), "with a limit": limited, "of one": unseeded, "of too few": few, "of many": sampleLot(3000, 48)} {
		v, err := lot.Judge(rules.Set{}, l)
		require.NoError(t, err)
		onEveryPaper(func(units act.Units, paper orders.Paper) {
			pdf, err := p.Lot("en", rules.Set{}, l, v, paper, units, printedAt)
			require.NoError(t, err)
			consult(t, "lot "+name, p, pdf, words.New("en", units), "UTC",
				map[string]mention{"lotFacts.Lot": never("held by the other test"), "lotFacts.Verdict": sentences()}, lotFacts{l, v}, map[string]bool{})
		})
	}
}

// printedAt is when reports are printed.
var printedAt = time.Date(2026, 11, 20, 14, 5, 0, 0, time.UTC)
