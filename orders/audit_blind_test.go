package orders_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/audits"
)

// Who measures sees nothing of what was sold, by what words, or what it is worth: not
// before reading, not while trying, and not after handing in.
func TestAMeasurerIsBlindToTheGoal(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	code := y.measurer(a, "Una Reed")
	before, err := y.OpenMeasuring(y.ctx, code)
	require.NoError(t, err)
	read, err := y.TryReading(y.ctx, code, sampleTally("37 1/4 in"))
	require.NoError(t, err)
	assert.Nil(t, read.Tally.Sold)
	assert.False(t, read.Tally.Apart.Answered)
	after := y.handIn(code, "37 1/4 in")
	again, err := y.OpenMeasuring(y.ctx, code)
	require.NoError(t, err)
	for _, shown := range []any{before, after, again} {
		b, err := json.Marshal(shown)
		require.NoError(t, err)
		for _, goal := range []string{"sold", "nanolitres", "2/3", "85.3", "vendor", "piece_length", "finding", "volume"} {
			assert.NotContains(t, string(b), goal)
		}
	}
	// A document that says itself what was sold is held against nothing either: no answer
	// tells whether it was right.
	guess := []byte(strings.Replace(string(sampleTally("37 1/4 in")), `"format": 1`, `"format": 1, "sold": "9 cords"`, 1))
	read, err = y.TryReading(y.ctx, code, guess)
	require.NoError(t, err)
	assert.Nil(t, read.Tally.Sold)
}

// What was handed in is shown to nobody before closing, by its own link neither, nor the
// draft it was made from; its seal is.
func TestReadingsHandedInAreSealed(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	code := y.measurer(a, "Una Reed")
	_, err := y.SaveReading(y.ctx, newRequest(), code, audits.ReadingRequest{Document: sampleTally("37 1/4 in"), Typed: []byte("x=37+1%2F4")})
	require.NoError(t, err)
	draft, err := y.Measuring(y.ctx, code)
	require.NoError(t, err)
	require.NotNil(t, draft.Draft())
	assert.Contains(t, string(draft.Draft().Typed), "37")
	y.now = y.now.Add(time.Minute)
	own := y.handIn(code, "37 1/4 in")
	require.NotNil(t, own.Counts())
	assert.Regexp(t, `^[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]{4}$`, own.Counts().Seal)
	assert.Nil(t, own.Draft())
	a, err = y.Audit(y.ctx, owner, a.ID)
	require.NoError(t, err)
	assert.Equal(t, own.Counts().Seal, a.Measurers[0].Seal, "the auditor sees the code, and no more")
	for _, shown := range []any{own, a} {
		b, err := json.Marshal(shown)
		require.NoError(t, err)
		assert.NotContains(t, string(b), "37 1/4")
		assert.NotContains(t, string(b), "2F4")
	}

	y.handIn(y.measurer(a, "Tobias Fenn"), "37 1/4 in")
	a, err = y.Audit(y.ctx, owner, a.ID)
	require.NoError(t, err)
	assert.NotEqual(t, a.Measurers[0].Seal, a.Measurers[1].Seal, "equal readings have other seals: nobody can guess them from a seal")
	issued, err := y.CloseAudit(y.ctx, y.auditing(), y.answered(a).ID, audits.CloseRequest{})
	require.NoError(t, err)
	assert.Equal(t, a.Measurers[0].Seal, issued.Report.Measurers[0].Seal)
}

// A seal holds: readings changed in the database since, or when or by which tape they
// were read, are named by verify, in an audit that is still open as well.
func TestVerifyNamesReadingsChangedSinceTheyWereSealed(t *testing.T) {
	for name, change := range map[string]string{
		"readings":      `UPDATE audit_readings SET document = CAST(replace(CAST(document AS TEXT), '37 1/4', '38 1/4') AS BLOB)`,
		"circumstances": `UPDATE audit_readings SET circumstances = json_set(circumstances, '$.tape_number', '9')`,
		"when":          `UPDATE audit_readings SET created = created - 60000000`,
		"seal":          `UPDATE audit_readings SET seal = '0000-0000-0000'`,
		"salt":          `UPDATE audit_readings SET salt = x'00'`,
		"seal taken":    `UPDATE audit_readings SET seal = ''`,
	} {
		y := newYard(t)
		a := y.prepared(y.audited())
		y.handIn(y.measurer(a, "Una Reed"), "37 1/4 in")
		require.Empty(t, y.faultsAlone(), name)
		y.tamper(change)
		assert.Equal(t, []string{"audit 1: readings of Una Reed are not the ones that were sealed"}, y.faultsAlone(), name)
	}
}

// Each opening of a link is kept, with which link it was; reloading within a minute is
// the same opening.
func TestOpeningsOfALinkAreKept(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	link, err := y.AddMeasurer(y.ctx, y.auditing(), a.ID, audits.MeasurerRequest{Name: "Una Reed"})
	require.NoError(t, err)
	begun := y.now
	for _, pause := range []time.Duration{0, 20 * time.Second, 2 * time.Minute} {
		y.now = y.now.Add(pause)
		_, err := y.OpenMeasuring(y.ctx, link.Code)
		require.NoError(t, err)
	}
	renewed, err := y.RenewMeasurer(y.ctx, y.auditing(), a.ID, link.Measurer.ID)
	require.NoError(t, err)
	v, err := y.OpenMeasuring(y.ctx, renewed.Code)
	require.NoError(t, err)
	want := []audits.LinkOpening{{At: begun, Link: 1}, {At: begun.Add(140 * time.Second), Link: 1}, {At: begun.Add(140 * time.Second), Link: 2}}
	for i := range want {
		want[i].At = want[i].At.UTC().Truncate(time.Microsecond)
	}
	assert.Equal(t, want, v.Measurer.Openings)
}

func TestHandingInAsksWhenAsWhatAndWithWhichTape(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	code := y.measurer(a, "Una Reed")
	hand := func(change func(*audits.CircumstancesRequest)) error {
		r := told()
		change(&r)
		_, err := y.SaveReading(y.ctx, newRequest(), code, audits.ReadingRequest{Document: sampleTally("37 1/4 in"), HandIn: true, Told: r})
		return err
	}
	assert.Equal(t, map[string]string{"began": "missing", "ended": "missing", "role": "missing", "tape_maker": "missing", "tape_number": "missing", "tape_checked": "missing"},
		faults(t, hand(func(r *audits.CircumstancesRequest) { *r = audits.CircumstancesRequest{} })))
	assert.Equal(t, map[string]string{"ended": "before-began"}, faults(t, hand(func(r *audits.CircumstancesRequest) { r.Ended = "2026-03-09 10:00" })))
	assert.Equal(t, map[string]string{"ended": "future"}, faults(t, hand(func(r *audits.CircumstancesRequest) { r.Ended = "2026-03-09 23:00" })))
	assert.Equal(t, map[string]string{"checked_on": "missing", "checked_by": "missing"}, faults(t, hand(func(r *audits.CircumstancesRequest) { r.CheckedOn, r.CheckedBy = "", "" })))
	require.NoError(t, hand(func(r *audits.CircumstancesRequest) { r.TapeChecked, r.CheckedOn, r.CheckedBy = "no", "", "" }))
}

// A reading that is hardly meant as it stands is asked about while it is read; sealing it
// answers that it is as read, and the report says so.
func TestSealingAnswersWhatIsAskedOfReadings(t *testing.T) {
	y := newYard(t)
	a := y.prepared(y.audited())
	codes := []string{y.measurer(a, "Una Reed"), y.measurer(a, "Tobias Fenn")}
	read, err := y.TryReading(y.ctx, codes[0], sampleTally("9 1/4 in"))
	require.NoError(t, err)
	require.NotEmpty(t, read.Questions, "every height is under 10 in")
	assert.False(t, read.Questions[0].Confirmed)
	for _, code := range codes {
		y.handIn(code, "9 1/4 in")
	}
	require.Empty(t, y.faultsAlone(), "the seal is over what was kept")
	issued, err := y.CloseAudit(y.ctx, y.auditing(), y.answered(mustAudit(y, a.ID)).ID, audits.CloseRequest{})
	require.NoError(t, err)
	asked := 0
	for _, q := range issued.Report.Measurers[0].Result.Questions {
		if q.Code == read.Questions[0].Code {
			asked++
			assert.True(t, q.Confirmed)
		}
	}
	assert.Positive(t, asked)
}
