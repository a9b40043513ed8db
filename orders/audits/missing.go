package audits

import (
	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Lack is one thing that keeps an open audit from being closed, and the step where it
// is done.
type Lack struct {
	Step Step
	Text measure.Text // in a few words
}

// Missing is what keeps an open audit from being closed.
func (a Audit) Missing() []Lack {
	var all []Lack
	say := func(lacks bool, step Step, key string, args ...any) {
		if lacks {
			all = append(all, Lack{step, measure.Say(key, args...)})
		}
	}
	say(len(a.Notices) == 0, StepNotice, "whether the seller was told")
	say(len(a.Holds) == 0, StepHold, "how the wood was kept")
	say(len(a.Plans) == 0, StepPlan, "the plan")
	if plan := a.Plan(); plan != nil && len(a.Measurers) < plan.Measurers {
		say(true, StepMeasurers, "measurers: %d of %d", len(a.Measurers), plan.Measurers)
	}
	for _, m := range a.Measurers {
		say(m.HandedIn.IsZero(), StepReadings, "the readings of %s", m.Name)
	}
	say(len(a.Attendances) == 0, StepAttendance, "whether the seller came")
	switch open := a.Unanswered(); len(open) {
	case 0:
	case 1:
		say(true, StepChecklist, "one answer: %s", open[0].Question)
	default:
		say(true, StepChecklist, "%d answers of the checklist", len(open))
	}
	apart := a.Hold().Apart
	say(a.usedWithoutAmount() && apart.Answered, StepHold, "how much was used: it says some was, and that none of it is outside the stack")
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
		return act.NewConflict("audit %d can’t be closed yet. One thing missing: %s", int(a.Number), all[0].Text)
	}
	list := all[0].Text
	for _, m := range all[1:] {
		list = measure.Say("%s; %s", list, m.Text)
	}
	return act.NewConflict("audit %d can’t be closed yet. %d things missing: %s", int(a.Number), len(all), list)
}
