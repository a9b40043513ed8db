package store_test

import (
	"cmp"
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
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/privacy"
	"wellstowed/orders/proof"
)

// byHand are texts that are stored and are no field of what is filled, each with what becomes of it.
var byHand = map[string]privacy.Fate{
	"copy by": privacy.OfStaff, "wish ended by": privacy.OfStaff, "Erasure.By": privacy.OfStaff, "AuditReport": privacy.IsErased,
	"photo, original": privacy.IsErased, "photo, shown": privacy.IsErased, "Measurer.Name": privacy.IsErased,
}

// fate is what becomes of a text; what a result holds is made of readings by the program.
func (s *shelf) fate(path string) privacy.Fate {
	if strings.HasPrefix(path, "Result.") {
		return privacy.Written
	}
	return cmp.Or(byHand[path], s.f.Fates[path])
}

// contents are those of the file and its log; of all rows where a server has them.
func (s *shelf) contents() (all [][]byte) {
	if servertest.Everywhere() != "" {
		return [][]byte{servertest.Contents(s.t, s.path)}
	}
	for _, end := range []string{"", "-wal"} {
		content, err := os.ReadFile(s.path + end)
		if os.IsNotExist(err) {
			continue
		}
		s.must(err)
		all = append(all, content)
	}
	return all
}

// wordsIn are the places whose words a file and its log hold.
func (s *shelf) wordsIn() []string {
	found := map[string]bool{}
	for _, content := range s.contents() {
		for _, word := range regexp.MustCompile(`kz\d{5}q`).FindAll(content, -1) {
			path, known := s.f.Texts[string(word)]
			require.True(s.t, known, "%s", word)
			found[path] = true
		}
	}
	return slices.Sorted(maps.Keys(found))
}

// Every text that is stored declares what becomes of it, and that is what becomes of it: it is gone
// from the file once all is erased, or it stays.
func TestEveryTextIsErasedOrKnownToStay(t *testing.T) {
	s := stocked(t)
	before := s.wordsIn()
	for _, erased := range []string{"Order.Customer.Name", "Order.Notes", "Wish.Request.CustomerPhone", "Payment.Reference", "Case.Entries.Text", "SavedReading.Typed"} {
		require.Contains(t, before, erased)
	}
	for _, path := range before {
		require.Contains(t, privacy.Fates(), s.fate(path), "%s is stored: its field says by the tag names:\"…\" whether it is erased or why it stays", path)
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
	var want []string
	for _, path := range append(before, "Erasure.By") {
		if s.fate(path) != privacy.IsErased {
			want = append(want, path)
		}
	}
	slices.Sort(want)
	require.Equal(t, want, s.wordsIn(), "what stays in the file is what its fields declare to stay")
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
