package orders

import (
	"context"

	"wellstowed/orders/act"
	"wellstowed/orders/journal"
)

// Journaled is a kind of thing whose history is shown.
type Journaled string

// The kinds.
const (
	OrderJournal    Journaled = "order"
	CustomerJournal Journaled = "customer"
	AuditJournal    Journaled = "audit"
)

// JournalStore reads the journal.
type JournalStore interface {
	// JournalOf gives the acts that changed something or were about it, newest first.
	JournalOf(kind Journaled, id string) ([]journal.Line, error)
	// JournaledID is the id of an order or audit by its number; NotFound without one.
	JournaledID(kind Journaled, number int64) (string, error)
}

// Journal gives who did what to something, newest first; NotFound where nothing was ever
// written of it.
func (s *Service) Journal(ctx context.Context, who act.Actor, kind Journaled, id string) (lines []journal.Line, err error) {
	may := act.ToRead
	if kind == AuditJournal {
		may = act.ToAudit
	}
	if err := act.Allow(who, may); err != nil {
		return nil, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		lines, err = tx.JournalOf(kind, id)
		return err
	})
	if err == nil && len(lines) == 0 {
		err = act.NewNotFound("nothing is written down of that")
	}
	return lines, act.Fail(err)
}

// JournaledID is the id of an order or audit by its number.
func (s *Service) JournaledID(ctx context.Context, who act.Actor, kind Journaled, number int64) (id string, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return "", err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		id, err = tx.JournaledID(kind, number)
		return err
	})
	return id, act.Fail(err)
}
