// Package procedure gives the result of a published or an office’s own procedure beside the
// model’s: its rounding, its counts and its tolerance.
package procedure

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A Reckoning is how a procedure is held to: what the rules of the sale state, and
// where they state nothing what NIST Handbook 133, section 3.14, asks for, from
// memory. It knows no jurisdiction.
type Reckoning struct {
	// Named is the office's procedure that all of it comes from; nil: what is not stated
	// is arithmetic after the handbook's pattern, from memory.
	Named     *measure.Text
	Counts    LeastCounts    // zero: Handbook 133's
	Increment measure.Length // that lengths are read to; 0: not stated, and Handbook 133's
	Rounding  stack.Rounding // of lengths of wood; what is taken off is rounded the other way
	From      measure.Text   // where the two come from and how that is known
	// Tolerance is how far below what is due a sale may be, by the first step that what
	// is due fits; empty: none stated.
	Tolerance     []ToleranceStep
	ToleranceFrom measure.Text
}

// LeastCounts are how many readings a procedure asks for at least.
type LeastCounts struct {
	Heights int // of each row's front, at equal intervals
	Back    int // of each row's back; 0: the front stands for both
	Lengths int // of each row, at equal intervals from the base up
	Pieces  int
}

// Least is how many readings are asked for at least.
func (k Reckoning) Least() LeastCounts {
	if k.Counts == (LeastCounts{}) {
		return handbookCounts()
	}
	return k.Counts
}

// handbookCounts are those of restacked packages, from memory; it says nothing of larger
// stacks, and its pieces are those of greatest girth.
func handbookCounts() LeastCounts { return LeastCounts{4, 4, 4, 5} }

// A ToleranceStep is how much may be missing of a quantity of some size: a share of
// it, or an amount whatever it is. One of Share and Amount is above 0.
type ToleranceStep struct {
	Below  measure.Volume // of less than this; 0: no bound
	To     measure.Volume // of at most this; 0: no bound
	Share  float64        // a ratio
	Amount measure.Volume
}

// fits tells whether a step is for what is due.
func (s ToleranceStep) fits(due measure.Volume) bool {
	return (s.Below == 0 || due < s.Below) && (s.To == 0 || due <= s.To)
}

// allowed is how much may be missing of what is due, rounded once, halves to even.
func (s ToleranceStep) allowed(due measure.Volume) measure.Volume {
	if s.Amount > 0 {
		return s.Amount
	}
	return measure.Volume(math.RoundToEven(s.Share * float64(due)))
}

// step is the step for what is due; nil where none is stated.
func (k Reckoning) step(due measure.Volume) *ToleranceStep { return stepFor(k.Tolerance, due) }

func stepFor(steps []ToleranceStep, due measure.Volume) *ToleranceStep {
	for i := range steps {
		if steps[i].fits(due) {
			return &steps[i]
		}
	}
	return nil
}

// Allowed is how much may be missing of what is due by the step that is for it; 0 where
// none is.
func Allowed(steps []ToleranceStep, due measure.Volume) measure.Volume {
	if step := stepFor(steps, due); step != nil {
		return step.allowed(due)
	}
	return 0
}

// ProcedureWord is what a procedure comes to, in its own words.
type Word string

// The words of a procedure; empty where nothing was sold.
const (
	WithinTolerance  Word = "within"
	OutsideTolerance Word = "outside"
	NoTolerance      Word = "no tolerance stated"
	NotJudged        Word = "not judged"
)

// A ProcedureResult is a procedure's own result: its rounding, its counts and its
// tolerance. It has no doubt and no probability; those are the model's.
type Result struct {
	// Named is the office's procedure it was made by; nil: it is arithmetic after the
	// handbook's pattern, and its constants are from memory.
	Named *measure.Text `json:"named,omitempty"`
	// NoResult says why the procedure gives none; then Volume is 0 and there are no
	// rows. Nil where it gives one.
	NoResult *measure.Text   `json:"no_result,omitempty"`
	Volume   measure.Volume  `json:"volume"`
	Exact    measure.Volume  `json:"exact"` // average height × length × piece, before rounding and what is taken off
	Rows     []Row           `json:"rows,omitempty"`
	Counts   []Count         `json:"counts,omitempty"`
	Changes  []Change        `json:"changes,omitempty"`  // from Exact to Volume, in order
	LeftOut  []Change        `json:"left_out,omitempty"` // wood that the procedure does not count, with its size
	Word     Word            `json:"word,omitempty"`
	Why      []measure.Text  `json:"why,omitempty"`
	Due      measure.Volume  `json:"due,omitempty"`       // sold less what is apart; 0 where nothing was sold
	Error    *measure.Volume `json:"error,omitempty"`     // Volume − Due; nil where they are not held together
	Allowed  *measure.Volume `json:"tolerance,omitempty"` // nil: none stated
	Notes    []measure.Text  `json:"notes,omitempty"`
}

// A ProcedureRow is one row by the procedure: averages after rounding.
type Row struct {
	Height measure.Length `json:"height"`
	Length measure.Length `json:"length"`
	Piece  measure.Length `json:"piece"`
	Volume measure.Volume `json:"volume"` // after what is taken off
}

// A ProcedureCount holds how many readings there are against how many the
// procedure asks for at least.
type Count struct {
	What   string `json:"what"`          // "heights", "heights of the back", "lengths", "pieces"
	Row    int    `json:"row,omitempty"` // from 1; 0: of the stack
	Seen   int    `json:"seen"`
	Wanted int    `json:"wanted"`
}

// A ProcedureChange is one rounding, or one thing taken off or left out.
type Change struct {
	Code    string         `json:"code"` // "heights", "raised", "lengths", "pieces", "voids", "shoulders", "tapers", "cribs"
	Size    measure.Volume `json:"size"` // what it adds; negative: what it takes off
	Favours stack.Party    `json:"favours,omitempty"`
	Text    measure.Text   `json:"text"`
}

// Complete tells whether every count the procedure asks for was read.
func (p *Result) Complete() bool {
	for _, c := range p.Counts {
		if c.Seen < c.Wanted {
			return false
		}
	}
	return p.NoResult == nil
}

// InSellersFavour is what the changes that favour the seller add in all.
func (p *Result) InSellersFavour() measure.Volume {
	var added measure.Volume
	for _, c := range p.Changes {
		if c.Favours == stack.Seller {
			added += c.Size
		}
	}
	return added
}

// ByProcedure holds a tally that Measure accepts to the procedure. It depends on
// nothing but the two.
func Of(t stack.Tally, k Reckoning) Result {
	var p Result
	switch s := t.Stack.(type) {
	case stack.Rows:
		p = rowsResult(s, &t, k)
		p.Named = k.Named
	case stack.Packaged:
		p = packagedResult(s, &t)
	default:
		why := noProcedure(t.Stack)
		p.NoResult = &why
	}
	p.judge(&t, k)
	return p
}

// noProcedure says why a kind of stack has no result by the procedure.
func noProcedure(s stack.Stack) measure.Text {
	switch s.Kind() {
	case "heap":
		return measure.Say("The procedure measures wood that is ranked and well stowed. This is a heap: stack it in rows, and measure those.")
	case "load":
		return measure.Say("The procedure measures wood that is ranked and well stowed in a rectangle. This is a load on a vehicle: unload it and stack it in rows, and measure those.")
	case "bin":
		return measure.Say("The procedure measures wood that is ranked and well stowed. This is a bin or crate as filled: stack its wood in rows, and measure those.")
	}
	return measure.Say("The procedure measures a stack with straight sides. This one is round: stack its wood in rows, and measure those.")
}

// packagedResult gives the packer's arithmetic; the counts are what a tally of a
// package must have.
func packagedResult(s stack.Packaged, t *stack.Tally) Result {
	own := s.ByHandbook(t.Tape)
	return Result{Volume: own.Volume, Exact: own.Volume, Notes: own.Notes}
}

// judge holds the volume against what is due.
func (p *Result) judge(t *stack.Tally, k Reckoning) {
	if t.Sold == nil || t.Stack == nil {
		return
	}
	sold := t.Sold.Quantity
	p.Due = sold.Volume - t.Apart.Quantity.Volume
	switch {
	case p.NoResult != nil:
		p.notJudged(*p.NoResult)
		return
	case sold.Basis != measure.Ranked || t.Apart.Quantity.Volume > 0 && t.Apart.Quantity.Basis != measure.Ranked:
		p.notJudged(measure.Say("What was sold isn’t a ranked quantity, and the procedure measures ranked wood."))
		return
	}
	miss := p.Volume - p.Due
	p.Error = &miss
	p.Why = append(p.Why, p.errorText(miss))
	switch {
	case miss < 0 && !t.Apart.Answered:
		p.notJudged(measure.Say("It was not said whether any of this delivery is not in this stack."))
	case miss < 0 && -miss <= p.leftOut():
		p.notJudged(measure.Say("The wood that the procedure leaves out, up to %s, could make up what is missing: restack it and measure again.", p.leftOut()))
	default:
		p.hold(miss, k)
	}
	if !p.Complete() {
		p.Why = append(p.Why, measure.Say("Fewer readings were taken than it asks for: this is its arithmetic on the readings there are."))
	}
}

func (p *Result) notJudged(why measure.Text) {
	p.Word = NotJudged
	p.Why = append(p.Why, why)
}

// hold judges an error by the tolerance; more than was sold is never outside.
func (p *Result) hold(miss measure.Volume, k Reckoning) {
	step := k.step(p.Due)
	if step == nil {
		p.Word = NoTolerance
		p.Why = append(p.Why, noTolerance(k))
		return
	}
	allowed := step.allowed(p.Due)
	p.Allowed = &allowed
	p.Word = WithinTolerance
	if -miss > allowed {
		p.Word = OutsideTolerance
	}
	if step.Amount > 0 {
		p.Why = append(p.Why, measure.Say("The tolerance is %s for a quantity of this size, whatever it is: %s", allowed, k.ToleranceFrom))
		return
	}
	p.Why = append(p.Why, measure.Say("The tolerance is %s, %.3g %% of what is due: %s", allowed, 100*step.Share, k.ToleranceFrom))
}

func noTolerance(k Reckoning) measure.Text {
	if k.Named != nil {
		return measure.Say("It states no tolerance for a stack.")
	}
	return measure.Say("The rules of sale state no tolerance for a stack, and none was found in Handbook 133: from memory.")
}

func (p *Result) errorText(miss measure.Volume) measure.Text {
	share := 100 * math.Abs(float64(miss)) / float64(p.Due)
	switch {
	case p.Due <= 0 || miss == 0:
		return measure.Say("By this arithmetic %s is here; %s is due.", p.Volume, p.Due)
	case miss < 0:
		return measure.Say("By this arithmetic %s is here, %s (%.1f %%) less than is due.", p.Volume, -miss, share)
	}
	return measure.Say("By this arithmetic %s is here, %s (%.1f %%) more than is due.", p.Volume, miss, share)
}

// leftOut is all the wood the procedure does not count.
func (p *Result) leftOut() measure.Volume {
	var sum measure.Volume
	for _, c := range p.LeftOut {
		sum -= c.Size
	}
	return sum
}
