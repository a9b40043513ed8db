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
	// short. FullBelow is V − t₁₋α·u: at or below it, full. V is taken with every
	// crib whole in the first and with no crib counted in the second, so the word
	// can be read off them alone, but for a shortage held back because apart was
	// not answered. Both are 0 across bases.
	ShortAbove Volume `json:"short_above"`
	FullBelow  Volume `json:"full_below"`
	// ExpectedLow and ExpectedHigh are the range on the measured basis, across
	// bases only.
	ExpectedLow  Volume `json:"expected_low,omitempty"`
	ExpectedHigh Volume `json:"expected_high,omitempty"`
	Why          []Text `json:"why,omitempty"`
}

// An Action is one thing worth doing next, with the doubt that would be left.
type Action struct {
	Code  string `json:"code"` // "pieces", "stations", "straightedge", "stowing", "cribs"
	Text  Text   `json:"text"`
	After Volume `json:"expanded_after"` // U with the same spreads
}
