package words_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/series"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/money"
	"wellstowed/orders/photos"
	"wellstowed/orders/privacy"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// A sentence is what somebody reads, and what is said to them.
type sentence struct{ want, said string }

func readAloud(t *testing.T, all []sentence) {
	t.Helper()
	for _, s := range all {
		require.Equal(t, s.want, s.said)
	}
}

// ranked is a part of a cord in 128ths: cubic feet.
func ranked(feet int) measure.Quantity {
	return measure.Quantity{Volume: measure.Volume(feet) * measure.CubicFoot, Basis: measure.Ranked}
}

func dollars(n int64) money.Money { return money.Money{Minor: 100 * n, Currency: "USD"} }

func on(y int, m time.Month, d int) act.Date { return act.Date{Year: y, Month: m, Day: d} }

// noon is on a day of March 2026, UTC.
func noon(day int) time.Time { return time.Date(2026, 3, day, 12, 0, 0, 0, time.UTC) }

// What is owed, what was done about it and what is left, in each way that it can end.
func TestSettlementsAreToldToTheirEnd(t *testing.T) {
	p := imperial()
	facts := func(s orders.SettlesFact) orders.Facts {
		s.Owed = ranked(32)
		return orders.Facts{Of: 3, Settles: &s}
	}
	owed := func(change func(*orders.Settlement)) orders.Settlement {
		s := orders.Settlement{Owed: ranked(32), Choice: "wood", Worth: dollars(70)}
		change(&s)
		return s
	}
	readAloud(t, []sentence{
		{"Settles receipt 3: owed 1/4 cord (32 ft³), $70.00 given for it, nothing more owed.",
			p.Settles(facts(orders.SettlesFact{Choice: orders.SettleMoney, Given: dollars(70), Closes: true}))},
		{"Settles receipt 3: owed 1/4 cord (32 ft³), brought 1/4 cord (32 ft³), nothing more owed.",
			p.Settles(facts(orders.SettlesFact{Choice: "wood", Before: 16 * measure.CubicFoot, Brought: 16 * measure.CubicFoot, Closes: true}))},
		{"Settles receipt 3: owed 1/4 cord (32 ft³), brought 1/8 cord (16 ft³); the buyer takes this as enough.",
			p.Settles(facts(orders.SettlesFact{Choice: "wood", Brought: 16 * measure.CubicFoot, Left: 16 * measure.CubicFoot, Closes: true}))},
		{"Towards receipt 3: owed 1/4 cord (32 ft³), brought 1/8 cord (16 ft³); 1/8 cord (16 ft³) still owed.",
			p.Settles(facts(orders.SettlesFact{Choice: "wood", Brought: 16 * measure.CubicFoot, Left: 16 * measure.CubicFoot}))},
		{"taken off what is owed for the order", p.SettledBy(orders.SettlesFact{Method: orders.OffBalance})},
		{"given back: cash", p.SettledBy(orders.SettlesFact{Method: "cash"})},
		{"measured: 1/4 cord (32 ft³) by a tally of the load", p.SettledBy(orders.SettlesFact{Tallied: true, Tally: &orders.LoadTally{Result: stack.Result{Quantity: ranked(32)}}})},
		{"measured by a tally of the load", p.SettledBy(orders.SettlesFact{Tallied: true})},
		{"as stated by the seller", p.SettledBy(orders.SettlesFact{})},
		{"Saving this closes it: nothing more is owed.", p.WouldSettle(orders.Outcome{Brought: ranked(32)})},
		{"1/8 cord (16 ft³) is still owed after this load, by the readings.", p.WouldSettle(orders.Outcome{Brought: ranked(16), Left: ranked(16)})},
		{"This is loose wood, and ranked wood is owed. It settles nothing until it is measured as such.",
			p.WouldSettle(orders.Outcome{Brought: measure.Quantity{Volume: measure.Cord, Basis: measure.Loose}, Left: ranked(16), OtherBasis: true})},
		{"1/4 cord (32 ft³) owed: to be brought", p.Settlement(owed(func(*orders.Settlement) {}))},
		{"1/4 cord (32 ft³), about 80 to 96 pieces owed: to be brought", p.Settlement(owed(func(s *orders.Settlement) {
			s.Pieces = stack.PieceCount{LowFace: 5, HighFace: 6, PieceLength: 2 * measure.Foot} // 16 ft² of face
		}))},
		{"1/4 cord (32 ft³) owed: $70.00 to be given for it", p.Settlement(owed(func(s *orders.Settlement) { s.Choice = orders.SettleMoney }))},
		{"1/4 cord (32 ft³) owed: another settlement replaces it", p.Settlement(owed(func(s *orders.Settlement) { s.Replaced = true }))},
		{"1/4 cord (32 ft³) owed: 1/8 cord (16 ft³) still to be brought", p.Settlement(owed(func(s *orders.Settlement) {
			s.Steps = []orders.SettlementStep{{Brought: 16 * measure.CubicFoot}}
		}))},
		{"1/4 cord (32 ft³) was owed: settled with wood", p.Settlement(owed(func(s *orders.Settlement) {
			s.Steps = []orders.SettlementStep{{Brought: 32 * measure.CubicFoot, Closes: true}}
		}))},
		{"1/4 cord (32 ft³) was owed: settled with $70.00", p.Settlement(owed(func(s *orders.Settlement) {
			s.Choice, s.Steps = orders.SettleMoney, []orders.SettlementStep{{Given: dollars(70), Closes: true}}
		}))},
		{"agreed with the buyer on 12 March 2026, in writing", p.Agreed(on(2026, 3, 12), orders.InWriting)},
		{"agreed with the buyer on 12 March 2026, spoken", p.Agreed(on(2026, 3, 12), "word")},
	})
}

// A series says nothing usual of fewer than five, and figures of more.
func TestSeriesSayHowManyTheyRestOn(t *testing.T) {
	p := imperial()
	low, high, spread := -0.085, 0.012, 0.04
	of := series.Series{Count: 6, Mean: -0.036, Low: &low, High: &high, Deviation: &spread, Measuring: 0.03, Short: 2, Full: 1}
	few := series.Series{Count: 2, Errors: []float64{-0.11, 0.0001}, Words: []stack.Word{stack.Short, stack.Full}, Mean: -0.055}
	readAloud(t, []sentence{
		{"No audits.", p.SeriesLead(series.Series{})},
		{"One audit: too few to say what is usual.", p.SeriesLead(series.Series{Count: 1})},
		{"2 audits: too few to say what is usual.", p.SeriesLead(few)},
		{"6 audits: on average −3.6 % of what was sold, and 95 times in 100 the true mean is between −8.5 % and +1.2 %.", p.SeriesLead(of)},
	})
	require.Empty(t, p.Series(series.Series{}))
	lines := p.Series(few)
	require.Len(t, lines, 2)
	require.Contains(t, lines[0], "−11 % of what was sold: ")
	require.Contains(t, lines[1], "0 % of what was sold: ")
	require.Equal(t, []string{"Found short: 2 of 6. Found full: 1 of 6.",
		"Standard deviation between audits: 4 %. Measuring alone would give about 3 %."}, p.Series(of))
}

// Moisture always stands with its basis. 20 % of the dry weight is 1/6 of the wet: 16.7 %.
func TestMoistureStandsWithItsBasis(t *testing.T) {
	p := imperial()
	at, over := dry(t, 20), dry(t, 23)
	wet := at.On(wood.Wet)
	season := func(v wood.Verdict, atMost bool) wood.Season {
		return wood.Season{Limit: at, Verdict: v, AtMost: atMost}
	}
	reads := func(bound *wood.Moisture, accuracy float64, batch bool) yard.MoistureFact {
		return yard.MoistureFact{Mean: dry(t, 21), Bound: bound, Accuracy: accuracy, Pieces: 6, Method: wood.PinMeter, By: "Wren", On: on(2026, 3, 7), OfBatch: batch}
	}
	readAloud(t, []sentence{
		{"20 % dry basis", p.Moisture(at)},
		{"16.7 % wet basis", p.Moisture(wet)},
		{"20 % dry basis, which is 16.7 % wet basis", p.BothBases(at)},
		{"16.7 % wet basis, which is 20 % dry basis", p.BothBases(wet)},
		{"16.7 % wet basis (20 % dry basis on a meter)", p.MoistureLimit(wet)},
		{"These readings can’t tell whether the wood is below 20 % dry basis.", p.Season(season("", false))},
		{"These readings can’t tell whether the wood is at or below 20 % dry basis.", p.Season(season("", true))},
		{"Above 20 % dry basis, by these readings.", p.Season(season(wood.Above, true))},
		{"Below 20 % dry basis, by these readings.", p.Season(season(wood.Below, false))},
		{"At or below 20 % dry basis, by these readings.", p.Season(season(wood.Below, true))},
		{"measured: mean 21 % dry basis, pin meter, 6 pieces, by Wren, 7 March 2026", p.Measured(reads(&over, 0, false))},
		{"measured on the batch: mean 21 % dry basis (at most 23 % dry basis, the meter ±2.0 points), pin meter, 6 pieces, by Wren, 7 March 2026", p.Measured(reads(&over, 2, true))},
		{"measured: mean 21 % dry basis (at least 20 % dry basis, the meter ±2.0 points), pin meter, 6 pieces, by Wren, 7 March 2026", p.Measured(reads(&at, 2, false))},
	})
	facts := func(s wood.Season) (lines []string) {
		for _, f := range p.SeasonFacts(s) {
			lines = append(lines, f.Label+": "+f.Text)
		}
		return lines
	}
	require.Equal(t, []string{"Mean: 21 % dry basis, 1 piece", "Driest and wettest reading: 20 % dry basis and 23 % dry basis"},
		facts(wood.Season{Mean: dry(t, 21), Pieces: 1, Driest: at, Wettest: over}))
	require.Equal(t, []string{"Mean: 21 % dry basis, 6 pieces", "Driest and wettest reading: 20 % dry basis and 23 % dry basis",
		"Spread between pieces: 1.5 points (standard deviation)", "How sure: The mean of the load is at most 23 % dry basis, 95 times in 100"},
		facts(wood.Season{Mean: dry(t, 21), Pieces: 6, Driest: at, Wettest: over, Spread: 1.5, Bound: &over}))
	require.Equal(t, "How sure: The mean of the load is at least 20 % dry basis, 95 times in 100, the meter’s own ±2.0 points with it",
		facts(wood.Season{Mean: dry(t, 21), Pieces: 6, Driest: at, Wettest: over, Spread: 1.5, Bound: &at, Accuracy: 2})[3])
	require.Equal(t, []string{"Read 4 pieces more: if they lie like these, that settles it."}, p.SeasonNotes(wood.Season{More: 4}))
	require.Empty(t, p.SeasonNotes(wood.Season{}))
}

// What an erasure reaches is counted in words that fit one and many.
func TestErasuresAreCounted(t *testing.T) {
	p := imperial()
	one := privacy.Erased{Receipts: []int64{4}, Sheets: []int64{2}, Orders: []int64{7}, Places: 1, Records: 1, Audits: []int64{3}}
	many := privacy.Erased{Receipts: []int64{4, 5, 6, 8, 9}, Sheets: []int64{2, 3}, Orders: []int64{7, 9}, Places: 2, Records: 3, Audits: []int64{3, 4, 5}}
	readAloud(t, []sentence{
		{"receipt 4; measurement sheet 2; cancelled order 7; 1 place dropped from the waiting list; 1 record of wood you bought elsewhere; audit 3",
			p.Erased(privacy.Erasure{Erased: one})},
		{"receipts 4 to 6, 8, 9; measurement sheets 2, 3; cancelled orders 7, 9; 2 places dropped from the waiting list; 3 records of wood you bought elsewhere; audits 3 to 5",
			p.Erased(privacy.Erasure{Erased: many})},
	})
	require.Equal(t, []string{"1 receipt is past what the rules ask to be kept: number 4",
		"Past the time they are kept for: cancelled order 7; 1 place dropped from the waiting list; 1 record of wood you bought elsewhere; audit 3"}, p.Past(one))
	require.Equal(t, []string{"5 receipts are past what the rules ask to be kept: numbers 4 to 6, 8, 9"}, p.Past(privacy.Erased{Receipts: many.Receipts}))
	require.Empty(t, p.Past(privacy.Erased{}))
	require.Empty(t, p.Later(privacy.Plan{}))
	require.Equal(t, []string{"1 receipt is still to be kept, until 11 March 2027.", "1 other record is still kept, until 30 April 2026."},
		p.Later(privacy.Plan{Later: 1, Next: on(2027, 3, 12), LaterRecords: 1, NextRecord: on(2026, 5, 1)}))
	require.Equal(t, []string{"2 receipts are still to be kept, the first of them until 11 March 2027.", "3 other records are still kept, the first of them until 30 April 2026."},
		p.Later(privacy.Plan{Later: 2, Next: on(2027, 3, 12), LaterRecords: 3, NextRecord: on(2026, 5, 1)}))
}

// What an audit's report says of people, wood and tapes.
func TestAuditsAreTold(t *testing.T) {
	p := imperial()
	none := stack.Apart{Answered: true}
	hold := func(change func(*audits.Hold)) []string {
		h := audits.Hold{By: "Ada Quill", Since: noon(8), Apart: none}
		change(&h)
		return p.AuditHold(h, "UTC")
	}
	tape := audits.Circumstances{TapeMaker: "Alder", TapeNumber: "7", Role: "measurer", Began: noon(9), Ended: noon(9).Add(time.Hour)}
	checked := tape
	checked.CheckedOn, checked.CheckedBy = on(2026, 3, 1), "the county’s bench"
	const told, at8, at9 = "by phone", "8 March 2026, 12:00 UTC", "9 March 2026, 12:00 UTC"
	readAloud(t, []sentence{
		{"Official measurement: County of Slate.", p.AuditCapacity(audits.Capacity{Official: true, Office: "County of Slate"})},
		{"Official measurement: County of Slate, badge or commission 12.", p.AuditCapacity(audits.Capacity{Official: true, Office: "County of Slate", Badge: "12"})},
		{p.Volunteer(), p.AuditCapacity(audits.Capacity{})},
		{"red oak, 16 in pieces; seasoned (stated by seller, not measured)", p.AuditWood(audits.Subject{Species: "red oak", PieceLength: 16 * measure.Inch, Seasoning: yard.Seasoned})},
		{"not said", p.AuditWood(audits.Subject{})},
		{"The seller came.", strings.Join(p.AuditAttendance(audits.Attendance{Attended: "yes"}), "|")},
		{"Came for the seller: Una Reed.|with a tape", strings.Join(p.AuditAttendance(audits.Attendance{Attended: "yes", Who: "Una Reed", Note: "with a tape"}), "|")},
		{"The seller declined to come.", strings.Join(p.AuditAttendance(audits.Attendance{Attended: "declined"}), "|")},
		{"The seller did not come.", strings.Join(p.AuditAttendance(audits.Attendance{Attended: "no"}), "|")},
		{"Kept unmoved since " + at8 + "; Ada Quill is responsible for it.|Of this delivery, not in the stack: none.", strings.Join(hold(func(*audits.Hold) {}), "|")},
		{"Moved since " + at8 + "; Ada Quill is responsible for it.|Of this delivery, not in the stack: none.|by the wind", strings.Join(hold(func(h *audits.Hold) { h.Broken, h.Note = true, "by the wind" }), "|")},
		{"Some was used since at a time not said; not said is responsible for it.|Of this delivery, not in the stack: none.",
			strings.Join(hold(func(h *audits.Hold) { h.Used, h.Since, h.By = true, time.Time{}, "" }), "|")},
		{"Seller not told. Recorded " + at8 + " by Pim Holt", strings.Join(p.AuditNotice(audits.Notice{Written: noon(8), By: "Pim Holt"}, "UTC"), "|")},
		{"Seller told by phone by Pim Holt, " + at8 + "|Asked to come " + at9 + "|rang twice",
			strings.Join(p.AuditNotice(audits.Notice{How: told, By: "Pim Holt", When: noon(8), Appointed: noon(9), Note: "rang twice"}, "UTC"), "|")},
		{"no answer", p.AuditAnswer(audits.Item{})},
		{"yes", p.AuditAnswer(audits.Item{Answer: "yes"})},
		{"yes, off the receipt", p.AuditAnswer(audits.Item{Answer: "yes", Filled: true})},
		{"When it was taken is not known.", p.PhotoTaken(photos.Photo{}, "UTC")},
		{"Taken " + at8 + " by the camera’s clock.", p.PhotoTaken(photos.Photo{Taken: noon(8), FromCamera: true}, "UTC")},
		{"Taken " + at8 + " by the camera’s clock, read in the shop’s zone.", p.PhotoTaken(photos.Photo{Taken: noon(8), FromCamera: true, TakenLocal: true}, "UTC")},
		{"Taken " + at8 + ", as stated by Wren.", p.PhotoTaken(photos.Photo{Taken: noon(8), By: "Wren"}, "UTC")},
		{"Tape: maker Alder, number 7, not checked.", p.AuditTape(tape)},
		{"Tape: maker Alder, number 7, checked on 1 March 2026 against the county’s bench.", p.AuditTape(checked)},
		{"Alder, no. 7; not checked", p.AuditTapeShort(tape)},
		{"Alder, no. 7; checked 1 March 2026", p.AuditTapeShort(checked)},
		{"9 March 2026, 12:00 to 13:00", p.Span(noon(9), noon(9).Add(time.Hour), "UTC")},
		{at8 + " to " + at9, p.Span(noon(8), noon(9), "UTC")},
		{"Link not opened yet.", p.AuditOpenings(nil, "UTC")},
		{"Link opened " + at8 + "; " + at9 + " (link 2).", p.AuditOpenings([]audits.LinkOpening{{At: noon(8), Link: 1}, {At: noon(9), Link: 2}}, "UTC")},
		{at8 + ", by Wren: Overcast.", p.AuditNote(audits.Note{Written: noon(8), By: "Wren", Text: "Overcast."}, "UTC")},
		{"Answer of Una Reed. " + at8 + ", by Wren: We dispute it.", p.AuditNote(audits.Note{Kind: audits.SellerAnswer, Who: "Una Reed", Written: noon(8), By: "Wren", Text: "We dispute it."}, "UTC")},
		{"Copy given to Una Reed. " + at8 + ", by Wren.", p.AuditNote(audits.Note{Kind: audits.CopyGiven, Who: "Una Reed", Written: noon(8), By: "Wren"}, "UTC")},
	})
	require.Empty(t, p.AuditCircumstances(audits.Circumstances{}, "UTC"))
	require.Len(t, p.AuditCircumstances(checked, "UTC"), 2)
}

// A fault says where, what was read and what to try, and repeats no barred term.
func TestFaultsSayWhereAndWhatToTry(t *testing.T) {
	p := imperial()
	fault := func(field, code, got, reason, accepts string) *measure.InputError {
		return &measure.InputError{Field: field, Code: code, Got: got, Reason: measure.Say(reason), Accepts: measure.Say(accepts)}
	}
	readAloud(t, []sentence{
		{"row 1, height 3: read “4”: there is no unit. Try 4 ft", p.Sentence(fault("stack.rows[0].heights[2]", "no-unit", "4", "there is no unit", "4 ft"))},
		{"length: enter a length", p.Sentence(fault("stack.length", "missing", "", "nothing was filled in", "a length"))},
		{"say why it is taken back", p.Sentence(fault("", "missing", "", "it is not said", "why it is taken back"))},
		{"is that 4 ft? Try 4 ft or 4 in", p.Sentence(fault("", "ambiguous", "", "is that 4 ft?", "4 ft or 4 in"))},
		{"it is too much", p.Sentence(fault("", "too-large", "", "it is too much", ""))},
		{"the stack", p.Place("stack")},
		{"line 2, height 1", p.Place("stack.grid[1][0]")},
		{"taped bed, height 1", p.Place("stack.calibrated.box.heights[0]")},
		{"customer_name", p.Place("customer_name")},
		{"nonsense[3]", p.Place("nonsense[3]")},
	})
}

// Whether wood finds room, in one place and in several.
func TestRoomIsTold(t *testing.T) {
	p := imperial()
	answer := func(kind storage.PlaceKind, asked, holds int) storage.Answer {
		a := storage.Answer{Request: storage.Request{Volume: ranked(asked).Volume, Place: storage.Place{Kind: kind}}, Capacity: ranked(holds).Volume, Fits: holds >= asked}
		if holds > 0 {
			a.Layouts = []storage.Layout{{}}
		}
		return a
	}
	readAloud(t, []sentence{
		{"1 cord (128 ft³) finds room here.", p.Fits(answer(storage.Wall, 128, 200))},
		{"3/4 cord (96 ft³) finds room here; 1/4 cord (32 ft³) does not.", p.Fits(answer(storage.Wall, 128, 96))},
		{"No row finds room here.", p.Fits(answer(storage.Wall, 128, 0))},
		{"3/4 cord (96 ft³) finds room here; 1/4 cord (32 ft³) does not.", p.FitsAll([]storage.Answer{answer(storage.Wall, 128, 96)})},
		{"1 cord (128 ft³) finds room: 3/4 cord (96 ft³) along a wall or fence, 1/4 cord (32 ft³) in an open frame.",
			p.FitsAll([]storage.Answer{answer(storage.Wall, 128, 96), answer(storage.Rack, 32, 64)})},
		{"1/4 cord (32 ft³) finds room: 1/4 cord (32 ft³) in an open frame; 3/4 cord (96 ft³) does not.",
			p.FitsAll([]storage.Answer{answer(storage.Wall, 128, 0), answer(storage.Rack, 128, 32)})},
		{"No row finds room here.", p.FitsAll([]storage.Answer{answer(storage.Wall, 128, 0), answer(storage.Rack, 128, 0)})},
		{"99 lb", p.Mass(99 * wood.Pound)}, {"100 lb", p.Mass(101 * wood.Pound)}, {"995 lb", p.Mass(996 * wood.Pound)}, {"1,000 lb", p.Mass(1001 * wood.Pound)},
		{"68 to 75 million Btu (71.7 to 79.1 GJ)", p.Heats(storage.Range[wood.Heat]{Low: 68 * wood.MillionBtu, High: 75 * wood.MillionBtu})},
		{"about 3.4 million Btu (3.6 GJ)", p.Heats(storage.Range[wood.Heat]{Low: 1000 * wood.KilowattHour, High: 1000 * wood.KilowattHour})},
	})
	out := p.StorageAll([]storage.Answer{answer(storage.Wall, 128, 96), answer(storage.Rack, 32, 64)})
	require.InDelta(t, 128, out.AskedCubicFeet, 1e-9)
	require.InDelta(t, 96, out.CapacityCubicFeet, 1e-9)
	require.InDelta(t, 32, out.LeftCubicFeet, 1e-9)
	require.False(t, out.Fits)
	require.Len(t, out.Then, 1)
	require.True(t, out.Then[0].Fits)
	need := p.NeedData(storage.Need{Wood: storage.Range[measure.Volume]{Low: measure.Cord, High: 2 * measure.Cord}, Heat: storage.Range[wood.Heat]{Low: wood.MillionBtu, High: 3 * wood.MillionBtu}})
	require.Equal(t, words.BandJSON{Low: 1, High: 2}, need.Cords)
	require.Equal(t, words.BandJSON{Low: 1, High: 3}, need.MillionBtu)
}

// Every built-in rule set is told with every unit, barred term and field, each with where
// it comes from, and what it asks on a ticket once.
func TestRuleSetsAreToldWhole(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	p := imperial()
	for _, set := range book.All() {
		told := map[string][]words.Rule{}
		for _, c := range p.Chapters(set) {
			require.NotEmpty(t, c.Rules, set.Code)
			for _, r := range c.Rules {
				require.NotEmpty(t, r.Words, "%s: %s", set.Code, c.Heading)
				require.NotEmpty(t, r.Source, "%s: %s: %s", set.Code, c.Heading, r.Words)
			}
			told[c.Heading] = c.Rules
		}
		require.Len(t, told["Wood is sold by"], len(set.Units), set.Code)
		require.Len(t, told["Terms that may not stand for a quantity"], len(set.Barred), set.Code)
		for i, b := range set.Barred {
			require.Contains(t, told["Terms that may not stand for a quantity"][i].Words, "“"+b.Name+"”", set.Code)
		}
		require.Len(t, told["A receipt holds"], len(set.Required), set.Code)
		require.Len(t, told["Notices"], len(set.Notices), set.Code)
		require.Len(t, told["Moving wood"], len(set.Moving), set.Code)
		fields := p.TicketFields(set)
		require.Len(t, fields, len(set.Required))
		sources := p.TicketSources(set)
		for i, s := range sources {
			require.Equal(t, 1, saying(sources[i:], s), "%s: %s is said twice", set.Code, s)
		}
		for i, f := range fields {
			require.Positive(t, saying(sources, f.Source), "%s: %s: %q", set.Code, f.Source, sources)
			require.Equal(t, set.Required[i].Advice, strings.HasSuffix(f.Words, " (advised)"), set.Code)
		}
		conditions := strings.Join(p.TicketConditions(set), "\n")
		for _, f := range set.Required {
			if f.When != nil && !f.Advice {
				require.Contains(t, conditions, f.When.Words, set.Code)
			}
		}
		require.Regexp(t, `^\d{1,2} [A-Z][a-z]+ 20\d\d$`, p.ReadOn(set), set.Code)
	}
}

// Two fields that one paragraph asks for name it once.
func TestAParagraphIsNamedOnceAmongTheSourcesOfATicket(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	sources := words.New("en", act.Imperial).TicketSources(set)
	require.Contains(t, strings.Join(sources, "\n"), "section 2.4.5(a), (b), (c), (d), (e); the list")
}

// saying counts the sources that say one: as it is, with more behind it, or among the
// letters of paragraphs.
func saying(sources []string, one string) (n int) {
	letter := regexp.MustCompile(`\([a-z0-9]\)`)
	for _, s := range sources {
		if s == one || strings.HasPrefix(s, one+":") || strings.HasPrefix(s, one+";") {
			n++
			continue
		}
		for _, at := range letter.FindAllStringIndex(one, -1) {
			rest, ok := strings.CutPrefix(s, one[:at[0]])
			list, end := strings.CutSuffix(rest, one[at[1]:])
			if ok && end && slices.Contains(strings.Split(list, ", "), one[at[0]:at[1]]) {
				n++
			}
		}
	}
	return n
}

// A text that nothing fills in is said as it stands, so "%%" in it would be read as that.
func TestNoTextSaysPercentTwice(t *testing.T) {
	said := regexp.MustCompile(`[sS]ay\("[^"]*%%[^"]*"\)`)
	read := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		source, err := os.ReadFile(path)
		read++
		require.Empty(t, said.FindString(string(source)), path)
		return err
	}))
	require.Greater(t, read, 200)
}
