package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// WitnessedBy gives the witness that each paper is written to once it is issued.
func WitnessedBy(w ledger.Witness) Option { return func(s *Service) { s.witness = w } }

// CatchUp holds all of the witness against the database and writes to it what was
// issued and is not in it yet. Conflict says that the two do not agree, or that the
// witness cannot be understood: it is then left as it is. Any other error says that
// it cannot be read or written. What is issued stands in either case.
func (s *Service) CatchUp(ctx context.Context, who act.Actor) error {
	if err := act.Allow(who, act.ToDeliver); err != nil || s.witness == nil {
		return err
	}
	return ledger.Extend(ctx, s.store, s.witness, true)
}

// Witnessed tells whether there is a witness.
func (s *Service) Witnessed() bool { return s.witness != nil }

// WitnessTrouble says what the witness lacks and why, the zero Text for nothing.
func (s *Service) WitnessTrouble(ctx context.Context) measure.Text {
	if s.witness == nil {
		return measure.Text{}
	}
	var lines []ledger.Line
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		lines, err = ledger.Unwitnessed(tx, s.witness, false)
		return err
	})
	if err != nil {
		return ledger.Fault(err)
	}
	if len(lines) > 0 {
		return measure.Say("The witness file lacks what was issued last, from %s %d on. The papers hold; they are written to it at the next issue or start.",
			measure.Say(string(lines[0].Paper)), int(lines[0].Number))
	}
	return measure.Text{}
}

// Newest is the last receipt as its seal is copied down; the zero WitnessLine where
// none was issued yet.
func (s *Service) Newest(ctx context.Context, who act.Actor) (newest ledger.Line, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return newest, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		last, err := tx.LastNumber(ReceiptNumbers)
		if err != nil || last == 0 {
			return err
		}
		lines, err := tx.WitnessLines(ledger.Receipt, last-1)
		if len(lines) > 0 {
			newest = lines[0]
		}
		return err
	})
	return newest, act.Fail(err)
}
