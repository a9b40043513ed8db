package proof

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/journal"
	"wellstowed/orders/ledger"
)

// A Journal is what proving needs of the journal.
type Journal interface {
	// WalkJournal holds the journal against itself and every stored row against it, and
	// gives its newest act.
	WalkJournal() (head journal.Act, faults []journal.Fault, err error)
	// JournalActs gives the acts of those ids that are there.
	JournalActs(ids []int64) (map[int64]journal.Act, error)
}

// journal holds all rows against the journal, and the journal against the witness.
func (v *verifier) journal(tx Tx) error {
	head, faults, err := tx.WalkJournal()
	if err != nil {
		return err
	}
	v.found.Writes = head.ID
	for _, f := range faults {
		v.altered(f)
	}
	if v.witness == nil {
		return nil
	}
	ids := make([]int64, len(v.witness.journal))
	for i, l := range v.witness.journal {
		ids[i] = l.Number
	}
	acts, err := tx.JournalActs(ids)
	if err != nil {
		return err
	}
	for _, l := range v.witness.journal {
		v.heard(l, acts)
	}
	if n := len(v.witness.journal); n > 0 && v.witness.journal[n-1].Number > head.ID {
		v.alter("the witness file knows of %d writes and the journal of %d: the database is an older copy, or writes were taken out of it", int(v.witness.journal[n-1].Number), int(head.ID))
	}
	return nil
}

// heard holds an act against a line of the witness.
func (v *verifier) heard(l ledger.Line, acts map[int64]journal.Act) {
	now, here := acts[l.Number]
	if here && (now.Chain != l.Chain || now.Rows != l.PDFHash || !now.At.Equal(l.Issued)) {
		v.alter("the witness file, line %d, has another journal up to write %d, of %s: a write by then was altered, and the journal written again to fit", l.At, int(l.Number), act.DayIn(l.Issued, "UTC").Text())
	}
}

func (v *verifier) alter(key string, args ...any) {
	v.found.Altered = append(v.found.Altered, measure.Say(key, args...))
}

// altered says what does not agree with the journal.
func (v *verifier) altered(f journal.Fault) {
	when := measure.Say("on %s by %s (%s)", act.DayIn(f.Act.At, "UTC").Text(), measure.Say("%s", orItself(f.Act.Person)), measure.Say("%s", f.Act.Verb))
	if f.Act.ID == 0 || f.Act.Verb == journal.Tables {
		when = measure.Say("when the journal began")
	}
	row := measure.Say("%s %s", f.Table, f.Key)
	if f.Number > 0 && f.Table != f.Of+"s" {
		row = measure.Say("%s %d, %s", measure.Say(f.Of), int(f.Number), row)
	} else if f.Number > 0 {
		row = measure.Say("%s %d", measure.Say(f.Of), int(f.Number))
	}
	switch f.Why {
	case journal.Altered:
		if len(f.Fields) == 0 {
			v.alter("%s: it is not as the program wrote it %s", row, when)
			return
		}
		v.alter("%s: %s is not as the program wrote it %s", row, measure.Say("%s", strings.Join(f.Fields, ", ")), when)
	case journal.Unknown:
		v.alter("%s: the program did not write it", row)
	case journal.Missing:
		v.alter("%s: it is gone; the program wrote it %s", row, when)
	case journal.Rewrote:
		v.alter("journal, write %d: it is not as the program wrote it", int(f.Act.ID))
	case journal.Lacks:
		v.faultWrites(f)
	case journal.Astray:
		v.alter("journal: a change of %s belongs to no write", row)
	case journal.Unsalted:
		v.alter("journal: what was written last of %s can’t be held against it, or what it was before still can", row)
	case journal.Unbegun:
		v.alter("the journal was taken out of the file")
	}
}

func (v *verifier) faultWrites(f journal.Fault) {
	if f.To == f.Act.ID {
		v.alter("journal: write %d is gone", int(f.To))
		return
	}
	v.alter("journal: writes %d to %d are gone", int(f.Act.ID), int(f.To))
}

func orItself(person string) string {
	if person == "" {
		return "the program"
	}
	return person
}

// journalOf are a witness's lines of the journal, in order.
func journalOf(lines []ledger.Line) (of []ledger.Line) {
	of = slices.DeleteFunc(slices.Clone(lines), func(l ledger.Line) bool { return l.Paper != ledger.Journal })
	slices.SortStableFunc(of, func(a, b ledger.Line) int { return int(a.Number - b.Number) })
	return of
}
