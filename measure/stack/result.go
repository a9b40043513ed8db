package stack

import (
	"encoding/json"
	"math"
	"slices"

	"wellstowed/measure"
)

// A Result is what a tally comes to: the wood as it stood when read, with an
// honest doubt (JCGM 100:2008), and the finding where a quantity was sold. It is
// stored with its model number and never silently recomputed.
type Result struct {
	Model    int              `json:"model"`
	Quantity measure.Quantity `json:"quantity"`
	Standard measure.Volume   `json:"standard"` // combined standard uncertainty u
	// AgainstShortage is the u that a shortage is judged with, 0 in results of model 1.
	// Loose stowing measures too much and hardly ever too little, so less of it counts
	// there.
	AgainstShortage measure.Volume `json:"against_shortage,omitempty"`
	Degrees         Degrees        `json:"degrees_of_freedom"` // effective, Welch–Satterthwaite
	Coverage        float64        `json:"coverage_factor"`    // k, a ratio: t at 97.5 %
	Expanded        measure.Volume `json:"expanded"`           // U = k·u
	Doubt           []Contribution `json:"doubt"`              // largest first
	Finding         *Finding       `json:"finding,omitempty"`  // nil when nothing was sold
	Next            []Action       `json:"next,omitempty"`     // least work for the largest drop first
	Notes           []measure.Text `json:"notes,omitempty"`
	// Questions are asked of the reader before anything is said, answered ones too.
	Questions []Question `json:"questions,omitempty"`
	// Expected is what thrown wood is expected to come to once it is ranked; nil
	// for any other. It is no finding.
	Expected *Range `json:"expected,omitempty"`
	// Pieces is about how many pieces the wood is; zero where the piece length is
	// not known or the wood is not ranked.
	Pieces PieceCount `json:"pieces,omitzero"`
	// Faces are the rows that were read with a tape and from a photo.
	Faces []FacePair `json:"faces,omitempty"`
	// Procedure is the packer's own arithmetic where a packaged lot is measured by a
	// published procedure, with its rounding; nil for any other.
	Procedure *Procedure `json:"procedure,omitempty"`
}

// A Range is what a volume is expected to be, on the ranked basis, and why.
type Range struct {
	Low  measure.Volume `json:"low"`
	High measure.Volume `json:"high"`
	Why  measure.Text   `json:"why"`
}

// A Procedure is what a published procedure makes of the readings.
type Procedure struct {
	Volume measure.Volume `json:"volume"`
	Notes  []measure.Text `json:"notes"`
}

// Degrees are degrees of freedom, a statistic; +Inf is stored as null.
type Degrees float64

// MarshalJSON writes +Inf as null.
func (d Degrees) MarshalJSON() ([]byte, error) {
	if math.IsInf(float64(d), 1) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(d))
}

// UnmarshalJSON reads null as +Inf.
func (d *Degrees) UnmarshalJSON(b []byte) error {
	if string(b) == "null" {
		*d = Degrees(math.Inf(1))
		return nil
	}
	return json.Unmarshal(b, (*float64)(d))
}

// A Source names where doubt comes from: a stable code for programs.
type Source string

// The contributions.
const (
	Stowage       Source = "stowage"
	PieceSpread   Source = "spread between pieces"
	NominalLength Source = "nominal length"
	TopOfWood     Source = "top of the wood"
	StationSpread Source = "spread between stations"
	FewStations   Source = "few stations"
	ShoulderShape Source = "shoulder"
	TaperShape    Source = "taper"
	CribShare     Source = "crib"
	VoidSize      Source = "void"
	RowEnds       Source = "where a row ends"
	LengthReading Source = "reading of row length" // model 1, and where the rounding was said
	TapeOnHeights Source = "tape zero and hook, on heights"
	TapeOnLengths Source = "tape zero and hook, on row lengths"
	TapeOnPieces  Source = "tape zero and hook, on pieces"

	HeightSpread  Source = "spread between heights"
	FewHeights    Source = "few heights"
	TapeOnSides   Source = "tape zero and hook, on length and width"
	InsideEnds    Source = "where the inside ends"
	SizeReading   Source = "reading of length and width"
	WellSize      Source = "wheel well"
	CrownShapes   Source = "shape of the crown"
	CrestHeight   Source = "height of the crown"
	HeightGrid    Source = "spread over the grid of heights"
	TapedVolume   Source = "volume of the calibrated bed"
	LevelToLine   Source = "level against the line"
	HeapShape     Source = "shape of the heap"
	DiameterMean  Source = "diameter"
	HeightMean    Source = "height"
	ConeShape     Source = "shape of the cone"
	HeadspaceMean Source = "headspace"
	WidthMean     Source = "width"
	StackLength   Source = "length of the stack"
	EndArea       Source = "area of the ends"

	// From model 2 on.
	OneFace           Source = "one face and one reader"
	RoundingNotSaid   Source = "rounding"
	RoundingOfHeights Source = "rounding of heights"
	RoundingOfPieces  Source = "rounding of pieces"
	TapeScale         Source = "tape scale"
	HeapLength        Source = "length of the heap"
	HeapWidth         Source = "width of the heap"
	HeapHeight        Source = "height of the heap"
	RowsThatFit       Source = "side that the pieces lie along"

	// Of a row read from a photo.
	PhotoTaps    Source = "taps on the photo"
	PhotoFeet    Source = "where the sticks stand"
	PhotoLean    Source = "sticks out of plumb"
	PhotoDepth   Source = "depth of the face"
	PhotoLens    Source = "lens"
	PhotoLengths Source = "lengths between the sticks"
)

// A Contribution is one line of the doubt budget.
type Contribution struct {
	Source   Source         `json:"source"`
	Row      int            `json:"row,omitempty"` // from 1; 0: the stack as a whole
	Standard measure.Volume `json:"standard"`      // |sensitivity|·standard uncertainty
	Degrees  Degrees        `json:"degrees_of_freedom"`
	Share    float64        `json:"share"` // of the variance, a ratio 0 to 1
}

// A Word is a finding: a stable code for programs, worded for people at the edge.
type Word string

// The findings: the first four where sold and measured are on one basis, the last
// three across bases.
const (
	Short         Word = "short"
	Unresolved    Word = "unresolved"
	NoShortage    Word = "no-shortage"
	Full          Word = "full"
	Expected      Word = "expected"
	BelowExpected Word = "below-expected"
	AboveExpected Word = "above-expected"
)

// WordOf reads a finding as stored; results of model 1 have other codes for some.
func WordOf(stored string) Word {
	switch stored {
	case "not settled":
		return Unresolved
	case "no shortage shown":
		return NoShortage
	case "as expected":
		return Expected
	case "below what is expected":
		return BelowExpected
	case "above what is expected":
		return AboveExpected
	}
	return Word(stored)
}

// UnmarshalJSON reads a finding as stored.
func (w *Word) UnmarshalJSON(b []byte) error {
	var stored string
	err := json.Unmarshal(b, &stored)
	*w = WordOf(stored)
	return err
}

// A Hold is what holds a finding back: readings that can’t carry it, or a question
// that nobody answered.
type Hold string

// What holds findings back. The last two hold back only full.
const (
	HeldByApart    Hold = "apart"    // it was not said whether any of the delivery is elsewhere
	HeldByUse      Hold = "used"     // use is on record elsewhere, and no amount was given
	HeldByKind     Hold = "kind"     // wood that lies so can’t be short or full
	HeldByPieces   Hold = "pieces"   // some row’s pieces were not measured, or fewer than five
	HeldByPhoto    Hold = "photo"    // of a row: fewer than eight points of its outline, or no references at both ends
	HeldByHeights  Hold = "heights"  // a row has fewer than three heights, or one stands for too much of it
	HeldByRounding Hold = "rounding" // readings at the top of their division, or at the bottom, would not say so
	HeldByCribs    Hold = "cribs"    // with each crib counted whole, or none, it would not say so
	HeldByMoving   Hold = "moved"    // an audit: it was moved, and the seller did not see it since
	HeldByFaces    Hold = "faces"    // an audit: the back was neither read nor seen
	HeldByTape     Hold = "tape"     // an audit: no tape was checked
	HeldByNotice   Hold = "notice"   // an audit: the seller was not told
	HeldByStowing  Hold = "stowing"  // it was not looked at
	HeldByEnds     Hold = "ends"     // it was not said how every row ends
)

// A Question is asked about a reading that is hardly meant as it stands: the reading,
// and what it would be in another unit.
type Question struct {
	// Code is "volume-above", "volume-below", "row-long", "row-short", "row-high",
	// "piece-long", "stray" or "all-low".
	Code string `json:"code"`
	// Key names the question and the reading it is about: a document that has it
	// among its "confirmed" answers that the reading is as typed.
	Key   string `json:"key"`
	Field string `json:"field"` // the reading’s place in the document
	// Text asks, with the reading as it is and as it would be in the other unit.
	Text      measure.Text   `json:"text"`
	Reading   measure.Length `json:"nanometres,omitempty"` // as it is; 0 where it is the volume
	InOther   measure.Length `json:"nanometres_in_other_unit,omitempty"`
	Confirmed bool           `json:"confirmed"`
}

// Asks tells whether a question about a reading is still open.
func (r *Result) Asks() bool {
	return slices.ContainsFunc(r.Questions, func(q Question) bool { return !q.Confirmed })
}

// A Finding holds sold against measured (JCGM 106:2012).
type Finding struct {
	Word Word `json:"word"`
	// HeldBack is what holds short back where less was measured than is due, the first
	// thing to do first; HeldFromFull the same of full where at least as much was.
	HeldBack     []Hold `json:"held_back,omitempty"`
	HeldFromFull []Hold `json:"held_from_full,omitempty"`
	// Probability is P = T_ν((V − S)/u), u the one against a shortage (model 1: u
	// itself), a ratio 0 to 1; 0 across bases, where it means nothing.
	Probability float64          `json:"probability"`
	Sold        measure.Quantity `json:"sold"`   // as sold, apart not taken off
	Apart       Apart            `json:"apart"`  // what is not in the stack
	Due         measure.Volume   `json:"due"`    // S: sold less apart, what should stand here
	Margin      measure.Volume   `json:"margin"` // V − S, negative when less stands here; 0 across bases
	// CannotRuleOut is the shortage that readings cannot exclude,
	// S − V + t₁₋α·u; nil but for "no shortage shown". Where only cribs keep
	// the finding from full it is taken with no crib counted.
	CannotRuleOut *measure.Volume `json:"cannot_rule_out,omitempty"`
	Look          int             `json:"look"`
	Alpha         float64         `json:"alpha"` // a ratio: 0.05 at the first check, then 0.05/2^k at the k-th (model 1: 0.025)
	// ShortAbove is V + t₁₋α·u: a due quantity at or above it, after any allowance for
	// drying, is short, and FullBelow is V − t·u: one at or below it is full, unless
	// HeldBack or HeldFromFull names what keeps it from being said. V is taken at the
	// top of the readings’ division with every crib whole in the first, at the bottom
	// with no crib in the second. Both are 0 across bases.
	ShortAbove measure.Volume `json:"short_above"`
	FullBelow  measure.Volume `json:"full_below"`
	// ExpectedLow and ExpectedHigh are the range on the measured basis, across
	// bases only.
	ExpectedLow  measure.Volume `json:"expected_low,omitempty"`
	ExpectedHigh measure.Volume `json:"expected_high,omitempty"`
	// Drying is the allowance for drying that short was decided with; nil for none.
	Drying *Drying        `json:"drying,omitempty"`
	Why    []measure.Text `json:"why,omitempty"`
}

// Drying is the allowance for wood sold green and tallied dry: short is decided
// against DueDry, full against Due.
type Drying struct {
	Shrinkage   float64        `json:"shrinkage"`   // s, a ratio of the green volume
	DueDry      measure.Volume `json:"due_dry"`     // S(1 − s)
	Probability float64        `json:"probability"` // P held against DueDry, a ratio
	Working     []measure.Text `json:"working"`
}

// An Action is one thing worth doing next, with the doubt that would be left.
type Action struct {
	// Code is "pieces", "stations", "straightedge", "stowing", "cribs", "grid",
	// "diameters", "heights" or "stack".
	Code  string         `json:"code"`
	Text  measure.Text   `json:"text"`
	After measure.Volume `json:"expanded_after"` // U with the same spreads
}
