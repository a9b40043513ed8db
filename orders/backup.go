package orders

import (
	"context"
	"math"
	"sync"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Backup is one that was made and held.
type Backup struct {
	At   time.Time `json:"at"`   // what was saved by then is in it
	Path string    `json:"path"` // as the program that made it calls it
	By   string    `json:"by"`   // who asked for it; empty: the program's own timer
}

// backups is what is known of backups besides those that were made.
type backups struct {
	every time.Duration // how often they are made; 0: nobody makes them by a timer
	make  func(context.Context, string) error

	mu      sync.Mutex
	trouble string // why the last was not made, "" if it was
}

// BackedUp says that backups are made every so often, and how one is made now for a person.
func BackedUp(every time.Duration, make func(ctx context.Context, by string) error) Option {
	return func(s *Service) { s.backups.every, s.backups.make = every, make }
}

// oldBackup is when a backup is old where no timer makes them.
const oldBackup = 7 * 24 * time.Hour

// BackupMade writes down that a backup was made.
func (s *Service) BackupMade(ctx context.Context, who act.Actor, b Backup) error {
	if err := act.Allow(who, act.ToManage); err != nil {
		return err
	}
	s.BackupFailed("")
	return act.Fail(s.store.Write(ctx, func(tx Tx) error { return tx.AddBackup(b) }))
}

// BackupFailed keeps why no backup could be made, until one is.
func (s *Service) BackupFailed(why string) {
	s.backups.mu.Lock()
	defer s.backups.mu.Unlock()
	s.backups.trouble = why
}

// CanBackUp tells whether a backup can be made from here.
func (s *Service) CanBackUp() bool { return s.backups.make != nil }

// BackUp makes a backup now.
func (s *Service) BackUp(ctx context.Context, who act.Actor) error {
	if err := act.Allow(who, act.ToManage); err != nil {
		return err
	}
	if s.backups.make == nil {
		return act.NewConflict("this program was not told where backups go")
	}
	if err := s.backups.make(ctx, who.Person); err != nil {
		s.BackupFailed(err.Error())
		return act.NewConflict("No backup was made: %s", err.Error())
	}
	return nil
}

// Backups are the newest backups that were made, newest first.
func (s *Service) Backups(ctx context.Context, who act.Actor, limit int) (made []Backup, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return nil, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		made, err = tx.Backups(limit)
		return err
	})
	return made, act.Fail(err)
}

// BackupTrouble says that the last backup failed, is old, or that there is none of a shop
// with orders; the zero Text where there is a fresh one.
func (s *Service) BackupTrouble(ctx context.Context) (trouble measure.Text, err error) {
	s.backups.mu.Lock()
	failed, old := s.backups.trouble, s.backups.old()
	s.backups.mu.Unlock()
	if failed != "" {
		return measure.Say("The last backup could not be made: %s", failed), nil
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		made, err := tx.Backups(1)
		if err != nil {
			return err
		}
		if len(made) == 0 {
			last, err := tx.LastNumber(OrderNumbers)
			if last > 0 {
				trouble = measure.Say("There is no backup of this shop yet. If this computer’s disk fails, everything in it is lost.")
			}
			return err
		}
		if age := s.now().Sub(made[0].At); age > old {
			trouble = measure.Say("The last backup is %d days old. What came after it would be lost with this computer’s disk.", int(age/(24*time.Hour)))
			if age < 48*time.Hour {
				trouble = measure.Say("The last backup is %d hours old, and one should have been made since.", int(age/time.Hour))
			}
		}
		return nil
	})
	return trouble, act.Fail(err)
}

// old is the age from which a backup is told of: a week, or two rounds of the timer and an
// hour.
func (b *backups) old() time.Duration {
	if b.every == 0 {
		return oldBackup
	}
	return 2*b.every + time.Hour
}

// A Last is how far a shop's data goes.
type Last struct {
	Order   Order // the zero Order before the first
	Receipt int64 // number; 0 before the first
}

// Last tells how far the data goes.
func (s *Service) Last(ctx context.Context, who act.Actor) (last Last, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return last, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		if last.Receipt, err = tx.LastNumber(ReceiptNumbers); err != nil {
			return err
		}
		newest, err := tx.Orders(math.MaxInt64, 1)
		if len(newest) > 0 {
			last.Order = newest[0]
		}
		return err
	})
	return last, act.Fail(err)
}
