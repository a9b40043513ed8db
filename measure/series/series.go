// Package series puts together what several deliveries of one seller show.
package series

import (
	"fmt"
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/student"
)

// An Audited is one delivery of a seller as it was measured.
type Audited struct {
	Volume   measure.Volume
	Standard measure.Volume // u of Volume
	Sold     measure.Volume // what was due where it was measured; above 0
	Word     stack.Word     // the finding
}

// FewestAudits are the audits that a series needs to say what is usual: below them the
// interval of the mean is wider than any seller's errors (t on 3 degrees of freedom is
// 3.2, on 1 it is 12.7). Common practice, no source.
const FewestAudits = 5

// A Series is what several audits of one seller come to. Errors are relative,
// (measured − sold)/sold: ratios, negative where less was measured than sold.
type Series struct {
	Count  int          `json:"count"`
	Errors []float64    `json:"errors"` // ratios, in the order given
	Words  []stack.Word `json:"words"`  // the results, in the order given
	Mean   float64      `json:"mean"`   // a ratio; 0 of none
	// Deviation is the sample standard deviation of the errors, a ratio; nil of fewer
	// than two.
	Deviation *float64 `json:"standard_deviation,omitempty"`
	// Low and High are the 95 % interval of the mean, t on Count − 1 degrees of
	// freedom, ratios, Low never below −1; nil of fewer than FewestAudits.
	Low  *float64 `json:"low,omitempty"`
	High *float64 `json:"high,omitempty"`
	// Measuring is the deviation that the doubt of measuring alone would give, the
	// root of the mean square of u/sold: a ratio.
	Measuring float64        `json:"measuring"`
	Short     int            `json:"short"` // found short
	Full      int            `json:"full"`  // found full
	Notes     []measure.Text `json:"notes,omitempty"`
}

// SeriesOf puts together the audits of one seller. The error is an *InputError for
// an audit with nothing sold.
func Of(audits []Audited) (Series, error) {
	s := Series{Count: len(audits)}
	var squares float64
	for i, a := range audits {
		if a.Sold <= 0 {
			return Series{}, &measure.InputError{Field: fmt.Sprintf("audits[%d]", i), Code: "too-small", Reason: measure.Say("what was sold is not above 0"), Accepts: measure.Say("a quantity such as 1 cord")}
		}
		s.Errors, s.Words = append(s.Errors, (a.Volume-a.Sold).In(a.Sold)), append(s.Words, a.Word)
		squares += a.Standard.In(a.Sold) * a.Standard.In(a.Sold)
		switch a.Word {
		case stack.Short:
			s.Short++
		case stack.Full:
			s.Full++
		}
	}
	if s.Count > 0 {
		s.Measuring = math.Sqrt(squares / float64(s.Count))
	}
	s.spread()
	s.explain()
	return s, nil
}

// spread fills in the mean, the deviation where there are two or more, and the interval
// where there are enough.
func (s *Series) spread() {
	n := float64(s.Count)
	if s.Count == 0 {
		return
	}
	for _, e := range s.Errors {
		s.Mean += e / n
	}
	if s.Count < 2 {
		return
	}
	var squares float64
	for _, e := range s.Errors {
		squares += (e - s.Mean) * (e - s.Mean)
	}
	deviation := math.Sqrt(squares / (n - 1))
	s.Deviation = &deviation
	if s.Count < FewestAudits {
		return
	}
	half := meanHalf(deviation, s.Count)
	low, high := max(s.Mean-half, -1), s.Mean+half // no more than all of it can be missing
	s.Low, s.High = &low, &high
}

// meanHalf is half the 95 % interval of the mean of n ≥ 2 values, t·s/√n (NIST/SEMATECH
// e-Handbook of Statistical Methods, section 1.3.5.2, from memory).
func meanHalf(deviation float64, n int) float64 {
	return student.Quantile(0.975, float64(n-1)) * deviation / math.Sqrt(float64(n))
}

// explain says what the series can carry.
func (s *Series) explain() {
	switch {
	case s.Count == 0:
		s.Notes = append(s.Notes, measure.Say("No audit was given to put together."))
		return
	case s.Count < FewestAudits:
		s.Notes = append(s.Notes, measure.Say("Too few to say what is usual with this seller: %d of the %d that it takes.", s.Count, FewestAudits))
		return
	case *s.High < 0:
		s.Notes = append(s.Notes, measure.Say("On average less was measured than sold, by more than chance between audits gives 19 times in 20."))
	case *s.Low > 0:
		s.Notes = append(s.Notes, measure.Say("On average more was measured than sold, by more than chance between audits gives 19 times in 20."))
	default:
		s.Notes = append(s.Notes, measure.Say("The interval holds 0: these audits show no usual error either way."))
	}
	s.Notes = append(s.Notes, measure.Say("What all audits have in common, such as one tape or one way of judging the top, is not in the interval."))
	if *s.Deviation < s.Measuring {
		s.Notes = append(s.Notes, measure.Say("They are closer together than measuring alone would be: read the interval with that in mind."))
	}
	s.Notes = append(s.Notes, measure.Say("The interval is about deliveries like those audited; deliveries picked because of a complaint are not like the rest."))
}
