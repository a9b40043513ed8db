package words

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// AnswerJSON is the answer to a tally as data, with full float64 precision.
type AnswerJSON struct {
	Model       int             `json:"model"`
	Volume      VolumeJSON      `json:"volume"`
	Uncertainty UncertaintyJSON `json:"uncertainty"`
	Doubt       []DoubtJSON     `json:"doubt"` // largest first
	Finding     *FindingJSON    `json:"finding,omitempty"`
	Next        []NextJSON      `json:"next"`
	Notes       []string        `json:"notes"`
	Basis       measure.Basis   `json:"basis"`
	Expected    *RangeJSON      `json:"expected_ranked,omitempty"`
	Pieces      *PiecesJSON     `json:"pieces,omitempty"`
	Procedure   *ProcedureJSON  `json:"procedure,omitempty"`
	Questions   []QuestionJSON  `json:"questions,omitempty"`
}

// QuestionJSON is asked about a reading that is hardly meant as it stands.
type QuestionJSON struct {
	Code      string `json:"code"`
	Key       string `json:"key"` // among a tally’s "confirmed": the reading is as typed
	Field     string `json:"field"`
	Question  string `json:"question"`
	Confirmed bool   `json:"confirmed"`
}

// RangeJSON is what thrown wood is expected to come to once it is ranked.
type RangeJSON struct {
	LowCubicFeet  float64 `json:"low_cubic_feet"`
	HighCubicFeet float64 `json:"high_cubic_feet"`
	Why           string  `json:"why"`
}

// PiecesJSON is about how many pieces the wood is.
type PiecesJSON struct {
	Low  int    `json:"low"`
	High int    `json:"high"`
	Why  string `json:"why"`
	// MarginLow and MarginHigh are the pieces that are over the quantity sold, or
	// below 0 the pieces short of it; nil where nothing is held against it.
	MarginLow  *int `json:"margin_low,omitempty"`
	MarginHigh *int `json:"margin_high,omitempty"`
}

// VolumeJSON is a volume in three units.
type VolumeJSON struct {
	Cord        float64 `json:"cord"`
	CubicFeet   float64 `json:"cubic_feet"`
	CubicMetres float64 `json:"cubic_metres"`
}

// UncertaintyJSON is the doubt of a volume; DegreesOfFreedom is nil where they
// are infinite.
type UncertaintyJSON struct {
	StandardCubicFeet float64 `json:"standard_cubic_feet"`
	// AgainstShortageCubicFeet is the standard uncertainty that a shortage is judged
	// with; nil in results of model 1, and where nothing can be short.
	AgainstShortageCubicFeet *float64 `json:"against_shortage_cubic_feet,omitempty"`
	DegreesOfFreedom         *float64 `json:"degrees_of_freedom"`
	CoverageFactor           float64  `json:"coverage_factor"`
	ExpandedCubicFeet        float64  `json:"expanded_cubic_feet"`
	ExpandedCord             float64  `json:"expanded_cord"`
}

// DoubtJSON is a line of the doubt budget: a standard uncertainty and its share
// of the variance. Row counts from 1, absent for the stack as a whole.
type DoubtJSON struct {
	Source    stack.Source `json:"source"`
	Row       int          `json:"row,omitempty"`
	CubicFeet float64      `json:"cubic_feet"`
	Share     float64      `json:"share"`
}

// FindingJSON is sold held against measured. Across bases the probability and
// the margins mean nothing and are nil.
type FindingJSON struct {
	Word                   stack.Word   `json:"word"`
	HeldBack               []stack.Hold `json:"held_back"`
	HeldFromFull           []stack.Hold `json:"held_from_full"`
	Probability            *float64     `json:"probability"`
	MarginCord             *float64     `json:"margin_cord"`
	MarginCubicFeet        *float64     `json:"margin_cubic_feet"`
	CannotRuleOutCubicFeet *float64     `json:"cannot_rule_out_cubic_feet"`
	Why                    []string     `json:"why"`
}

// NextJSON is one thing worth doing and the doubt after it.
type NextJSON struct {
	Action                 string  `json:"action"`
	ExpandedCubicFeetAfter float64 `json:"expanded_cubic_feet_after"`
}

// Answer gives a result as data. The tally it came from is not repeated in it.
func (p *Printer) Answer(_ stack.Tally, r stack.Result) AnswerJSON {
	v := r.Quantity.Volume
	a := AnswerJSON{
		Model:  r.Model,
		Volume: VolumeJSON{v.In(measure.Cord), v.In(measure.CubicFoot), v.In(measure.CubicMetre)},
		Uncertainty: UncertaintyJSON{
			StandardCubicFeet: r.Standard.In(measure.CubicFoot),
			CoverageFactor:    r.Coverage,
			ExpandedCubicFeet: r.Expanded.In(measure.CubicFoot),
			ExpandedCord:      r.Expanded.In(measure.Cord),
		},
		Doubt:   []DoubtJSON{},
		Finding: p.findingJSON(r),
		Next:    []NextJSON{},
		Notes:   p.texts(r.Notes),
		Basis:   r.Quantity.Basis,
		Pieces:  p.piecesJSON(r),
	}
	if e := r.Expected; e != nil {
		a.Expected = &RangeJSON{e.Low.In(measure.CubicFoot), e.High.In(measure.CubicFoot), p.Say(e.Why)}
	}
	if o := r.Procedure; o != nil {
		feet := o.Volume.In(measure.CubicFoot)
		a.Procedure = &ProcedureJSON{CubicFeet: &feet, Notes: p.texts(o.Notes)}
	}
	if degrees := float64(r.Degrees); !math.IsInf(degrees, 1) {
		a.Uncertainty.DegreesOfFreedom = &degrees
	}
	for _, c := range r.Doubt {
		a.Doubt = append(a.Doubt, DoubtJSON{c.Source, c.Row, c.Standard.In(measure.CubicFoot), c.Share})
	}
	if u := r.AgainstShortage.In(measure.CubicFoot); u > 0 {
		a.Uncertainty.AgainstShortageCubicFeet = &u
	}
	for _, q := range r.Questions {
		a.Questions = append(a.Questions, QuestionJSON{q.Code, q.Key, q.Field, p.Question(r, q), q.Confirmed})
	}
	for _, n := range r.Next {
		a.Next = append(a.Next, NextJSON{p.Say(n.Text), n.After.In(measure.CubicFoot)})
	}
	return a
}

// held is a list of what holds a finding back, never nil.
func held(by []stack.Hold) []stack.Hold { return append([]stack.Hold{}, by...) }

func (p *Printer) piecesJSON(r stack.Result) *PiecesJSON {
	if r.Pieces.High <= 0 {
		return nil
	}
	out := &PiecesJSON{Low: r.Pieces.Low, High: r.Pieces.High, Why: p.Say(r.Pieces.Text())}
	if f := r.Finding; f != nil && !f.Expectation() {
		low, high := r.Pieces.Of(f.Margin)
		if f.Margin < 0 {
			low, high = -high, -low
		}
		out.MarginLow, out.MarginHigh = &low, &high
	}
	return out
}

func (p *Printer) findingJSON(r stack.Result) *FindingJSON {
	f := r.Finding
	if f == nil {
		return nil
	}
	out := &FindingJSON{Word: f.Word, Why: p.texts(f.Why), HeldBack: held(f.HeldBack), HeldFromFull: held(f.HeldFromFull)}
	if f.CannotRuleOut != nil {
		feet := f.CannotRuleOut.In(measure.CubicFoot)
		out.CannotRuleOutCubicFeet = &feet
	}
	if acrossBases(r) {
		return out
	}
	odds, cord, feet := f.Probability, f.Margin.In(measure.Cord), f.Margin.In(measure.CubicFoot)
	out.Probability, out.MarginCord, out.MarginCubicFeet = &odds, &cord, &feet
	return out
}

func (p *Printer) texts(texts []measure.Text) []string {
	said := make([]string, len(texts))
	for i, t := range texts {
		said[i] = p.Say(t)
	}
	return said
}
