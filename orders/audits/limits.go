package audits

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// What holds a result back in an audit, besides what the readings themselves do.
const (
	HeldByMoving = stack.HeldByMoving // it was moved, and the seller did not see it since
	HeldByFaces  = stack.HeldByFaces  // the back was neither read nor seen
	HeldByTape   = stack.HeldByTape   // no tape was checked
	HeldByNotice = stack.HeldByNotice // the seller was not told
)

// A Limit is one thing that weakens what an audit can say.
type Limit struct {
	Code stack.Hold   `json:"code"`
	Text measure.Text `json:"text"`          // what weakens it
	Cure measure.Text `json:"cure,omitzero"` // what would lift it; no text: nothing
	// Holds is the word that is not said while this stands; empty where it only weakens.
	Holds stack.Word `json:"holds,omitempty"`
}

// Limits are what weakens an open audit by its evidence, what holds a word back first.
// Nothing in them is of what was read.
func (a Audit) Limits() []Limit {
	var l limits
	l.wood(a)
	l.seller(a)
	l.tapes(a)
	l.measurers(a)
	return l.inOrder()
}

// limitsOf are those of a report: by its evidence, and by what was read and how.
func limitsOf(a Audit, r Report, tallies []stack.Tally) []Limit {
	l := limits(a.Limits())
	l.faces(a, tallies)
	l.stowing(a, tallies)
	if slices.ContainsFunc(r.Measurers, func(m Tally) bool { return m.Procedure.NoResult == nil && !m.Procedure.Complete() }) {
		l.add("procedure", measure.Say("Fewer readings were taken than the inspection procedure asks for."), measure.Text{}, "")
	}
	return l.inOrder()
}

type limits []Limit

func (l *limits) add(code stack.Hold, text, cure measure.Text, holds stack.Word) {
	*l = append(*l, Limit{code, text, cure, holds})
}

// inOrder puts what holds a word back first.
func (l limits) inOrder() []Limit {
	slices.SortStableFunc(l, func(a, b Limit) int {
		switch {
		case a.Holds != "" && b.Holds == "":
			return -1
		case a.Holds == "" && b.Holds != "":
			return 1
		}
		return 0
	})
	return l
}

// wood is what happened to the wood since it came.
func (l *limits) wood(a Audit) {
	ask := measure.Say("Ask how much was used or taken; an estimate with its unit will do. Record it as wood not in the stack.")
	switch used := a.item("used"); {
	case a.usedWithoutAmount():
		l.add(stack.HeldByUse, measure.Say("Some of the wood was used or taken, and it isn’t known how much."), ask, stack.Short)
	case used.Answer == AnswerNotSeen:
		l.add(stack.HeldByUse, measure.Say("It isn’t known whether any of the wood was used or taken."), measure.Say("Find out whether any was, and answer that item."), stack.Short)
	case len(a.Holds) > 0 && !a.Hold().Apart.Answered:
		l.add(stack.HeldByApart, measure.Say("It isn’t known whether any of this delivery is somewhere else."), measure.Say("Ask, and record it as wood not in the stack: none, or how much."), stack.Short)
	}
	if a.Hold().Broken && !a.sellerCame() {
		l.add(HeldByMoving, measure.Say("The wood was moved or used before it was measured, and the seller didn’t see it as it was measured."),
			measure.Say("Ask the seller to see the wood as it is now, and record that he came."), stack.Short)
	}
	if faces := a.item("faces").Answer; len(a.Plans) > 0 && a.Plan().Kind == "rows" && a.Plan().Faces != BothFaces && (faces == AnswerNo || faces == AnswerNotSeen) {
		l.unseenFaces()
	}
}

func (l *limits) unseenFaces() {
	l.add(HeldByFaces, measure.Say("The back of the stack was neither read nor seen."), measure.Say("See the back, or amend the plan and read it."), stack.Short)
}

// faces is what of the stack was neither read nor seen.
func (l *limits) faces(a Audit, tallies []stack.Tally) {
	if len(tallies) == 0 || tallies[0].Stack.Kind() != "rows" || slices.ContainsFunc(tallies, readBehind) {
		return
	}
	known := slices.ContainsFunc(*l, func(x Limit) bool { return x.Code == HeldByFaces })
	switch {
	case known:
	case a.item("faces").Answer == AnswerYes:
		l.add("one face", measure.Say("The back was seen and not read: the front’s heights stand for both."), measure.Text{}, "")
	default:
		l.unseenFaces()
	}
}

// readBehind tells whether every row of a tally has heights of its back.
func readBehind(t stack.Tally) bool {
	rows, ok := t.Stack.(stack.Rows)
	return ok && !slices.ContainsFunc(rows.Rows, func(r stack.Row) bool { return len(r.Back) == 0 })
}

// seller is whether he was told and came.
func (l *limits) seller(a Audit) {
	if n := len(a.Notices); n > 0 && a.Notices[n-1].How == "" {
		l.add(HeldByNotice, measure.Say("The seller wasn’t told."), measure.Say("Tell the seller, give him a time to come, and record it."), stack.Short)
	}
	if n := len(a.Attendances); n > 0 && !a.sellerCame() {
		l.add("attendance", measure.Say("The seller wasn’t there when it was measured."), measure.Text{}, "")
	}
}

func (a Audit) sellerCame() bool {
	n := len(a.Attendances)
	return n > 0 && a.Attendances[n-1].Attended == "yes"
}

// tapes is whether the tapes were checked, of those who have handed in.
func (l *limits) tapes(a Audit) {
	var unchecked []string
	in := 0
	for _, m := range a.Measurers {
		if m.HandedIn.IsZero() {
			continue
		}
		if in++; m.Circumstances.CheckedOn.IsZero() {
			unchecked = append(unchecked, m.Name)
		}
	}
	names := strings.Join(unchecked, ", ")
	switch {
	case len(unchecked) == 0:
	case len(unchecked) == in:
		l.add(HeldByTape, measure.Say("No tape was checked."), measure.Say("Hold the tape against a standard, and hand the readings in again with that."), stack.Short)
	default:
		l.add("one tape", measure.Say("The tape of %s wasn’t checked.", names), measure.Text{}, "")
	}
}

// measurers is who measured: alone, or knowing what was sold.
func (l *limits) measurers(a Audit) {
	if len(a.Plans) > 0 && a.Plan().Measurers == 1 {
		if len(a.Measurers) == 1 && !a.Measurers[0].HandedIn.IsZero() {
			l.add("alone", measure.Say("One person measured: nothing shows a slip of one reading."), measure.Text{}, "")
		} else {
			l.add("alone", measure.Say("The plan is for one measurer: nothing will show a slip of one reading."), measure.Say("Amend the plan for a second."), "")
		}
	}
	for _, m := range a.Measurers {
		if SellerKey(m.Name) == SellerKey(a.OpenedBy) {
			l.add("knew", measure.Say("%s opened the audit, and so knew what was sold while measuring.", m.Name), measure.Text{}, "")
		}
	}
}

// stowing is how the wood is stowed. A loose stack measures more than a tight one, so it
// never holds back short.
func (l *limits) stowing(a Audit, tallies []stack.Tally) {
	const loose = "A loose stack measures more than a tight one: that can’t make a full load look short."
	if !slices.ContainsFunc(tallies, func(t stack.Tally) bool { return t.Stowed != "" }) {
		l.add(stack.HeldByStowing, measure.Say("How tightly it is stowed wasn’t checked. %s", measure.Say(loose)), measure.Text{}, stack.Full)
		return
	}
	looked := func(code stack.Hold, key string) {
		if answer := a.item(string(code)).Answer; answer == AnswerNo || answer == AnswerNotSeen {
			l.add(code, measure.Say(key, measure.Say(loose)), measure.Text{}, stack.Full)
		}
	}
	looked("voids", "The stack wasn’t looked over for gaps that take a piece. %s")
	looked("cribs", "The ends weren’t looked over for criss-cross piling. %s")
}

// item is an item of the checklist by its code; without an answer where there is none.
func (a Audit) item(code string) Item {
	for _, i := range a.Checklist {
		if i.Code == code {
			return i
		}
	}
	return Item{}
}

// usedWithoutAmount tells that wood was used, and nobody said how much.
func (a Audit) usedWithoutAmount() bool {
	used := a.item("used").Answer == AnswerYes || a.Hold().Used
	return used && a.Hold().Apart.Quantity.Volume == 0
}

// holding adds a code to what holds back; use without an amount takes the place of the open
// question it leaves.
func holding(all []stack.Hold, code stack.Hold) []stack.Hold {
	if i := slices.Index(all, stack.HeldByApart); i >= 0 && code == stack.HeldByUse {
		all[i] = code
	}
	if !slices.Contains(all, code) {
		all = append(all, code)
	}
	return all
}

// weigh lets the evidence decide: a word that a limit holds back is not said, and the
// limits' codes stand among what holds it back. Why names them where the readings by
// themselves would have said it.
func weigh(f *stack.Finding, all []Limit) {
	if f == nil || f.Expectation() {
		return
	}
	alone := f.Word == stack.Short || f.Word == stack.Unresolved && slices.Equal(f.HeldBack, []stack.Hold{stack.HeldByApart})
	for _, l := range all {
		switch {
		case l.Holds == stack.Short && (f.Word == stack.Short || f.Word == stack.Unresolved):
			f.HeldBack = holding(f.HeldBack, l.Code)
			f.Word = stack.Unresolved
			if alone && l.Code != stack.HeldByApart { // which the finding says itself
				f.Why = append(f.Why, measure.Say("It isn’t called short: %s", l.Text))
			}
		case l.Holds == stack.Full && f.Word == stack.Full:
			f.Word = stack.NoShortage
			f.HeldFromFull = append(f.HeldFromFull, l.Code)
			f.Why = append(f.Why, measure.Say("It isn’t called full: %s", l.Text))
		}
	}
}
