package store_test

import (
	"context"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/privacy"
	"wellstowed/orders/proof"
)

// Why a text stays in the file when names are erased.
const (
	shops  = "the shop’s own"
	seller = "the seller that was audited; named on the page of it"
	staff  = "who worked with the program; named on the page of it"
	yard   = "wood, trucks and trailers; named on the page of it"
	sealed = "under a receipt’s seal; named on the page of it"
	sale   = "what was sold and measured, no words about a person"
	code   = "chosen or made by the program"
)

// staying are the texts that an erasure leaves, each with why. A text that is added to
// what is stored is taken out of the file by an erasure, or stands here.
func staying() map[string]string {
	stay := map[string]string{}
	put := func(why string, paths ...string) {
		for _, p := range paths {
			stay[p] = why
		}
	}
	put(shops, "Shop.Address", "Shop.Charges.Tax.Name", "Shop.Language", "Shop.Name", "Shop.Phone", "Shop.RuleSet", "Shop.Zone",
		"Facts.Vendor.Address", "Facts.Vendor.Name", "Facts.Vendor.Phone", "Sheet.Vendor.Address", "Sheet.Vendor.Name", "Sheet.Vendor.Phone")
	put(seller, "Audit.Subject.Vendor.Address", "Audit.Subject.Vendor.Name", "Audit.Subject.Vendor.Phone")
	put(staff, "Audit.Capacity.Badge", "Audit.Capacity.Office", "Audit.OpenedBy", "Batch.By", "BatchEntry.By", "Body.By", "Case.Entries.By",
		"Done.Person", "Erasure.By", "Facts.Body.By", "Facts.Moisture.By", "Facts.Settles.Body.By", "Link.MadeBy", "Moisture.By", "Payment.By",
		"Settlement.By", "SettlementStep.By", "Wish.By", "copy by", "wish ended by",
		"Person.Name", "Person.Password", "Session.Device", "Passkey.Device", "Passkey.Credential", "Line.By", "Line.From", "Line.Name")
	put(yard, "Batch.First.Name", "Batch.First.Notes", "BatchEntry.Facts.Name", "BatchEntry.Facts.Notes", "BatchEntry.Reason", "Body.Line", "Body.Name",
		"Facts.Batch.Name", "Facts.Body.Line", "Facts.Body.Name", "Facts.Settles.Body.Line", "Facts.Settles.Body.Name")
	put(sealed, "Facts.Price.Fees.Words", "Facts.Price.Tax.Exempt", "Facts.Reason", "Facts.Measuring.Why")
	put(sale, "Audit.Subject.Species", "Batch.First.Certificate", "Batch.First.Origin", "Batch.First.Species",
		"BatchEntry.Facts.Certificate", "BatchEntry.Facts.Origin", "BatchEntry.Facts.Species", "Body.Stack.Kind", "Case.Tallies.Document",
		"Facts.Batch.Certificate", "Facts.Batch.Origin", "Facts.Batch.Species", "Facts.Certificate", "Facts.Cord.Of", "Facts.Cord.Source",
		"Facts.Former.Certificate", "Facts.Former.Origin", "Facts.Former.Species", "Facts.Former.Ticket.DriedFor", "Facts.Former.Ticket.DriedHow",
		"Facts.Former.Ticket.MoistureCertificate", "Facts.Former.Ticket.StackSize", "Facts.Ticket.DriedFor", "Facts.Ticket.DriedHow",
		"Facts.Ticket.MoistureCertificate", "Facts.Ticket.StackSize", "Facts.Origin", "Facts.Settles.Tally.Document", "Facts.Species", "Order.Certificate",
		"Order.Origin", "Order.Price.Tax.Name", "Facts.Price.Tax.Name", "Order.Species", "Order.Words", "Sheet.Tally.Stack",
		"Wish.Request.DeliveryFee", "Wish.Request.Deposit", "Wish.Request.Distance", "Wish.Request.HalfLoad", "Wish.Request.OtherFee",
		"Wish.Request.PieceLength", "Wish.Request.PricePerCord", "Wish.Request.PricePerUnit", "Wish.Request.PriceTotal",
		"Wish.Request.Quantity", "Wish.Request.Seasoning", "Wish.Request.UsualLength", "Wish.Request.Species", "Wish.Request.StackingFee")
	put(code, "Facts.Former.Ticket.Moving", "Facts.Former.Ticket.MovingSays", "Facts.Says.Source", "Facts.Says.Words", "Facts.Ticket.Moving",
		"Facts.Ticket.MovingSays") // words of the rules
	put(code, "Order.Day.After", "Order.Day.Before", "Order.Day.Part", "Wish.Request.Day") // as it was read
	put(code, "Statement.Has", "Statement.Lacks", "Statement.RuleSet", "Audit.Subject.RuleSet.Code", "Audit.Subject.RuleSet.Edition",
		"Audit.Subject.RuleSet.Name", "Audit.Subject.TicketHas", "Case.Account.Has", "Case.Account.Lacks", "Case.Account.RuleSet",
		"Done.Result", "Done.Subject", "Facts.Language", "Facts.RuleSet.Code", "Facts.RuleSet.Edition",
		"Facts.RuleSet.Name", "Facts.Settles.Method", "Facts.Zone", "Sheet.Language", "Sheet.RuleSet.Code", "Sheet.RuleSet.Edition", "Sheet.RuleSet.Name", "Sheet.Zone",
		"measure.Text.Args", "measure.Text.Key")
	return stay
}

// wordsIn are the places whose words a file and its log hold.
func (s *shelf) wordsIn() []string {
	found := map[string]bool{}
	for _, end := range []string{"", "-wal"} {
		content, err := os.ReadFile(s.path + end)
		if os.IsNotExist(err) {
			continue
		}
		s.must(err)
		for _, word := range regexp.MustCompile(`kz\d{5}q`).FindAll(content, -1) {
			path, known := s.f.Texts[string(word)]
			require.True(s.t, known, "%s", word)
			found[path] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// Every text that is stored is gone from the file once all is erased, or it is known
// why it stays.
func TestEveryTextIsErasedOrKnownToStay(t *testing.T) {
	s := stocked(t)
	before := s.wordsIn()
	for _, erased := range []string{"Order.Customer.Name", "Order.Notes", "Wish.Request.CustomerPhone", "Payment.Reference", "Case.Entries.Text", "SavedReading.Typed"} {
		require.Contains(t, before, erased)
	}
	at := time.UnixMicro(9).UTC()
	s.must(s.db.Erasing().Write(t.Context(), func(tx privacy.Tx) error {
		named, err := tx.Named()
		s.must(err)
		require.ElementsMatch(t, []orders.Record{
			{Kind: orders.OrderRecord, ID: s.order.ID}, {Kind: orders.OrderRecord, ID: s.cancelled.ID}, {Kind: orders.PlaceRecord, ID: s.dropped.ID},
			{Kind: orders.CaseRecord, ID: s.ownCase.ID}, {Kind: orders.AuditRecord, ID: s.loneAudit.ID},
		}, named)
		named = append(named, orders.Record{Kind: orders.AuditRecord, ID: s.audit.ID}) // with its order
		for _, r := range named {
			s.must(tx.EraseNames(r, at))
		}
		return tx.AddErasure(privacy.Erasure{ID: newID(), By: s.f.Word("Erasure.By"), At: at,
			Erased: privacy.Erased{Receipts: []int64{1, 2, 3}, Sheets: []int64{s.sheet.Number}}, Of: named})
	}))
	s.must(s.db.Clear(context.Background()))
	stay := staying()
	var astray []string
	left := s.wordsIn()
	for _, path := range left {
		if stay[path] == "" && !strings.Contains(path, "Result.") && !strings.Contains(path, "Procedure.") { // made of readings by the program
			astray = append(astray, path)
		}
	}
	require.Empty(t, astray, "these stay in the file: take them out where names are erased, or say here why they stay")
	for _, path := range slices.Sorted(maps.Keys(stay)) {
		require.Contains(t, left, path, "it is said to stay, and it does not")
	}
	s.must(s.db.Erasing().Read(t.Context(), func(tx privacy.Tx) error {
		named, err := tx.Named()
		require.Empty(t, named)
		return err
	}))
	s.must(s.db.Proving().Read(t.Context(), func(tx proof.Tx) error {
		back, err := tx.NamesBack()
		require.Empty(t, back)
		return err
	}))
}
