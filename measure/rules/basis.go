package rules

import (
	"math"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// SellsOn tells whether any wood may be sold standing so.
func (s Set) SellsOn(b measure.Basis) bool {
	return slices.ContainsFunc(s.Units, func(u Unit) bool { return u.Basis == b && u.Only == "" })
}

// AsksBasis tells whether a volume alone may be of stacked or of loose wood, so that
// it has to be asked.
func (s Set) AsksBasis() bool {
	by := func(b measure.Basis) bool {
		return slices.ContainsFunc(s.Units, func(u Unit) bool {
			return u.Basis == b && u.Only == "" && (u.Unit == CubicFoot || u.Unit == CubicMetre)
		})
	}
	return by(measure.Ranked) && by(measure.Loose)
}

// Ask asks, at a field, whether wood is stacked or loose where the words do not say it
// and the set knows both; nil where there is nothing to ask.
func (s Set) Ask(field string, said measure.Said) *measure.InputError {
	if !said.Unsaid || !s.AsksBasis() {
		return nil
	}
	return &measure.InputError{Field: field, Code: "basis-unsaid", Got: said.Words,
		Reason:  measure.Say("stacked or loose? They are different measures, and these rules of sale know both"),
		Accepts: measure.Say("the same with “stacked” or “loose” after it")}
}

// ParseQuantity reads a quantity in words under the set, for pieces of a length where
// the words give none; 0 is not known. It asks whether wood is stacked or loose where the
// words leave it open. The error is a *measure.InputError.
func (s Set) ParseQuantity(text string, piece measure.Length) (measure.Said, error) {
	said, err := s.Terms(piece).ParseQuantity(text)
	if err != nil {
		return measure.Said{}, err
	}
	if fault := s.Ask("", said); fault != nil {
		return measure.Said{}, fault
	}
	return said, nil
}

// ParseLength reads a length under the set, a bare number in unit; where that is 0 the
// unit is asked for. The error is a *measure.InputError.
func (s Set) ParseLength(text string, unit measure.Length) (measure.Length, error) {
	return s.Terms(0).ParseLength(text, unit)
}

// ParseTally reads a tally document under the set: it takes a cord for what the set
// does, and asks what the words of what was sold leave open. The error is
// measure.InputErrors, or a *measure.InputError.
func (s Set) ParseTally(doc []byte) (stack.Tally, error) {
	terms := measure.Terms{Points: s.metricAlone()}
	if s.CordVaries() {
		terms = s.Terms(0)
	}
	t, err := stack.ParseTallyUnder(terms, doc)
	if err != nil || t.Sold == nil {
		return t, err
	}
	if fault := s.Ask("sold", *t.Sold); fault != nil {
		return stack.Tally{}, fault
	}
	return t, nil
}

// Refuse tells that wood standing as q does may not be sold under the set, by which
// of its rules, and what would be taken; nil where it may. Of thrown wood in pieces
// of a length it says what that is expected to come to once stacked, which is to
// plan with and no conversion.
func (s Set) Refuse(q measure.Quantity, piece measure.Length) *measure.InputError {
	if q.Volume == 0 || s.SellsOn(q.Basis) {
		return nil
	}
	fault := &measure.InputError{Code: "basis-not-sold", Reason: measure.Say("these rules let no wood be sold %s: %s", measure.Say(sold(q.Basis)), s.soldHow()),
		Accepts: measure.Say("a stacked quantity, as agreed or as measured")}
	if q.Basis == measure.Loose && piece > 0 {
		low, high := stack.ThrownShare(piece)
		fault.Accepts = measure.Say("a stacked quantity, as agreed or as measured; to plan with and not to sell by, %s in pieces of %s is likely to be %s to %s once stacked",
			q, piece, share(q.Volume, low), share(q.Volume, high))
	}
	return fault
}

// RefusePieces tells that wood in pieces of a length is no firewood under the set, by
// which of its rules; nil where it is, or where the length is not known.
func (s Set) RefusePieces(piece measure.Length) *measure.InputError {
	if s.Pieces == nil || piece == 0 || piece > s.Pieces.Over {
		return nil
	}
	return &measure.InputError{Code: "not-firewood",
		Reason:  measure.Say("pieces of %s aren’t firewood under these rules: %s (%s; %s)", piece, s.Pieces.Text(), s.Pieces.Source, measure.Say(string(s.Pieces.Status))),
		Accepts: measure.Say("pieces over %s", s.Pieces.Over)}
}

// soldHow names the first rule on what any wood may be sold by, and its source.
func (s Set) soldHow() measure.Text {
	i := slices.IndexFunc(s.Units, func(u Unit) bool { return u.Only == "" })
	if i < 0 {
		return measure.Say("they name no unit that any wood may be sold by")
	}
	u := s.Units[i]
	return measure.Say("it is sold by the %s, %s (%s; %s)", measure.Say(u.Name), measure.Say(sold(u.Basis)), u.Source, measure.Say(string(u.Status)))
}

// sold says how wood of a basis is sold.
func sold(b measure.Basis) string {
	switch b {
	case measure.Loose:
		return "loose"
	case measure.Container:
		return "by what it fills"
	}
	return "stacked"
}

// share is a part of a volume to the whole cubic foot.
func share(v measure.Volume, part float64) measure.Volume {
	return measure.Volume(math.Round(v.In(measure.CubicFoot)*part)) * measure.CubicFoot
}
