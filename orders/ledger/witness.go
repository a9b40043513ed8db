package ledger

import (
	"context"
	"errors"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Paper is what kind of paper is witnessed.
type Paper string

// The papers that are witnessed.
const (
	Receipt Paper = "receipt"
	Sheet   Paper = "sheet"
	// Journal stands for the journal up to one write: its number, time and chain, and in
	// the place of a PDF's hash that of the rows it changed.
	Journal Paper = "journal"
)

// A Line is what a witness knows of one paper.
type Line struct {
	Paper   Paper
	Number  int64
	Issued  time.Time // UTC, whole microseconds
	Chain   string    // hex
	Seal    string    // empty for sheets, which have none
	PDFHash string    // SHA-256, hex
	At      int       // the line of the witness it stands on, from 1; 0 of one that is not in it
}

// A Witness keeps what was issued outside the database, oldest first. Lines are
// only ever added.
type Witness interface {
	// Lines are all that can be told; Conflict where one cannot be understood.
	Lines() ([]Line, error)
	// Append adds lines and makes them last.
	Append(lines []Line) error
}

// Papers are those of a transaction.
type Papers interface {
	// WitnessLines are what a witness is told of the papers with numbers above after,
	// in order.
	WitnessLines(paper Paper, after int64) ([]Line, error)
	// JournalLine is what a witness is told of the journal up to a write, 0 the newest;
	// the zero Line where that write isn't there.
	JournalLine(write int64) (Line, error)
}

// Extend writes to a witness what it lacks, once its last lines, or all of them, were
// held against the database: Conflict where they do not agree, and it is left as it is.
// The store's lock on writing is held meanwhile, so that programs that share a database
// add to it in order, and nothing twice.
func Extend[T Papers](ctx context.Context, store act.Store[T], w Witness, all bool) error {
	return store.Write(ctx, func(tx T) error {
		lines, err := Unwitnessed(tx, w, all)
		if err != nil {
			return err
		}
		head, err := unheard(tx, w, all)
		if lines = append(lines, head...); err != nil || len(lines) == 0 {
			return err
		}
		return w.Append(lines)
	})
}

// journalTold is how long after it was last told of the journal a witness is told again
// with a paper, besides at each catching up.
const journalTold = 24 * time.Hour

// unheard is what the witness is told of the journal, once the last it was told, or all of
// it, was held against the journal; nothing where that did not go on.
func unheard(tx Papers, w Witness, all bool) ([]Line, error) {
	known, err := w.Lines()
	if err != nil {
		return nil, err
	}
	then := ofPaper(known, Journal)
	if !all && len(then) > 0 {
		then = then[len(then)-1:]
	}
	for _, l := range then {
		now, err := tx.JournalLine(l.Number)
		if err != nil {
			return nil, err
		}
		if !l.says(now) {
			return nil, act.NewConflict("line %d has another journal up to write %d than the database, which is an older copy or was changed outside the program.", l.At, int(l.Number))
		}
	}
	head, err := tx.JournalLine(0)
	if err != nil || head.Number == 0 || len(then) > 0 && then[len(then)-1].Number >= head.Number {
		return nil, err
	}
	if !all && (len(then) == 0 || head.Issued.Sub(then[0].Issued) < journalTold) {
		return nil, nil
	}
	return []Line{head}, nil
}

// Unwitnessed are the lines that the witness lacks, once its last lines, or all of
// them, were held against the database.
func Unwitnessed(tx Papers, w Witness, all bool) (lacking []Line, err error) {
	known, err := w.Lines()
	if err != nil {
		return nil, err
	}
	for _, paper := range []Paper{Receipt, Sheet} {
		then := ofPaper(known, paper)
		if !all && len(then) > 0 {
			then = then[len(then)-1:]
		}
		var from int64 = 1
		if len(then) > 0 && !all {
			from = then[0].Number
		}
		now, err := tx.WitnessLines(paper, from-1)
		if err != nil {
			return nil, err
		}
		for i, l := range then {
			if i > 0 && l.Number <= then[i-1].Number {
				return nil, act.NewConflict("line %d has %s %d out of order, or twice.", l.At, measure.Say(string(paper)), int(l.Number))
			}
			if i == len(now) || !l.says(now[i]) {
				return nil, otherwise(l, now[i:])
			}
		}
		lacking = append(lacking, now[len(then):]...)
	}
	return lacking, nil
}

func ofPaper(lines []Line, paper Paper) (of []Line) {
	for _, l := range lines {
		if l.Paper == paper {
			of = append(of, l)
		}
	}
	return of
}

// says tells whether two lines say the same, wherever they stand.
func (l Line) says(other Line) bool {
	l.At, other.At = 0, 0
	return l == other
}

// otherwise says what the database has in place of a line.
func otherwise(l Line, now []Line) error {
	paper, n := string(l.Paper), int(l.Number)
	switch {
	case len(now) == 0 || now[0].Number > l.Number:
		return act.NewConflict("line %d has %s %d, which is not in the database.", l.At, paper, n)
	case now[0].Number < l.Number:
		return act.NewConflict("line %d has %s %d, and no line before it has %s %d.", l.At, paper, n, paper, int(now[0].Number))
	case now[0].Chain != l.Chain:
		return act.NewConflict("line %d has another chain of %s %d than the database.", l.At, paper, n)
	case now[0].PDFHash != l.PDFHash:
		return act.NewConflict("line %d has another PDF of %s %d than the database.", l.At, paper, n)
	}
	return act.NewConflict("line %d has another seal or time of issue of %s %d than the database.", l.At, paper, n)
}

// Fault words an error of the witness.
func Fault(err error) measure.Text {
	var e *act.Error
	if errors.As(err, &e) && e.Kind == act.Conflict {
		return measure.Say("The witness file and the database do not agree, so nothing more is written to it. What is issued holds. The first difference: %s", e.Message)
	}
	return measure.Say("The witness file cannot be read or written: %s. What is issued holds, and is written to it once it is there again.", err.Error())
}
