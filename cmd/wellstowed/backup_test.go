package main

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/disk"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// tamperFile changes a database from outside the program.
func tamperFile(t *testing.T, path, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	_, err = db.Exec(statement)
	require.NoError(t, err)
	require.NoError(t, db.Close())
}

func copiesIn(t *testing.T, folder, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(folder, pattern))
	require.NoError(t, err)
	return found
}

// A backup takes along what belongs to the database, is read back, and the newest few stay.
func TestBackupIsCheckedAndTheNewestStay(t *testing.T) {
	dir, to := t.TempDir(), t.TempDir()
	db, file := filepath.Join(dir, "shop.db"), filepath.Join(dir, "witness.txt")
	makeShop(t, db)
	require.Equal(t, exitDone, served(t, "--db", db, "--witness", file).code)
	require.NoError(t, os.WriteFile(db+".ca.key", []byte("key"), 0o600))
	clock := time.Now()
	backup := func(args ...string) ran {
		clock = clock.Add(time.Hour)
		return programAt(t, clock, append([]string{"backup", "--db", db, "--to", to}, args...)...)
	}
	first := backup("--witness", file)
	require.Equal(t, exitDone, first.code, first.err)
	assert.Contains(t, first.out, "It was read back whole.")
	made := copiesIn(t, to, "shop-*.db")
	require.Len(t, made, 1)
	assert.FileExists(t, made[0]+".ca.key")
	assert.FileExists(t, made[0]+".witness")
	assert.NoFileExists(t, made[0]+".ca.crt", "there was none")
	v := program(t, "", "verify", "--db", made[0], "--witness", made[0]+".witness")
	assert.Equal(t, exitDone, v.code, v.out)

	require.NoError(t, os.WriteFile(filepath.Join(to, "shop-notes.db"), nil, 0o600))
	require.Equal(t, exitDone, backup().code)
	third := backup("--keep", "2")
	require.Equal(t, exitDone, third.code, third.err)
	assert.NoFileExists(t, made[0])
	assert.NoFileExists(t, made[0]+".ca.key", "what lies beside a copy goes with it")
	assert.Len(t, copiesIn(t, to, "shop-2*.db"), 2)
	assert.FileExists(t, filepath.Join(to, "shop-notes.db"), "somebody else’s file stays")
	assert.Equal(t, exitRefused, backup("--keep", "-1").code)
}

// A copy that does not agree is kept under a name that says so, and none goes for it.
func TestABackupOfAChangedShopIsNamed(t *testing.T) {
	dir, to := t.TempDir(), t.TempDir()
	db := filepath.Join(dir, "shop.db")
	makeShop(t, db)
	require.Equal(t, exitDone, programAt(t, time.Now().Add(-time.Hour), "backup", "--db", db, "--to", to).code)
	tamperFile(t, db, `UPDATE receipts SET facts = x'7b7d' WHERE number = 1`)
	r := program(t, "", "backup", "--db", db, "--to", to, "--keep", "1")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.out, "receipt 1: its facts are not those that were issued")
	assert.Len(t, copiesIn(t, to, "*.faulty.db"), 1)
	assert.Len(t, copiesIn(t, to, "shop-*Z.db"), 1, "the good one stays")
}

func TestBackupSaysWhatIsWrong(t *testing.T) {
	dir := t.TempDir()
	db := filepath.Join(dir, "shop.db")
	makeShop(t, db)
	gone := program(t, "", "backup", "--db", db, "--to", filepath.Join(dir, "stick"))
	assert.Equal(t, exitFailed, gone.code)
	assert.Contains(t, gone.err, "see whether its disk is in")
	assert.NoDirExists(t, filepath.Join(dir, "stick"))
	assert.Equal(t, exitRefused, program(t, "", "backup", "--db", filepath.Join(dir, "none.db"), "--to", dir).code)
}

// What the witness has and the copy lacks is named when it is restored, and no file is
// written over.
func TestRestoreNamesWhatIsLacking(t *testing.T) {
	dir, to := t.TempDir(), t.TempDir()
	db, file := filepath.Join(dir, "shop.db"), filepath.Join(dir, "witness.txt")
	makeShop(t, db)
	require.NoError(t, os.WriteFile(db+".ca.crt", []byte("certificate"), 0o600))
	require.Equal(t, exitDone, served(t, "--db", db, "--witness", file).code)
	require.Equal(t, exitDone, program(t, "", "backup", "--db", db, "--to", to).code)
	copied := copiesIn(t, to, "shop-*.db")[0]

	restored := filepath.Join(dir, "restored.db")
	r := program(t, "", "restore", "--from", copied, "--db", restored, "--witness", file)
	require.Equal(t, exitDone, r.code, r.out+r.err)
	assert.Contains(t, r.out, "it holds every paper that the witness file knows")
	assert.FileExists(t, restored+".ca.crt")
	again := program(t, "", "restore", "--from", copied, "--db", restored)
	assert.Equal(t, exitRefused, again.code)
	assert.Contains(t, again.err, "is left as it is")

	content, err := os.ReadFile(file)
	require.NoError(t, err)
	more := filepath.Join(dir, "more.txt")
	require.NoError(t, os.WriteFile(more, content, 0o600))
	lines := strings.Split(string(content), "\n")
	var last string
	for _, line := range lines {
		if strings.HasPrefix(line, "receipt ") {
			last = line
		}
	}
	parts := strings.Split(last, " ")
	n, err := strconv.Atoi(parts[1])
	require.NoError(t, err)
	n++
	parts[1] = strconv.Itoa(n)
	require.NoError(t, os.WriteFile(file, []byte(strings.Join(append(lines[:len(lines)-1], strings.Join(parts, " ")+"\n"), "\n")), 0o600))
	lacking := program(t, "", "restore", "--from", copied, "--db", filepath.Join(dir, "lacking.db"), "--witness", file)
	assert.Equal(t, exitFailed, lacking.code)
	require.Equal(t, exitDone, served(t, "--db", db, "--witness", more).code)
	written := program(t, "", "restore", "--from", copied, "--db", filepath.Join(dir, "written.db"), "--witness", more)
	assert.Equal(t, exitFailed, written.code)
	assert.Contains(t, written.out, "the database is an older copy, or writes were taken out of it", "what is on no paper is missed as well")
	assert.Contains(t, lacking.out, "receipt "+strconv.Itoa(n)+" is in the witness file and not here: the database is an older copy")
}

// A copy without its log is restored only where that is asked for.
func TestRestoreOfACopyWithoutItsLog(t *testing.T) {
	dir := t.TempDir()
	db := filepath.Join(dir, "shop.db")
	makeShop(t, db)
	open, err := store.Open(context.Background(), db)
	require.NoError(t, err)
	copied := filepath.Join(dir, "copied.db")
	require.NoError(t, disk.CopyFile(db, copied))
	require.NoError(t, open.Close())

	v := program(t, "", "verify", "--db", copied)
	assert.Equal(t, exitFailed, v.code)
	assert.Contains(t, v.out, "its log is not beside it")
	assert.Equal(t, exitFailed, program(t, "", "serve", "--db", copied, "--listen", "127.0.0.1:0").code)
	restored := filepath.Join(dir, "restored.db")
	refused := program(t, "", "restore", "--from", copied, "--db", restored)
	assert.Equal(t, exitRefused, refused.code)
	assert.NoFileExists(t, restored)
	r := program(t, "", "restore", "--from", copied, "--db", restored, "--without-log")
	assert.Equal(t, exitDone, r.code, r.out+r.err)
	assert.Equal(t, exitDone, program(t, "", "verify", "--db", restored).code)
}

// While it is served, a copy is made as soon as the newest is older than it should be, and
// is written down.
func TestBackupsWhileServing(t *testing.T) {
	dir, to := t.TempDir(), t.TempDir()
	path := filepath.Join(dir, "shop.db")
	makeShop(t, path)
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	defer db.Close()
	now := time.Now().UTC().Truncate(time.Second)
	m := machine{clock: func() time.Time { return now }}
	timer, err := m.backupTimer(serveFlags{db: path, every: 6 * time.Hour, backup: backupFlags{to: to, keep: 2}}, db)
	require.NoError(t, err)
	painter, err := receipts.New()
	require.NoError(t, err)
	timer.service = orders.New(db, painter, m.clock)
	assert.Zero(t, timer.due())
	require.NoError(t, timer.make(t.Context(), ""))
	assert.Equal(t, 6*time.Hour, timer.due())
	now = now.Add(4 * time.Hour)
	assert.Equal(t, 2*time.Hour, timer.due())
	now = now.Add(4 * time.Hour)
	assert.Zero(t, timer.due())
	now = now.Add(-100 * time.Hour)
	assert.Equal(t, 6*time.Hour, timer.due(), "a clock that was set back doesn’t hold backups off")
	made, err := timer.service.Backups(t.Context(), atTheTerminal(), 5)
	require.NoError(t, err)
	require.Len(t, made, 1)
	assert.FileExists(t, made[0].Path)
	for _, refused := range [][]string{
		{"serve", "--demo", "--backup-to", to},
		{"serve", "--db", path, "--backup-to", to, "--backup-every", "1s"},
		{"serve", "--db", path, "--backup-to", to, "--backup-keep", "-1"},
	} {
		assert.Equal(t, exitRefused, program(t, "", refused...).code, refused)
	}
}

// loaded takes orders from several hands at once until it is stopped, and keeps those that
// were answered.
type loaded struct {
	mu   sync.Mutex
	took []string
}

func (l *loaded) answered() []string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return append([]string(nil), l.took...)
}

func (l *loaded) take(ctx context.Context, s *orders.Service) error {
	r := orders.OrderRequest{CustomerName: "Ada Moss", Quantity: "1 cord", PriceTotal: "280", PieceLength: "16 in"}
	for ctx.Err() == nil {
		by := act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}
		said, err := s.ReadBack(ctx, by.Actor, r)
		if err != nil {
			return err
		}
		r.Confirmed = said.Confirm
		o, err := s.TakeOrder(ctx, by, r)
		if err != nil {
			return err
		}
		l.mu.Lock()
		l.took = append(l.took, o.ID)
		l.mu.Unlock()
	}
	return nil
}

// Copies made while orders are taken hold each order that was answered before they began.
func TestBackupUnderLoadLacksNothingAnswered(t *testing.T) {
	dir, to := t.TempDir(), t.TempDir()
	path := filepath.Join(dir, "shop.db")
	makeShop(t, path)
	db, err := store.Open(context.Background(), path)
	require.NoError(t, err)
	painter, err := receipts.New()
	require.NoError(t, err)
	service := orders.New(db, painter, time.Now)
	ctx, stop := context.WithCancel(context.Background())
	var l loaded
	var hands sync.WaitGroup
	faults := make(chan error, 4)
	for range cap(faults) {
		hands.Go(func() {
			err := l.take(ctx, service)
			if ctx.Err() != nil {
				err = ctx.Err() // a write that was stopped halfway may say so in other words
			}
			faults <- err
		})
	}
	m := machine{clock: time.Now}
	keeper := m.keeper(path, backupFlags{to: to})
	at := time.Now()
	for n := range 5 {
		keeper.Now = func() time.Time { return at.Add(time.Duration(n) * time.Second) }
		before := l.answered()
		made, err := keeper.Make(context.Background(), db)
		require.NoError(t, err)
		require.Empty(t, made.Faults)
		held := map[string]bool{}
		require.NoError(t, m.withShopToRead(context.Background(), made.Path, func(s services) error {
			for _, id := range before {
				h, err := s.History(context.Background(), atTheTerminal(), id)
				if err != nil {
					return err
				}
				held[h.Order.ID] = true
			}
			return nil
		}))
		require.Len(t, held, len(before))
	}
	stop()
	hands.Wait()
	for range cap(faults) {
		if err := <-faults; !errors.Is(err, context.Canceled) {
			require.NoError(t, err)
		}
	}
	require.NotEmpty(t, l.answered(), "orders were taken meanwhile")
	require.NoError(t, db.Close())
}
