package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

// A scene is an audit of a stack far below what was sold, read alike by two, whose
// evidence one test bends.
type scene struct {
	notice     audits.NoticeRequest
	hold       audits.HoldRequest
	plan       audits.PlanRequest
	told       audits.CircumstancesRequest
	attendance audits.AttendanceRequest
	answers    map[string]string
	names      []string
	high       string
}

func soundScene() scene {
	return scene{
		notice: audits.NoticeRequest{How: "by phone", When: "2026-03-08 09:00", ToldBy: "Pim Holt", Appointed: "2026-03-09 10:00"},
		hold:   audits.HoldRequest{Since: "2026-03-09 08:00", HeldBy: "Ada Quill", Broken: "no", Apart: "none"},
		plan:   planOf("2"), told: told(), attendance: audits.AttendanceRequest{Attended: "yes", Who: "Odell Marsh"},
		answers: map[string]string{}, names: []string{"Una Reed", "Tobias Fenn"}, high: "37 1/4 in",
	}
}

// play plays a scene up to its closing.
func (y *sellerYard) play(s scene) audits.Audit {
	y.t.Helper()
	a := y.audited()
	_, err := y.NotifySeller(y.ctx, y.auditing(), a.ID, s.notice)
	require.NoError(y.t, err)
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, s.hold)
	require.NoError(y.t, err)
	_, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, s.plan)
	require.NoError(y.t, err)
	for _, name := range s.names {
		tally := sampleTally(s.high)
		if s.plan.Faces == "front" {
			tally = frontOnly(s.high)
		}
		_, err := y.SaveReading(y.ctx, newRequest(), y.measurer(a, name), audits.ReadingRequest{Document: tally, HandIn: true, Told: s.told})
		require.NoError(y.t, err)
	}
	_, err = y.NoteAttendance(y.ctx, y.auditing(), a.ID, s.attendance)
	require.NoError(y.t, err)
	var r audits.ItemsRequest
	for _, item := range a.Checklist {
		answer := s.answers[item.Code]
		switch {
		case answer != "":
		case item.Code == "used":
			answer = "no"
		case item.Answer == "":
			answer = "yes"
		default:
			continue
		}
		r.Items = append(r.Items, audits.ItemRequest{Code: item.Code, Answer: answer, Note: "as the tally book says"})
	}
	a, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, r)
	require.NoError(y.t, err)
	return a
}

func frontOnly(high string) []byte {
	row := `{"length": "8 ft", "heights": ["` + high + `", "` + high + `", "` + high + `", "` + high + `"]}`
	return []byte(`{"format": 1, "tape": "1/4 in", "top": "straightedge", "stowed": "checked", "stack": {"kind": "rows",
		"pieces": ["16 in", "15 3/4 in", "16 1/4 in", "16 in", "16 in"], "rows": [` + row + `, ` + row + `]}}`)
}

func codes(limits []audits.Limit, holds stack.Word) []stack.Hold {
	var all []stack.Hold
	for _, l := range limits {
		if l.Holds == holds {
			all = append(all, l.Code)
		}
	}
	return all
}

// Evidence decides. The readings of each of these say short; what was done with the wood,
// who was told, and how it was read keep that word from being said, one by one.
func TestEvidenceHoldsShortBack(t *testing.T) {
	for name, row := range map[string]struct {
		bend func(*scene)
		held []stack.Hold
	}{
		"nothing":                {func(*scene) {}, nil},
		"used, amount not known": {func(s *scene) { s.hold.Apart, s.answers["used"] = "", "yes" }, []stack.Hold{stack.HeldByUse}},
		"used by the hold":       {func(s *scene) { s.hold.Broken, s.hold.Note, s.hold.Apart = "used", "some was burned", "" }, []stack.Hold{stack.HeldByUse}},
		"use not seen":           {func(s *scene) { s.answers["used"] = "not seen" }, []stack.Hold{stack.HeldByUse}},
		"apart not known":        {func(s *scene) { s.hold.Apart = "" }, []stack.Hold{stack.HeldByApart}},
		"moved, seller not there": {func(s *scene) {
			s.hold.Broken, s.hold.Note, s.attendance = "moved", "restacked", audits.AttendanceRequest{Attended: "no"}
		},
			[]stack.Hold{audits.HeldByMoving}},
		"back not seen":   {func(s *scene) { s.plan.Faces, s.answers["faces"] = "front", "not seen" }, []stack.Hold{audits.HeldByFaces}},
		"no tape checked": {func(s *scene) { s.told.TapeChecked, s.told.CheckedOn, s.told.CheckedBy = "no", "", "" }, []stack.Hold{audits.HeldByTape}},
		"seller not told": {func(s *scene) { s.notice = audits.NoticeRequest{How: "not told", Note: "no number"} }, []stack.Hold{audits.HeldByNotice}},
	} {
		y := newYard(t)
		s := soundScene()
		row.bend(&s)
		a := y.play(s)
		issued, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
		require.NoError(t, err, name)
		f := issued.Report.Result.Finding
		assert.Equal(t, row.held, codes(issued.Report.Limits, stack.Short), name)
		if row.held == nil {
			assert.Equal(t, stack.Short, f.Word, name)
			continue
		}
		assert.Equal(t, stack.Unresolved, f.Word, name)
		assert.Subset(t, f.HeldBack, row.held, name)
		assert.Equal(t, stack.Unresolved, mustAudit(y, a.ID).Word, "%s: the list says the same word", name)
		assert.Equal(t, row.held[0], issued.Report.Limits[0].Code, "%s: what holds it back stands first", name)
		assert.NotEmpty(t, issued.Report.Limits[0].Cure.Key, "%s: what would lift it is said", name)
		if name != "apart not known" {
			assert.Equal(t, row.held, codes(a.Limits(), stack.Short), "%s: said while it is open too", name)
		}
	}
}

func mustAudit(y *sellerYard, id string) audits.Audit {
	y.t.Helper()
	a, err := y.Audit(y.ctx, auditor, id)
	require.NoError(y.t, err)
	return a
}

// What only weakens a result is listed and holds nothing back.
func TestWhatOnlyWeakensHoldsNothingBack(t *testing.T) {
	for name, row := range map[string]struct {
		bend func(*scene)
		code stack.Hold
	}{
		"moved and seen by the seller": {func(s *scene) { s.hold.Broken, s.hold.Note = "moved", "restacked for measuring" }, ""},
		"an amount was used":           {func(s *scene) { s.hold.Broken, s.hold.Note, s.hold.Apart = "used", "a barrow", "2 cu ft" }, ""},
		"back seen, not read":          {func(s *scene) { s.plan.Faces = "front" }, "one face"},
		"seller not there":             {func(s *scene) { s.attendance = audits.AttendanceRequest{Attended: "declined"} }, "attendance"},
		"the auditor measures":         {func(s *scene) { s.names[0] = "Pim Holt" }, "knew"},
		"one alone":                    {func(s *scene) { s.names, s.plan = s.names[:1], planOf("1") }, "alone"},
		"gaps not looked for":          {func(s *scene) { s.answers["voids"] = "not seen" }, "voids"},
	} {
		y := newYard(t)
		s := soundScene()
		row.bend(&s)
		issued, err := y.CloseAudit(y.ctx, y.auditing(), y.play(s).ID, audits.CloseRequest{})
		require.NoError(t, err, name)
		assert.Equal(t, stack.Short, issued.Report.Result.Finding.Word, name)
		assert.Empty(t, codes(issued.Report.Limits, stack.Short), name)
		if row.code != "" {
			assert.Contains(t, append(codes(issued.Report.Limits, ""), codes(issued.Report.Limits, stack.Full)...), row.code, name)
		}
	}
}

// Gaps that nobody looked for make a stack measure too much, so they hold back full and
// never short.
func TestLooseStowingHoldsFullBack(t *testing.T) {
	for answer, want := range map[string]stack.Word{"yes": stack.Full, "not seen": stack.NoShortage} {
		y := newYard(t)
		s := soundScene()
		s.high = "56 in"
		s.answers["voids"] = answer
		issued, err := y.CloseAudit(y.ctx, y.auditing(), y.play(s).ID, audits.CloseRequest{})
		require.NoError(t, err)
		assert.Equal(t, want, issued.Report.Result.Finding.Word, answer)
	}
}

// Wood that was used and "none" outside the stack contradict each other, whichever is
// said first.
func TestUsedAndNoneApartAreRefusedTogether(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	hold := audits.HoldRequest{Since: "2026-03-09 08:00", HeldBy: "Ada Quill", Broken: "used", Note: "a third burned", Apart: "none"}
	_, err := y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
	assert.Equal(t, map[string]string{"apart": "contradicts"}, faults(t, err))
	hold.Broken, hold.Note = "yes", ""
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
	assert.Equal(t, map[string]string{"broken": "unknown"}, faults(t, err), "moved and used are two things")
	hold.Broken = "no"
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
	require.NoError(t, err)
	used := audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "used", Answer: "yes", Note: "about a third burned"}}}
	_, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, used)
	assert.Equal(t, map[string]string{"items.used": "contradicts"}, faults(t, err))
	hold.Apart = "10 cu ft"
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
	require.NoError(t, err)
	_, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, used)
	require.NoError(t, err)
	hold.Apart = "none"
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
	assert.Equal(t, map[string]string{"apart": "contradicts"}, faults(t, err))
}

// No ticket at all is an answer; what is asked of a ticket is answered with it.
func TestNoTicketAtAllIsAnAnswer(t *testing.T) {
	y := newYard(t)
	a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", SellerName: "Brook Hollow Wood",
		Quantity: "2/3 cord", DeliveredOn: "2026-03-01", Place: "9 Mill Road"})
	require.NoError(t, err, "no piece length is asked for before the wood was seen")
	before := len(a.Unanswered())
	a, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "ticket", Answer: "no"}}})
	require.NoError(t, err)
	ofTicket := 0
	for _, i := range a.Checklist {
		if i.OfTicket() {
			ofTicket++
			assert.Equal(t, audits.AnswerNo, i.Answer, i.Code)
			assert.NotEmpty(t, i.By, i.Code)
		}
	}
	assert.Greater(t, ofTicket, 5)
	assert.Equal(t, before-ofTicket, len(a.Unanswered()))
	_, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "ticket.price", Answer: "yes"}}})
	assert.Equal(t, map[string]string{"items.ticket.price": "contradicts"}, faults(t, err))
}

// What has dates out of their order is remarked on the page and in the report.
func TestDatesOutOfOrderAreRemarked(t *testing.T) {
	y := newYard(t)
	s := soundScene()
	s.told.Began, s.told.Ended = "2026-03-09 09:10", "2026-03-09 09:40"
	s.notice.When, s.notice.Appointed = "2026-03-09 09:30", "2026-03-09 10:30"
	s.hold.Since = "2026-03-09 09:20"
	s.told.CheckedOn = "2026-03-09"
	a := y.play(s)
	_, err := y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "a.png", Of: "the ticket", Taken: "2022-05-01 10:00", Bytes: picture(t, "png", 9, 9)})
	require.NoError(t, err)
	_, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "b.png", Of: "the stack", Taken: "2026-03-07 10:00", Bytes: picture(t, "png", 9, 8)})
	require.NoError(t, err)
	zone, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	var said []string
	for _, text := range mustAudit(y, a.ID).OutOfOrder(zone) {
		said = append(said, text.String())
	}
	want := []string{
		"The plan was fixed 9 March 2026, 11:04, after Una Reed had begun to read (9 March 2026, 09:10).",
		"The plan was fixed 9 March 2026, 11:04, after Tobias Fenn had begun to read (9 March 2026, 09:10).",
		"The seller was told 9 March 2026, 09:30, after reading had begun (9 March 2026, 09:10).",
		"The seller was asked to come 9 March 2026, 10:30; reading had ended by then (9 March 2026, 09:40).",
		"The wood is kept as it is only since 9 March 2026, 09:20, after reading had begun (9 March 2026, 09:10).",
		"Photo 1 was taken 1 May 2022, 3 years before the delivery.",
		"Photo 2 was taken 7 March 2026, 2 days before the delivery.",
	}
	assert.Equal(t, want, said)
	issued, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
	require.NoError(t, err)
	assert.Len(t, issued.Report.Dates, len(want))
	assert.Equal(t, audits.Keeper{Name: "Alder Bend Firewood", Seller: true}, issued.Report.Keeper, "it lies with the seller that is audited")
}

// Dates in their order are not remarked.
func TestDatesInOrderAreNotRemarked(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	y.now = y.now.Add(-2 * time.Hour)
	a = y.prepared(a)
	y.now = y.now.Add(2 * time.Hour)
	y.handIn(y.measurer(a, "Una Reed"), "37 1/4 in")
	assert.Empty(t, mustAudit(y, a.ID).OutOfOrder(time.UTC))
}

// Whoever records something has a name: nobody is called after a role, and none is empty.
func TestWhoRecordsHasAName(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	doing := act.Act{Actor: act.Actor{Person: "owner", Role: act.Owner}, Request: newRequest()}
	a, err := y.NotifySeller(y.ctx, doing, a.ID, audits.NoticeRequest{How: "not told", Note: "no number"})
	require.NoError(t, err)
	assert.Equal(t, "Pim Holt", a.Notices[0].By)
	doing.Request = newRequest()
	a, err = y.AnswerItems(y.ctx, doing, a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "used", Answer: "no"}}})
	require.NoError(t, err)
	for _, i := range a.Checklist {
		if i.Code == "used" {
			assert.Equal(t, "Pim Holt", i.By)
		}
	}
	doing.Request = newRequest()
	a, err = y.AddPhoto(y.ctx, doing, a.ID, audits.PhotoRequest{Name: "a.png", Of: "stack", Bytes: picture(t, "png", 9, 9)})
	require.NoError(t, err)
	assert.Equal(t, "Pim Holt", a.Photos[0].By)
}

// An office's own database names the office as the keeper, a volunteer's who opened the
// audit: it has no firm.
func TestAnAuditSaysWhoseMachineHoldsItWithoutAFirm(t *testing.T) {
	for keeper, r := range map[string]audits.Request{
		"Hartwell County": {Capacity: "official", Office: "Hartwell County", Badge: "12"},
		"Pim Holt":        {Capacity: "volunteer"},
	} {
		y := bareYard(t)
		r.Auditor, r.SellerName, r.Quantity, r.DeliveredOn, r.Place = "Pim Holt", "Alder Bend Firewood", "2/3 cord", "2026-03-08", "12 Mill Road"
		r.Zone = "Atlantic/Reykjavik"
		a, err := y.OpenAudit(y.ctx, y.auditing(), r)
		require.NoError(t, err)
		issued, err := y.closed(a, "37 1/4 in", audits.CloseRequest{ClosedBy: "Pim Holt"})
		require.NoError(t, err)
		assert.Equal(t, audits.Keeper{Name: keeper}, issued.Report.Keeper)
		assert.Equal(t, "Atlantic/Reykjavik", issued.Report.Zone)
	}
}
