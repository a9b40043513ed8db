package receipts

import (
	"fmt"
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
	"wellstowed/testdata/fill"
)

// filledReceipt is a receipt of a kind in which every fact has a value of its own. What
// can't be said by one receipt together is left out.
func filledReceipt(t *testing.T, kind orders.ReceiptKind, set orders.RuleSet, units act.Units, paper orders.Paper) orders.Receipt {
	f := paperFiller(t)
	r := fill.Value(f, func(r *orders.Receipt) {
		facts := &r.Facts
		facts.Kind, facts.RuleSet, facts.Units, facts.Paper, facts.Language, facts.Zone = kind, set, units, paper, "en", "America/New_York"
		facts.Storage, r.Erased = samplePlan(), act.Date{}
		facts.Batch.Cut, facts.Batch.Split = act.Date{Year: 2025, Month: 2, Day: 3}, act.Date{Year: 2025, Month: 4, Day: 5}
		facts.Price.Unit, facts.Price.Tax.Exempt = set.Unit, ""
		facts.Measuring.Word = stack.Short
		basis := orders.ChargeBasis{Beyond: 11 * orders.Mile, Free: 7 * orders.Mile, Per: orders.Mile, Rate: usd(137), FullLoad: ranked(17 * measure.Cord / 8)}
		for i, kind := range []orders.LineKind{orders.DeliveryLine, orders.OtherLine, orders.DistanceLine, orders.HalfLoadLine} {
			if i >= len(facts.Price.Fees) {
				facts.Price.Fees = append(facts.Price.Fees, orders.PriceLine{Amount: usd(int64(7_000_13 + 100*i))})
			}
			facts.Price.Fees[i].Kind, facts.Price.Fees[i].Basis = kind, &basis
		}
		if kind != orders.CorrectionReceipt {
			r.WasPurchaser, r.WasMeasurer = nil, nil
		}
		if !kind.Ends() {
			facts.Former = nil
		}
		if kind == orders.DeliveryReceipt {
			facts.Of, facts.Reason = 0, ""
		}
		facts.Handed.Amount = usd(91_07) // a part of what was paid
		if kind != orders.DeliveryReceipt {
			facts.Handed, r.Signature = nil, nil
		}
		if kind != orders.SettlementReceipt {
			facts.Settles = nil
		}
	})
	if s := r.Facts.Settles; s != nil {
		s.Choice, s.AgreedHow, s.Method, s.Tally, s.Tallied, s.Closes = orders.SettleWood, orders.InWriting, "", nil, false, false
	}
	return r
}

// receiptMentions are the facts of a receipt that don't stand on it once and in the usual
// words. print words them.
func receiptMentions(print *words.Printer, r orders.Receipt) map[string]mention {
	f := r.Facts
	unit := never("the rule set says which of the prices counts")
	all := map[string]mention{
		"Receipt.Facts.Format": never("the data’s, not the buyer’s"), "Receipt.Facts.Kind": never("the headings say it"),
		"Receipt.Facts.Language": never("it is in it"), "Receipt.Facts.Paper": never("it is on it"), "Receipt.Facts.Units": never("it is in them"),
		"Receipt.Facts.Zone": never("instants are in it"), "Receipt.Facts.Model": never("no doubt stands on a receipt"),
		"Receipt.Facts.Layout": never("the data’s, not the buyer’s"), "Receipt.Facts.Previous": never("in the seal"),
		"Receipt.Facts.RuleSet.Edition": as(edition), "Receipt.Facts.RuleSet.Code": never("its name stands"), "Receipt.Facts.RuleSet.Unit": never("quantities are in it"),
		"Receipt.Facts.Cord.Cord":  as(func(v measure.Volume) string { return print.Say(measure.Say("%s", v)) }),
		"Receipt.Facts.Cord.Basis": never("the sentence says it"),
		"Receipt.Facts.Batch.ID":   never("its name stands"), "Receipt.Facts.Batch.PieceLength": never("the load’s own stands"),
		"Receipt.Facts.Batch.Origin": never("the load’s own stands"), "Receipt.Facts.Batch.Certificate": never("the load’s own stands"),
		"Receipt.Facts.Seasoning":     as(func(s yard.Seasoning) string { return print.Seasoning(s) + " (stated by seller)" }),
		"Receipt.Facts.Moisture":      as(func(m yard.MoistureFact) string { return print.Measured(m) }),
		"Receipt.Facts.Priced":        times(2),
		"Receipt.Facts.Price.PerUnit": unit, "Receipt.Facts.Price.Unit": unit,
		// the tax names what it is on as well
		"Receipt.Facts.Price.Fees": {least: true, says: func(v any) (texts []string) {
			for _, fee := range v.([]orders.PriceLine) {
				texts = append(texts, print.Fee(fee), print.Money(fee.Amount))
			}
			return texts
		}},
		"Receipt.Facts.Measuring": as(func(orders.MeasuringFact) string { return print.MeasuredBefore(f) }),
		"Receipt.Facts.Paid": as(func(paid money.Money) string {
			if h := f.Handed; h != nil {
				paid.Minor -= h.Amount.Minor
			}
			return print.Money(paid)
		}),
		"Receipt.Facts.Handed.Method":  as(print.PaymentMethod),
		"Receipt.Signature.Strokes":    never("the lines are drawn"),
		"Receipt.Facts.Answered":       never("asked of the seller before it was issued"),
		"Receipt.Facts.Price.Tax.Rate": as(func(rate money.Rate) string { return rate.String() }),
		"Receipt.Facts.Price.Tax.On.*": never("the sum that it is on stands"),
		"Receipt.Facts.Storage": {says: func(v any) []string {
			plan := v.(storage.Plan)
			return append(print.Plan(plan), print.Cautions(&plan)...)
		}},
		"Receipt.Facts.Ticket.Witnessed": as(func(bool) string { return "seller and buyer both saw it" }),
		// Where it runs to a second page it says there again what is signed for.
		"Receipt.Facts.Number": {times: 1, least: true}, "Receipt.Facts.DeliveredOn": {times: 1, least: true}, "Receipt.Facts.Delivered": {times: 1, least: true},
		"Receipt.Facts.Ticket.Moving": never("a code, whose words are printed"),
		"Receipt.Facts.Says.Source":   never("the page of the rules has it"),
		"Receipt.Measurer.Phone":      never("the name and the address are asked for"),
		"Receipt.Measurer.Address":    as(addressLine),
		"Receipt.Facts.Vendor.Phone":  {times: 1, least: true}, // whom to call first is said with the check
	}
	if !print.InCords() {
		all["Receipt.Facts.Price.PerUnit"], all["Receipt.Facts.Price.PerCord"] = mention{}, unit
	}
	switch f.Kind {
	case orders.CorrectionReceipt:
		maps.Copy(all, correctionMentions(print))
	case orders.VoidReceipt:
		return voidMentions(print)
	case orders.SettlementReceipt:
		maps.Copy(all, settlementMentions(print, f))
	}
	return all
}

func edition(year string) string { return "edition " + year }

// addressLine is an address as a sentence says it.
func addressLine(address string) string { return strings.ReplaceAll(address, "\n", ", ") }

// correctionMentions are those of a receipt that stands in place of another: what changed
// stands with what it was.
func correctionMentions(print *words.Printer) map[string]mention {
	twice := times(2)
	return map[string]mention{
		"Receipt.Purchaser.Name": twice, "Receipt.Purchaser.Address": {times: 2, say: func(v any) string { return addressLine(v.(string)) }},
		"Receipt.WasPurchaser.Address": as(addressLine), "Receipt.WasPurchaser.Phone": never("it isn't corrected"),
		"Receipt.WasMeasurer.Phone": never("it isn't printed"), "Receipt.WasMeasurer.Address": as(addressLine),
		"Receipt.Measurer.Name": twice, "Receipt.Measurer.Address": {times: 2, say: func(v any) string { return addressLine(v.(string)) }},
		"Receipt.Facts.Number": twice, "Receipt.Facts.Of": twice, "Receipt.Facts.Delivered": times(3), "Receipt.Facts.DeliveredOn": times(3), "Receipt.Facts.Species": twice, "Receipt.Facts.Origin": twice,
		"Receipt.Facts.Certificate": twice, "Receipt.Facts.PieceLength": twice, "Receipt.Facts.Priced": times(3), "Receipt.Facts.Deposit": twice,
		"Receipt.Facts.Ticket.Packages": twice, "Receipt.Facts.Ticket.StackSize": twice, "Receipt.Facts.Ticket.DriedFor": twice,
		"Receipt.Facts.Ticket.DriedHow": twice, "Receipt.Facts.Ticket.MoistureCertificate": twice,
		"Receipt.Facts.Ticket.Witnessed":        {times: 3, say: func(any) string { return "seller and buyer both saw it" }},
		"Receipt.Facts.Former.Issued":           as(func(at time.Time) string { return print.Day(at, "America/New_York") }),
		"Receipt.Facts.Former.Seasoning":        never("it is the same"),
		"Receipt.Facts.Former.Ticket.Witnessed": never("with the one that is"),
		"Receipt.Facts.Former.Ticket.Moving":    never("a code, whose words are printed"),
		"Receipt.Facts.Ticket.MovingSays":       twice,
	}
}

// voidMentions are those of a receipt that ends another: it says what that one said.
func voidMentions(print *words.Printer) map[string]mention {
	once := mention{}
	return map[string]mention{
		"Receipt.Facts.*": never("the receipt that it ends says it"), "Receipt.Measurer.*": never("the receipt that it ends says it"),
		"Receipt.Facts.Number": once, "Receipt.Facts.Of": times(2), "Receipt.Facts.Reason": once, "Receipt.Facts.Order": once, "Receipt.Facts.Issued": once,
		"Receipt.Facts.Vendor.*": once, "Receipt.Facts.RuleSet.Name": once, "Receipt.Facts.RuleSet.Edition": as(edition),
		"Receipt.Facts.Former.Issued": as(func(at time.Time) string { return print.Day(at, "America/New_York") }),
		"Receipt.Facts.Former.Seal":   once, "Receipt.Facts.Former.DeliveredOn": once, "Receipt.Facts.Former.Delivered": once,
		"Receipt.Facts.Former.Species": once, "Receipt.Facts.Former.Total": once, "Receipt.Facts.Former.Deposit": once,
	}
}

// settlementMentions are those of a receipt that settles another with wood.
func settlementMentions(print *words.Printer, f orders.Facts) map[string]mention {
	once, of := mention{}, never("the receipt that it settles says it")
	volume := as(func(v measure.Volume) string {
		return print.Quantity(measure.Quantity{Volume: v, Basis: f.Settles.Owed.Basis})
	})
	return map[string]mention{
		"Receipt.Facts.Ordered": of, "Receipt.Facts.Delivered": of, "Receipt.Facts.Priced": of, "Receipt.Facts.Price": of, "Receipt.Facts.Deposit": of,
		"Receipt.Facts.Paid": of, "Receipt.Facts.Owed": of, "Receipt.Facts.Cord": of, "Receipt.Facts.Body": of, "Receipt.Facts.Measured": of,
		"Receipt.Facts.DeliveredOn": of, "Receipt.Facts.Storage": of, "Receipt.Facts.Measuring": of,
		"Receipt.Facts.Settles.Owed": {times: 2, least: true}, "Receipt.Facts.Settles.Before": never("in what was brought in all"),
		"Receipt.Facts.Settles.Brought": volume, "Receipt.Facts.Settles.Left": volume, "Receipt.Facts.Settles.On": once,
		"Receipt.Facts.Settles.AgreedHow": as(func(orders.AgreedHow) string { return "in writing" }),
		"Receipt.Facts.Settles.Choice":    never("wood was brought"), "Receipt.Facts.Settles.Closes": never("what is left says it"),
		"Receipt.Facts.Settles.Given": never("of money"), "Receipt.Facts.Settles.Method": never("of money"),
		"Receipt.Facts.Settles.Tallied": never("it came in a truck bed"),
	}
}

// Every fact of a receipt of any kind stands on it once, under all rule sets.
func TestEveryFactStandsOnAReceiptOnce(t *testing.T) {
	p := plainPainter(t)
	used, all := map[string]bool{}, map[string]mention{}
	for _, kind := range []orders.ReceiptKind{orders.DeliveryReceipt, orders.CorrectionReceipt, orders.VoidReceipt, orders.SettlementReceipt} {
		underAll(t, func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
			r := filledReceipt(t, kind, set, units, paper)
			print := words.New("en", units).SoldIn(set.Unit)
			pdf, err := p.Receipt(r, sealText)
			require.NoError(t, err)
			mentions := receiptMentions(print, r)
			maps.Copy(all, mentions)
			consult(t, fmt.Sprintf("%s under %s, %s", kind, set.Code, units), p, pdf, print, r.Facts.Zone, mentions, r, used)
		})
	}
	allUsed(t, all, used)
}
