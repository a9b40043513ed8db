package store_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/customers"
	"wellstowed/orders/loose"
	"wellstowed/orders/minute"
	"wellstowed/orders/people"
	"wellstowed/orders/photos"
	"wellstowed/orders/prices"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
	"wellstowed/testdata/fill"
)

// A shelf is a database in which one of everything was put, every field of it filled.
// The values are as they were written.
type shelf struct {
	t    *testing.T
	f    *fill.Filler
	db   *store.DB
	path string

	shop                         orders.Shop
	order, cancelled             orders.Order
	receipts                     [3]orders.StoredReceipt // a delivery's, a correction of it, a settlement
	sheet                        orders.StoredSheet
	tally                        orders.Tally
	batch                        yard.Batch
	entry                        yard.BatchEntry
	loads                        [2]yard.Load
	moisture, batchMoisture      yard.Moisture
	body                         yard.Body
	vehicle                      road.Vehicle
	roadYard                     road.Yard
	plan                         road.Plan
	dates                        calendar.Link
	payment, reversal            orders.Payment
	settlement                   orders.Settlement
	step                         orders.SettlementStep
	taken, dropped               orders.Wish
	buyersCase, ownCase          cases.Case
	link                         cases.Link
	waiting                      minute.Delivery
	audit, loneAudit             audits.Audit
	auditEntry                   audits.Entry
	measurer                     audits.Measurer
	readings                     []audits.SavedReading
	photo                        photos.Photo
	kept                         photos.Kept
	loose                        loose.Reading
	report                       audits.StoredReport
	result                       stack.Result
	done                         act.Done
	original, shown, renewedCode []byte

	person    people.Person
	session   people.Session
	entryCode people.Code
	logged    people.Line
	passkey   people.Passkey
	record    customers.Record // of the cancelled order
	price     prices.Line
}

// stocked puts one of everything into a new database.
func stocked(t *testing.T) *shelf {
	t.Helper()
	return stockedAt(t, newPath(t))
}

func stockedAt(t *testing.T, path string) *shelf {
	t.Helper()
	s := &shelf{t: t, f: newFiller(t), path: path}
	s.db = open(t, s.path)
	write(t, s.db, func(tx allTx) error {
		s.putShopAndOrders(tx)
		s.putPapers(tx)
		s.putPhotos(tx)
		s.putYard(tx)
		s.putMoney(tx)
		s.putWishes(tx)
		s.putCases(tx)
		s.putAudits(tx)
		s.putPeople(tx)
		return nil
	})
	return s
}

func (s *shelf) must(err error) { s.t.Helper(); require.NoError(s.t, err) }

func (s *shelf) putShopAndOrders(tx allTx) {
	s.shop = fill.Value(s.f, func(v *orders.Shop) { v.Version = 1 })
	s.must(tx.ChangeShop(s.shop))
	s.shop.Version = 2
	for _, o := range []*orders.Order{&s.order, &s.cancelled} {
		*o = fill.Value(s.f, func(v *orders.Order) {
			v.Version, v.Customer.Version = 1, 1
			v.State, v.Outcome, v.Erased = "", "", time.Time{} // derived
			v.Price.Tax.Exempt = s.f.Word("Order.Price.Tax.Exempt")
		})
		s.record = fill.Value(s.f, func(v *customers.Record) { v.Version, v.Orders, v.Last = 1, 1, o.Created })
		o.Customer.Record = s.record.ID
		s.must(tx.AddCustomerRecord(s.record))
		s.must(tx.AddCustomer(o.Customer))
		s.must(tx.AddOrder(*o))
	}
	s.must(tx.CancelOrder(s.cancelled.ID, 1, s.cancelled.Changed))
	s.cancelled.Version, s.cancelled.State = 2, orders.Cancelled
	s.done = fill.Value[act.Done](s.f, func(v *act.Done) { v.Request = newID() })
	s.must(tx.AddDone(s.done))
}

// encoded is a filled value as JSON.
func encoded[T any](s *shelf, fix ...func(*T)) []byte {
	b, err := json.Marshal(fill.Value(s.f, fix...))
	s.must(err)
	return b
}

func (s *shelf) putPapers(tx allTx) {
	kinds := []orders.ReceiptKind{"", orders.CorrectionReceipt, orders.SettlementReceipt}
	for i := range s.receipts {
		s.receipts[i] = fill.Value(s.f, func(v *orders.StoredReceipt) {
			v.Number, v.OrderID, v.Kind, v.Of = int64(i+1), s.order.ID, kinds[i], 1
			if i == 0 {
				v.Of = 0
			}
			v.FactBytes, v.Personal = encoded[orders.Facts](s), encoded[orders.Party](s)
			v.Salt = []byte("sixteen bytes ok")
			v.Ended, v.Erased = nil, time.Time{}
			v.OrderNumber, v.Batch, v.Delivered, v.DeliveredOn = s.order.Number, "", measure.Quantity{}, act.Date{}
		})
		s.must(tx.AddReceipt(s.receipts[i]))
	}
	s.receipts[0].Ended = &orders.Ending{Number: 2, Kind: orders.CorrectionReceipt, Issued: s.receipts[1].Issued}
	s.sheet = fill.Value(s.f, func(v *orders.StoredSheet) {
		v.Tally = orders.TallyColumns{}
		v.OrderID, v.Bytes, v.Personal, v.OrderNumber, v.Erased = s.order.ID, encoded[orders.Sheet](s, func(v *orders.Sheet) {
			v.Purchaser, v.ReadBy, v.Erased = orders.Party{}, "", act.Date{} // stand apart
		}), encoded[orders.Party](s), s.order.Number, time.Time{}
	})
	s.must(tx.AddSheet(s.sheet))
	s.tally = fill.Value(s.f, func(v *orders.Tally) {
		v.OrderID, v.Look, v.Sheet, v.Document = s.order.ID, 1, s.sheet.Number, []byte(`{"format":1,"by":"buyer"}`)
	})
	s.must(tx.AddTally(s.tally))
	s.sheet.Tally = orders.TallyColumns{OrderID: s.order.ID, Look: 1, Document: s.tally.Document, Outcome: string(s.tally.Result.Finding.Word), ReadBy: s.tally.By}
	var err error
	s.sheet.Tally.Result, err = json.Marshal(s.tally.Result)
	s.must(err)
}

func (s *shelf) putYard(tx allTx) {
	s.batch = fill.Value(s.f, func(v *yard.Batch) {
		v.BatchFacts, v.Entries, v.Moistures, v.Drawn, v.Left, v.UsedUp = yard.BatchFacts{}, nil, nil, measure.Quantity{}, measure.Quantity{}, false // derived
	})
	s.must(tx.AddBatch(s.batch))
	s.entry = fill.Value(s.f, func(v *yard.BatchEntry) { v.BatchID = s.batch.ID })
	s.must(tx.AddBatchEntry(s.entry))
	for i := range s.loads {
		s.loads[i] = fill.Value(s.f, func(v *yard.Load) { v.OrderID, v.Receipt, v.Batch = s.order.ID, int64(i+1), s.batch.ID })
		s.must(tx.AddLoad(s.loads[i]))
		r := &s.receipts[i]
		r.Delivered, r.DeliveredOn, r.Batch = s.loads[i].Delivered, s.loads[i].On, s.batch.ID
	}
	s.moisture = fill.Value(s.f, func(v *yard.Moisture) { v.OrderID, v.BatchID = s.order.ID, "" })
	s.must(tx.AddMoisture(s.moisture))
	s.batchMoisture = fill.Value(s.f, func(v *yard.Moisture) { v.OrderID, v.BatchID = "", s.batch.ID })
	s.must(tx.AddMoisture(s.batchMoisture))
	s.body = fill.Value[yard.Body](s.f)
	s.must(tx.AddBody(s.body))
	s.price = fill.Value[prices.Line](s.f)
	s.must(tx.AddPriceLine(s.price))
	s.vehicle = fill.Value(s.f, func(v *road.Vehicle) { v.Bed, v.Body = s.body.ID, nil })
	s.must(tx.AddVehicle(s.vehicle))
	s.roadYard = fill.Value(s.f, func(v *road.Yard) { v.Version = 1 })
	s.must(tx.SaveYard(s.roadYard))
	s.roadYard.Version = 2
	s.plan = fill.Value(s.f, func(v *road.Plan) { v.Version = 0 })
	s.must(tx.SavePlan(s.plan))
	s.plan.Version = 1
	s.must(tx.SavePlan(s.plan))
	s.plan.Version = 2
}

func (s *shelf) putMoney(tx allTx) {
	s.payment = fill.Value(s.f, func(v *orders.Payment) { v.OrderID, v.Reverses = s.order.ID, "" })
	s.must(tx.AddPayment(s.payment))
	s.must(tx.ReceiveCopy(s.payment.ID, s.payment.CopyOn, s.f.Word("copy by"), s.payment.Created))
	s.reversal = fill.Value(s.f, func(v *orders.Payment) {
		v.OrderID, v.Reverses, v.CopyOn = s.order.ID, s.payment.ID, act.Date{}
		v.Created = s.payment.Created.Add(time.Second)
	})
	s.must(tx.AddPayment(s.reversal))
	first := fill.Value(s.f, func(v *orders.Settlement) { v.OrderID, v.Receipt, v.Replaces = s.order.ID, 1, "" })
	s.must(tx.AddSettlement(first))
	s.settlement = fill.Value(s.f, func(v *orders.Settlement) {
		v.OrderID, v.Receipt, v.Replaces, v.Steps, v.Replaced = s.order.ID, 1, first.ID, nil, false
		v.Created = first.Created.Add(time.Second)
	})
	s.must(tx.AddSettlement(s.settlement))
	s.step = fill.Value(s.f, func(v *orders.SettlementStep) { v.Receipt = 3 })
	s.must(tx.AddSettlementStep(s.settlement.ID, s.step))
	s.settlement.Steps = []orders.SettlementStep{s.step}
}

func (s *shelf) putWishes(tx allTx) {
	for _, w := range []*orders.Wish{&s.taken, &s.dropped} {
		*w = fill.Value(s.f, func(v *orders.Wish) {
			v.Customer, v.Phone, v.Species, v.Quantity, v.Price = "", "", "", measure.Quantity{}, orders.Price{} // read from the request
			v.Request.Version = 0
		})
		s.must(tx.AddWish(*w))
	}
	s.taken.OrderID, s.taken.Dropped = s.order.ID, s.f.Word("Wish.Dropped")
	s.dropped.OrderID = ""
	s.must(tx.EndWish(s.taken, s.f.Word("wish ended by")))
	s.must(tx.EndWish(s.dropped, s.f.Word("wish ended by")))
}

func (s *shelf) putCases(tx allTx) {
	for _, c := range []*cases.Case{&s.buyersCase, &s.ownCase} {
		*c = fill.Value(s.f, func(v *cases.Case) {
			if v.Receipt = 1; c == &s.ownCase {
				v.Receipt = 0
			}
			v.Account.Version = 2
			for i := range v.Tallies {
				v.Tallies[i].Look = i + 1
			}
		})
		s.must(tx.AddCase(*c))
		s.must(tx.AddAccount(c.ID, fill.Value(s.f, func(v *cases.Statement) { v.Version = 1 })))
		s.must(tx.AddAccount(c.ID, c.Account))
		for _, t := range c.Tallies {
			s.must(tx.AddCaseTally(c.ID, t))
		}
		for _, e := range c.Entries {
			s.must(tx.AddEntry(c.ID, e))
		}
	}
	s.link = fill.Value(s.f, func(v *cases.Link) { v.Receipt, v.Withdrawn = 1, time.Time{} })
	s.must(tx.AddLink(s.link))
	s.waiting = fill.Value(s.f, func(v *minute.Delivery) { v.OrderID, v.By.Session, v.By.Stale = s.order.ID, "", false })
	s.must(tx.KeepWaiting(s.waiting))
}

func (s *shelf) putPeople(tx allTx) {
	s.person = fill.Value[people.Person](s.f)
	s.must(tx.AddPerson(s.person))
	s.session = fill.Value(s.f, func(v *people.Session) { v.PersonID, v.Ended = s.person.ID, time.Time{} })
	s.must(tx.AddSession(s.session))
	s.dates = fill.Value(s.f, func(v *calendar.Link) { v.PersonID, v.Withdrawn = s.person.ID, time.Time{} })
	s.must(tx.AddCalendarLink(s.dates))
	s.entryCode = fill.Value(s.f, func(v *people.Code) { v.PersonID = s.person.ID })
	s.must(tx.AddCode(s.entryCode))
	s.must(tx.RenewRecoveryCodes(s.person.ID, []string{s.entryCode.Hash}))
	s.passkey = fill.Value(s.f, func(v *people.Passkey) {
		v.PersonID, v.Credential = s.person.ID, []byte(s.f.Word("Passkey.Credential"))
	})
	s.must(tx.AddPasskey(s.passkey))
	s.logged = fill.Value[people.Line](s.f)
	s.must(tx.AddLine(s.logged))
}

func (s *shelf) peopleBack(tx allTx) {
	back(s.t, s.person)(one[people.Person](s.t)(tx.People()))
	back(s.t, s.person)(tx.PersonNamed(strings.ToUpper(s.person.Name)))
	back(s.t, s.session)(tx.SessionByHash(s.session.TokenHash))
	back(s.t, s.dates)(one[calendar.Link](s.t)(tx.CalendarLinks()))
	back(s.t, s.session)(one[people.Session](s.t)(tx.Sessions(s.person.ID)))
	back(s.t, s.entryCode)(tx.Code(s.entryCode.Hash))
	back(s.t, []string{s.entryCode.Hash})(tx.RecoveryCodes(s.person.ID))
	back(s.t, s.passkey)(one[people.Passkey](s.t)(tx.Passkeys(s.person.ID)))
	back(s.t, s.logged)(one[people.Line](s.t)(tx.Lines(9)))
}

func (s *shelf) putAudits(tx allTx) {
	for _, a := range []*audits.Audit{&s.audit, &s.loneAudit} {
		*a = fill.Value(s.f, func(v *audits.Audit) {
			*v = audits.Audit{ID: v.ID, Number: v.Number, Version: 1, Subject: v.Subject, Capacity: v.Capacity, OpenedBy: v.OpenedBy, Opened: v.Opened}
			if v.Subject.Receipt.Number = 1; a == &s.loneAudit {
				v.Subject.Receipt.Number = 0
			}
		})
		s.must(tx.AddAudit(*a))
		s.fillAudit(tx, a)
	}
}

// fillAudit writes down of an audit all that is, and closes it.
func (s *shelf) fillAudit(tx allTx, a *audits.Audit) {
	for kind, body := range map[audits.EntryKind][]byte{
		audits.NoticeEntry: encoded[audits.Notice](s), audits.AttendanceEntry: encoded[audits.Attendance](s),
		audits.HoldEntry: encoded[audits.Hold](s), audits.PlanEntry: encoded[audits.Plan](s),
		audits.ItemEntry: encoded[audits.Item](s), audits.NoteEntry: encoded[audits.Note](s),
	} {
		s.auditEntry = fill.Value(s.f, func(v *audits.Entry) { v.Kind, v.Body = kind, body })
		s.must(tx.AddAuditEntry(a.ID, s.auditEntry))
	}
	s.measurer = audits.Measurer{ID: newID(), Name: s.f.Word("Measurer.Name"), Added: time.UnixMicro(5).UTC()}
	s.must(tx.AddAuditMeasurer(a.ID, s.measurer, shape(s.f, ".CodeHash")))
	s.measurer.Renewed = time.UnixMicro(6).UTC()
	s.renewedCode = []byte(shape(s.f, ".CodeHash"))
	s.must(tx.RenewAuditMeasurer(s.measurer.ID, string(s.renewedCode), s.measurer.Renewed))
	s.measurer.Openings = []audits.LinkOpening{{At: time.UnixMicro(8).UTC(), Link: 2}}
	s.must(tx.AddLinkOpening(s.measurer.ID, s.measurer.Openings[0]))
	s.readings = nil
	for i := range 2 {
		r := fill.Value(s.f, func(v *audits.SavedReading) { v.N, v.Handed, v.Struck, v.Reason = i+1, i == 1, time.Time{}, "" })
		s.must(tx.AddAuditReading(s.measurer.ID, r))
		s.readings = append(s.readings, r)
	}
	s.readings[1].Struck, s.readings[1].Reason = time.UnixMicro(7).UTC(), s.f.Word("SavedReading.Reason")
	s.must(tx.StrikeAuditReading(s.measurer.ID, 2, s.readings[1].Struck, s.readings[1].Reason))
	s.photo = fill.Value[photos.Photo](s.f)
	s.original, s.shown = []byte(s.f.Word("photo, original")), []byte(s.f.Word("photo, shown"))
	s.must(tx.AddAuditPhoto(a.ID, s.photo, s.original, s.shown))
	s.report = fill.Value(s.f, func(v *audits.StoredReport) { v.Bytes = []byte(s.f.Word("AuditReport")) })
	s.result = fill.Value[stack.Result](s.f)
	s.must(tx.CloseAudit(a.ID, 1, s.report, s.result))
	a.Version, a.State, a.ClosedAt, a.Word, a.Hash = 2, audits.Closed, s.report.Issued, s.result.Finding.Word, s.report.Hash
	s.measurer.Drafts, s.measurer.HandedIn, s.measurer.Struck = 1, s.readings[1].Created, 1
	a.Measurers, a.Photos = []audits.Measurer{s.measurer}, []photos.Photo{s.photo}
}

// back holds what was read against what was written.
func back[T any](t *testing.T, wrote T) func(T, error) {
	return func(read T, err error) {
		t.Helper()
		require.NoError(t, err)
		require.Equal(t, wrote, read)
	}
}

// one is the only one of a list.
func one[T any](t *testing.T) func([]T, error) (T, error) {
	return func(list []T, err error) (T, error) {
		t.Helper()
		require.NoError(t, err)
		require.Len(t, list, 1)
		return list[0], nil
	}
}

// Every field of every type that is stored comes back as it was written.
func TestEveryFieldComesBack(t *testing.T) {
	s := stocked(t)
	read(t, s.db, func(tx allTx) error {
		back(t, s.shop)(tx.Shop())
		back(t, s.derived())(tx.Order(s.order.ID))
		back(t, s.cancelled)(tx.Order(s.cancelled.ID))
		back(t, s.cancelled)(one[orders.Order](t)(tx.CustomerOrders(s.record.ID)))
		back(t, s.record)(tx.CustomerRecord(s.record.ID))
		back(t, s.record)(one[customers.Record](t)(tx.CustomersNamed(customers.Key(s.record.Name))))
		back(t, &s.done)(tx.Done(s.done.Request))
		for _, r := range s.receipts {
			back(t, r)(tx.StoredReceipt(r.Number))
		}
		back(t, s.receipts[:])(tx.StoredReceipts(0, 9))
		back(t, s.sheet)(tx.StoredSheet(s.sheet.Number))
		back(t, []orders.StoredSheet{s.sheet})(tx.StoredSheets(0, 9))
		back(t, s.tally)(one[orders.Tally](t)(tx.Tallies(s.order.ID)))
		back(t, s.loads[1])(one[yard.Load](t)(tx.Loads(s.order.ID))) // the other was corrected
		back(t, s.kept)(one[photos.Kept](t)(tx.OrderPhotos(s.order.ID)))
		back(t, s.loose)(one[loose.Reading](t)(tx.LooseReadings()))
		s.yardBack(tx)
		s.moneyBack(tx)
		back(t, s.buyersCase)(tx.Case(s.buyersCase.ID))
		back(t, s.buyersCase)(tx.CaseOf(1))
		back(t, s.ownCase)(one[cases.Case](t)(tx.OwnCases()))
		back(t, s.link)(tx.LinkOf(1))
		back(t, s.waiting)(one[minute.Delivery](t)(tx.AllWaiting()))
		back(t, s.waiting)(tx.Waiting(s.order.ID))
		back(t, s.link)(tx.LinkByHash(s.link.CodeHash))
		s.auditsBack(tx)
		s.peopleBack(tx)
		return nil
	})
}

// derived is the order with what follows from its loads and tallies.
func (s *shelf) derived() orders.Order {
	o := s.order
	o.State, o.Outcome = orders.PartLoad, s.tally.Result.Finding.Word
	if s.loads[1].Delivered.Volume >= o.Quantity.Volume {
		o.State = orders.Measured
	}
	return o
}

func (s *shelf) yardBack(tx allTx) {
	batch := s.batch
	batch.Entries = []yard.BatchEntry{s.entry}
	back(s.t, batch)(tx.Batch(s.batch.ID))
	back(s.t, batch)(one[yard.Batch](s.t)(tx.Batches()))
	back(s.t, yard.BatchLoad{Load: s.loads[1], Order: s.order.Number, First: 1})(one[yard.BatchLoad](s.t)(tx.BatchLoads(s.batch.ID)))
	back(s.t, s.moisture)(one[yard.Moisture](s.t)(tx.Moistures(s.order.ID)))
	back(s.t, s.batchMoisture)(one[yard.Moisture](s.t)(tx.BatchMoistures(s.batch.ID)))
	back(s.t, s.body)(one[yard.Body](s.t)(tx.Bodies()))
	back(s.t, s.price)(one[prices.Line](s.t)(tx.PriceLines()))
	back(s.t, s.vehicle)(one[road.Vehicle](s.t)(tx.Vehicles()))
	back(s.t, s.roadYard)(tx.Yard())
	back(s.t, s.plan)(tx.Plan(s.plan.Day))
}

// putPhotos puts a photo that a sheet names into an order.
func (s *shelf) putPhotos(tx allTx) {
	s.kept = fill.Value(s.f, func(v *photos.Kept) { v.OrderID, v.Sheet = s.order.ID, 0 })
	s.must(tx.AddOrderPhoto(s.kept, []byte(s.f.Word("photo, original")), []byte(s.f.Word("photo, shown"))))
	named, err := tx.NameOrderPhotos([]string{s.kept.ID}, s.sheet.Number)
	s.must(err)
	require.Equal(s.t, 1, named)
	s.kept.Sheet = s.sheet.Number
	s.loose = fill.Value[loose.Reading](s.f)
	s.must(tx.AddLooseReading(s.loose))
}

func (s *shelf) moneyBack(tx allTx) {
	back(s.t, []orders.Payment{s.payment, s.reversal})(tx.Payments(s.order.ID))
	back(s.t, s.payment)(tx.Payment(s.payment.ID))
	settlements, err := tx.Settlements(s.order.ID)
	s.must(err)
	require.Len(s.t, settlements, 2)
	require.True(s.t, settlements[0].Replaced)
	require.Equal(s.t, s.settlement, settlements[1])
	wishes, err := tx.Wishes()
	s.must(err)
	require.Equal(s.t, []orders.Wish{s.taken, s.dropped}, wishes)
}

func (s *shelf) auditsBack(tx allTx) {
	stored, err := tx.StoredAudit(s.loneAudit.ID)
	s.must(err)
	require.Equal(s.t, s.loneAudit, stored.Audit)
	require.Len(s.t, stored.Entries, 6)
	require.Equal(s.t, s.auditEntry, stored.Entries[5])
	back(s.t, s.readings)(tx.AuditReadings(s.measurer.ID))
	back(s.t, s.report)(tx.StoredAuditReport(s.loneAudit.ID))
	back(s.t, s.original)(tx.AuditPhotoBytes(s.loneAudit.ID, s.photo.ID, true))
	back(s.t, s.shown)(tx.AuditPhotoBytes(s.loneAudit.ID, s.photo.ID, false))
	back(s.t, audits.MeasurerOf{AuditID: s.loneAudit.ID, ID: s.measurer.ID, Link: 2})(tx.AuditMeasurerOf(string(s.renewedCode)))

	subject := s.loneAudit.Subject
	line := audits.Line{
		ID: s.loneAudit.ID, Number: s.loneAudit.Number, State: audits.Closed, Seller: subject.Vendor.Name, Sold: subject.Sold,
		DeliveredOn: subject.DeliveredOn, Opened: s.loneAudit.Opened, ClosedAt: s.report.Issued, Word: s.result.Finding.Word, Result: &s.result,
	}
	back(s.t, line)(one[audits.Line](s.t)(tx.AuditList(audits.SellerKey(subject.Vendor.Name), 1<<40, 9)))
	ofOrder, err := tx.AuditsOf(s.order.ID)
	s.must(err)
	require.Len(s.t, ofOrder, 1)
	require.Equal(s.t, int64(1), ofOrder[0].Receipt)
	require.Equal(s.t, s.audit.Number, ofOrder[0].Number)
}
