package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/photos"
	"wellstowed/orders/privacy"
	"wellstowed/orders/yard"
)

// loose is what is personal and belongs to no receipt: an order that was cancelled, a
// place that was dropped, a record of wood bought elsewhere, an audit of a load with no
// order; each of them of Zephyrine Ostrak.
func (y *sellerYard) loose() (order orders.Order, audit audits.Audit) {
	y.t.Helper()
	taken := y.take(namedOrder())
	y.photograph(taken.ID, photos.Request{Name: "Zephyrine.png", Shows: "place", Of: "behind the Ostrak barn", Bytes: picture(y.t, "png", 8, 8)})
	order, err := y.CancelOrder(y.ctx, y.act(), taken.ID, 1)
	require.NoError(y.t, err)
	wish := y.wait(orders.WishRequest{Order: namedOrder(), WantedFor: "until Zephyrine calls"})
	_, err = y.DropWish(y.ctx, y.act(), wish.ID, orders.DropRequest{Reason: "Ostrak bought elsewhere"})
	require.NoError(y.t, err)
	own := goodCase()
	own.BuyerName, own.SellerName, own.Wood = "Zephyrine Ostrak", "Quillon Wood", "oak, from Tarnby"
	f, err := y.OpenCase(y.ctx, y.act(), own)
	require.NoError(y.t, err)
	_, err = y.AddEntry(y.ctx, y.act(), cases.Key{ID: f.Case.ID}, cases.EntryRequest{Kind: "claim", Text: "Ask my cousin Bartolf."})
	require.NoError(y.t, err)
	audit, err = y.OpenAudit(y.ctx, y.auditing(), audits.Request{
		Auditor: "Pim Holt", Capacity: "volunteer", SellerName: "Alder Bend Firewood", SellerAddress: "2 Kiln Road", BuyerName: "Zephyrine Ostrak",
		BuyerAddress: "77 Quillon Mews\nTarnby", Place: "behind 77 Quillon Mews", Quantity: "1 cord", PieceLength: "16 in", Species: "Red oak", DeliveredOn: "2026-03-08",
	})
	require.NoError(y.t, err)
	_, err = y.NoteAudit(y.ctx, y.auditing(), audit.ID, audits.NoteRequest{Kind: "note", Text: "Zephyrine was there."})
	require.NoError(y.t, err)
	_, err = y.AddPhoto(y.ctx, y.auditing(), audit.ID, audits.PhotoRequest{Name: "Ostrak.png", Of: "Quillon Mews", Bytes: picture(y.t, "png", 8, 8)})
	require.NoError(y.t, err)
	_, err = y.closed(audit, "48 in", audits.CloseRequest{Statement: "Zephyrine’s stack."})
	require.NoError(y.t, err)
	return order, audit
}

func TestNamesOfWhatHasNoReceiptCanBeErased(t *testing.T) {
	y := newYard(t)
	order, audit := y.loose()
	require.NotEmpty(t, y.leftovers())
	plan := y.erasurePlan()
	require.Zero(t, plan.Count())
	require.Equal(t, 4, plan.LaterRecords)
	require.Equal(t, "2026-04-10", plan.NextRecord.String(), "the day after a month is over")

	y.now = y.now.AddDate(0, 1, 1)
	plan = y.erasurePlan()
	require.Equal(t, privacy.Erased{Receipts: []int64{}, Orders: []int64{1}, Places: 1}, plan.Erased)
	require.Equal(t, 2, plan.LaterRecords)
	require.Equal(t, "2027-03-10", plan.NextRecord.String())
	y.eraseAll("2")
	require.NotEmpty(t, y.leftovers(), "of the record and the audit")

	y.now = y.now.AddDate(1, 0, 0)
	plan = y.erasurePlan()
	require.Equal(t, privacy.Erased{Receipts: []int64{}, Records: 1, Audits: []int64{1}}, plan.Erased)
	e := y.eraseAll("2")
	require.Equal(t, plan.Erased, e.Erased)
	require.Empty(t, y.leftovers())
	require.Equal(t, e, y.erasurePlan().Done[0])
	require.Zero(t, y.erasurePlan().LaterRecords)
	y.noFaults()

	o := y.history(order.ID).Order
	require.Equal(t, orders.ErasedName, o.Customer.Name)
	require.False(t, o.Erased.IsZero())
	ended := y.waiting().Ended[0]
	require.Equal(t, orders.ErasedName, ended.Customer)
	require.Equal(t, cords(1, 1), ended.Quantity, "what was wanted stays")
	own, err := y.OwnCases(y.ctx, owner)
	require.NoError(t, err)
	require.Empty(t, own[0].Account.Buyer)
	require.Empty(t, own[0].Account.Seller)
	require.Equal(t, cords(1, 1), own[0].Account.Quantity)
	a, err := y.Audit(y.ctx, auditor, audit.ID)
	require.NoError(t, err)
	require.Empty(t, a.Subject.Purchaser)
	require.Empty(t, a.Photos)
	require.NotEmpty(t, a.Word, "the result stays")
	_, err = y.AuditReport(y.ctx, auditor, audit.ID)
	requireKind(t, act.Conflict, err)

	_, err = y.AddEntry(y.ctx, y.act(), cases.Key{ID: own[0].ID}, cases.EntryRequest{Kind: "office", Text: "Called."})
	requireKind(t, act.Conflict, err)
	_, err = y.NoteAudit(y.ctx, y.auditing(), audit.ID, audits.NoteRequest{Kind: "note", Text: "late"})
	requireKind(t, act.Conflict, err)
	_, err = y.AddPayment(y.ctx, y.act(), order.ID, orders.PaymentRequest{Amount: "5", Method: "cash", Back: "yes"})
	requireKind(t, act.Conflict, err)
}

// An order on which money went to and fro, or that was measured, is kept as receipts are.
func TestACancelledOrderWithMoneyIsKeptLonger(t *testing.T) {
	y := newYard(t)
	o := y.take(namedOrder())
	y.pay(o.ID, orders.PaymentRequest{Amount: "20", Method: "cheque", Reference: "Ostrak 17"})
	o, err := y.CancelOrder(y.ctx, y.act(), o.ID, 1)
	require.NoError(t, err)
	y.now = y.now.AddDate(0, 2, 0)
	require.Equal(t, 1, y.erasurePlan().LaterRecords)
	y.now = y.now.AddDate(1, 0, 0)
	plan := y.erasurePlan()
	require.Zero(t, plan.Count())
	require.Equal(t, "the shop holds money of the customer’s", plan.Held[0].Why[0].String())
	require.Empty(t, plan.Held[0].Receipts)
	y.pay(o.ID, orders.PaymentRequest{Amount: "20", Method: "cheque", Reference: "Ostrak 18", Back: "yes"})
	y.eraseAll("1")
	require.Empty(t, y.leftovers())
	y.noFaults()
}

// The numbers and reasons of money on a delivered order, and its audits, go with it.
func TestMoneyAndAuditsGoWithTheirOrder(t *testing.T) {
	y := newYard(t)
	o := y.take(namedOrder())
	y.deliver(o.ID, orders.LoadRequest{})
	wrong := y.pay(o.ID, orders.PaymentRequest{Amount: "30", Method: "cheque", Reference: "Ostrak 17"})
	_, err := y.ReversePayment(y.ctx, y.act(), o.ID, wrong.ID, orders.ReversalRequest{Reason: "Zephyrine’s other cheque"})
	require.NoError(t, err)
	y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	_, err = y.AddMoisture(y.ctx, y.act(), o.ID, yard.MoistureRequest{Readings: "18\n19", Basis: "dry", Method: "pin meter", FreshFace: "yes", ReadBy: "Zephyrine Ostrak"})
	require.NoError(t, err)
	a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
	require.NoError(t, err)
	_, err = y.closed(a, "48 in", audits.CloseRequest{Statement: "At 77 Quillon Mews."})
	require.NoError(t, err)
	y.now = y.now.AddDate(2, 0, 0)
	plan := y.erasurePlan()
	require.Equal(t, privacy.Erased{Receipts: []int64{1}, Audits: []int64{1}}, plan.Erased)
	require.Equal(t, 1, plan.Count(), "the audit goes with its order")
	require.Equal(t, plan.Erased, y.eraseAll("1").Erased)
	require.Empty(t, y.leftovers())
	h := y.history(o.ID)
	require.Empty(t, h.Payments[0].Reference)
	require.Equal(t, orders.ErasedReader, h.Moistures[0].By)
	require.True(t, h.Balance.Due.Minor == 0 && h.Balance.Back.Minor == 0, "the money is as it was")
	v, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, said(v))
	require.Equal(t, 1, v.BlankAudits)

	_, err = y.ReversePayment(y.ctx, y.act(), o.ID, h.Payments[2].ID, orders.ReversalRequest{Reason: "late"})
	requireKind(t, act.Conflict, err)
	_, err = y.AddMoisture(y.ctx, y.act(), o.ID, yard.MoistureRequest{Readings: "18", Basis: "dry", Method: "pin meter", FreshFace: "yes", ReadBy: "Wren"})
	requireKind(t, act.Conflict, err)
	_, err = y.Settle(y.ctx, y.act(), o.ID, orders.SettleRequest{Owed: "1/4 cord", Choice: "wood", AgreedHow: "word", Reason: "late"})
	requireKind(t, act.Conflict, err)
}

// Names that are put back into any column they were taken out of are found.
func TestVerifyFindsNamesPutBackAnywhere(t *testing.T) {
	const onOrder, onAudit = "order 1: its names were erased, and it holds names or notes again", "audit 1: its names were erased, and it holds names, readings or photos again"
	const onPlace, onRecord = "waiting list: the names of a place were erased, and it holds names again", "own records: the names of one were erased, and it holds names again"
	y := newYard(t)
	y.loose()
	y.now = y.now.AddDate(2, 0, 0)
	y.eraseAll("4")
	y.noFaults()
	whole := y.mould()
	for change, want := range map[string]string{
		`UPDATE customers SET phone = '555-0188'`:                                                      onOrder,
		`UPDATE orders SET notes = 'gate code 9517'`:                                                   onOrder,
		`UPDATE wishes SET request = json_set(request, '$.customer_phone', '555-0188')`:                onPlace,
		`UPDATE wishes SET wanted_for = 'Zephyrine'`:                                                   onPlace,
		`UPDATE wish_ends SET reason = 'Zephyrine'`:                                                    onPlace,
		`UPDATE case_entries SET text = 'Zephyrine'`:                                                   onRecord,
		`UPDATE case_accounts SET account = json_set(account, '$.seller', json('{"name":"Quillon"}'))`: onRecord,
		`UPDATE audits SET subject = json_set(subject, '$.place', 'Tarnby')`:                           onAudit,
		`UPDATE audit_reports SET report = x'7b7d'`:                                                    onAudit,
		`UPDATE audit_reports SET pdf = x'25'`:                                                         onAudit,
	} {
		t.Run(change, func(t *testing.T) {
			twin := whole.cast(t)
			twin.tamper(change)
			require.Equal(t, []string{want}, twin.faultsAlone())
		})
	}
}
