package audits

import (
	"wellstowed/measure"
	"wellstowed/orders/act"
)

// Missing says in a few words each what keeps an open audit from being closed.
func (a Audit) Missing() []measure.Text {
	var all []measure.Text
	say := func(lacks bool, key string, args ...any) {
		if lacks {
			all = append(all, measure.Say(key, args...))
		}
	}
	say(len(a.Notices) == 0, "whether the seller was told")
	say(len(a.Holds) == 0, "how the wood was kept")
	say(len(a.Plans) == 0, "the plan")
	if plan := a.Plan(); plan != nil && len(a.Measurers) < plan.Measurers {
		say(true, "measurers: %d of %d", len(a.Measurers), plan.Measurers)
	}
	for _, m := range a.Measurers {
		say(m.HandedIn.IsZero(), "the readings of %s", m.Name)
	}
	say(len(a.Attendances) == 0, "whether the seller came")
	switch open := a.Unanswered(); len(open) {
	case 0:
	case 1:
		say(true, "one answer: %s", open[0].Question)
	default:
		say(true, "%d answers of the checklist", len(open))
	}
	apart := a.Hold().Apart
	say(a.usedWithoutAmount() && apart.Answered, "how much was used: it says some was, and that none of it is outside the stack")
	return all
}

// missing is an error that names all that keeps an audit from being closed; nil where
// nothing does.
func (a Audit) missing() error {
	all := a.Missing()
	switch len(all) {
	case 0:
		return nil
	case 1:
		return act.NewConflict("audit %d can’t be closed yet. One thing missing: %s", int(a.Number), all[0])
	}
	list := all[0]
	for _, m := range all[1:] {
		list = measure.Say("%s; %s", list, m)
	}
	return act.NewConflict("audit %d can’t be closed yet. %d things missing: %s", int(a.Number), len(all), list)
}
