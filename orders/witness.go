package orders

import (
	"context"
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
}

// A Witness keeps what was issued outside the database, oldest first. Lines are
// only ever added.
type Witness interface {
	Lines() ([]WitnessLine, error)
	// Append adds lines and makes them last.
	Append(lines []WitnessLine) error
}

// WitnessedBy gives the witness that each paper is written to once it is issued.
func WitnessedBy(w Witness) Option { return func(s *Service) { s.witness = w } }

// CatchUp writes to the witness what was issued and is not in it yet. It says what
// stands against that, the zero Text for nothing: a paper stands also where it
// could not be witnessed, and is written at the next issue or start. A witness that
// knows more than the database, or another last paper, is left as it is.
func (s *Service) CatchUp(ctx context.Context) measure.Text {
	lines, trouble := s.unwitnessed(ctx)
	if trouble.Key != "" || len(lines) == 0 {
		return trouble
	}
	if err := s.witness.Append(lines); err != nil {
		return unwritten(err)
	}
	return measure.Text{}
}

// WitnessTrouble says what the witness lacks and why, the zero Text for nothing.
func (s *Service) WitnessTrouble(ctx context.Context) measure.Text {
	lines, trouble := s.unwitnessed(ctx)
	if trouble.Key == "" && len(lines) > 0 {
		return measure.Say("The witness file lacks what was issued last, from %s %d on. The papers stand; they are written to it at the next issue or start.",
			string(lines[0].Paper), int(lines[0].Number))
	}
	return trouble
}

func unwritten(err error) measure.Text {
	return measure.Say("The witness file cannot be read or written: %s. What is issued stands, and is written to it once it is there again.", err.Error())
}

// unwitnessed are the lines that the witness lacks.
func (s *Service) unwitnessed(ctx context.Context) ([]WitnessLine, measure.Text) {
	if s.witness == nil {
		return nil, measure.Text{}
	}
	known, err := s.witness.Lines()
	if err != nil {
		return nil, unwritten(err)
	}
	last := map[WitnessedPaper]WitnessLine{}
	for _, line := range known {
		last[line.Paper] = line
	}
	var lacking []WitnessLine
	var against measure.Text
	err = s.store.Read(ctx, func(tx Tx) error {
		for _, paper := range []WitnessedPaper{ReceiptPaper, SheetPaper} {
			lines, err := tx.WitnessLines(paper, max(last[paper].Number-1, 0))
			if err != nil {
				return err
			}
			if before, known := last[paper]; known {
				if len(lines) == 0 || lines[0] != before {
					against = measure.Say("The witness file says otherwise of %s %d than the database, which was changed or is an older copy. Nothing more is written to it: run verify with it.", string(paper), int(before.Number))
					return nil
				}
				lines = lines[1:]
			}
			lacking = append(lacking, lines...)
		}
		return nil
	})
	if err != nil {
		return nil, measure.Say("The witness file could not be held against the database. What is issued stands.")
	}
	if against.Key != "" {
		return nil, against
	}
	return lacking, measure.Text{}
}

// bearWitness writes to the witness after a paper was issued. The paper stands
// whatever comes of it; WitnessTrouble says so where people look.
func (s *Service) bearWitness(ctx context.Context) {
	if s.witness != nil {
		s.CatchUp(context.WithoutCancel(ctx))
	}
}
