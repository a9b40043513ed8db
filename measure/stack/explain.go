package stack

import (
	"wellstowed/measure"
	"wellstowed/measure/face"
)

// explain says in a few lines why the word is what it is.
func (f *Finding) explain(t *Tally) {
	f.Why = append(make([]measure.Text, 0, 6), f.reason())
	if f.Due != f.Sold.Volume {
		f.Why = append(f.Why, measure.Say("Of the %s sold, %s is said not to be in this stack; %s should be here.",
			f.Sold, f.Apart.Quantity, f.Due))
	}
	if f.Drying != nil {
		f.Why = append(f.Why, f.Drying.Working...)
	}
	if f.Sold.Basis == measure.Loose {
		f.Why = append(f.Why, measure.Say("The rules of the sale define loose measure: a loose cord is %s.", t.LooseCord))
	}
	if f.Word == Unresolved {
		f.explainHeldBack(t)
	}
	if f.Word == NoShortage {
		f.explainHeldFromFull()
	}
	if t.By == Seller && f.Word != Full && f.Due > f.FullBelow {
		f.Why = append(f.Why, moreToFull(f.Sold.Basis, f.Due-f.FullBelow))
	}
	if f.Look > 1 {
		f.Why = append(f.Why, measure.Say("This is check %d of the delivery; P is held against %.3g, not %.3g, because measuring until the answer pleases is not measuring.",
			f.Look, f.Alpha, firstAlpha))
	}
}

// moreToFull says how much more wood would make a finding full.
func moreToFull(basis measure.Basis, more measure.Volume) measure.Text {
	if basis == measure.Ranked {
		return measure.Say("About %s more ranked wood would make it full.", more)
	}
	return measure.Say("About %s more wood, measured in the same way, would make it full.", more)
}

// explainHeldBack says what kept a shortage from being called one.
func (f *Finding) explainHeldBack(t *Tally) {
	if f.Drying != nil && f.Due >= f.ShortAbove && f.ShortOf() < f.ShortAbove {
		f.Why = append(f.Why, measure.Say("It is not called short, because drying may account for what is missing."))
	}
	for _, by := range f.HeldBack {
		f.Why = append(f.Why, by.text(t))
	}
}

// text says why a hold keeps a shortage from being called one.
func (h Hold) text(t *Tally) measure.Text {
	switch h {
	case HeldByApart:
		return measure.Say("It can’t be called short while it isn’t said whether any of this delivery is not in this stack.")
	case HeldByUse:
		return measure.Say("It can’t be called short: some of this delivery was used, and nobody said how much.")
	case HeldByKind:
		return measure.Say("It can’t be called short while it isn’t said how the pieces lie.")
	case HeldByPieces:
		return measure.Say("It can’t be called short on these pieces: that takes %d measured ones, and no length taken as said.", fitPieces)
	case HeldByHeights:
		if t.Top == ByEye {
			return measure.Say("It can’t be called short on these heights: that takes %d in every row, none of them for more than %.3g of it, and one read by eye may be %s low.",
				fitHeights, fitShare, measure.Length(eyeLow*measure.Inch))
		}
		return measure.Say("It can’t be called short on these heights: that takes %d in every row, none of them for more than %.3g of it.", fitHeights, fitShare)
	case HeldByPhoto:
		return measure.Say("It can’t be called short on this photo: that takes at least %d points of the outline, and sticks at both ends of the row.", face.FitOutline)
	case HeldByRounding:
		return measure.Say("It can’t be called short while it isn’t said how readings between two marks were rounded: each may be half a mark more.")
	}
	return measure.Say("It can’t be called short, because with every crib counted as ranked wood it would not be.")
}

// explainHeldFromFull says what kept a finding from being full.
func (f *Finding) explainHeldFromFull() {
	for _, by := range f.HeldFromFull {
		f.Why = append(f.Why, by.fullText())
	}
}

// fullText says why a hold keeps a finding from being full.
func (h Hold) fullText() measure.Text {
	switch h {
	case HeldByKind:
		return measure.Say("It can’t be called full while it isn’t said how the pieces lie.")
	case HeldByPieces:
		return measure.Say("It can’t be called full on these pieces: that takes %d measured ones, and no length taken as said.", fitPieces)
	case HeldByHeights:
		return measure.Say("It can’t be called full on these heights: that takes %d in every row, none of them for more than %.3g of it.", fitHeights, fitShare)
	case HeldByPhoto:
		return measure.Say("It can’t be called full on this photo: that takes at least %d points of the outline, and sticks at both ends of the row.", face.FitOutline)
	case HeldByRounding:
		return measure.Say("It can’t be called full while it isn’t said how readings between two marks were rounded: each may be half a mark less.")
	case HeldByStowing:
		return measure.Say("It can’t be called full while nobody has looked at how tightly the wood is stowed.")
	case HeldByEnds:
		return measure.Say("It can’t be called full while it isn’t said how every row ends, upright or not.")
	}
	return measure.Say("It is not called full, because with no crib counted it would not be.")
}

func (f *Finding) reason() measure.Text {
	switch f.Word {
	case Short:
		return measure.Say("Less is here than is due, by more than the give or take (%s).", probability(f.Probability))
	case Unresolved:
		if f.Probability <= f.Alpha {
			return measure.Say("Less is here than is due, by %s (%s), but these readings can’t carry an accusation.", -f.Margin, probability(f.Probability))
		}
		return measure.Say("Less is here than is due, by %s, but the readings cannot tell it from enough (%s).", -f.Margin, probability(f.Probability))
	case NoShortage:
		if f.CannotRuleOut == nil {
			return measure.Say("More is here than is due (%s), but these readings can’t show that it is full.", probability(f.Probability))
		}
		return measure.Say("At least as much is here as is due, but a shortage of up to %s cannot be ruled out (%s).", *f.CannotRuleOut, probability(f.Probability))
	}
	return measure.Say("More is here than is due, by more than the give or take (%s).", probability(f.Probability))
}

// probability is P to four decimals; what rounds to 0 or 1 there is said to be beyond.
func probability(p float64) measure.Text {
	switch {
	case p < 0.00005:
		return measure.Say("P < 0.0001")
	case p >= 0.99995:
		return measure.Say("P > 0.9999")
	}
	return measure.Say("P = %.4f", p)
}
