package orders

import "wellstowed/measure"

// A Testimony is a witness that was read, to hold the papers against.
type Testimony struct {
	lines map[WitnessedPaper]map[int64]WitnessLine
	torn  []measure.Text
}

// Testify takes lines of a witness. Two different lines of one paper are a fault.
func Testify(lines []WitnessLine) *Testimony {
	t := &Testimony{lines: map[WitnessedPaper]map[int64]WitnessLine{ReceiptPaper: {}, SheetPaper: {}}}
	for _, l := range lines {
		if before, twice := t.lines[l.Paper][l.Number]; twice && before != l {
			t.torn = append(t.torn, measure.Say("%s %d: the witness file has two lines of it that differ", string(l.Paper), int(l.Number)))
			continue
		}
		t.lines[l.Paper][l.Number] = l
	}
	return t
}

// last is the highest number of a paper that is testified, 0 for none.
func (t *Testimony) last(p WitnessedPaper) (n int64) {
	for number := range t.lines[p] {
		n = max(n, number)
	}
	return n
}

// witnessed holds a paper as it is now against the witness.
func (v *verifier) witnessed(now WitnessLine) {
	if v.witness == nil {
		return
	}
	then, known := v.witness.lines[now.Paper][now.Number]
	paper, n := string(now.Paper), int(now.Number)
	switch {
	case !known && now.Number > v.witness.last(now.Paper):
		v.found.Notes = append(v.found.Notes, measure.Say("%s %d is not in the witness file yet", paper, n))
		return
	case !known:
		v.fault("%s %d: it is not in the witness file, which goes on after it", paper, n)
		return
	}
	if then.Chain != now.Chain || then.Seal != now.Seal {
		v.fault("%s %d: the witness file has another chain of it: it, or one before it, was rewritten after it was issued", paper, n)
	}
	if !then.Issued.Equal(now.Issued) {
		v.fault("%s %d: the witness file has another time of issue", paper, n)
	}
	if then.PDFHash != now.PDFHash {
		v.fault("%s %d: the witness file has another PDF of it", paper, n)
	}
}

// unheard names what the witness knows beyond the last paper.
func (v *verifier) unheard(p WitnessedPaper, last int64) {
	if v.witness == nil || v.witness.last(p) <= last {
		return
	}
	v.faultRange(string(p), last+1, v.witness.last(p),
		"is in the witness file and not here: the database is an older copy, or it was deleted",
		"are in the witness file and not here: the database is an older copy, or they were deleted")
}
