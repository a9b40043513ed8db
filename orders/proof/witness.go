package proof

import (
	"wellstowed/measure"
	"wellstowed/orders/ledger"
)

// A Testimony is a witness that was read, to hold the papers against.
type Testimony struct {
	lines map[ledger.Paper]map[int64]ledger.Line
	last  map[ledger.Paper]int64 // the highest number of each kind of paper
	// journal are its lines of the journal, in order.
	journal []ledger.Line
	faults  []measure.Text // what is wrong with it, each with its line
}

// Testify takes the lines of a witness, and what is wrong with others. A line that
// does not follow on the one before it of its kind of paper is a fault; of two lines
// of one paper the first is held against it.
func Testify(lines []ledger.Line, faults ...error) *Testimony {
	t := &Testimony{lines: map[ledger.Paper]map[int64]ledger.Line{ledger.Receipt: {}, ledger.Sheet: {}}, last: map[ledger.Paper]int64{}}
	t.journal = journalOf(lines)
	for _, err := range faults {
		t.faults = append(t.faults, measure.Say("the witness file, %s", err.Error()))
	}
	for _, l := range lines {
		if l.Paper == ledger.Journal {
			continue // its numbers have gaps
		}
		paper, n, last := string(l.Paper), int(l.Number), t.last[l.Paper]
		switch {
		case l.Number <= last:
			t.fault("the witness file, line %d: %s %d is out of order, or twice", l.At, paper, n)
		case l.Number > last+1:
			t.fault("the witness file, line %d: it has %s %d, and no line before it has %s %d", l.At, paper, n, paper, int(last+1))
		}
		if _, twice := t.lines[l.Paper][l.Number]; !twice {
			t.lines[l.Paper][l.Number] = l
		}
		t.last[l.Paper] = max(last, l.Number)
	}
	return t
}

func (t *Testimony) fault(key string, args ...any) {
	t.faults = append(t.faults, measure.Say(key, args...))
}

// witnessed holds a paper as it is now against the witness.
func (v *verifier) witnessed(now ledger.Line) {
	if v.witness == nil {
		return
	}
	then, known := v.witness.lines[now.Paper][now.Number]
	paper, n := string(now.Paper), int(now.Number)
	switch {
	case !known && now.Number > v.witness.last[now.Paper]:
		v.found.Notes = append(v.found.Notes, measure.Say("%s %d is not in the witness file yet", paper, n))
		return
	case !known:
		v.fault("%s %d: it is not in the witness file, which goes on after it", paper, n)
		return
	}
	if then.Chain != now.Chain || then.Seal != now.Seal {
		v.fault("%s %d: the witness file, line %d, has another chain of it: it, or one before it, was rewritten after it was issued", paper, n, then.At)
	}
	if !then.Issued.Equal(now.Issued) {
		v.fault("%s %d: the witness file, line %d, has another time of issue", paper, n, then.At)
	}
	if then.PDFHash != now.PDFHash {
		v.fault("%s %d: the witness file, line %d, has another PDF of it", paper, n, then.At)
	}
}

// unheard names what the witness knows beyond the last paper.
func (v *verifier) unheard(p ledger.Paper, last int64) {
	if v.witness == nil || v.witness.last[p] <= last {
		return
	}
	v.faultRange(string(p), last+1, v.witness.last[p],
		"is in the witness file and not here: the database is an older copy, or it was deleted",
		"are in the witness file and not here: the database is an older copy, or they were deleted")
}
