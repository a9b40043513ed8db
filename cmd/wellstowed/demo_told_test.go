package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/money"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
	"wellstowed/receipts"
)

// A told shop is the demonstration as it stands in a file, beside the scenario that tells
// it.
type toldShop struct {
	*testing.T
	demo demo
	*orders.Service
	audits *audits.Service
	cases  *cases.Service
	zone   *time.Location
}

func tellShop(t *testing.T) toldShop {
	t.Helper()
	path := filepath.Join(t.TempDir(), "demo.db")
	makeShop(t, path)
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	t.Cleanup(func() { db.Close() })
	painter, err := receipts.New()
	require.NoError(t, err)
	s := toldShop{T: t, Service: orders.New(db, painter, testNow)}
	s.audits = audits.New(db.Audits(), s.Rules(), painter, testNow)
	s.cases = cases.New(db.Cases(), s.Rules(), painter, testNow)
	require.NoError(t, json.Unmarshal(demoScenario, &s.demo))
	s.zone, err = time.LoadLocation(s.demo.Shop.Zone)
	require.NoError(t, err)
	return s
}

// ago is the day so many days before the demonstration's.
func ago(days int) string { return testNow().AddDate(0, 0, -days).Format(time.DateOnly) }

// on is the day of a time at the shop, which is one when people are up.
func (s toldShop) on(at time.Time) string {
	s.Helper()
	local := at.In(s.zone)
	require.True(s, local.Hour() >= 7 && local.Hour() < 21, "at %s nobody is at work", local)
	return local.Format(time.DateOnly)
}

// histories are what happened to each order of the scenario, in its order.
func (s toldShop) histories() (all []orders.History) {
	s.Helper()
	list, err := s.Service.Orders(s.Context(), atTheTerminal(), 0, 100)
	require.NoError(s, err)
	byName := map[string]string{}
	for _, o := range list.Orders {
		byName[o.Customer.Name] = o.ID
	}
	for _, told := range s.demo.Orders {
		h, err := s.History(s.Context(), atTheTerminal(), byName[told.Order.CustomerName])
		require.NoError(s, err, told.Order.CustomerName)
		all = append(all, h)
	}
	return all
}

// What the scenario tells of an order stands in the shop, on the days it tells: what was
// read, handed over, paid, measured, corrected, cancelled and settled.
func TestTheDemonstrationsOrdersAreAsTold(t *testing.T) {
	s, charged := tellShop(t), false
	for i, h := range s.histories() {
		told := s.demo.Orders[i]
		name := told.Order.CustomerName
		require.Equal(t, ago(told.DaysAgo), s.on(h.Order.Created), name)
		require.Equal(t, told.Cancel, h.Order.State == orders.Cancelled, name)
		charged = charged || told.Charges != nil
		require.Equal(t, charged, h.Order.Price.Tax != nil, name)
		require.Len(t, h.Moistures, len(told.Moistures), name)
		for n, m := range told.Moistures {
			require.Equal(t, ago(m.DaysAgo)+" by "+m.Request.ReadBy, h.Moistures[n].On.String()+" by "+h.Moistures[n].By, name)
		}
		require.Len(t, h.Payments, len(told.Payments), name)
		for n, p := range told.Payments {
			amount, err := money.Parse(p.Payment.Amount, "USD")
			require.NoError(t, err)
			require.Equal(t, amount, h.Payments[n].Amount, name)
			require.Equal(t, ago(p.DaysAgo), h.Payments[n].On.String(), name)
		}
		require.Len(t, h.Tallies, len(told.Tallies), name)
		for n, read := range told.Tallies {
			require.Equal(t, ago(read.DaysAgo)+" by "+read.ReadBy, s.on(h.Tallies[n].Created)+" by "+h.Tallies[n].By, name)
		}
		s.loadsAreTold(h, told)
		s.settledAsTold(h, told.Settlement)
	}
}

func (s toldShop) loadsAreTold(h orders.History, told demoOrder) {
	s.Helper()
	name := told.Order.CustomerName
	batches := map[string]string{}
	for _, b := range h.Batches {
		batches[b.ID] = b.Name
	}
	require.Len(s, h.Loads, len(told.Loads), name)
	n := 0
	for i, l := range told.Loads {
		require.Equal(s, ago(l.DaysAgo), h.Loads[i].On.String(), name)
		require.Equal(s, l.From, batches[h.Loads[i].Batch], name)
		line := h.Receipts[n]
		require.Equal(s, orders.DeliveryReceipt, line.Kind, name)
		require.Equal(s, ago(l.DaysAgo), s.on(line.Issued), name)
		issued, err := s.Receipt(s.Context(), atTheTerminal(), line.Number)
		require.NoError(s, err)
		under := told.RuleSet
		if under == "" {
			under = s.demo.Shop.RuleSet
		}
		require.Equal(s, under, issued.Receipt.Facts.RuleSet.Code, name)
		s.caseIsTold(line.Number, l.Case)
		if n++; l.Correction != nil {
			s.correctedAsTold(h.Receipts[n], *l.Correction)
			n++
		}
	}
	require.Len(s, h.Receipts, n+settlements(told), name)
}

func settlements(told demoOrder) int {
	if told.Settlement == nil {
		return 0
	}
	return 1
}

func (s toldShop) correctedAsTold(line orders.ReceiptLine, told demoCorrection) {
	s.Helper()
	require.Equal(s, orders.CorrectionReceipt, line.Kind)
	require.Equal(s, ago(told.DaysAgo), s.on(line.Issued))
	issued, err := s.Receipt(s.Context(), atTheTerminal(), line.Number)
	require.NoError(s, err)
	var change map[string]string
	require.NoError(s, json.Unmarshal(told.Change, &change))
	of := issued.Receipt
	require.Equal(s, change, map[string]string{"species": of.Facts.Species, "purchaser_address": of.Purchaser.Address, "reason": line.Reason})
}

func (s toldShop) settledAsTold(h orders.History, told *demoSettlement) {
	s.Helper()
	if told == nil {
		require.Empty(s, h.Settlements)
		return
	}
	require.Len(s, h.Settlements, 1)
	made := h.Settlements[0]
	require.Equal(s, ago(told.DaysAgo), made.AgreedOn.String())
	require.Equal(s, orders.SettleWood, made.Choice)
	require.Equal(s, told.Agree.Reason, made.Reason)
	require.Len(s, made.Steps, 1)
	require.Positive(s, made.Steps[0].Brought)
	require.Equal(s, ago(told.DaysAgo), made.Steps[0].On.String())
	last, err := s.Last(s.Context(), atTheTerminal())
	require.NoError(s, err)
	require.Equal(s, last.Receipt, made.Steps[0].Receipt, "settled after all that was handed over")
}

func (s toldShop) caseIsTold(receipt int64, told *demoCase) {
	s.Helper()
	if told == nil {
		return
	}
	f, err := s.cases.CaseFile(s.Context(), atTheTerminal(), cases.Key{Receipt: receipt})
	require.NoError(s, err)
	require.Equal(s, ago(told.DaysAgo), s.on(f.Case.Latest().Created))
	require.Len(s, f.Case.Entries, len(told.Entries))
	for i, e := range told.Entries {
		made := f.Case.Entries[i]
		require.Equal(s, e.Kind+" "+e.Text, string(made.Kind)+" "+made.Text)
		require.Equal(s, ago(e.DaysAgo), s.on(made.At))
		require.Equal(s, made.Kind == cases.Answer, made.By != "", "the seller answers, the buyer claims")
	}
}

// Of a batch it stands when it was cut, split, put up, read and counted, as told; a load is
// drawn from what was there on its day.
func TestTheDemonstrationsYardIsAsTold(t *testing.T) {
	s := tellShop(t)
	batches, err := s.Service.Batches(t.Context(), atTheTerminal())
	require.NoError(t, err)
	byName := map[string]yard.Batch{}
	for _, b := range batches {
		byName[b.Name] = b
	}
	day := func(days int) string {
		if days == 0 {
			return act.Date{}.String()
		}
		return ago(days)
	}
	for _, told := range s.demo.Batches {
		b := byName[told.Batch.Name]
		require.Equal(t, ago(told.DaysAgo), s.on(b.Created), b.Name)
		require.Equal(t, day(told.CutDaysAgo), b.Cut.String(), b.Name)
		require.Equal(t, day(told.SplitDaysAgo), b.Split.String(), b.Name)
		require.Len(t, b.Moistures, len(told.Moistures), b.Name)
		for i, m := range told.Moistures {
			require.Equal(t, ago(m.DaysAgo), b.Moistures[i].On.String(), b.Name)
			require.Equal(t, ago(m.DaysAgo), s.on(b.Moistures[i].Created), b.Name)
		}
		require.Len(t, b.Entries, len(told.Counts), b.Name)
		for i, c := range told.Counts {
			require.Equal(t, ago(c.DaysAgo)+" "+c.Count.Reason, s.on(b.Entries[i].Created)+" "+b.Entries[i].Reason, b.Name)
		}
	}
	bodies, err := s.Service.Bodies(t.Context(), atTheTerminal())
	require.NoError(t, err)
	require.Len(t, bodies, len(s.demo.Bodies))
	waiting, err := s.Service.Waiting(t.Context(), atTheTerminal())
	require.NoError(t, err)
	require.Len(t, waiting.Waiting, len(s.demo.Waiting))
	for i, told := range s.demo.Waiting {
		require.Equal(t, told.Order.CustomerName, waiting.Waiting[i].Customer)
	}
}

// What the scenario tells of an audit stands in it, in an order that could have been: the
// seller told and the wood held the day before; each measurer’s link opened before reading,
// nobody’s reading shorter than a real one or at the time of another’s, and handed in after it.
func TestTheDemonstrationsAuditsAreAsTold(t *testing.T) {
	s := tellShop(t)
	list, err := s.audits.Audits(t.Context(), atTheTerminal(), "", 0, 100)
	require.NoError(t, err)
	require.Len(t, list.Audits, len(s.demo.Audits))
	for i, told := range s.demo.Audits {
		line := list.Audits[len(list.Audits)-1-i]
		a, err := s.audits.Audit(t.Context(), atTheTerminal(), line.ID)
		require.NoError(t, err)
		day := ago(told.DaysAgo)
		require.Equal(t, day, s.on(a.Opened))
		before := ago(told.DaysAgo+1) + " "
		at := func(when time.Time) string { return when.In(s.zone).Format("2006-01-02 15:04") }
		require.Equal(t, before+told.Notice.When, at(a.Notices[0].When))
		require.Equal(t, day+" "+told.Notice.Appointed, at(a.Notices[0].Appointed))
		require.Equal(t, before+told.Hold.Since, at(a.Holds[0].Since))
		require.Len(t, a.Plans, 1)
		require.Equal(t, told.Of == "", a.Subject.Order == 0)
		if told.Of != "" {
			require.Equal(t, told.Of, a.Subject.Purchaser.Name)
		} else {
			require.Equal(t, ago(told.DaysAgo+2), a.Subject.DeliveredOn.String())
		}
		s.measuredAsTold(a, told.Measurers)
		require.Len(t, a.Photos, photos(told))
		require.Len(t, a.Notes, len(told.Notes))
		for n, note := range told.Notes {
			require.Equal(t, note.Kind+" "+note.Who+" "+note.Text, strings.Join([]string{string(a.Notes[n].Kind), a.Notes[n].Who, a.Notes[n].Text}, " "))
		}
		require.Equal(t, told.Close != nil, !a.ClosedAt.IsZero())
		require.Equal(t, told.Attendance != nil, len(a.Attendances) == 1)
		answers := map[string]string{}
		for _, item := range a.Checklist {
			answers[item.Code] = string(item.Answer) + " " + item.Note
		}
		for _, item := range told.Items {
			require.Equal(t, item.Answer+" "+item.Note, answers[item.Code], item.Code)
		}
	}
}

func photos(told demoAudit) int {
	if told.Photo == nil {
		return 0
	}
	return 1
}

func (s toldShop) measuredAsTold(a audits.Audit, told []demoMeasurer) {
	s.Helper()
	require.Len(s, a.Measurers, len(told))
	free := a.Opened
	for i, m := range a.Measurers {
		require.Equal(s, told[i].Name, m.Name)
		require.True(s, m.Added.After(free), "%s is asked when whoever read before has done", m.Name)
		require.Len(s, m.Openings, 1)
		require.True(s, m.Openings[0].At.After(m.Added), m.Name)
		read := m.Circumstances
		require.Equal(s, told[i].Document != nil, !m.HandedIn.IsZero(), m.Name)
		if told[i].Document == nil {
			require.Zero(s, read)
			continue
		}
		require.Equal(s, s.on(m.Added), s.on(m.HandedIn))
		require.False(s, read.Began.Before(m.Openings[0].At.Truncate(time.Minute)), m.Name)
		took := read.Ended.Sub(read.Began)
		require.True(s, took >= 20*time.Minute && took <= time.Hour, "%s read for %s", m.Name, took)
		require.False(s, m.HandedIn.Before(read.Ended), m.Name)
		require.Equal(s, act.DateOf(read.Ended.In(s.zone)).AddDays(-1), read.CheckedOn, "the tape was checked the day before")
		require.Equal(s, told[i].Struck != nil, m.Struck == 1, m.Name)
		if free = m.HandedIn; m.Struck == 1 {
			require.True(s, m.Corrected.After(m.HandedIn), m.Name)
			free = m.Corrected
		}
	}
}
