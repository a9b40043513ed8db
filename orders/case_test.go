package orders_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/orders/postgres/servertest"
)

// shortTally reads well short of a cord: three rows of 16 in wood, 7 ft long and 3 ft 6 in
// high.
func shortTally() []byte {
	return []byte(`{"format": 1, "apart": "none", "tape": "1/4 in", "top": "straightedge", "stowed": "checked",
		"stack": {"kind": "rows", "pieces": ["16 in", "16 1/4 in", "15 3/4 in", "16 in", "16 in"], "rows": [
		{"length": "84 in", "heights": ["42 in", "42 in", "42 in", "42 in"]},
		{"length": "84 in", "heights": ["42 in", "42 1/2 in", "41 1/2 in", "42 in"]},
		{"length": "84 in", "heights": ["42 in", "42 in", "42 in", "42 in"]}]}}`)
}

func goodCase() cases.Request {
	return cases.Request{
		Quantity: "1 cord", Wood: "Red oak, said to be seasoned", SellerName: "Alder Bend Firewood", SellerAddress: "2 Kiln Road\nAlder Bend",
		BuyerName: "Ada Quill", BuyerAddress: "7 Ferry Lane\nAlder Bend", DeliveredOn: "2026-03-04", Price: "280",
		Slip: "yes", TicketHas: "vendor-name, quantity", TicketLacks: "price", Vehicle: "Grey flatbed, plate 123-ABC", Payment: "cheque",
	}
}

func (y *sellerYard) link(receipt int64) string {
	y.t.Helper()
	code, err := y.MakeLink(y.ctx, y.act(), receipt)
	require.NoError(y.t, err)
	return code
}

// buyerAct is an act of somebody who comes by a link and is nobody else here.
func buyerAct() act.Act {
	return act.Act{Actor: act.Actor{Role: act.Buyer}, Request: newRequest()}
}

func TestLinkLeadsToOneReceiptAlone(t *testing.T) {
	y := newYard(t)
	ours := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	other := goodOrder()
	other.CustomerName, other.Notes, other.CustomerPhone = "Bram Stokes", "dog bites", "555-0199"
	theirs := y.deliver(y.take(other).ID, orders.LoadRequest{})
	mine, his := y.link(ours.Receipt.Facts.Number), y.link(theirs.Receipt.Facts.Number)
	assert.Len(t, mine, 26, "128 bits in base 32")
	assert.NotEqual(t, mine, his)

	f, err := y.CaseFile(y.ctx, act.Actor{}, cases.Key{Code: strings.ToLower(mine)})
	require.NoError(t, err)
	assert.Equal(t, stack.Buyer, f.Party)
	assert.Equal(t, "Ada Quill", f.Case.Account.Buyer.Name)
	assert.Equal(t, ours.Receipt.Facts.Number, f.Issued.Receipt.Facts.Number)
	assert.Empty(t, f.Tallies, "the seller's tallies are not the buyer's to see")
	assert.Nil(t, f.Link)

	// A buyer reaches nothing by a number or an id, whatever the code was for.
	for _, key := range []cases.Key{{Receipt: 1}, {Receipt: 2}, {ID: f.Case.ID}} {
		_, err := y.CaseFile(y.ctx, buyerAct().Actor, key)
		requireKind(t, act.Forbidden, err)
	}
	// Nor does the owner reach a receipt's case as if it were a record of his own.
	_, err = y.CaseFile(y.ctx, owner, cases.Key{ID: f.Case.ID})
	requireKind(t, act.NotFound, err)
}

func TestLinkHoldsUntilRenewedOrWithdrawn(t *testing.T) {
	y := newYard(t)
	receipt := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}).Receipt.Facts.Number
	reach := func(code string) error {
		_, err := y.CaseFile(y.ctx, act.Actor{}, cases.Key{Code: code})
		return err
	}
	first := y.link(receipt)
	require.NoError(t, reach(first))
	_, err := y.AddEntry(y.ctx, buyerAct(), cases.Key{Code: first}, cases.EntryRequest{Kind: "claim", Text: "Less is here than was sold."})
	require.NoError(t, err)
	second := y.link(receipt)
	requireKind(t, act.NotFound, reach(first))
	require.NoError(t, reach(second))
	f, err := y.CaseFile(y.ctx, act.Actor{}, cases.Key{Code: second})
	require.NoError(t, err)
	assert.Len(t, f.Case.Entries, 1, "the case outlives the link")
	require.NoError(t, y.WithdrawLink(y.ctx, y.act(), receipt))
	for _, code := range []string{first, second, "", "A", strings.Repeat("A", 26), strings.Repeat("é", 2000)} {
		if code != "" {
			requireKind(t, act.NotFound, reach(code))
		}
		_, err := y.AddEntry(y.ctx, buyerAct(), cases.Key{Code: code}, cases.EntryRequest{Kind: "claim", Text: "x"})
		require.Error(t, err)
	}
	doing := y.act()
	_, err = y.MakeLink(y.ctx, doing, receipt)
	require.NoError(t, err)
	_, err = y.MakeLink(y.ctx, doing, receipt)
	requireKind(t, act.Conflict, err) // a code is shown once
	_, err = y.MakeLink(y.ctx, y.act(), 99)
	requireKind(t, act.NotFound, err)
	_, err = y.MakeLink(y.ctx, buyerAct(), receipt)
	requireKind(t, act.Forbidden, err)
}

// The code is nowhere in the database file, only its hash is.
func TestCodeIsNotKept(t *testing.T) {
	y := newYard(t)
	receipt := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}).Receipt.Facts.Number
	code := y.link(receipt)
	_, err := y.AddEntry(y.ctx, buyerAct(), cases.Key{Code: code}, cases.EntryRequest{Kind: "claim", Text: "Less is here than was sold."})
	require.NoError(t, err)
	for _, bytes := range y.fileBytes() {
		assert.NotContains(t, strings.ToUpper(string(bytes)), code)
	}
}

func TestCaseOnReceiptFromShortToAgreed(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity = "3 cords"
	o := y.take(r)
	receipt := y.deliver(o.ID, orders.LoadRequest{Delivered: "1 cord"}).Receipt.Facts.Number
	buyer, seller := cases.Key{Code: y.link(receipt)}, cases.Key{Receipt: receipt}
	step := func(want cases.Step) {
		t.Helper()
		f, err := y.CaseFile(y.ctx, act.Actor{}, buyer)
		require.NoError(t, err)
		assert.Equal(t, want, f.Step)
	}
	step(cases.MeasureFirst)
	doing := buyerAct()
	f, err := y.SaveCaseTally(y.ctx, doing, buyer, orders.TallyRequest{Document: shortTally()})
	require.NoError(t, err)
	found := f.Case.Latest().Result.Finding
	assert.Equal(t, cords(1, 1), found.Sold, "held against what this receipt delivered, not the whole order")
	assert.Equal(t, stack.Short, found.Word)
	assert.Contains(t, string(f.Case.Latest().Document), `"by":"buyer"`)
	assert.Equal(t, "Ada Quill", f.Case.Latest().By)
	f, err = y.SaveCaseTally(y.ctx, doing, buyer, orders.TallyRequest{Document: shortTally()})
	require.NoError(t, err)
	assert.Len(t, f.Case.Tallies, 1, "the same request is done once")
	history, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	assert.Empty(t, history.Tallies, "the buyer's tallies are not the order's")

	step(cases.TellSeller)
	say := func(who act.Act, key cases.Key, r cases.EntryRequest) error {
		_, err := y.AddEntry(y.ctx, who, key, r)
		return err
	}
	requireKind(t, act.Conflict, say(y.act(), seller, cases.EntryRequest{Kind: "answer", Remedy: "wood"}))
	requireKind(t, act.Conflict, say(buyerAct(), buyer, cases.EntryRequest{Kind: "reply", Accepts: "yes"}))
	require.NoError(t, say(buyerAct(), buyer, cases.EntryRequest{Kind: "claim", Text: "Short.", Remedy: "wood"}))
	step(cases.AwaitSeller)
	waiting, err := y.Unanswered(y.ctx, owner)
	require.NoError(t, err)
	assert.Equal(t, []int64{receipt}, waiting)
	requireKind(t, act.Forbidden, say(buyerAct(), buyer, cases.EntryRequest{Kind: "answer", Remedy: "wood"}))
	requireKind(t, act.Forbidden, say(y.act(), seller, cases.EntryRequest{Kind: "claim", Text: "x"}))
	requireKind(t, act.Forbidden, say(act.Act{Actor: driver, Request: newRequest()}, seller, cases.EntryRequest{Kind: "answer", Remedy: "wood"}))
	assert.Equal(t, map[string]string{"text": "missing"}, faults(t, say(y.act(), seller, cases.EntryRequest{Kind: "answer", Remedy: "disagree"})))
	assert.Equal(t, map[string]string{"remedy": "missing"}, faults(t, say(y.act(), seller, cases.EntryRequest{Kind: "answer", Text: "x"})))
	require.NoError(t, say(y.act(), seller, cases.EntryRequest{Kind: "answer", Remedy: "wood", Text: "Two more rows on Friday."}))
	step(cases.WeighAnswer)
	waiting, err = y.Unanswered(y.ctx, owner)
	require.NoError(t, err)
	assert.Empty(t, waiting)
	assert.Equal(t, map[string]string{"accepts": "unknown"}, faults(t, say(buyerAct(), buyer, cases.EntryRequest{Kind: "reply"})))
	require.NoError(t, say(buyerAct(), buyer, cases.EntryRequest{Kind: "reply", Accepts: "no", Text: "It should be three."}))
	step(cases.AskOffice)
	waiting, err = y.Unanswered(y.ctx, owner)
	require.NoError(t, err)
	assert.Equal(t, []int64{receipt}, waiting)
	require.NoError(t, say(y.act(), seller, cases.EntryRequest{Kind: "answer", Remedy: "together"}))
	require.NoError(t, say(buyerAct(), buyer, cases.EntryRequest{Kind: "reply", Accepts: "yes"}))
	step(cases.Carried)
	requireKind(t, act.Conflict, say(buyerAct(), buyer, cases.EntryRequest{Kind: "reply", Accepts: "yes"}))

	f, err = y.CaseFile(y.ctx, owner, seller)
	require.NoError(t, err)
	assert.Len(t, f.Case.Entries, 5)
	assert.Equal(t, "Odell", f.Case.Entries[1].By)
	assert.Empty(t, f.Case.Entries[0].By, "the buyer's name is not copied")
	require.NoError(t, say(buyerAct(), buyer, cases.EntryRequest{Kind: "office", Text: "County office"}))
	step(cases.WithOffice)
	_, err = y.SaveCaseTally(y.ctx, y.act(), seller, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
	requireKind(t, act.Forbidden, err)
	_, err = y.SaveCaseTally(y.ctx, buyerAct(), buyer, orders.TallyRequest{Document: cordTally()})
	require.NoError(t, err)
	step(cases.NothingShown) // what was brought makes it whole: the exchange no longer decides
}

// A buyer who typed a shrinkage larger than the table's for the species sold gets no more
// allowance for it than the seller would.
func TestCaseCapsShrinkageByTheSpeciesSold(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Species = "red oak"
	receipt := y.deliver(y.take(r).ID, orders.LoadRequest{Delivered: r.Quantity}).Receipt.Facts.Number
	doc := strings.Replace(string(shortTally()), `"apart": "none",`,
		`"apart": "none", "condition": "dry", "sold_condition": "green", "moisture": {"percent": 15, "basis": "dry", "pieces": 6, "method": "meter"}, "shrinkage": {"percent": 29},`, 1)
	_, result, err := y.TryCaseTally(y.ctx, act.Actor{}, cases.Key{Code: y.link(receipt)}, []byte(doc))
	require.NoError(t, err)
	// 13.7 %, Forest Products Laboratory, Wood Handbook FPL-GTR-282, table 4-3, northern
	// red oak, volumetric; the meter's own 2 points on top of what it read.
	assert.InDelta(t, 13.7*(1-17./30)/100, result.Finding.Drying.Shrinkage, 1e-9)
}

func TestCaseFollowsACorrectedReceipt(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity = "2 cords"
	receipt := y.deliver(y.take(r).ID, orders.LoadRequest{Delivered: "1 cord"}).Receipt.Facts.Number
	key := cases.Key{Code: y.link(receipt)}
	_, err := y.SaveCaseTally(y.ctx, buyerAct(), key, orders.TallyRequest{Document: cordTally()})
	require.NoError(t, err)
	_, err = y.Correct(y.ctx, y.act(), receipt, orders.CorrectionRequest{
		Reason: "a row more was delivered", Delivered: "1 1/3 cords", On: "2026-03-09", Species: "Red oak", PieceLength: "16 in", Seasoning: "seasoned",
		PurchaserName: "Ada Quill", PurchaserAddress: "7 Ferry Lane\nAlder Bend",
	})
	require.NoError(t, err)
	f, err := y.CaseFile(y.ctx, act.Actor{}, key)
	require.NoError(t, err)
	assert.Equal(t, cords(4, 3), f.Case.Account.Quantity)
	assert.Equal(t, cases.MeasureFirst, f.Step, "what was measured was held against what the receipt said before")
}

func TestOwnCaseReadsBarredWordsBackAndKeepsThemInside(t *testing.T) {
	y := yardUnder(t, "massachusetts", "imperial")
	r := goodCase()
	r.TicketHas, r.TicketLacks, r.Quantity = "", "", "1 cord"
	_, err := y.OpenCase(y.ctx, y.act(), r)
	asked := fieldOf(t, err, "confirmed")
	assert.Equal(t, "128 cu ft stacked", asked.Accepts.String(), "MGL c. 94 s. 298: cubic feet and cubic metres alone")
	assert.NotContains(t, asked.Reason.Key, "cord")
	r.Confirmed = asked.Accepts.String()
	f, err := y.OpenCase(y.ctx, y.act(), r)
	require.NoError(t, err)
	assert.Equal(t, cords(1, 1), f.Case.Account.Quantity)
	assert.Equal(t, "1 cord", f.Case.Account.Words)
	assert.Equal(t, 5, f.Days())
	r.Wood = "a cord of oak"
	_, err = y.OpenCase(y.ctx, y.act(), r)
	assert.Equal(t, "barred", faults(t, err)["wood"])
	_, err = y.AddEntry(y.ctx, y.act(), cases.Key{ID: f.Case.ID}, cases.EntryRequest{Kind: "claim", Text: "You sold me a cord."})
	assert.Equal(t, map[string]string{"text": "barred"}, faults(t, err))

	r = goodCase()
	r.RuleSet, r.Quantity, r.PieceLength = "us-model", "two face cords", "16 in"
	_, err = y.OpenCase(y.ctx, y.act(), r)
	assert.Equal(t, "2/3 cord", fieldOf(t, err, "confirmed").Accepts.String(), "the picked rules count, not the shop's")
}

func TestOwnCaseIsChangedByAddingToIt(t *testing.T) {
	y := newYard(t)
	doing := y.act()
	f, err := y.OpenCase(y.ctx, doing, goodCase())
	require.NoError(t, err)
	again, err := y.OpenCase(y.ctx, doing, goodCase())
	require.NoError(t, err)
	assert.Equal(t, f.Case.ID, again.Case.ID)
	assert.Equal(t, []cases.Lacked{cases.LackUsed, cases.LackStacked}, f.Lacking)
	key := cases.Key{ID: f.Case.ID}
	r := goodCase()
	r.Used, r.Stacked, r.Version = "no", "yes", 1
	f, err = y.ChangeCase(y.ctx, y.act(), key.ID, r)
	require.NoError(t, err)
	assert.Empty(t, f.Lacking)
	assert.EqualValues(t, 2, f.Case.Account.Version)
	_, err = y.ChangeCase(y.ctx, y.act(), key.ID, r)
	requireKind(t, act.Conflict, err)
	_, err = y.SaveCaseTally(y.ctx, y.act(), key, orders.TallyRequest{Document: shortTally()})
	require.NoError(t, err)
	r.Quantity, r.Version = "2 cords", 2
	_, err = y.ChangeCase(y.ctx, y.act(), key.ID, r)
	requireKind(t, act.Conflict, err)

	_, err = y.AddEntry(y.ctx, y.act(), key, cases.EntryRequest{Kind: "claim", Text: "Short."})
	require.NoError(t, err)
	f, err = y.AddEntry(y.ctx, y.act(), key, cases.EntryRequest{Kind: "answer", Remedy: "disagree", Text: "I loaded it myself."})
	require.NoError(t, err)
	assert.Equal(t, stack.Seller, f.Case.Entries[1].Party)
	assert.Empty(t, f.Case.Entries[1].By, "the buyer wrote the seller's words down")
	for _, who := range []act.Actor{driver, auditor, buyerAct().Actor} {
		_, err := y.CaseFile(y.ctx, who, key)
		requireKind(t, act.Forbidden, err)
	}
	cases, err := y.OwnCases(y.ctx, owner)
	require.NoError(t, err)
	assert.Len(t, cases, 1)
}

func TestOwnCaseNamesEveryFault(t *testing.T) {
	y := newYard(t)
	_, err := y.OpenCase(y.ctx, y.act(), cases.Request{
		Price: "-3", DeliveredOn: "2026-03-10", Payment: "beads", Used: "perhaps", Slip: "no", TicketHas: "vendor-name,nonsense", PieceLength: "16 miles",
	})
	assert.Equal(t, map[string]string{
		"piece_length": "unknown-unit", "quantity": "missing", "delivered_on": "future", "price": "negative", "ticket_has": "unknown", "slip": "both",
		"payment": "unknown", "used": "unknown",
	}, faults(t, err))
	_, err = y.OpenCase(y.ctx, y.act(), cases.Request{RuleSet: "atlantis"})
	assert.Equal(t, map[string]string{"rule_set": "unknown"}, faults(t, err))
}

// fileBytes are the bytes of the database and of what lies beside it.
func (y *sellerYard) fileBytes() [][]byte {
	servertest.FileOnly(y.t)
	y.t.Helper()
	names, err := filepath.Glob(y.path + "*")
	require.NoError(y.t, err)
	require.NotEmpty(y.t, names)
	var all [][]byte
	for _, name := range names {
		content, err := os.ReadFile(name)
		require.NoError(y.t, err)
		all = append(all, content)
	}
	return all
}

// Words that name no measure are refused at first; the buyer may keep them, and what
// was measured is then held against nothing.
func TestOwnCaseKeepsWordsThatNameNoMeasure(t *testing.T) {
	y := newYard(t)
	r := goodCase()
	r.Quantity, r.PieceLength = "a truckload", ""
	_, err := y.OpenCase(y.ctx, y.act(), r)
	assert.Contains(t, faults(t, err), "quantity", "nothing is kept unasked")
	r.AsWords = "yes"
	f, err := y.OpenCase(y.ctx, y.act(), r)
	require.NoError(t, err)
	assert.True(t, f.Case.Account.AsWords)
	assert.Equal(t, "a truckload", f.Case.Account.Words)
	assert.Zero(t, f.Case.Account.Quantity)
	assert.Equal(t, cases.MeasureFirst, f.Step)

	key := cases.Key{ID: f.Case.ID}
	_, err = y.SaveCaseTally(y.ctx, y.act(), key, orders.TallyRequest{Document: []byte(strings.Replace(string(shortTally()), `"apart": "none"`, `"apart": "10 cu ft"`, 1))})
	assert.Equal(t, map[string]string{"apart": "needs-sold"}, faults(t, err))
	_, err = y.SaveCaseTally(y.ctx, y.act(), key, orders.TallyRequest{Document: []byte(strings.Replace(string(shortTally()), `"format": 1,`, `"format": 1, "sold": "1 cord",`, 1))})
	assert.Equal(t, map[string]string{"sold": "no-measure"}, faults(t, err))
	f, err = y.SaveCaseTally(y.ctx, y.act(), key, orders.TallyRequest{Document: shortTally()})
	require.NoError(t, err)
	assert.Nil(t, f.Case.Latest().Result.Finding, "neither short nor full")
	assert.Positive(t, f.Case.Latest().Result.Quantity.Volume)
	assert.NotContains(t, string(f.Case.Latest().Document), "sold")
	assert.Equal(t, cases.AskAmount, f.Step)

	// The seller says how much it was: the record takes it, and it is measured against it.
	r.Quantity, r.Version = "1 cord", 1
	f, err = y.ChangeCase(y.ctx, y.act(), key.ID, r)
	require.NoError(t, err)
	assert.False(t, f.Case.Account.AsWords, "words that name a measure are that quantity")
	assert.Equal(t, cords(1, 1), f.Case.Account.Quantity)
	f, err = y.SaveCaseTally(y.ctx, y.act(), key, orders.TallyRequest{Document: shortTally()})
	require.NoError(t, err)
	assert.Equal(t, stack.Short, f.Case.Latest().Result.Finding.Word)
	r.Quantity, r.Version = "a truckload", 2
	_, err = y.ChangeCase(y.ctx, y.act(), key.ID, r)
	requireKind(t, act.Conflict, err)
}

// A term with a size is still read back, and its words may be kept instead.
func TestOwnCaseKeepsWordsInsteadOfWhatIsReadBack(t *testing.T) {
	y := newYard(t)
	r := goodCase()
	r.PieceLength = "16 in"
	for _, words := range []string{"1 face cord", "2 ricks"} {
		r.Quantity, r.AsWords = words, ""
		_, err := y.OpenCase(y.ctx, y.act(), r)
		fieldOf(t, err, "confirmed")
		r.AsWords, r.Version = "yes", 0
		f, err := y.OpenCase(y.ctx, y.act(), r)
		require.NoError(t, err)
		assert.Equal(t, words, f.Case.Account.Words)
		assert.Zero(t, f.Case.Account.Quantity)
		r.Quantity, r.Version, r.Used = "", 1, "no"
		f, err = y.ChangeCase(y.ctx, y.act(), f.Case.ID, r)
		require.NoError(t, err)
		assert.Equal(t, words, f.Case.Account.Words, "words that no page shows stay")
	}
	r.PieceLength, r.Version, r.Quantity = "", 0, "half a pickup"
	f, err := y.OpenCase(y.ctx, y.act(), r)
	require.NoError(t, err)
	assert.True(t, f.Case.Account.AsWords)
	for quantity, code := range map[string]string{"": "missing", "a\u202etruck": "bad-text", strings.Repeat("truck ", 2000): "too-long"} {
		r.Quantity = quantity
		_, err = y.OpenCase(y.ctx, y.act(), r)
		assert.Equal(t, map[string]string{"quantity": code}, faults(t, err))
	}
	r.Quantity, r.AsWords = "a truckload", "perhaps"
	_, err = y.OpenCase(y.ctx, y.act(), r)
	assert.Equal(t, "unknown", faults(t, err)["as_words"])
}

// Where nobody said in which zone and currency the shop is, a buyer east of Greenwich may have
// had wood on a day that has not begun in UTC, and no price is taken for dollars.
func TestAnOwnCaseAssumesNeitherZoneNorCurrency(t *testing.T) {
	y := bareYard(t)
	y.now = time.Date(2026, 3, 9, 20, 0, 0, 0, time.UTC) // it is the 10th in Auckland
	bought := cases.Request{Quantity: "1 cord", SellerName: "Alder Bend Firewood", DeliveredOn: "2026-03-10", Price: "300", PieceLength: "16 in"}
	_, err := y.OpenCase(y.ctx, y.act(), bought)
	assert.Equal(t, map[string]string{"price": "no-currency"}, faults(t, err))
	bought.Price = ""
	_, err = y.OpenCase(y.ctx, y.act(), bought)
	require.NoError(t, err)
	bought.DeliveredOn = "2026-03-11"
	_, err = y.OpenCase(y.ctx, y.act(), bought)
	assert.Equal(t, map[string]string{"delivered_on": "future"}, faults(t, err))
}
