package orders_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/privacy"
	"wellstowed/orders/store"
)

// namedOrder is an order whose buyer's name, address, phone and notes are found nowhere
// else.
func namedOrder() orders.OrderRequest {
	r := goodOrder()
	r.CustomerName, r.CustomerAddress, r.CustomerPhone = "Zephyrine Ostrak", "77 Quillon Mews\nTarnby", "555-0188"
	r.Notes = "gate code 9517"
	return r
}

// personals are texts that no byte of is left once names are erased.
func personals() []string {
	return []string{"Zephyrine", "Ostrak", "Quillon", "Tarnby", "555-0188", "gate code 9517", "Zephyrina", "my cousin Bartolf"}
}

// paidOrder is handed over and paid.
func (y *sellerYard) paidOrder(r orders.OrderRequest) orders.Issued {
	y.t.Helper()
	o := y.take(r)
	issued := y.deliver(o.ID, orders.LoadRequest{})
	y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	return issued
}

func (y *sellerYard) erasurePlan() privacy.Plan {
	y.t.Helper()
	plan, err := y.Plan(y.ctx, owner)
	require.NoError(y.t, err)
	return plan
}

// eraseAll erases what is past, and clears the file.
func (y *sellerYard) eraseAll(confirmed string) privacy.Erasure {
	y.t.Helper()
	e, err := y.Erase(y.ctx, y.sure(), privacy.Request{Plan: y.erasurePlan().Code, Confirmed: confirmed})
	require.NoError(y.t, err)
	require.True(y.t, e.Cleared)
	return e
}

// heldWhy gives why the only receipt is held back.
func (y *sellerYard) heldWhy() []string {
	y.t.Helper()
	plan := y.erasurePlan()
	require.Empty(y.t, plan.Receipts)
	require.Len(y.t, plan.Held, 1)
	var why []string
	for _, text := range plan.Held[0].Why {
		why = append(why, text.String())
	}
	return why
}

// leftovers are the personal texts that a byte search of the file and its log finds.
func (y *sellerYard) leftovers() (found []string) {
	servertest.FileOnly(y.t)
	y.t.Helper()
	for _, end := range []string{"", "-wal", "-shm", "-journal"} {
		content, err := os.ReadFile(y.path + end)
		if os.IsNotExist(err) {
			continue
		}
		require.NoError(y.t, err)
		for _, text := range personals() {
			if bytes.Contains(content, []byte(text)) {
				found = append(found, end+" "+text)
			}
		}
	}
	return found
}

// throughTheYear is a delivery from the waiting list, named wrongly, corrected, measured
// by seller and buyer, written about and settled in words, and another customer's.
func throughTheYear(t *testing.T) (y *sellerYard, code string) {
	t.Helper()
	y = newYard(t)
	wish := y.wait(orders.WishRequest{Order: namedOrder(), WantedFor: "until dry"})
	o, err := y.takeWish(wish)
	require.NoError(t, err)
	y.deliver(o.ID, orders.LoadRequest{})
	y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	y.correct(1, func(r *orders.CorrectionRequest) { r.PurchaserName = "Zephyrina Ostrak" })
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: cordTally(), ReadBy: "Zephyrina Ostrak"})
	require.NoError(t, err)
	code = y.link(1)
	buyer := cases.Key{Code: code}
	_, err = y.SaveCaseTally(y.ctx, buyerAct(), buyer, orders.TallyRequest{Document: cordTally(), ReadBy: "Zephyrina Ostrak"})
	require.NoError(t, err)
	for _, r := range []cases.EntryRequest{
		{Kind: "claim", Text: "Ask my cousin Bartolf."}, {Kind: "answer", Remedy: "together", Text: "We measured with Bartolf."}, {Kind: "reply", Accepts: "yes"},
	} {
		who, key := buyerAct(), buyer
		if r.Kind == "answer" {
			who, key = y.act(), cases.Key{Receipt: 1}
		}
		_, err = y.AddEntry(y.ctx, who, key, r)
		require.NoError(t, err, r.Kind)
	}
	y.now = y.now.AddDate(0, 6, 0)
	y.paidOrder(goodOrder())
	y.now = y.now.AddDate(0, 7, 0)
	return y, code
}

func TestErasedNamesAreInNoByteOfTheFile(t *testing.T) {
	y, code := throughTheYear(t)
	require.NotEmpty(t, y.leftovers())
	was := [3]orders.Issued{mustReceipt(y, 1), mustReceipt(y, 2), mustReceipt(y, 3)}
	plan := y.erasurePlan()
	require.Equal(t, []int64{1, 2}, plan.Receipts)
	require.Equal(t, []int64{1}, plan.Sheets)
	require.Empty(t, plan.Held)
	require.Equal(t, 1, plan.Later)
	require.Equal(t, "2027-09-10", plan.Next.String(), "the day after 12 months are over")

	e := y.eraseAll("2")
	require.Equal(t, []int64{1, 2}, e.Receipts)
	require.Empty(t, y.leftovers())
	require.Equal(t, []privacy.Erasure{e}, y.erasurePlan().Done)

	for i, before := range was {
		now := mustReceipt(y, int64(i+1))
		require.Equal(t, before.Receipt.Facts, now.Receipt.Facts)
		require.Equal(t, before.Chain, now.Chain)
		require.Equal(t, before.Seal, now.Seal)
		if i == 2 {
			require.Equal(t, before, now)
			continue
		}
		require.Empty(t, now.Receipt.Purchaser)
		require.Nil(t, now.Receipt.WasPurchaser)
		require.Equal(t, "2027-04-09", now.Receipt.Erased.String())
		require.Contains(t, string(now.PDF), `"names_erased_on":"2027-04-09"`, "painted again")
		require.Equal(t, now.PDF, mustReceipt(y, int64(i+1)).PDF)
	}
	sheet, err := y.Sheet(y.ctx, owner, 1)
	require.NoError(t, err)
	require.Empty(t, sheet.Sheet.Purchaser)
	require.Empty(t, sheet.Sheet.ReadBy)
	require.Equal(t, "2027-04-09", sheet.Sheet.Erased.String())
	h := y.history(was[0].OrderID)
	require.Equal(t, orders.ErasedName, h.Order.Customer.Name)
	require.Empty(t, h.Order.Notes)
	require.Equal(t, orders.ErasedReader, h.Tallies[0].By)
	_, err = y.CaseFile(y.ctx, act.Actor{}, cases.Key{Code: code})
	requireKind(t, act.NotFound, err)

	v, err := y.Verify(y.ctx, owner, map[int64]string{1: was[0].Seal})
	require.NoError(t, err)
	require.Empty(t, said(v))
	require.Equal(t, [4]int{3, 2, 1, 1}, [4]int{v.Receipts, v.Erased, v.Sheets, v.Blank})

	_, err = y.MakeLink(y.ctx, y.act(), 1)
	requireKind(t, act.Conflict, err)
	_, err = y.Void(y.ctx, y.act(), 2, orders.VoidRequest{Reason: "too late"})
	requireKind(t, act.Conflict, err)
	_, err = y.SaveTally(y.ctx, y.act(), was[0].OrderID, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
	requireKind(t, act.Conflict, err)
	y.paidOrder(goodOrder()) // the chain goes on
	y.noFaults()
}

func TestAnErasureIsConfirmedAndDoneOnce(t *testing.T) {
	y := newYard(t)
	_, err := y.Erase(y.ctx, y.sure(), privacy.Request{Confirmed: "0"})
	requireKind(t, act.Conflict, err)
	y.paidOrder(namedOrder())
	y.paidOrder(namedOrder())
	y.now = y.now.AddDate(2, 0, 0)
	code := y.erasurePlan().Code
	for typed, want := range map[[2]string]map[string]string{
		{code, ""}: {"confirmed": "missing"}, {code, "3"}: {"confirmed": "other"}, {code, "yes"}: {"confirmed": "other"},
		{"1", "2"}: {"plan": "changed"}, {"", "2"}: {"plan": "changed"},
	} {
		_, err := y.Erase(y.ctx, y.sure(), privacy.Request{Plan: typed[0], Confirmed: typed[1]})
		require.Equal(t, want, faults(t, err), typed)
	}
	for _, who := range []act.Actor{driver, auditor} {
		_, err := y.Erase(y.ctx, act.Act{Actor: who, Request: newRequest()}, privacy.Request{Plan: code, Confirmed: "2"})
		requireKind(t, act.Forbidden, err)
		_, err = y.Plan(y.ctx, who)
		requireKind(t, act.Forbidden, err)
	}
	act, r := y.sure(), privacy.Request{Plan: code, Confirmed: "2"}
	first, err := y.Erase(y.ctx, act, r)
	require.NoError(t, err)
	y.now = y.now.Add(time.Hour)
	again, err := y.Erase(y.ctx, act, r)
	require.NoError(t, err)
	require.Equal(t, first, again, "the same request is answered, not repeated")
	require.Len(t, y.erasurePlan().Done, 1)
}

// New Jersey's retention: NJAC 13:47C-3.1 (2019): copies at least 6 months, voided
// tickets at least 2 years.
func TestVoidedTicketsAreKeptLonger(t *testing.T) {
	y := yardUnder(t, "new-jersey", "imperial")
	y.paidOrder(namedOrder())
	other := y.paidOrder(namedOrder())
	y.void(2, "the load came back")
	y.deliver(other.OrderID, orders.LoadRequest{})
	y.now = time.Date(2026, 9, 9, 15, 0, 0, 0, time.UTC)
	require.Empty(t, y.erasurePlan().Receipts, "six months to the day")
	y.now = y.now.AddDate(0, 0, 1)
	plan := y.erasurePlan()
	require.Equal(t, []int64{1}, plan.Receipts)
	require.Equal(t, 3, plan.Later)
	require.Equal(t, "2028-03-10", plan.Next.String())
	y.now = time.Date(2028, 3, 10, 15, 0, 0, 0, time.UTC)
	require.Equal(t, []int64{1, 2, 3, 4}, y.erasurePlan().Receipts)
}

func TestWhatIsInDisputeIsHeldBack(t *testing.T) {
	later := func(y *sellerYard) { y.now = y.now.AddDate(3, 0, 0) }
	t.Run("money", func(t *testing.T) {
		y := newYard(t)
		o := y.take(namedOrder())
		y.deliver(o.ID, orders.LoadRequest{})
		later(y)
		require.Equal(t, []string{"the customer still owes money"}, y.heldWhy())
		y.pay(o.ID, orders.PaymentRequest{Amount: "306", Method: "cash"})
		require.Equal(t, []string{"the shop holds money of the customer’s"}, y.heldWhy())
	})
	t.Run("wood to come", func(t *testing.T) {
		y := newYard(t)
		o := y.take(namedOrder())
		y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
		y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
		later(y)
		require.Contains(t, y.heldWhy()[0], "wood of order 1 is still to be delivered")
	})
	t.Run("case", func(t *testing.T) {
		y := newYard(t)
		y.paidOrder(namedOrder())
		_, err := y.AddEntry(y.ctx, buyerAct(), cases.Key{Code: y.link(1)}, cases.EntryRequest{Kind: "claim", Text: "Less is here."})
		require.NoError(t, err)
		later(y)
		require.Equal(t, []string{"the buyer’s case on receipt 1 is open"}, y.heldWhy())
	})
	t.Run("shortage", func(t *testing.T) {
		y := newYard(t)
		o := y.shortDelivery()
		later(y)
		require.Contains(t, y.heldWhy(), "measurement sheet 1 found wood missing, and nothing was settled")
		y.settle(o.ID, orders.SettleRequest{Choice: "wood", AgreedHow: "word"})
		require.Contains(t, y.heldWhy(), "what is missing is not settled yet")
	})
	t.Run("audit", func(t *testing.T) {
		y := newYard(t)
		y.paidOrder(namedOrder())
		_, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
		require.NoError(t, err)
		later(y)
		require.Equal(t, []string{"audit 1 is open"}, y.heldWhy())
	})
}

func TestVerifyFindsNamesPutBackAndTakenAway(t *testing.T) {
	const name = `CAST('{"name":"Zephyrine Ostrak","address":"77 Quillon Mews"}' AS BLOB)`
	for _, row := range []struct {
		change string
		want   string
	}{
		{`UPDATE receipts SET personal = ` + name + ` WHERE number = 2`, "receipt 2: its names were erased on 9 April 2027, and it holds names again"},
		{`UPDATE receipts SET salt = randomblob(16) WHERE number = 2`, "receipt 2: its names were erased on 9 April 2027, and it holds names again"},
		{`UPDATE receipts SET pdf = x'25' WHERE number = 1`, "receipt 1: its names were erased on 9 April 2027, and it holds a PDF with them again"},
		{`UPDATE sheets SET personal = ` + name, "sheet 1: its names were erased on 9 April 2027, and it holds names again"},
		{`UPDATE customers SET name = 'Zephyrine Ostrak' WHERE name = 'Names erased'`, "order 1: its names were erased, and it holds names or notes again"},
		{`UPDATE receipts SET personal = x'', salt = zeroblob(16) WHERE number = 3`, "receipt 3: its names are gone, and no erasure is recorded"},
		{`DELETE FROM erased_papers WHERE paper = 'sheet'`, "sheet 1: its names are gone, and no erasure is recorded"},
		{`UPDATE receipts SET personal_sha256 = lower(hex(zeroblob(32))) WHERE number = 1`, "receipt 1: its chain does not follow from its hashes"},
	} {
		y, _ := throughTheYear(t)
		y.eraseAll("2")
		y.tamper(row.change)
		require.Contains(t, y.faultsAlone(), row.want, row.change)
	}
}

// Sheets from before they were chained hold their purchaser in their bytes.
func TestSheetsFromBeforeTheChainLoseTheirNamesToo(t *testing.T) {
	y := newYard(t)
	o := y.paidOrder(namedOrder())
	y.measure(o.OrderID)
	y.tamper(`UPDATE sheets SET sheet = CAST(json_set(CAST(sheet AS TEXT), '$.purchaser', json(CAST(personal AS TEXT) ->> '$.purchaser'),
		'$.read_by', CAST(personal AS TEXT) ->> '$.read_by', '$.format', 1) AS BLOB)`,
		`UPDATE sheets SET sheet_sha256 = '', personal = x'', salt = x'', personal_sha256 = '', chain = ''`)
	before, err := y.Sheet(y.ctx, owner, 1)
	require.NoError(t, err)
	require.Equal(t, "Zephyrine Ostrak", before.Sheet.Purchaser.Name)
	y.now = y.now.AddDate(2, 0, 0)
	y.eraseAll("1")
	require.Empty(t, y.leftovers())
	y.noFaults()
	y.tamper(`UPDATE sheets SET sheet = CAST(json_set(CAST(sheet AS TEXT), '$.read_by', 'Zephyrine') AS BLOB)`)
	require.Contains(t, y.faultsAlone()[0], "sheet 1: its names were erased on")
}

// unclearable is a store whose file is in use.
type unclearable struct{ privacy.Store }

func (unclearable) Clear(context.Context) error { return errors.New("somebody reads it") }

func TestAFileThatWasInUseIsClearedLater(t *testing.T) {
	y := newYard(t)
	y.paidOrder(namedOrder())
	y.now = y.now.AddDate(2, 0, 0)
	db, err := store.Open(y.ctx, y.path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	busy := privacy.New(unclearable{db.Erasing()}, y.Rules(), func() time.Time { return y.now })
	e, err := busy.Erase(y.ctx, y.sure(), privacy.Request{Plan: y.erasurePlan().Code, Confirmed: "1"})
	require.NoError(t, err)
	require.False(t, e.Cleared)
	require.True(t, y.erasurePlan().Uncleared())
	again, err := y.Erase(y.ctx, y.sure(), privacy.Request{})
	require.NoError(t, err)
	require.Equal(t, e.ID, again.ID)
	require.True(t, again.Cleared)
	require.False(t, y.erasurePlan().Uncleared())
	require.Empty(t, y.leftovers())
}
