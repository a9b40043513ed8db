package orders

import (
	"context"
	"errors"
	"time"

	"wellstowed/measure"
)

// A WitnessedPaper is what kind of paper a line of a witness speaks of.
type WitnessedPaper string

// The papers that are witnessed.
const (
	ReceiptPaper WitnessedPaper = "receipt"
	SheetPaper   WitnessedPaper = "sheet"
)

// A WitnessLine is what a witness knows of one paper.
type WitnessLine struct {
	Paper   WitnessedPaper
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
	Lines() ([]WitnessLine, error)
	// Append adds lines and makes them last.
	Append(lines []WitnessLine) error
}

// WitnessedBy gives the witness that each paper is written to once it is issued.
func WitnessedBy(w Witness) Option { return func(s *Service) { s.witness = w } }

// CatchUp holds all of the witness against the database and writes to it what was
// issued and is not in it yet. Conflict says that the two do not agree, or that the
// witness cannot be understood: it is then left as it is. Any other error says that
// it cannot be read or written. What is issued stands in either case.
func (s *Service) CatchUp(ctx context.Context, who Actor) error {
	if err := allow(who, toDeliver); err != nil || s.witness == nil {
		return err
	}
	return s.extendWitness(ctx, true)
}

// extendWitness writes what the witness lacks. The store's lock on writing is held
// meanwhile, so that programs that share a database add to it in order, and nothing
// twice.
func (s *Service) extendWitness(ctx context.Context, all bool) error {
	return s.store.Write(ctx, func(tx Tx) error {
		lines, err := s.unwitnessed(tx, all)
		if err != nil || len(lines) == 0 {
			return err
		}
		return s.witness.Append(lines)
	})
}

// Witnessed tells whether there is a witness.
func (s *Service) Witnessed() bool { return s.witness != nil }

// WitnessTrouble says what the witness lacks and why, the zero Text for nothing.
func (s *Service) WitnessTrouble(ctx context.Context) measure.Text {
	if s.witness == nil {
		return measure.Text{}
	}
	var lines []WitnessLine
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		lines, err = s.unwitnessed(tx, false)
		return err
	})
	if err != nil {
		return WitnessFault(err)
	}
	if len(lines) > 0 {
		return measure.Say("The witness file lacks what was issued last, from %s %d on. The papers stand; they are written to it at the next issue or start.",
			string(lines[0].Paper), int(lines[0].Number))
	}
	return measure.Text{}
}

// WitnessFault words an error of the witness.
func WitnessFault(err error) measure.Text {
	var e *Error
	if errors.As(err, &e) && e.Kind == Conflict {
		return measure.Say("The witness file and the database do not agree, so nothing more is written to it. What is issued stands. The first difference: %s", e.Message)
	}
	return measure.Say("The witness file cannot be read or written: %s. What is issued stands, and is written to it once it is there again.", err.Error())
}

// unwitnessed are the lines that the witness lacks, once its last lines, or all of
// them, were held against the database.
func (s *Service) unwitnessed(tx Tx, all bool) (lacking []WitnessLine, err error) {
	known, err := s.witness.Lines()
	if err != nil {
		return nil, err
	}
	for _, paper := range []WitnessedPaper{ReceiptPaper, SheetPaper} {
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
				return nil, conflict("line %d has %s %d out of order, or twice.", l.At, string(paper), int(l.Number))
			}
			if i == len(now) || !l.says(now[i]) {
				return nil, otherwise(l, now[i:])
			}
		}
		lacking = append(lacking, now[len(then):]...)
	}
	return lacking, nil
}

func ofPaper(lines []WitnessLine, paper WitnessedPaper) (of []WitnessLine) {
	for _, l := range lines {
		if l.Paper == paper {
			of = append(of, l)
		}
	}
	return of
}

// says tells whether two lines say the same, wherever they stand.
func (l WitnessLine) says(other WitnessLine) bool {
	l.At, other.At = 0, 0
	return l == other
}

// otherwise says what the database has in place of a line.
func otherwise(l WitnessLine, now []WitnessLine) error {
	paper, n := string(l.Paper), int(l.Number)
	switch {
	case len(now) == 0 || now[0].Number > l.Number:
		return conflict("line %d has %s %d, which is not in the database.", l.At, paper, n)
	case now[0].Number < l.Number:
		return conflict("line %d has %s %d, and no line before it has %s %d.", l.At, paper, n, paper, int(now[0].Number))
	case now[0].Chain != l.Chain:
		return conflict("line %d has another chain of %s %d than the database.", l.At, paper, n)
	case now[0].PDFHash != l.PDFHash:
		return conflict("line %d has another PDF of %s %d than the database.", l.At, paper, n)
	}
	return conflict("line %d has another seal or time of issue of %s %d than the database.", l.At, paper, n)
}

// bearWitness writes to the witness after a paper was issued. The paper stands
// whatever comes of it; WitnessTrouble says so where people look.
func (s *Service) bearWitness(ctx context.Context) {
	if s.witness != nil {
		_ = s.extendWitness(context.WithoutCancel(ctx), false)
	}
}

// Newest is the last receipt as its seal is copied down; the zero WitnessLine where
// none was issued yet.
func (s *Service) Newest(ctx context.Context, who Actor) (newest WitnessLine, err error) {
	if err := allow(who, toRead); err != nil {
		return newest, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		last, err := tx.LastNumber(ReceiptNumbers)
		if err != nil || last == 0 {
			return err
		}
		lines, err := tx.WitnessLines(ReceiptPaper, last-1)
		if len(lines) > 0 {
			newest = lines[0]
		}
		return err
	})
	return newest, fail(err)
}
