package orders_test

import (
	"database/sql"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/customers"
	"wellstowed/orders/people"
	"wellstowed/orders/photos"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/prices"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/orders/yard"
)

// trip makes the n-th statement that writes to the yard's file fail, once; 0: none does.
func (y *sellerYard) trip(n int) {
	servertest.FileOnly(y.t)
	y.t.Helper()
	y.tamper(`DELETE FROM trip`)
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	_, err = db.Exec(`INSERT INTO trip (left_over) VALUES (?)`, n)
	require.NoError(y.t, err)
}

// tripped tells whether a statement failed and what went on afterwards was kept.
func (y *sellerYard) tripped() bool {
	servertest.FileOnly(y.t)
	y.t.Helper()
	var left int
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	require.NoError(y.t, db.QueryRow(`SELECT left_over FROM trip`).Scan(&left))
	return left == 0
}

// setTraps puts a trap on every table: before each row that is written it counts down,
// and fails at the end of the count. The count goes on past it, so that one statement
// fails and no other.
func (y *sellerYard) setTraps() {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	rows, err := db.Query(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' AND name NOT IN ('goose_db_version', 'journal_rows')`)
	require.NoError(y.t, err)
	var tables []string
	for rows.Next() {
		var name string
		require.NoError(y.t, rows.Scan(&name))
		tables = append(tables, name)
	}
	require.NoError(y.t, rows.Close())
	_, err = db.Exec(`CREATE TABLE trip (left_over INTEGER NOT NULL)`)
	require.NoError(y.t, err)
	for _, table := range tables {
		for _, event := range []string{"INSERT", "UPDATE", "DELETE"} {
			_, err := db.Exec(`CREATE TRIGGER trap_` + event + `_` + table + ` BEFORE ` + event + ` ON ` + table + ` BEGIN
				UPDATE trip SET left_over = left_over - 1 WHERE left_over > -1;
				SELECT RAISE(FAIL, 'the disk is out') FROM trip WHERE left_over = 0;
			END`)
			require.NoError(y.t, err)
		}
	}
}

// takeTraps takes them away, so that the file's tables are the program's again.
func (y *sellerYard) takeTraps() {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	rows, err := db.Query(`SELECT name FROM sqlite_schema WHERE type = 'trigger'`)
	require.NoError(y.t, err)
	var traps []string
	for rows.Next() {
		var name string
		require.NoError(y.t, rows.Scan(&name))
		traps = append(traps, name)
	}
	require.NoError(y.t, rows.Close())
	for _, name := range traps {
		_, err := db.Exec(`DROP TRIGGER ` + name)
		require.NoError(y.t, err)
	}
	_, err = db.Exec(`DROP TABLE trip`)
	require.NoError(y.t, err)
}

// version is a number that changes with every transaction that others commit.
func version(t *testing.T, db *sql.Conn) (n int) {
	t.Helper()
	require.NoError(t, db.QueryRowContext(t.Context(), `PRAGMA data_version`).Scan(&n))
	return n
}

// A deed is what a method of the service needs before it, and its call.
type deed func(y *sellerYard) func(by act.Act) error

func ready[T any](call func(act.Act) (T, error)) func(act.Act) error {
	return func(by act.Act) error { _, err := call(by); return err }
}

// deeds are every method that writes.
func deeds() map[string]deed {
	all := map[string]deed{}
	maps.Copy(all, tradeDeeds())
	maps.Copy(all, yardDeeds())
	maps.Copy(all, caseDeeds())
	maps.Copy(all, auditDeeds())
	maps.Copy(all, sideDeeds())
	return all
}

func tradeDeeds() map[string]deed {
	return map[string]deed{
		"ChangeShop": func(y *sellerYard) func(act.Act) error {
			shop := goodShop()
			shop.Name, shop.Version = "Alder Bend Wood", 2
			return ready(func(by act.Act) (orders.Shop, error) { return y.ChangeShop(y.ctx, by, shop) })
		},
		"Begin": func(y *sellerYard) func(act.Act) error {
			*y = *bareYard(y.t) // the one given has begun
			return ready(func(by act.Act) (orders.Shop, error) { return y.Begin(y.ctx, by, newShop()) })
		},
		"ChangeCharges": func(y *sellerYard) func(act.Act) error {
			r := salesTax()
			r.Version = 2
			return ready(func(by act.Act) (orders.Shop, error) { return y.ChangeCharges(y.ctx, by, r) })
		},
		"TakeOrder": func(y *sellerYard) func(act.Act) error {
			r := y.read(goodOrder())
			return ready(func(by act.Act) (orders.Order, error) { return y.TakeOrder(y.ctx, by, r) })
		},
		"ChangeOrder": func(y *sellerYard) func(act.Act) error {
			o, r := y.take(goodOrder()), goodOrder()
			r.Notes, r.Version = "ring first", o.Version
			return ready(func(by act.Act) (orders.Order, error) { return y.ChangeOrder(y.ctx, by, o.ID, r) })
		},
		"CancelOrder": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.Order, error) { return y.CancelOrder(y.ctx, by, o.ID, o.Version) })
		},
		"SetDay": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.Order, error) {
				return y.SetDay(y.ctx, by, o.ID, orders.DayRequest{Day: "tomorrow", Version: o.Version})
			})
		},
		"Deliver": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.Issued, error) {
				return y.Service.Deliver(y.ctx, by, o.ID, orders.LoadRequest{})
			})
		},
		"DeliverSigned": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.Issued, error) {
				return y.Service.DeliverSigned(y.ctx, by, o.ID, orders.LoadRequest{}, y.now, agreed)
			})
		},
		"Correct": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			r := y.correction(1, func(r *orders.CorrectionRequest) { r.PurchaserName = "Ada Quill-Reed" })
			return ready(func(by act.Act) (orders.Issued, error) { return y.Service.Correct(y.ctx, by, 1, r) })
		},
		"Void": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			return ready(func(by act.Act) (orders.Issued, error) {
				return y.Service.Void(y.ctx, by, 1, orders.VoidRequest{Reason: "it came back"})
			})
		},
		"SaveTally": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.IssuedSheet, error) {
				return y.Service.SaveTally(y.ctx, by, o.ID, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
			})
		},
		"AddPayment": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			return ready(func(by act.Act) (orders.Payment, error) {
				return y.Service.AddPayment(y.ctx, by, o.ID, orders.PaymentRequest{Amount: "5", Method: "cash"})
			})
		},
		"ReversePayment": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			p := y.pay(o.ID, orders.PaymentRequest{Amount: "5", Method: "cash"})
			return ready(func(by act.Act) (orders.Payment, error) {
				return y.Service.ReversePayment(y.ctx, by, o.ID, p.ID, orders.ReversalRequest{Reason: "typed twice"})
			})
		},
		"ReceiveCopy": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			p := y.pay(o.ID, orders.PaymentRequest{Amount: "5", Method: "voucher", Reference: "V-7"})
			return ready(func(by act.Act) (orders.Payment, error) {
				return y.Service.ReceiveCopy(y.ctx, by, o.ID, p.ID, orders.CopyRequest{})
			})
		},
		"Settle": func(y *sellerYard) func(act.Act) error {
			o := y.shortDelivery()
			return ready(func(by act.Act) (orders.Settlement, error) { return y.Service.Settle(y.ctx, by, o.ID, inWood()) })
		},
		"Bring": func(y *sellerYard) func(act.Act) error {
			o := y.shortDelivery()
			y.settle(o.ID, inWood())
			return ready(func(by act.Act) (orders.Issued, error) {
				return y.Service.Bring(y.ctx, by, o.ID, orders.BringRequest{Brought: "4 cu ft"})
			})
		},
		"Give": func(y *sellerYard) func(act.Act) error {
			o := y.shortDelivery()
			y.settle(o.ID, inMoney())
			return ready(func(by act.Act) (orders.Issued, error) {
				return y.Service.Give(y.ctx, by, o.ID, orders.GiveRequest{Method: "cash"})
			})
		},
		"Wait": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (orders.Wish, error) {
				return y.Service.Wait(y.ctx, by, orders.WishRequest{Order: goodOrder()})
			})
		},
		"TakeWish": func(y *sellerYard) func(act.Act) error {
			w := y.wait(orders.WishRequest{Order: goodOrder()})
			r := orders.OrderRequest{Confirmed: y.read(w.Request).Confirmed}
			return ready(func(by act.Act) (orders.Order, error) { return y.TakeWish(y.ctx, by, w.ID, r) })
		},
		"DropWish": func(y *sellerYard) func(act.Act) error {
			w := y.wait(orders.WishRequest{Order: goodOrder()})
			return ready(func(by act.Act) (orders.Wish, error) {
				return y.DropWish(y.ctx, by, w.ID, orders.DropRequest{Reason: "found some"})
			})
		},
	}
}

func yardDeeds() map[string]deed {
	return map[string]deed{
		"SetAside": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			b, err := y.AddBatch(y.ctx, y.act(), goodBatch())
			require.NoError(y.t, err)
			return ready(func(by act.Act) (orders.Order, error) {
				return y.SetAside(y.ctx, by, o.ID, orders.AsideRequest{Batch: b.ID, Version: o.Version})
			})
		},
		"AddBatch": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (yard.Batch, error) { return y.AddBatch(y.ctx, by, goodBatch()) })
		},
		"CorrectBatch": func(y *sellerYard) func(act.Act) error {
			b, r := y.putUp(), goodBatch()
			r.Name, r.Version, r.Reason = "far bay", b.Version(), "renamed"
			return ready(func(by act.Act) (yard.Batch, error) { return y.CorrectBatch(y.ctx, by, b.ID, r) })
		},
		"CountBatch": func(y *sellerYard) func(act.Act) error {
			b := y.putUp()
			return ready(func(by act.Act) (yard.Batch, error) {
				return y.CountBatch(y.ctx, by, b.ID, yard.BatchCount{Left: "1 cord", Reason: "a row was given away"})
			})
		},
		"EndBatch": func(y *sellerYard) func(act.Act) error {
			b := y.putUp()
			return ready(func(by act.Act) (yard.Batch, error) {
				return y.EndBatch(y.ctx, by, b.ID, yard.BatchEnd{Rest: "bark"})
			})
		},
		"AddMoisture": func(y *sellerYard) func(act.Act) error {
			o := y.take(goodOrder())
			r := yard.MoistureRequest{Readings: "18\n19", Basis: "dry", Method: "pin meter", FreshFace: "yes", ReadBy: "Wren"}
			return ready(func(by act.Act) (yard.Moisture, error) { return y.AddMoisture(y.ctx, by, o.ID, r) })
		},
		"AddBatchMoisture": func(y *sellerYard) func(act.Act) error {
			b := y.putUp()
			r := yard.MoistureRequest{Readings: "18\n19", Basis: "dry", Method: "pin meter", FreshFace: "yes", ReadBy: "Wren"}
			return ready(func(by act.Act) (yard.Moisture, error) { return y.AddBatchMoisture(y.ctx, by, b.ID, r) })
		},
		"AddBody": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (yard.Body, error) { return y.AddBody(y.ctx, by, goodBed()) })
		},
		"RetireBody": func(y *sellerYard) func(act.Act) error {
			b, err := y.AddBody(y.ctx, y.act(), goodBed())
			require.NoError(y.t, err)
			return func(by act.Act) error { return y.RetireBody(y.ctx, by, b.ID) }
		},
	}
}

func goodBed() yard.BodyRequest {
	return yard.BodyRequest{Name: "red truck", Line: "top board", Arrangement: "ranked", Length: "8", Width: "4", Height: "24"}
}

func caseDeeds() map[string]deed {
	own := func(y *sellerYard) cases.Key {
		f, err := y.OpenCase(y.ctx, y.act(), goodCase())
		require.NoError(y.t, err)
		return cases.Key{ID: f.Case.ID}
	}
	return map[string]deed{
		"OpenCase": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) (cases.File, error) { return y.OpenCase(y.ctx, by, goodCase()) })
		},
		"ChangeCase": func(y *sellerYard) func(act.Act) error {
			key, r := own(y), goodCase()
			f, err := y.CaseFile(y.ctx, owner, key)
			require.NoError(y.t, err)
			r.Price, r.Version = "290", f.Case.Account.Version
			return ready(func(by act.Act) (cases.File, error) { return y.ChangeCase(y.ctx, by, key.ID, r) })
		},
		"ChangeAnswers": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			code := y.link(1)
			f, err := y.CaseFile(y.ctx, act.Actor{}, cases.Key{Code: code})
			require.NoError(y.t, err)
			r := cases.AnswersRequest{Vehicle: "grey flatbed", Version: f.Case.Account.Version}
			return ready(func(by act.Act) (cases.File, error) { return y.ChangeAnswers(y.ctx, by, code, r) })
		},
		"SaveCaseTally": func(y *sellerYard) func(act.Act) error {
			key := own(y)
			return ready(func(by act.Act) (cases.File, error) {
				return y.SaveCaseTally(y.ctx, by, key, orders.TallyRequest{Document: cordTally(), ReadBy: "Ada"})
			})
		},
		"AddEntry": func(y *sellerYard) func(act.Act) error {
			key := own(y)
			return ready(func(by act.Act) (cases.File, error) {
				return y.AddEntry(y.ctx, by, key, cases.EntryRequest{Kind: "claim", Text: "Less is here."})
			})
		},
		"MakeLink": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			return ready(func(by act.Act) (string, error) { return y.MakeLink(y.ctx, by, 1) })
		},
		"WithdrawLink": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			y.link(1)
			return func(by act.Act) error { return y.WithdrawLink(y.ctx, by, 1) }
		},
	}
}

func auditDeeds() map[string]deed {
	return map[string]deed{
		"OpenAudit": func(y *sellerYard) func(act.Act) error {
			y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
			r := audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"}
			return ready(func(by act.Act) (audits.Audit, error) { return y.OpenAudit(y.ctx, by, r) })
		},
		"NotifySeller": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			r := audits.NoticeRequest{How: "by phone", When: "2026-03-09 09:00", ToldBy: "Pim Holt", Appointed: "2026-03-09 10:00"}
			return ready(func(by act.Act) (audits.Audit, error) { return y.NotifySeller(y.ctx, by, a.ID, r) })
		},
		"HoldWood": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			r := audits.HoldRequest{Since: "2026-03-08 17:00", HeldBy: "Ada Quill", Broken: "no", Apart: "none"}
			return ready(func(by act.Act) (audits.Audit, error) { return y.HoldWood(y.ctx, by, a.ID, r) })
		},
		"PlanAudit": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			return ready(func(by act.Act) (audits.Audit, error) { return y.PlanAudit(y.ctx, by, a.ID, planOf("2")) })
		},
		"AnswerItems": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			r := audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "used", Answer: "no"}, {Code: "ticket.price", Answer: "yes"}}}
			return ready(func(by act.Act) (audits.Audit, error) { return y.AnswerItems(y.ctx, by, a.ID, r) })
		},
		"CloseAudit": func(y *sellerYard) func(act.Act) error {
			a := y.prepared(y.audited())
			y.handIn(y.measurer(a, "Una Reed"), "37 1/4 in")
			y.handIn(y.measurer(a, "Tobias Fenn"), "37 in")
			a = y.answered(a)
			return ready(func(by act.Act) (audits.Issued, error) {
				return y.CloseAudit(y.ctx, by, a.ID, audits.CloseRequest{})
			})
		},
		"NoteAudit": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			r := audits.NoteRequest{Kind: "note", Text: "Overcast."}
			return ready(func(by act.Act) (audits.Audit, error) { return y.NoteAudit(y.ctx, by, a.ID, r) })
		},
		"DrawLot": func(y *sellerYard) func(act.Act) error {
			return ready(func(by act.Act) ([]audits.LotDraw, error) {
				return y.DrawLot(y.ctx, by, audits.LotDrawRequest{Lot: "Corner Store", Size: "30", Seed: "12345"})
			})
		},
		"AddMeasurer": func(y *sellerYard) func(act.Act) error {
			a := y.prepared(y.audited())
			return ready(func(by act.Act) (audits.MeasurerLink, error) {
				return y.AddMeasurer(y.ctx, by, a.ID, audits.MeasurerRequest{Name: "Una Reed"})
			})
		},
		"RenewMeasurer": func(y *sellerYard) func(act.Act) error {
			a := y.prepared(y.audited())
			link, err := y.AddMeasurer(y.ctx, y.auditing(), a.ID, audits.MeasurerRequest{Name: "Una Reed"})
			require.NoError(y.t, err)
			return ready(func(by act.Act) (audits.MeasurerLink, error) {
				return y.RenewMeasurer(y.ctx, by, a.ID, link.Measurer.ID)
			})
		},
		"AddPhoto": func(y *sellerYard) func(act.Act) error {
			a := y.audited()
			r := audits.PhotoRequest{Name: "a.png", Of: "front", Bytes: picture(y.t, "png", 8, 8)}
			return ready(func(by act.Act) (audits.Audit, error) { return y.AddPhoto(y.ctx, by, a.ID, r) })
		},
		"Photos.Keep": func(y *sellerYard) func(act.Act) error {
			id, r := y.take(goodOrder()).ID, photos.Request{Name: "a.png", Shows: "load", Bytes: picture(y.t, "png", 8, 8)}
			return ready(func(by act.Act) (photos.Kept, error) { return y.Photos.Keep(y.ctx, by, id, r) })
		},
		"NoteAttendance": func(y *sellerYard) func(act.Act) error {
			a := y.prepared(y.audited())
			return ready(func(by act.Act) (audits.Audit, error) {
				return y.NoteAttendance(y.ctx, by, a.ID, audits.AttendanceRequest{Attended: "no"})
			})
		},
		"SaveReading": func(y *sellerYard) func(act.Act) error {
			code := y.measurer(y.prepared(y.audited()), "Una Reed")
			r := audits.ReadingRequest{Document: sampleTally("48 in"), HandIn: true, Told: told()}
			return ready(func(by act.Act) (audits.MeasurerView, error) { return y.SaveReading(y.ctx, by.Request, code, r) })
		},
	}
}

// shownOnce are methods that give a link's code, which is kept nowhere: sent again they say
// so.
func shownOnce() []string {
	return []string{"MakeLink", "AddMeasurer", "RenewMeasurer", "People.Invite", "People.RenewRecovery", "People.MakeToken"}
}

// services are those that write, by what stands before the names of their methods here
// where that ends in a point.
func services() map[string]reflect.Type {
	return map[string]reflect.Type{
		"": reflect.TypeFor[*orders.Service](), "cases": reflect.TypeFor[*cases.Service](), "audits": reflect.TypeFor[*audits.Service](),
		"Customers.": reflect.TypeFor[*customers.Service](), "Prices.": reflect.TypeFor[*prices.Service](),
		"Road.": reflect.TypeFor[*road.Service](), "People.": reflect.TypeFor[*people.Service](),
	}
}

// writersOf are the methods of a service that are given an act.
func writersOf(service reflect.Type) (names []string) {
	for i := range service.NumMethod() {
		m := service.Method(i)
		for in := range m.Type.NumIn() {
			if m.Type.In(in) == reflect.TypeFor[act.Act]() {
				names = append(names, m.Name)
			}
		}
	}
	return names
}

// signedByADevice are methods that need the answer of a device that signs, which the tests of
// passkeys have (web/passkey_test.go).
func signedByADevice() []string {
	return []string{"People.BeginPasskey", "People.AddPasskey", "People.RemovePasskey"}
}

// Of a request whose n-th write fails nothing is kept, whatever n is, and it is told; sent
// again with the same id it is done, and once more it is only answered.
func TestNothingIsHalfWritten(t *testing.T) {
	servertest.FileOnly(t)
	t.Parallel()
	all := deeds()
	for before, service := range services() {
		for _, name := range writersOf(service) {
			if strings.HasSuffix(before, ".") {
				name = before + name
			}
			require.True(t, all[name] != nil || slices.Contains(signedByADevice(), name), "%s writes: try it here", name)
		}
	}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		t.Run(name, func(t *testing.T) {
			y := newYard(t)
			call := all[name](y)
			y.setTraps()
			outside, err := sql.Open("sqlite", "file:"+y.path)
			require.NoError(t, err)
			defer outside.Close()
			conn, err := outside.Conn(t.Context())
			require.NoError(t, err)
			defer conn.Close()
			by := y.act()
			n := 1
			for ; ; n++ {
				y.trip(n)
				before := version(t, conn)
				err := call(by)
				if err == nil {
					require.False(t, y.tripped(), "write %d failed, and nobody was told", n)
					break
				}
				requireKind(t, act.Internal, err)
				require.Equal(t, before, version(t, conn), "write %d failed, and something was kept", n)
				require.Less(t, n, 60)
			}
			require.Greater(t, n, 1, "nothing was written")
			y.trip(0)
			before := version(t, conn)
			if err := call(by); slices.Contains(shownOnce(), name) {
				requireKind(t, act.Conflict, err)
			} else {
				require.NoError(t, err, "once more")
			}
			require.Equal(t, before, version(t, conn), "the same request is answered, not repeated")
			y.takeTraps()
			y.noFaults()
		})
	}
}

// An erasure is two transactions, since the file is rewritten between them: of the first
// nothing is kept unless all is; where only the second fails, the names are gone and the
// erasure says that the file is not cleared.
func TestAnErasureIsWhole(t *testing.T) {
	t.Parallel()
	y := newYard(t)
	y.paidOrder(namedOrder())
	y.now = y.now.AddDate(2, 0, 0)
	r := privacy.Request{Plan: y.erasurePlan().Code, Confirmed: "1"}
	y.setTraps()
	by, names := y.sure(), 0
	for n := 1; ; n++ {
		y.trip(n)
		_, err := y.Erase(y.ctx, by, r)
		if err == nil {
			require.False(t, y.tripped(), "write %d failed, and nobody was told", n)
			break
		}
		requireKind(t, act.Internal, err)
		plan := y.erasurePlan()
		require.Equal(t, plan.Count() == 0, plan.Uncleared(), "write %d: all names and their entry, or none", n)
		if plan.Count() > 0 {
			require.Equal(t, r.Plan, plan.Code)
			names++
		}
		require.Less(t, n, 60)
	}
	require.Greater(t, names, 2, "names are written in several writes")
	plan := y.erasurePlan()
	require.False(t, plan.Uncleared())
	require.Len(t, plan.Done, 1)
	require.Empty(t, y.leftovers())
	y.takeTraps()
	y.noFaults()
}
