package measure

import (
	"encoding/json"
	"math"
)

// A Result is what a tally comes to: the wood as it stood when read, with an
// honest doubt (JCGM 100:2008), and the finding where a quantity was sold. It is
// stored with its model number and never silently recomputed.
type Result struct {
	Model    int            `json:"model"`
	Quantity Quantity       `json:"quantity"`
	Standard Volume         `json:"standard"`           // combined standard uncertainty u
	Degrees  Degrees        `json:"degrees_of_freedom"` // effective, Welch–Satterthwaite
	Coverage float64        `json:"coverage_factor"`    // k, a ratio: t at 97.5 %
	Expanded Volume         `json:"expanded"`           // U = k·u
	Doubt    []Contribution `json:"doubt"`              // largest first
	Finding  *Finding       `json:"finding,omitempty"`  // nil when nothing was sold
	Next     []Action       `json:"next,omitempty"`     // least work for the largest drop first
	Notes    []Text         `json:"notes,omitempty"`
	// Expected is what thrown wood is expected to come to once it is ranked; nil
	// for any other. It is no finding.
	Expected *Range `json:"expected,omitempty"`
	// Pieces is about how many pieces the wood is; zero where the piece length is
	// not known or the wood is not ranked.
	Pieces PieceCount `json:"pieces,omitzero"`
	// Procedure is the packer's own arithmetic where a packaged lot is measured by a
	// published procedure, with its rounding; nil for any other.
	Procedure *Procedure `json:"procedure,omitempty"`
}

// A Range is what a volume is expected to be, on the ranked basis, and why.
type Range struct {
	Low  Volume `json:"low"`
	High Volume `json:"high"`
	Why  Text   `json:"why"`
}

// A Procedure is what a published procedure makes of the readings.
type Procedure struct {
	Volume Volume `json:"volume"`
	Notes  []Text `json:"notes"`
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

// The contributions of model 1.
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
	LengthReading Source = "reading of row length"
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
	TapedVolume   Source = "volume of the calibrated body"
	LevelToLine   Source = "level against the line"
	HeapShape     Source = "shape of the heap"
	DiameterMean  Source = "diameter"
	HeightMean    Source = "height"
	ConeShape     Source = "shape of the cone"
	HeadspaceMean Source = "headspace"
	WidthMean     Source = "width"
	StackLength   Source = "length of the stack"
	EndArea       Source = "area of the ends"
)

// A Contribution is one line of the doubt budget.
type Contribution struct {
	Source   Source  `json:"source"`
	Row      int     `json:"row,omitempty"` // from 1; 0: the stack as a whole
	Standard Volume  `json:"standard"`      // |sensitivity|·standard uncertainty
	Degrees  Degrees `json:"degrees_of_freedom"`
	Share    float64 `json:"share"` // of the variance, a ratio 0 to 1
}

// A Word is a finding in one word or phrase; a stable code as well as the key of
// its text.
type Word string

// The findings: the first four where sold and measured are on one basis, the last
// three across bases.
const (
	Short            Word = "short"
	NotSettled       Word = "not settled"
	NoShortageShown  Word = "no shortage shown"
	Full             Word = "full"
	AsExpected       Word = "as expected"
	BelowExpectation Word = "below what is expected"
	AboveExpectation Word = "above what is expected"
)

// A Finding holds sold against measured (JCGM 106:2012).
type Finding struct {
	Word Word `json:"word"`
	// Probability is P = T_ν((V − S)/u), a ratio 0 to 1; 0 across bases, where
	// it means nothing.
	Probability float64  `json:"probability"`
	Sold        Quantity `json:"sold"`   // as sold, apart not taken off
	Apart       Apart    `json:"apart"`  // what is not in the stack
	Due         Volume   `json:"due"`    // S: sold less apart, what should stand here
	Margin      Volume   `json:"margin"` // V − S, negative when less stands here; 0 across bases
	// CannotRuleOut is the shortage that readings cannot exclude,
	// S − V + t₁₋α·u; nil but for "no shortage shown". Where only cribs keep
	// the finding from full it is taken with no crib counted.
	CannotRuleOut *Volume `json:"cannot_rule_out,omitempty"`
	Look          int     `json:"look"`
	Alpha         float64 `json:"alpha"` // a ratio: 0.05 at the first look, 0.025 later
	// ShortAbove is V + t₁₋α·u: a due quantity at or above it makes the finding
	// short, or one that stays at it after the allowance for drying. FullBelow is V − t₁₋α·u: at or below it, full. V is taken with every
	// crib whole in the first and with no crib counted in the second, so the word
	// can be read off them alone, but for a shortage held back because apart was
	// not answered. Both are 0 across bases.
	ShortAbove Volume `json:"short_above"`
	FullBelow  Volume `json:"full_below"`
	// ExpectedLow and ExpectedHigh are the range on the measured basis, across
	// bases only.
	ExpectedLow  Volume `json:"expected_low,omitempty"`
	ExpectedHigh Volume `json:"expected_high,omitempty"`
	// Drying is the allowance for drying that short was decided with; nil for none.
	Drying *Drying `json:"drying,omitempty"`
	Why    []Text  `json:"why,omitempty"`
}

// Drying is the allowance for wood sold green and tallied dry: short is decided
// against DueDry, full against Due.
type Drying struct {
	Shrinkage   float64 `json:"shrinkage"`   // s, a ratio of the green volume
	DueDry      Volume  `json:"due_dry"`     // S(1 − s)
	Probability float64 `json:"probability"` // P held against DueDry, a ratio
	Working     []Text  `json:"working"`
}

// An Action is one thing worth doing next, with the doubt that would be left.
type Action struct {
	// Code is "pieces", "stations", "straightedge", "stowing", "cribs", "grid",
	// "diameters", "heights" or "stack".
	Code  string `json:"code"`
	Text  Text   `json:"text"`
	After Volume `json:"expanded_after"` // U with the same spreads
}
