package receipts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/photos"
)

const auditHash = "3f0a6f1c2f7d3f6f6dd3b2f3a7b8c9d0e1f2031425364758697a8b9cadbecfd0"

// auditTally is an invented tally of so many rows and stations, its heights lowered by
// lower quarter inches.
func auditTally(t testing.TB, rows, stations, lower int) (stack.Document, stack.Tally) {
	t.Helper()
	type row struct {
		Length  string   `json:"length"`
		Heights []string `json:"heights"`
		Back    []string `json:"back,omitempty"`
	}
	read := struct {
		Kind   string   `json:"kind"`
		Pieces []string `json:"pieces"`
		Rows   []row    `json:"rows"`
	}{Kind: "rows", Pieces: []string{"16 in", "15 1/2 in", "16 1/4 in", "15 3/4 in", "16 1/2 in", "15 1/4 in"}}
	for r := range rows {
		one := row{Length: fmt.Sprintf("%d 3/4 in", 95+r)}
		for s := range stations {
			h := 4*47 + (r*5+s*3)%7 - lower
			one.Heights = append(one.Heights, fmt.Sprintf("%d %d/4 in", h/4, h%4))
			one.Back = append(one.Back, fmt.Sprintf("%d %d/4 in", (h+1)/4, (h+1)%4))
		}
		read.Rows = append(read.Rows, one)
	}
	raw, err := json.Marshal(read)
	require.NoError(t, err)
	doc := stack.Document{Format: 1, Sold: "1 2/3 cords", By: "inspector", Apart: "none", Look: 1,
		Tape: "1/4 in", Top: "straightedge", Stowed: "checked", Stack: raw}
	b, err := json.Marshal(doc)
	require.NoError(t, err)
	b = bytes.ReplaceAll(b, []byte(" 0/4 in"), []byte(" in"))
	require.NoError(t, json.Unmarshal(b, &doc))
	tally, err := stack.ParseTally(b)
	require.NoError(t, err)
	return doc, tally
}

// picture is a JPEG of so many pixels.
func picture(t testing.TB, width, height int) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, width, height))
	for x := range width {
		for y := range height {
			img.SetGray(x, y, color.Gray{uint8((x*7 + y*3) % 200)})
		}
	}
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, img, nil))
	return out.Bytes()
}

// sized is a JPEG whose header says a width and height.
func sized(t *testing.T, width, height byte) []byte {
	data := picture(t, 40, 30)
	head := bytes.Index(data, []byte{0xff, 0xc0})
	require.Positive(t, head)
	copy(data[head+5:], []byte{0, height, 0, width})
	return data
}

func day(hour, minute int) time.Time { return time.Date(2026, 3, 14, hour, minute, 0, 0, time.UTC) }

// sampleAudit is an invented audit by hands of the given names.
func sampleAudit(t testing.TB, paper orders.Paper, rows, stations int, names ...string) (audits.Report, []audits.Picture) {
	t.Helper()
	sold := sampleReceipt(paper)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	set, err := book.Get("us-model")
	require.NoError(t, err)
	r := audits.Report{
		Format: audits.ReportFormat, Number: 4, Issued: day(19, 30), Language: "en", Paper: paper, Units: act.Imperial,
		Zone: "America/New_York", Model: 1, Layout: 2, Opened: day(13, 0), OpenedBy: "Nora Feld", ClosedBy: "Nora Feld", Days: 5,
		Subject: audits.Subject{
			Receipt: orders.ReceiptRef{Number: 12, On: act.Date{Year: 2026, Month: time.March, Day: 9}, Seal: sealText},
			Vendor:  sold.Facts.Vendor, Purchaser: sold.Purchaser,
			RuleSet: orders.RuleSet{Code: "us-model", Name: set.Name, Edition: set.Edition, Unit: rules.Cord},
			Sold:    ranked(measure.Cord * 5 / 3), PieceLength: 16 * measure.Inch, Species: "60 % oak, 40 % maple", Place: "Back yard, 4 Mill Lane, under the eaves",
			DeliveredOn: act.Date{Year: 2026, Month: time.March, Day: 9},
		},
		Notices:     []audits.Notice{{How: "by phone", When: day(9, 0), By: "Nora Feld", Appointed: day(13, 30), Written: day(9, 5)}},
		Attendances: []audits.Attendance{{Attended: "declined", Who: "Hollow Road Firewood", Note: "Said he was on the road that day.", Written: day(13, 40)}},
		Holds:       []audits.Hold{{Since: day(8, 0), By: "Ida Thornquist", Apart: stack.Apart{Answered: true}, Written: day(8, 5)}},
		Plans: []audits.Plan{
			{Kind: "rows", Measurers: len(names), Stations: stations, Pieces: 10, Tape: measure.Inch / 4, Top: stack.Straightedge, Faces: audits.BothFaces, Stop: "when all rows are read once by each measurer", Look: 1, By: "Nora Feld", Fixed: day(12, 0)},
			{Kind: "rows", Measurers: len(names), Stations: stations, Pieces: 6, Tape: measure.Inch / 4, Top: stack.Straightedge, Faces: audits.BothFaces, Stop: "when all rows are read once by each measurer", Look: 1, Reason: "It began to rain.", By: "Nora Feld", Fixed: day(14, 0)},
		},
		Favour: []measure.Text{measure.Say("What the readings leave open counts for the seller.")},
		Notes:  []audits.Note{{Kind: audits.PlainNote, Text: "Overcast, 41 F, dry since morning.", By: "Nora Feld", Written: day(13, 10)}},
		Limits: []audits.Limit{
			{Code: "attendance", Text: measure.Say("The seller wasn’t there when it was measured.")},
		},
		Dates:     []measure.Text{measure.Say("Photo %d was taken %s, %d years before the delivery.", 3, "2 January 2023", 3)},
		Keeper:    audits.Keeper{Name: "Hollow Road Firewood", Seller: true},
		Statement: "The wood was dry and closely stacked; no gaps that take a piece.", Rules: unbarred(set),
	}
	for i := range 14 {
		r.Checklist = append(r.Checklist, audits.Item{Code: fmt.Sprint(i), Question: measure.Say("Was the stack looked over for gaps that would take a piece?"),
			Answer: audits.AnswerYes, Note: "Walked round it twice.", By: "Nora Feld", Written: day(13, 20)})
	}
	var tallies []stack.Tally
	for i, name := range names {
		doc, tally := auditTally(t, rows, stations, i)
		result, err := stack.Measure(tally)
		require.NoError(t, err)
		h := audits.Tally{Name: name, HandedIn: day(15, i), Seal: "1D3P-JFQN-7XHJ", Tally: doc,
			Circumstances: audits.Circumstances{Began: day(14, 10), Ended: day(14, 40), Role: "neighbour", TapeMaker: "Stanhope", TapeNumber: "2",
				CheckedOn: act.Date{Year: 2026, Month: time.March, Day: 13}, CheckedBy: "the county’s steel rule"},
			Openings: []audits.LinkOpening{{At: day(14, 5), Link: 1}, {At: day(14, 55), Link: 2}}, Result: result, Procedure: procedure.Of(tally, set.Reckoning(set.SoldIn(false)))}
		if i == 0 {
			was, wrong := auditTally(t, 1, 5, 8)
			before, err := stack.Measure(wrong)
			require.NoError(t, err)
			h.Struck = []audits.StruckTally{{HandedIn: day(14, 40), Tally: was, Volume: before.Quantity, Struck: day(14, 55), Reason: "left out the other rows"}}
		}
		r.Measurers = append(r.Measurers, h)
		tallies = append(tallies, tally)
		r.Result = result
	}
	if len(tallies) > 1 {
		together, err := stack.Combine(tallies)
		require.NoError(t, err)
		r.Together, r.Result = &together, together.Result
	}
	stated, err := wood.ParseStated(r.Subject.Species)
	require.NoError(t, err)
	counted, err := wood.ParseCounted("oak 14, maple 6")
	require.NoError(t, err)
	held := wood.HoldShares(stated, counted, set.ShareLimit())
	r.Shares = &held
	r.Photos = []photos.Photo{
		{ID: "a", Of: "The stack from the front", SHA256: auditHash, Taken: day(13, 15), FromCamera: true, By: "Nora Feld", Added: day(16, 0)},
		{ID: "b", Of: "The tape at row 1", SHA256: auditHash, Taken: day(13, 16), By: "Nora Feld", Added: day(16, 0)},
		{ID: "c", Of: "The end of row 3", SHA256: auditHash, By: "Nora Feld", Added: day(16, 0)},
	}
	pictures := []audits.Picture{
		{Photo: r.Photos[0], JPEG: picture(t, 160, 120)}, {Photo: r.Photos[1], JPEG: picture(t, 90, 160)}, {Photo: r.Photos[2], JPEG: picture(t, 300, 60)},
	}
	return r, pictures
}

func unbarred(set rules.Set) *rules.Set {
	set = set.Unbarred()
	return &set
}

func longAudit(t testing.TB, paper orders.Paper) (audits.Report, []audits.Picture) {
	long := strings.TrimSpace(strings.Repeat("Wilhelmina Featherstonehaugh-Throckmorton ", 3))
	r, pictures := sampleAudit(t, paper, 5, 12, long, "Bartholomäus von Hohenlohe-Langenburg-Waldenburg", "Ada")
	r.Subject.Vendor.Name, r.ClosedBy = long, long
	r.Subject.Place = strings.TrimSpace(strings.Repeat("behind the long barn ", 12))
	r.Statement = strings.TrimSpace(strings.Repeat("Nothing was moved while it was measured. ", 10))
	return r, pictures
}

func TestAuditSaysTheAnswerFirst(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 3, 5, "Nora Feld", "Sam Okafor")
	pdf, err := newPainter(t).Audit(r, auditHash, pictures)
	require.NoError(t, err)
	sound(t, pdf)
	keep(t, "audit-plain.pdf", pdf)
	text := textOf(t, pdf)
	for _, want := range []string{
		"Audit 4", "Volunteer measurement, not an official result.", "P < 0.0001", "Hollow Road Firewood", "Ida Thornquist",
		"ARITHMETIC AFTER THE HANDBOOK’S PATTERN", "Measured by the model", "By this arithmetic", "state no tolerance for a stack", "from memory", "The 2 tallies agree",
		"Amendment 1", "It began to rain.", "declined to come", "Kept unmoved", "left out the other rows", "as neighbour", "Tape: maker Stanhope, number 2, checked on 13 March 2026 against the county’s steel rule", "sealed 1D3P-JFQN-7XHJ", "(link 2)",
		"Seller, if he signs later", "Photo 2: The tape at row 1", "as stated by Nora Feld", "When it was taken is not known",
		"COPIES RECEIVED", "how often readings this low would come from a stack that holds all that is due", "2.4.2", auditHash[:40],
		"WHAT LIMITS IT", "is one figure that wasn’t measured here: how tightly people stow wood.", "The seller wasn’t there when it was measured.", "DATES OUT OF ORDER", "kept on the computer of Hollow Road Firewood, the seller that was audited",
	} {
		assert.Contains(t, text, want)
	}
	assert.NotContains(t, text, "face cord")
	assert.Equal(t, 1, strings.Count(text, "Summit County"), "each source is cited once")
	assert.Equal(t, 1, strings.Count(text, "How it was applied")+strings.Count(text, "HOW IT WAS APPLIED"), "the procedure is told of once, for two measurers")
	assert.NotContains(t, strings.ToLower(onPage(t, pdf, 1)), "handbook", "arithmetic of a text that nobody read keeps off page 1")
	assert.Contains(t, onPage(t, pdf, 2), "ARITHMETIC AFTER THE HANDBOOK’S PATTERN")
	first := strings.Index(text, "Volunteer measurement")
	assert.Less(t, first, strings.Index(text, "ARITHMETIC AFTER"))
}

// onPage is the text of one page.
func onPage(t *testing.T, pdf []byte, n int) string {
	t.Helper()
	out, err := exec.Command(tool(t, "pdftotext"), "-layout", "-f", strconv.Itoa(n), "-l", strconv.Itoa(n), fileOf(t, pdf), "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

// A report by an office's own procedure says so, with its source.
func TestAuditByAnOfficesProcedure(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 3, 5, "Nora Feld", "Sam Okafor")
	text, err := os.ReadFile("../testdata/procedure-county.json")
	require.NoError(t, err)
	p, err := rules.ParseProcedure(text)
	require.NoError(t, err)
	r.Rules.Procedure = &p
	for i := range r.Measurers {
		tally, err := readTally(r.Measurers[i].Tally)
		require.NoError(t, err)
		r.Measurers[i].Procedure = procedure.Of(tally, r.Rules.Reckoning(rules.Cord))
	}
	pdf, err := newPainter(t).Audit(r, auditHash, pictures)
	require.NoError(t, err)
	second, all := onPage(t, pdf, 2), textOf(t, pdf)
	assert.Contains(t, second, "RESULT BY THE INSPECTION PROCEDURE")
	assert.Contains(t, second, "Slate County: checking stacked firewood, edition 2026")
	assert.Contains(t, second, "ft³ less. Outside")
	assert.NotContains(t, second, "handbook")
	assert.Contains(t, all, "read: an invented office's own text, for examples and tests")
}

// A report whose evidence keeps short from being said begins with what keeps it.
func TestAuditHeldBackByEvidenceSaysSoFirst(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 3, 5, "Nora Feld", "Sam Okafor")
	r.Limits = append([]audits.Limit{{Code: stack.HeldByUse, Text: measure.Say("Some of the wood was used or taken, and it isn’t known how much."),
		Cure: measure.Say("Ask how much was used or taken."), Holds: stack.Short}}, r.Limits...)
	r.Result.Finding.Word, r.Result.Finding.HeldBack = stack.Unresolved, []stack.Hold{stack.HeldByUse}
	pdf, err := newPainter(t).Audit(r, auditHash, pictures)
	require.NoError(t, err)
	keep(t, "audit-held.pdf", pdf)
	first, _, _ := strings.Cut(strings.Join(strings.Fields(textOf(t, pdf)), " "), "ARITHMETIC AFTER")
	lead := "Can’t tell yet: 0.67 cord is missing by these readings, but some of this delivery was used, and nobody said how much."
	assert.Contains(t, first, lead)
	assert.NotContains(t, first, "P <", "P is not shown beside a word it doesn’t explain")
	assert.NotContains(t, first, "Short by")
	assert.Contains(t, first, "This holds “short” back. Ask how")
}

func TestAuditIsOfficialOnlyWhereItIs(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 1, 5, "Nora Feld")
	r.Capacity = audits.Capacity{Official: true, Office: "Roxbury County Sealer", Badge: "17"}
	r.Attendances = []audits.Attendance{{Attended: "yes", Who: "Jon Hale"}}
	pdf, err := newPainter(t).Audit(r, auditHash, pictures)
	require.NoError(t, err)
	text := textOf(t, pdf)
	assert.Contains(t, text, "Official measurement: Roxbury County Sealer, badge or commission 17.")
	assert.NotContains(t, text, "Volunteer measurement")
	assert.Contains(t, text, "Came for the seller: Jon Hale.")
	assert.NotContains(t, text, "DO THE HANDS AGREE", "there is one")
}

func TestAuditIsTheSameBytes(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		r, pictures := longAudit(t, paper)
		p := newPainter(t)
		first, err := p.Audit(r, auditHash, pictures)
		require.NoError(t, err)
		sound(t, first)
		again, err := p.Audit(r, auditHash, pictures)
		require.NoError(t, err)
		assert.True(t, bytes.Equal(first, again), paper)
		keep(t, "audit-"+string(paper)+".pdf", first)
	}
}

// keep leaves a paper to be looked at where PAPERS names a folder.
func keep(t *testing.T, name string, pdf []byte) {
	if dir := os.Getenv("PAPERS"); dir != "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), pdf, 0o600))
	}
}

// Struck readings stay legible: their text is there, and a line lies over it.
func TestAuditStrikesThroughAndKeepsLegible(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 1, 5, "Nora Feld")
	p := newPainter(t)
	p.plain = true
	with, err := p.Audit(r, auditHash, pictures)
	require.NoError(t, err)
	assert.Contains(t, textOf(t, with), "45 1/2 in", "a height that only the struck readings have")
	r.Measurers[0].Struck = nil
	without, err := p.Audit(r, auditHash, pictures)
	require.NoError(t, err)
	assert.NotContains(t, textOf(t, without), "45 1/2 in")
	strokes := func(pdf []byte) int { return bytes.Count(pdf, []byte("\n0.71 w")) }
	assert.Greater(t, strokes(with), strokes(without), "lines of 0.25 mm through the text")
}

func TestAuditRefusesWhatItCannotPrint(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 1, 5, "Nora Feld")
	broken := append([]audits.Picture{}, pictures...)
	for _, data := range [][]byte{[]byte("no picture"), sized(t, 0, 90), sized(t, 120, 0)} {
		broken[1].JPEG = data
		_, err := newPainter(t).Audit(r, auditHash, broken)
		assert.Equal(t, "photos[1]", fieldOf(t, err))
	}

	r.Measurers[0].Name = "木下"
	_, err := newPainter(t).Audit(r, auditHash, pictures)
	assert.Equal(t, "measurers[0].name", fieldOf(t, err))

	r, _ = sampleAudit(t, orders.Letter, 1, 5, "Nora Feld")
	r.Subject.Species = "a truckload of oak"
	_, err = newPainter(t).Audit(r, auditHash, pictures)
	assert.Equal(t, "species", fieldOf(t, err))

	r, _ = sampleAudit(t, orders.Letter, 1, 5, "Nora Feld")
	r.Measurers = nil
	_, err = newPainter(t).Audit(r, auditHash, pictures)
	assert.Equal(t, "tally", fieldOf(t, err))
}

func fieldOf(t *testing.T, err error) string {
	t.Helper()
	var fault *act.Error
	require.ErrorAs(t, err, &fault)
	require.NotEmpty(t, fault.Fields)
	return fault.Fields[0].Field
}

// Under no rule set does a report print a term that the set bars, its sources
// included.
func TestAuditPrintsNoBarredTerm(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		for _, units := range []act.Units{act.Imperial, act.Metric} {
			r, pictures := sampleAudit(t, orders.A4, 2, 4, "Nora Feld", "Sam Okafor")
			r.Units, r.Rules = units, unbarred(set)
			r.Subject.RuleSet = orders.RuleSet{Code: set.Code, Name: set.Name, Edition: set.Edition, Unit: set.SoldIn(units == act.Metric)}
			pdf, err := newPainter(t).Audit(r, auditHash, pictures)
			require.NoError(t, err, set.Code)
			assert.Empty(t, set.BarredIn(textOf(t, pdf)), "%s, %s", set.Code, units)
		}
	}
}

// Hands that do not agree leave no finding, and the report says so first.
func TestAuditSaysWhereHandsDisagree(t *testing.T) {
	r, pictures := sampleAudit(t, orders.Letter, 3, 5, "Nora Feld", "Sam Okafor")
	_, high := auditTally(t, 3, 5, 0)
	_, low := auditTally(t, 3, 5, 60)
	together, err := stack.Combine([]stack.Tally{high, low})
	require.NoError(t, err)
	require.False(t, together.Agree)
	r.Together, r.Result = &together, together.Result
	pdf, err := newPainter(t).Audit(r, auditHash, pictures)
	require.NoError(t, err)
	text := textOf(t, pdf)
	assert.Contains(t, text, "No result: the measurers don’t agree")
	assert.Contains(t, text, "don’t agree within their give or take")
}

// Wood that does not stand in rows has a report too, and the procedure says why it
// gives no result.
func TestAuditOfALoad(t *testing.T) {
	r, _ := sampleAudit(t, orders.Letter, 1, 4, "Nora Feld")
	doc := stack.Document{Format: 1, Sold: "1 cord", By: "inspector", Apart: "none", Look: 1,
		Stack: json.RawMessage(`{"kind": "heap", "shape": "rounded", "length": "12 ft", "width": "8 ft", "height": "4 ft"}`)}
	tally, err := readTally(doc)
	require.NoError(t, err)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	r.Measurers = []audits.Tally{{Name: "Nora Feld", HandedIn: day(15, 0), Tally: doc, Result: result, Procedure: procedure.Of(tally, procedure.Reckoning{})}}
	r.Result, r.Photos, r.Shares, r.Rules = result, nil, nil, nil
	pdf, err := newPainter(t).Audit(r, auditHash, nil)
	require.NoError(t, err)
	sound(t, pdf)
	assert.Contains(t, textOf(t, pdf), "This is a heap: stack it in rows")
	keep(t, "audit-heap.pdf", pdf)
}
