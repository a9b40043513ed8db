package orders_test

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/photos"
)

// sampleTally is two rows of 16 in wood that come to about 0.6 cord; high is their height
// in inches, a text that no other figure of the case holds.
func sampleTally(high string) []byte {
	row := `{"length": "8 ft", "heights": ["` + high + `", "` + high + `", "` + high + `", "` + high + `"], "back": ["` + high + `", "` + high + `", "` + high + `", "` + high + `"],
		"ends": [{"kind": "upright"}, {"kind": "upright"}]}`
	return []byte(`{"format": 2, "tape": "1/4 in", "rounded": "nearest", "top": "straightedge", "stowed": "checked", "stack": {"kind": "rows",
		"pieces": ["16 in", "15 3/4 in", "16 1/4 in", "16 in", "16 in"], "rows": [` + row + `, ` + row + `]}}`)
}

// audited opens an audit of two thirds of a cord that was ordered in barred words.
func (y *sellerYard) audited() audits.Audit {
	y.t.Helper()
	r := goodOrder()
	r.Quantity, r.Confirmed = "two face cords of 16 inch", "2/3 cord"
	y.deliver(y.take(r).ID, orders.LoadRequest{})
	a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
	require.NoError(y.t, err)
	return a
}

func (y *sellerYard) auditing() act.Act { return act.Act{Actor: auditor, Request: newRequest()} }

func planOf(measurers string) audits.PlanRequest {
	return audits.PlanRequest{Kind: "rows", Measurers: measurers, Stations: "4", Lengths: "1", Pieces: "5", Tape: "1/4", Top: "straightedge", Faces: "both",
		Stop: "when each measurer has read every height once"}
}

// prepared is an audit with notice, hold and a plan for two measurers.
func (y *sellerYard) prepared(a audits.Audit) audits.Audit {
	y.t.Helper()
	_, err := y.NotifySeller(y.ctx, y.auditing(), a.ID, audits.NoticeRequest{How: "by phone", When: "2026-03-09 09:00", ToldBy: "Pim Holt", Appointed: "2026-03-09 10:00"})
	require.NoError(y.t, err)
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, audits.HoldRequest{Since: "2026-03-09 08:00", HeldBy: "Ada Quill", Broken: "no", Apart: "none"})
	require.NoError(y.t, err)
	a, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, planOf("2"))
	require.NoError(y.t, err)
	return a
}

func (y *sellerYard) measurer(a audits.Audit, name string) string {
	y.t.Helper()
	link, err := y.AddMeasurer(y.ctx, y.auditing(), a.ID, audits.MeasurerRequest{Name: name})
	require.NoError(y.t, err)
	return link.Code
}

// told is when, as what and with which tape somebody read.
func told() audits.CircumstancesRequest {
	return audits.CircumstancesRequest{Began: "2026-03-09 10:05", Ended: "2026-03-09 10:40", Role: "neighbour", TapeMaker: "none", TapeNumber: "7",
		TapeChecked: "yes", CheckedOn: "2026-03-08", CheckedBy: "the county’s steel rule"}
}

func (y *sellerYard) handIn(code, high string) audits.MeasurerView {
	y.t.Helper()
	h, err := y.SaveReading(y.ctx, newRequest(), code, audits.ReadingRequest{Document: sampleTally(high), HandIn: true, Told: told()})
	require.NoError(y.t, err)
	return h
}

// answered answers the whole checklist.
func (y *sellerYard) answered(a audits.Audit) audits.Audit {
	y.t.Helper()
	_, err := y.NoteAttendance(y.ctx, y.auditing(), a.ID, audits.AttendanceRequest{Attended: "yes", Who: "Odell Marsh"})
	require.NoError(y.t, err)
	var r audits.ItemsRequest
	for _, item := range a.Checklist {
		if item.Answer == "" {
			answer := "yes"
			if item.Code == "used" {
				answer = "no"
			}
			r.Items = append(r.Items, audits.ItemRequest{Code: item.Code, Answer: answer, Note: "see the tally book"})
		}
	}
	a, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, r)
	require.NoError(y.t, err)
	return a
}

func TestAnAuditFromNoticeToReport(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	assert.EqualValues(t, 1, a.Number)
	assert.Equal(t, cords(2, 3), a.Subject.Sold)
	assert.Equal(t, audits.StepNotice, a.Step())
	a = y.prepared(a)
	assert.Equal(t, audits.StepMeasurers, a.Step())
	first, second := y.measurer(a, "Una Reed"), y.measurer(a, "Tobias Fenn")
	y.handIn(first, "37 1/4 in")
	y.handIn(second, "37 3/4 in")
	a, err := y.Audit(y.ctx, auditor, a.ID)
	require.NoError(t, err)
	assert.Equal(t, audits.StepAttendance, a.Step())
	a = y.answered(a)
	require.Empty(t, a.Missing())
	issued, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{Statement: "Less than was paid for."})
	require.NoError(t, err)

	r := issued.Report
	require.Len(t, r.Measurers, 2)
	require.NotNil(t, r.Together)
	assert.True(t, r.Together.Agree)
	require.NotNil(t, r.Result.Finding)
	assert.Equal(t, stack.Short, r.Result.Finding.Word)
	assert.Equal(t, cords(2, 3), r.Result.Finding.Sold)
	assert.NotEmpty(t, r.Favour)
	require.Len(t, r.Departures, 1)
	assert.Equal(t, "The plan has lengths of each row at different heights: 1; the inspection procedure asks for 4.", r.Departures[0].String())
	assert.Positive(t, r.Measurers[0].Procedure.Volume)
	assert.Equal(t, "Pim Holt", r.ClosedBy)
	assert.False(t, r.Capacity.Official)
	assert.NotContains(t, strings.ToLower(string(issued.Bytes)+string(issued.PDF)), "face cord")

	closed, err := y.Audit(y.ctx, auditor, a.ID)
	require.NoError(t, err)
	assert.Equal(t, audits.StepClosed, closed.Step())
	assert.Equal(t, issued.Hash, closed.Hash)
	assert.Equal(t, stack.Short, closed.Word)
}

func TestTheSameRequestIsOneAudit(t *testing.T) {
	y := newYard(t)
	y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	act, r := y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"}
	one, err := y.OpenAudit(y.ctx, act, r)
	require.NoError(t, err)
	again, err := y.OpenAudit(y.ctx, act, r)
	require.NoError(t, err)
	assert.Equal(t, one, again)
	next, err := y.OpenAudit(y.ctx, y.auditing(), r)
	require.NoError(t, err)
	assert.EqualValues(t, 2, next.Number, "cases count without gaps")
}

func TestAnAuditOfALoadWithNoOrder(t *testing.T) {
	y := newYard(t)
	r := audits.Request{Capacity: "official", Office: "Slate County Weights and Measures", Badge: "W-17", Auditor: "Pim Holt"}
	_, err := y.OpenAudit(y.ctx, y.auditing(), r)
	assert.Equal(t, map[string]string{"seller_name": "missing", "quantity": "missing", "delivered_on": "missing", "place": "missing"}, faults(t, err))
	r.SellerName, r.Quantity, r.PieceLength, r.DeliveredOn, r.Place = "Brook Hollow Wood", "two face cords of 16 inch", "16 in", "2026-03-01", "9 Mill Road"
	_, err = y.OpenAudit(y.ctx, y.auditing(), r)
	assert.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	r.Confirmed = "2/3 cord"
	a, err := y.OpenAudit(y.ctx, y.auditing(), r)
	require.NoError(t, err)
	assert.EqualValues(t, 1, a.Number, "refused ones take no number")
	assert.Equal(t, cords(2, 3), a.Subject.Sold)
	assert.Equal(t, audits.Capacity{Official: true, Office: "Slate County Weights and Measures", Badge: "W-17"}, a.Capacity)
	for _, item := range a.Checklist {
		assert.Empty(t, item.Answer, "%s is answered by hand", item.Code)
	}
	b, err := json.Marshal(a)
	require.NoError(t, err)
	assert.NotContains(t, strings.ToLower(string(b)), "face cord")
}

func TestOpeningRefuses(t *testing.T) {
	y := newYard(t)
	for name, row := range map[string]struct {
		r    audits.Request
		want map[string]string
	}{
		"no such receipt":            {audits.Request{Capacity: "volunteer", Receipt: "7"}, map[string]string{"receipt": "unknown"}},
		"no number":                  {audits.Request{Capacity: "volunteer", Receipt: "x"}, map[string]string{"receipt": "not-a-number"}},
		"no capacity":                {audits.Request{Receipt: "7"}, map[string]string{"capacity": "missing", "receipt": "unknown"}},
		"an official without office": {audits.Request{Capacity: "official", Receipt: "7"}, map[string]string{"office": "missing", "badge": "missing", "receipt": "unknown"}},
	} {
		_, err := y.OpenAudit(y.ctx, y.auditing(), row.r)
		assert.Equal(t, row.want, faults(t, err), name)
	}
	_, err := y.OpenAudit(y.ctx, act.Act{Actor: driver, Request: newRequest()}, audits.Request{})
	requireKind(t, act.Forbidden, err)
	_, err = y.Audits(y.ctx, driver, "", 0, 10)
	requireKind(t, act.Forbidden, err)
}

func TestNothingIsReadBeforeThePlanIsFixedAndItIsOnlyAmended(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	_, err := y.AddMeasurer(y.ctx, y.auditing(), a.ID, audits.MeasurerRequest{Name: "Una Reed"})
	requireKind(t, act.Conflict, err)
	a = y.prepared(a)
	code := y.measurer(a, "Una Reed")
	_, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, planOf("3"))
	assert.Equal(t, map[string]string{"reason": "missing"}, faults(t, err))
	y.now = y.now.Add(time.Hour)
	amended := planOf("3")
	amended.Reason = "a third helper came"
	a, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, amended)
	require.NoError(t, err)
	require.Len(t, a.Plans, 2)
	assert.Equal(t, 2, a.Plans[0].Measurers)
	assert.Equal(t, 3, a.Plan().Measurers)
	assert.True(t, a.Plan().Fixed.After(a.Plans[0].Fixed))
	y.handIn(code, "37 1/4 in")
	other := amended
	other.Kind, other.Stations, other.Faces = "heap", "", ""
	_, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, other)
	assert.Equal(t, map[string]string{"kind": "begun"}, faults(t, err))
}

// No answer of any kind holds a figure of another measurer while the audit is open.
func TestMeasurersAreBlindToEachOther(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	first, second := y.measurer(a, "Una Reed"), y.measurer(a, "Tobias Fenn")
	y.handIn(first, "37 1/4 in")
	seen, err := y.Measuring(y.ctx, second)
	require.NoError(t, err)
	assert.Empty(t, seen.Saved)
	a, err = y.Audit(y.ctx, owner, a.ID)
	require.NoError(t, err)
	list, err := y.Audits(y.ctx, owner, "", 0, 10)
	require.NoError(t, err)
	history, err := y.History(y.ctx, owner, a.Subject.OrderID)
	require.NoError(t, err)
	assert.False(t, a.Measurers[0].HandedIn.IsZero())
	for _, shown := range []any{seen, a, list, history} {
		b, err := json.Marshal(shown)
		require.NoError(t, err)
		assert.NotContains(t, string(b), "37 1/4")
		assert.NotContains(t, string(b), `"finding"`)
	}
	_, err = y.AuditReport(y.ctx, owner, a.ID)
	requireKind(t, act.NotFound, err)
}

func TestAMeasurerDraftsHandsInOnceAndCorrects(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	code := y.measurer(a, "Una Reed")
	save := func(r audits.ReadingRequest) (audits.MeasurerView, error) {
		y.now = y.now.Add(time.Minute)
		return y.SaveReading(y.ctx, newRequest(), code, r)
	}
	for range 3 {
		_, err := save(audits.ReadingRequest{Document: []byte(`{"format": 1}`), Typed: []byte("a=b")})
		require.NoError(t, err)
	}
	_, err := save(audits.ReadingRequest{Document: []byte(`{"format": 1}`), HandIn: true, Told: told()})
	assert.NotEmpty(t, faults(t, err), "what cannot be measured is not handed in")
	_, err = save(audits.ReadingRequest{Document: sampleTally("37 1/4 in"), HandIn: true, Told: told()})
	require.NoError(t, err)
	_, err = save(audits.ReadingRequest{Document: sampleTally("30 in")})
	requireKind(t, act.Conflict, err)
	_, err = save(audits.ReadingRequest{Document: sampleTally("36 in"), HandIn: true, Told: told()})
	assert.Equal(t, map[string]string{"reason": "missing"}, faults(t, err))
	h, err := save(audits.ReadingRequest{Document: sampleTally("36 in"), HandIn: true, Told: told(), Reason: "read the wrong side of the mark"})
	require.NoError(t, err)
	assert.Equal(t, 3, h.Measurer.Drafts)
	assert.Equal(t, 1, h.Measurer.Struck)
	require.Len(t, h.Saved, 5)
	assert.False(t, h.Saved[3].Struck.IsZero())
	assert.Equal(t, 5, h.Counts().N)
	assert.NotEqual(t, h.Saved[3].Seal, h.Counts().Seal)

	y.handIn(y.measurer(a, "Tobias Fenn"), "36 1/2 in")
	a, err = y.Audit(y.ctx, auditor, a.ID)
	require.NoError(t, err)
	a = y.answered(a)
	issued, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
	require.NoError(t, err)
	struck := issued.Report.Measurers[0].Struck
	require.Len(t, struck, 1)
	assert.Equal(t, "read the wrong side of the mark", struck[0].Reason)
	assert.Contains(t, string(struck[0].Tally.Stack), "37 1/4")

	_, err = save(audits.ReadingRequest{Document: sampleTally("36 in"), HandIn: true, Told: told(), Reason: "again"})
	requireKind(t, act.Conflict, err)
}

func TestALinkIsShownOnceAndCanBeRenewed(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	doing := y.auditing()
	link, err := y.AddMeasurer(y.ctx, doing, a.ID, audits.MeasurerRequest{Name: "Una Reed"})
	require.NoError(t, err)
	_, err = y.AddMeasurer(y.ctx, doing, a.ID, audits.MeasurerRequest{Name: "Una Reed"})
	requireKind(t, act.Conflict, err)
	renewed, err := y.RenewMeasurer(y.ctx, y.auditing(), a.ID, link.Measurer.ID)
	require.NoError(t, err)
	assert.NotEqual(t, link.Code, renewed.Code)
	_, err = y.Measuring(y.ctx, link.Code)
	requireKind(t, act.NotFound, err)
	_, err = y.Measuring(y.ctx, renewed.Code)
	require.NoError(t, err)
	_, err = y.Measuring(y.ctx, "")
	requireKind(t, act.NotFound, err)
	b, err := json.Marshal(a)
	require.NoError(t, err)
	assert.NotContains(t, string(b), renewed.Code)
}

// A renewed link shows nothing of what was saved by the one before, so that nobody who
// renews it comes to see a measurer's readings; they count as before.
func TestARenewedLinkShowsNothingSavedBefore(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	link, err := y.AddMeasurer(y.ctx, y.auditing(), a.ID, audits.MeasurerRequest{Name: "Una Reed"})
	require.NoError(t, err)
	y.handIn(link.Code, "37 1/4 in")
	y.now = y.now.Add(time.Minute)
	renewed, err := y.RenewMeasurer(y.ctx, y.auditing(), a.ID, link.Measurer.ID)
	require.NoError(t, err)
	h, err := y.Measuring(y.ctx, renewed.Code)
	require.NoError(t, err)
	require.NotNil(t, h.Counts())
	b, err := json.Marshal(h)
	require.NoError(t, err)
	assert.NotContains(t, string(b), "37 1/4")
	assert.Empty(t, h.Saved[0].Document)
	y.now = y.now.Add(time.Minute)
	h, err = y.SaveReading(y.ctx, newRequest(), renewed.Code, audits.ReadingRequest{Document: sampleTally("36 in"), HandIn: true, Told: told(), Reason: "read the wrong mark"})
	require.NoError(t, err)
	assert.Equal(t, 2, h.Counts().N)
	assert.False(t, h.Saved[0].Struck.IsZero())
}

func TestClosingNamesAllThatIsMissing(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	_, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
	requireKind(t, act.Conflict, err)
	assert.ErrorContains(t, err, "audit 1 can’t be closed yet. 5 things missing: whether the seller was told; how the wood was kept; the plan; whether the seller came; 7 answers of the checklist")
	assert.Less(t, len(err.Error()), 200, "in short words")
	_, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "cribs", Answer: "not seen"}, {Code: "used", Answer: "yes"}, {Code: "voids", Answer: "no"}, {Code: "x", Answer: "no"}}})
	assert.Equal(t, map[string]string{"items.cribs.note": "missing", "items.used.note": "missing", "items.x": "unknown"}, faults(t, err))
	a, err = y.AnswerItems(y.ctx, y.auditing(), a.ID, audits.ItemsRequest{Items: []audits.ItemRequest{{Code: "cribs", Answer: "not seen", Note: "snow lay on them"}}})
	require.NoError(t, err)
	for _, item := range a.Checklist {
		if item.Code == "cribs" {
			assert.Equal(t, audits.AnswerNotSeen, item.Answer)
		}
	}
}

func TestAClosedAuditTakesNotesOnly(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	y.handIn(y.measurer(a, "Una Reed"), "37 1/4 in")
	code := y.measurer(a, "Tobias Fenn")
	y.handIn(code, "37 3/4 in")
	a = y.answered(a)
	doing := y.auditing()
	issued, err := y.CloseAudit(y.ctx, doing, a.ID, audits.CloseRequest{})
	require.NoError(t, err)
	again, err := y.CloseAudit(y.ctx, doing, a.ID, audits.CloseRequest{})
	require.NoError(t, err)
	assert.Equal(t, issued.Hash, again.Hash, "the same request is one closing")
	_, err = y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
	requireKind(t, act.Conflict, err)
	_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, audits.HoldRequest{Since: "2026-03-08 17:00", HeldBy: "x", Broken: "no"})
	requireKind(t, act.Conflict, err)
	_, err = y.PlanAudit(y.ctx, y.auditing(), a.ID, planOf("2"))
	requireKind(t, act.Conflict, err)
	_, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "a.png", Of: "stack", Bytes: picture(t, "png", 8, 8)})
	requireKind(t, act.Conflict, err)
	a, err = y.NoteAudit(y.ctx, y.auditing(), a.ID, audits.NoteRequest{Kind: "copy", Who: "Odell Marsh"})
	require.NoError(t, err)
	require.Len(t, a.Notes, 1)
	after, err := y.AuditReport(y.ctx, auditor, a.ID)
	require.NoError(t, err)
	assert.Equal(t, issued.Bytes, after.Bytes)
}

// What a measurer read otherwise than planned is said.
func TestDeparturesFromThePlanAreNamed(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	a = y.prepared(a)
	one := strings.ReplaceAll(string(sampleTally("37 1/4 in")), `"straightedge"`, `"by eye"`)
	one = strings.ReplaceAll(one, `"1/4 in"`, `"1/2 in"`)
	_, err := y.SaveReading(y.ctx, newRequest(), y.measurer(a, "Una Reed"), audits.ReadingRequest{Document: []byte(one), HandIn: true, Told: told()})
	require.NoError(t, err)
	y.handIn(y.measurer(a, "Tobias Fenn"), "37 3/4 in")
	a = y.answered(a)
	issued, err := y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
	require.NoError(t, err)
	var said []string
	for _, d := range issued.Report.Departures {
		said = append(said, d.String())
	}
	require.Len(t, said, 3, "%q", said)
	assert.Contains(t, said[1], "Una Reed read a tape to 1/2 in")
	assert.Contains(t, said[2], "Una Reed judged the top of the wood otherwise")
}

func TestALaterLookIsHeldToAStricterBound(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{})
	y.measure(o.ID)
	a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
	require.NoError(t, err)
	assert.Equal(t, 2, y.prepared(a).Plan().Look)
}

func picture(t *testing.T, format string, w, h int) []byte {
	t.Helper()
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for x := range w {
		for y := range h {
			img.Set(x, y, color.RGBA{uint8(x), uint8(y), 90, 255})
		}
	}
	var b bytes.Buffer
	if format == "png" {
		require.NoError(t, png.Encode(&b, img))
	} else {
		require.NoError(t, jpeg.Encode(&b, img, nil))
	}
	return b.Bytes()
}

// withExif puts an Exif part into a JPEG: when it was taken, how it was held, and where
// it was taken.
func withExif(photo []byte, held uint16) []byte {
	var tiff bytes.Buffer
	tiff.WriteString("MM\x00\x2a\x00\x00\x00\x08")
	u16 := func(v ...uint16) {
		for _, n := range v {
			tiff.Write([]byte{byte(n >> 8), byte(n)})
		}
	}
	u16(3)
	u16(0x0112, 3, 0, 1, held, 0) // Orientation
	u16(0x8769, 4, 0, 1, 0, 50)   // Exif at 50
	u16(0x8825, 4, 0, 1, 0, 88)   // GPS at 88
	u16(0, 0)                     // no next; 8 + 2 + 36 + 4 = 50
	u16(1)                        // Exif
	u16(0x9003, 2, 0, 20, 0, 68)  // DateTimeOriginal at 68
	u16(0, 0)                     // 50 + 2 + 12 + 4 = 68
	tiff.WriteString("2026:03:08 16:20:05\x00")
	u16(1) // 88: GPS
	u16(0x0001, 2, 0, 2)
	tiff.WriteString("N\x00\x00\x00")
	u16(0, 0)
	body := append([]byte("Exif\x00\x00"), tiff.Bytes()...)
	n := len(body) + 2
	part := append([]byte{0xff, 0xe1, byte(n >> 8), byte(n)}, body...)
	return append(append(append([]byte{}, photo[:2]...), part...), photo[2:]...)
}

func TestAPhotoIsKeptAsItIsAndShownWithoutWhatIsHiddenInIt(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	original := withExif(picture(t, "jpeg", 64, 32), 6)
	a, err := y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: `C:\photos\front.jpg`, Of: "front of the stack", Bytes: original})
	require.NoError(t, err)
	require.Len(t, a.Photos, 1)
	p := a.Photos[0]
	assert.Equal(t, "front.jpg", p.Name)
	assert.True(t, p.FromCamera)
	assert.True(t, p.TakenLocal)
	assert.Equal(t, time.Date(2026, 3, 8, 20, 20, 5, 0, time.UTC), p.Taken, "in the shop's zone, which is four hours behind then")
	assert.Equal(t, []int{64, 32}, []int{p.Width, p.Height})
	_, kept, err := y.AuditPhoto(y.ctx, auditor, a.ID, p.ID, true)
	require.NoError(t, err)
	assert.Equal(t, original, kept)
	_, shown, err := y.AuditPhoto(y.ctx, auditor, a.ID, p.ID, false)
	require.NoError(t, err)
	assert.NotContains(t, string(shown), "Exif")
	config, err := jpeg.DecodeConfig(bytes.NewReader(shown))
	require.NoError(t, err)
	assert.Equal(t, []int{32, 64}, []int{config.Width, config.Height}, "turned upright")

	_, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Of: "the same", Bytes: original})
	assert.Equal(t, map[string]string{"photo": "twice"}, faults(t, err))
	a, err = y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Name: "b.png", Of: "back", Taken: "2026-03-08 16:30", Bytes: picture(t, "png", 9, 9)})
	require.NoError(t, err)
	assert.False(t, a.Photos[1].FromCamera)
	assert.Equal(t, time.Date(2026, 3, 8, 20, 30, 0, 0, time.UTC), a.Photos[1].Taken)
}

func TestPhotosThatAreRefused(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	// A PNG that says it has 50 000 by 50 000 pixels: never decoded.
	huge := picture(t, "png", 4, 4)
	copy(huge[16:24], []byte{0, 0, 0xc3, 0x50, 0, 0, 0xc3, 0x50})
	binary.BigEndian.PutUint32(huge[29:33], crc32.ChecksumIEEE(huge[12:29]))
	for name, row := range map[string]struct {
		bytes []byte
		code  string
	}{
		"nothing":        {nil, "missing"},
		"text":           {[]byte("<html>a photo</html>"), "not-a-photo"},
		"an absurd size": {huge, "out-of-range"},
		"cut off":        {picture(t, "jpeg", 640, 640)[:2000], "damaged"},
		"a phone’s HEIC": {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), "heic"},
		"too many bytes": {make([]byte, photos.MaxBytes+1), "too-large"},
	} {
		_, err := y.AddPhoto(y.ctx, y.auditing(), a.ID, audits.PhotoRequest{Of: "stack", Bytes: row.bytes})
		assert.Equal(t, map[string]string{"photo": row.code}, faults(t, err), name)
	}
}
