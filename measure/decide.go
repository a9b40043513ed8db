package measure

// The level a finding is held to: at the first look at a delivery, and later.
const (
	firstAlpha = 0.05
	laterAlpha = 0.025
)

// find holds what was measured against what was sold; expanded is U. The error says that the two
// cannot be held together.
func find(t *Tally, e *estimate, c combined, expanded float64) (*Finding, error) {
	f := &Finding{Sold: t.Sold.Quantity, Apart: t.Apart, Look: t.Look, Alpha: firstAlpha}
	if t.Look > 1 {
		f.Alpha = laterAlpha
	}
	f.Due = f.Sold.Volume - f.Apart.Quantity.Volume
	basis := t.Stack.Basis()
	if err := checkBases(t, basis); err != nil {
		return nil, err
	}
	switch {
	case f.Sold.Basis != basis:
		f.expect(basis, e, expanded)
	case basis == Loose && t.LooseCord == 0:
		f.expectSame(e, expanded)
	default:
		f.decide(t, e, c)
	}
	return f, nil
}

// checkBases refuses bases that nothing crosses.
func checkBases(t *Tally, basis Basis) error {
	sold, apart := t.Sold.Quantity, t.Apart.Quantity
	switch {
	case sold.Volume <= 0:
		return unfit("sold", "too-small", "", Say("what was sold is not above 0"), Say("a quantity such as 1 cord"))
	case apart.Volume < 0:
		return unfit("apart", "negative", "", Say("wood that is elsewhere is 0 or more"), Say("“none”, or a quantity"))
	case apart.Volume > 0 && apart.Basis != sold.Basis:
		return unfit("apart", "basis", "", Say("wood that is elsewhere is given as %s, but the sale as %s; the two do not add",
			string(apart.Basis), string(sold.Basis)), Say("the same kind of measure as the sale"))
	case sold.Basis != basis && (sold.Basis == Container || basis == Container):
		return unfit("sold", "basis", "", Say("wood sold as %s cannot be held against wood measured as %s",
			string(sold.Basis), string(basis)), Say("a quantity on the basis that was measured"))
	case sold.Basis != Ranked && sold.Basis != Loose && sold.Basis != Container:
		return unfit("sold", "basis", "", Say("the sale does not say how the wood stands"), Say("ranked, loose or in a container"))
	}
	return nil
}

// decide gives one of the four findings. It compares whole nanolitres, so that the
// word can be read off Due, ShortAbove, FullBelow and Margin.
func (f *Finding) decide(t *Tally, e *estimate, c combined) {
	due := float64(f.Due) / float64(CubicInch)
	reach := studentQuantile(1-f.Alpha, c.degrees) * c.u
	f.Probability = studentCDF((e.value-due)/c.u, c.degrees)
	f.Margin = volume(e.value) - f.Due
	f.ShortAbove = volume(e.wholeCribs + reach)
	f.FullBelow = volume(e.withoutCribs - reach)
	f.allow(t, e, c)
	switch {
	case f.ShortOf() >= f.ShortAbove && f.Apart.Answered:
		f.Word = Short
	case f.Due <= f.FullBelow:
		f.Word = Full
	case f.Margin < 0:
		f.Word = Unresolved
	default:
		f.Word = NoShortage
		f.CannotRuleOut = f.hiddenShortage(volume(reach))
	}
	f.explain(t)
}

// hiddenShortage is S − V + t₁₋α·u. Where only the cribs keep a finding from being
// full that is no shortage at all, and it is taken with no crib counted.
func (f *Finding) hiddenShortage(reach Volume) *Volume {
	hidden := reach - f.Margin
	if hidden <= 0 {
		hidden = f.Due - f.FullBelow
	}
	return &hidden
}

// explain says in a few lines why the word is what it is.
func (f *Finding) explain(t *Tally) {
	f.Why = append(make([]Text, 0, 5), f.reason())
	if f.Due != f.Sold.Volume {
		f.Why = append(f.Why, Say("Of the %s sold, %s is said to be elsewhere; %s should stand here.",
			f.Sold, f.Apart.Quantity, f.Due))
	}
	if f.Drying != nil {
		f.Why = append(f.Why, f.Drying.Working...)
	}
	if f.Sold.Basis == Loose {
		f.Why = append(f.Why, Say("The rules of the sale define loose measure: a loose cord is %s.", t.LooseCord))
	}
	if f.Word == Unresolved {
		f.explainHeldBack()
	}
	if f.Word == NoShortage && f.Probability >= 1-f.Alpha {
		f.Why = append(f.Why, Say("It is not called full, because with no crib counted it would not be."))
	}
	if t.By == Seller && f.Word != Full {
		f.Why = append(f.Why, moreToFull(f.Sold.Basis, f.Due-f.FullBelow))
	}
	if f.Look > 1 {
		f.Why = append(f.Why, Say("This is look %d at the delivery; P is held against %.3g, not %.3g, because measuring until the answer pleases is not measuring.",
			f.Look, f.Alpha, firstAlpha))
	}
}

// moreToFull says how much more wood would make a finding full.
func moreToFull(basis Basis, more Volume) Text {
	if basis == Ranked {
		return Say("About %s more ranked wood would make it full.", more)
	}
	return Say("About %s more wood, measured in the same way, would make it full.", more)
}

// explainHeldBack says what kept a shortage from being called one.
func (f *Finding) explainHeldBack() {
	if f.Probability <= f.Alpha && f.Due < f.ShortAbove {
		f.Why = append(f.Why, Say("It is not called short, because with every crib counted as ranked wood it would not be."))
	}
	if f.Due >= f.ShortAbove && f.ShortOf() < f.ShortAbove {
		f.Why = append(f.Why, Say("It is not called short, because drying may account for what is missing."))
	}
	if f.ShortOf() >= f.ShortAbove && !f.Apart.Answered {
		f.Why = append(f.Why, Say("It is not called short, because it was not said whether any of this delivery is elsewhere."))
	}
}

func (f *Finding) reason() Text {
	switch f.Word {
	case Short:
		return Say("Less stands here than is due, by more than the readings’ doubt (%s).", probability(f.Probability))
	case Unresolved:
		return Say("Less stands here than is due, by %s, but the readings cannot tell it from enough (%s).", -f.Margin, probability(f.Probability))
	case NoShortage:
		return Say("At least as much stands here as is due, but a shortage of up to %s cannot be ruled out (%s).", *f.CannotRuleOut, probability(f.Probability))
	}
	return Say("More stands here than is due, by more than the readings’ doubt (%s).", probability(f.Probability))
}

// probability is P to four decimals; what rounds to 0 or 1 there is said to be beyond.
func probability(p float64) Text {
	switch {
	case p < 0.00005:
		return Say("P < 0.0001")
	case p >= 0.99995:
		return Say("P > 0.9999")
	}
	return Say("P = %.4f", p)
}
