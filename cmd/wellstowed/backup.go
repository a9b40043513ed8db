package main

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/copies"
	"wellstowed/orders/disk"
	"wellstowed/orders/postgres"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
	"wellstowed/receipts/words"
)

type backupFlags struct {
	to      string
	keep    int
	witness string
}

func (m machine) backupCommand() *cobra.Command {
	var db string
	var f backupFlags
	cmd := &cobra.Command{
		Use:   "backup",
		Short: "Copy the shop's database to a folder, also while it is served, and check the copy",
		Long: "Copies all that is saved, photos too, to a new file in a folder that is there, while the\n" +
			"program may serve on, with the shop's own certificate authority and the witness file beside\n" +
			"it. The copy is read back: every page of the file, and all that verify checks.\n" +
			"A database on a PostgreSQL server is backed up by the server's own means (pg_dump), or by\n" +
			"copying it to a new file with copy.\n" +
			"With --keep the oldest good copies beyond that number are removed afterwards.\n" +
			"Exit code: 0 when the copy is whole, 1 when none was made or something in it does not\n" +
			"agree, which is named.",
		Example: "  wellstowed backup --db shop.db --to . --keep 14",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.backup(cmd.Context(), db, f)
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, "the shop's database file")
	cmd.Flags().StringVar(&f.to, "to", "", "folder for the copies, best on another disk; it has to be there")
	cmd.Flags().IntVar(&f.keep, "keep", 0, "how many good copies to keep; 0 keeps all")
	cmd.Flags().StringVar(&f.witness, "witness", "", "witness file that serve --witness writes, to copy along and hold the copy against")
	_ = cmd.MarkFlagRequired("to")
	return cmd
}

// isFile refuses a database on a server, which isn’t a file to be copied.
func isFile(path string) error {
	if !postgres.Is(path) {
		return nil
	}
	return refuse("%s is a database on a PostgreSQL server, and this copies SQLite’s files. Back it up there: pg_dump --format=custom makes a copy at one instant while the shop is served, and pg_restore puts it into an empty database. "+
		"Or copy it to a new file, which is checked: wellstowed copy '%s' shop.db", postgres.Shown(path), postgres.Shown(path))
}

// backup makes one copy by hand. It is written down in the database where that is of this
// program's schema: an older one isn't brought up to date by being copied.
func (m machine) backup(ctx context.Context, path string, f backupFlags) error {
	if f.keep < 0 {
		return refuse("--keep: read %d; accepted: how many copies to keep, 0 for all", f.keep)
	}
	if err := isFile(path); err != nil {
		return err
	}
	from, err := openToCopy(ctx, path)
	if err != nil {
		return err
	}
	defer from.Close()
	if from.LacksLog {
		return refuse("database %s: it was copied while a program used it, and its log is not beside it; a backup of it would lack what it lacks", path)
	}
	made, err := m.keeper(path, f).Make(ctx, from)
	if err != nil {
		return err
	}
	m.sayCopied(made)
	if len(made.Faults) > 0 {
		return &exitError{code: exitFailed}
	}
	if from.Schema != from.Known {
		fmt.Fprintf(m.out, "The database is of an older version (schema %d): the copy's file was checked and not its papers, and the copy isn't written down in it.\n", from.Schema)
		return nil
	}
	return m.withShop(ctx, path, func(s services) error {
		return s.BackupMade(ctx, atTheTerminal(), orders.Backup{At: made.At, Path: made.Path, By: atTheTerminal().Person})
	})
}

func (m machine) sayCopied(c copies.Copy) {
	print := words.New("en", act.Imperial)
	for _, fault := range c.Faults {
		fmt.Fprintln(m.out, print.Say(fault))
	}
	fmt.Fprintf(m.out, "Copied to %s.\n", c.Path)
	for _, beside := range c.With {
		fmt.Fprintf(m.out, "Beside it: %s\n", beside)
	}
	if len(c.Faults) > 0 {
		fmt.Fprintln(m.out, "What does not agree is named above; most likely it doesn't in the shop's own file either. The copy is kept, and no older one was removed.")
		return
	}
	fmt.Fprintln(m.out, "It was read back whole.")
	if len(c.Gone) > 0 {
		fmt.Fprintf(m.out, "Removed: %s\n", strings.Join(c.Gone, ", "))
	}
}

// keeper makes the copies of one database.
func (m machine) keeper(db string, f backupFlags) copies.Keeper {
	beside := map[string]string{".ca.crt": db + ".ca.crt", ".ca.key": db + ".ca.key"}
	if f.witness != "" {
		beside[".witness"] = f.witness
	}
	return copies.Keeper{
		Folder: f.to, Stem: strings.TrimSuffix(filepath.Base(db), filepath.Ext(db)), Keep: f.keep, Beside: beside, Now: m.clock,
		Check: func(ctx context.Context, path string) ([]measure.Text, error) {
			witnessed := path + ".witness" // as it was before the copy was made
			if _, err := os.Stat(witnessed); err != nil {
				witnessed = ""
			}
			return faultsOf(ctx, path, witnessed)
		},
	}
}

// faultsOf is what does not agree in a copy: all that verify names, or of one of another
// schema what is damaged in the file.
func faultsOf(ctx context.Context, path, witnessFile string) ([]measure.Text, error) {
	testimony, err := readWitness(witnessFile)
	if err != nil {
		return nil, err
	}
	v, err := store.OpenToCopy(ctx, path)
	if err != nil {
		return nil, err
	}
	defer v.Close()
	if v.Schema != v.Known {
		return proof.Damaged(ctx, v.Proving())
	}
	found, err := proof.Verify(ctx, v.Proving(), atTheTerminal(), nil, testimony)
	return slices.Concat(found.Faults, found.Altered), err
}

func openToCopy(ctx context.Context, path string) (*store.View, error) {
	if err := isThere(path); err != nil {
		return nil, err
	}
	v, err := store.OpenToCopy(ctx, path)
	if err != nil {
		return nil, fmt.Errorf("database %s: %w", path, err)
	}
	return v, nil
}

// A backupTimer makes copies while the shop is served.
type backupTimer struct {
	keeper  copies.Keeper
	from    *store.DB
	every   time.Duration
	service *orders.Service
	warn    func(string)
}

// shortestEvery keeps backups from following each other without a pause.
const shortestEvery = time.Minute

// backupTimer is nil where no folder is named.
func (m machine) backupTimer(f serveFlags, db *store.DB) (*backupTimer, error) {
	switch {
	case f.backup.to == "":
		return nil, nil
	case postgres.Is(f.db):
		return nil, isFile(f.db)
	case f.demo:
		return nil, refuse("--backup-to: the demonstration is thrown away; name a database with --db")
	case f.every < shortestEvery:
		return nil, refuse("--backup-every: read %s; accepted: a minute or more, such as 6h", f.every)
	case f.backup.keep < 0:
		return nil, refuse("--backup-keep: read %d; accepted: how many backups stay, 0 for all", f.backup.keep)
	}
	f.backup.witness = f.witness
	return &backupTimer{
		keeper: m.keeper(f.db, f.backup), from: db, every: f.every,
		warn: func(line string) { fmt.Fprintln(m.err, line) },
	}, nil
}

// start makes backups from now on; what it gives stops that, and waits for the one that is
// being made to end.
func (b *backupTimer) start(ctx context.Context, service *orders.Service) (stop func()) {
	b.service = service
	ctx, cancel := context.WithCancel(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		b.run(ctx)
	}()
	return func() {
		cancel()
		<-done
	}
}

// make makes one copy and writes it down.
func (b *backupTimer) make(ctx context.Context, by string) error {
	_ = b.service.CatchUp(ctx, atTheTerminal()) // so that the witness knows of what is copied; what hinders it is on the pages
	made, err := b.keeper.Make(ctx, b.from)
	if err == nil && len(made.Faults) > 0 {
		err = fmt.Errorf("%s was made, and does not agree: %s", made.Path, words.New("en", act.Imperial).Say(made.Faults[0]))
	}
	if err != nil {
		return err
	}
	return b.service.BackupMade(ctx, atTheTerminal(), orders.Backup{At: made.At, Path: made.Path, By: by})
}

// again is how soon a copy that could not be made is tried again.
const again = 10 * time.Minute

// run makes a copy whenever the newest in the folder is older than it should be.
func (b *backupTimer) run(ctx context.Context) {
	for {
		if !sleep(ctx, b.due()) {
			return
		}
		if err := b.make(ctx, ""); err != nil && ctx.Err() == nil {
			b.service.BackupFailed(err.Error())
			b.warn(fmt.Sprintf("The backup could not be made: %s", err))
			if !sleep(ctx, min(b.every, again)) {
				return
			}
		}
	}
}

// due is how long to wait for the next copy: not at all where there is none, or where the
// folder can't be read, which making one says.
func (b *backupTimer) due() time.Duration {
	newest, err := b.keeper.Newest()
	if err != nil || newest.IsZero() {
		return 0
	}
	return max(0, min(b.every, newest.Add(b.every).Sub(b.keeper.Now())))
}

// sleep waits, and tells whether to go on.
func sleep(ctx context.Context, wait time.Duration) bool {
	select {
	case <-time.After(wait):
		return true
	case <-ctx.Done():
		return false
	}
}

type restoreFlags struct {
	from, db, witness string
	withoutLog        bool
}

func (m machine) restoreCommand() *cobra.Command {
	var f restoreFlags
	cmd := &cobra.Command{
		Use:   "restore",
		Short: "Make a shop's database out of a backup, and name what the witness has and it lacks",
		Long: "Reads a backup, or any copy of a database, writes it to a new file and brings that up to\n" +
			"date; the copy stays as it is, and a file that is there is never written over. All that\n" +
			"verify checks is checked in the new file. With --witness, what was issued after the copy\n" +
			"was made is named, from the file that serve --witness kept.\n" +
			"Exit code: 0 when all agrees, 1 when the new file is there and something in it does not\n" +
			"agree or is lacking, 2 when nothing was restored because of what was asked.",
		Example: "  wellstowed restore --from shop.db --db restored.db",
		Args:    exactArgs(),
		RunE:    func(cmd *cobra.Command, _ []string) error { return m.restore(cmd.Context(), f) },
	}
	cmd.Flags().StringVar(&f.from, "from", "", "the backup")
	cmd.Flags().StringVar(&f.db, "db", defaultDB, "the new database file")
	cmd.Flags().StringVar(&f.witness, "witness", "", "witness file that serve --witness wrote, to name what the backup lacks")
	cmd.Flags().BoolVar(&f.withoutLog, "without-log", false, "also take a copy that was made without its log, and may lack what was saved last")
	_ = cmd.MarkFlagRequired("from")
	return cmd
}

func (m machine) restore(ctx context.Context, f restoreFlags) error {
	for _, path := range []string{f.from, f.db} {
		if err := isFile(path); err != nil {
			return err
		}
	}
	for _, path := range []string{f.db, f.db + "-wal"} {
		if isThere(path) == nil {
			return refuse("%s is there already and is left as it is; give another name with --db", path)
		}
	}
	from, err := openToCopy(ctx, f.from)
	if err != nil {
		return err
	}
	defer from.Close()
	if from.LacksLog && !f.withoutLog {
		return refuse("%s was copied while a program used it, and its log %s-wal is not beside it, so what was saved last may be lacking. "+
			"Put the log beside it, or take a backup; to go on with what there is, add --without-log", f.from, f.from)
	}
	if err := from.CopyTo(ctx, f.db); err != nil {
		return err
	}
	if err := m.bringUp(ctx, f.db); err != nil {
		return err
	}
	if from.LogUntold {
		fmt.Fprintln(m.out, "An older version of the program made this copy: whether a log belongs beside it, with what was saved last, can't be told.")
	}
	return m.restored(ctx, f)
}

// bringUp brings a new database up to date.
func (m machine) bringUp(ctx context.Context, path string) error {
	db, err := store.Open(ctx, path)
	if err != nil {
		return fmt.Errorf("database %s: %w", path, err)
	}
	return db.Close()
}

// restored says what is in a new database, and what doesn't agree.
func (m machine) restored(ctx context.Context, f restoreFlags) error {
	fmt.Fprintf(m.out, "Restored to %s.\n", f.db)
	for _, added := range []string{".ca.crt", ".ca.key"} {
		if isThere(f.from+added) == nil && isThere(f.db+added) != nil {
			if err := disk.CopyFile(f.from+added, f.db+added); err != nil {
				return err
			}
			fmt.Fprintf(m.out, "Beside it: %s\n", f.db+added)
		}
	}
	faults, err := faultsOf(ctx, f.db, f.witness)
	if err != nil {
		return err
	}
	if err := m.withShopToRead(ctx, f.db, func(s services) error { return m.sayLast(ctx, s.Service) }); err != nil {
		return err
	}
	print := words.New("en", act.Imperial)
	for _, fault := range faults {
		fmt.Fprintln(m.out, print.Say(fault))
	}
	switch {
	case len(faults) > 0:
		fmt.Fprintln(m.out, "What is lacking or does not agree is named above. What was on paper has to be typed again.")
		return &exitError{code: exitFailed}
	case f.witness == "":
		fmt.Fprintln(m.out, "All of it agrees. What was saved after the copy was made is not in it; --witness names the papers among that.")
	default:
		fmt.Fprintln(m.out, "All of it agrees, and it holds every paper that the witness file knows.")
	}
	return nil
}

// sayLast says how far a database goes.
func (m machine) sayLast(ctx context.Context, s *orders.Service) error {
	last, err := s.Last(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if last.Order.Number == 0 {
		fmt.Fprintln(m.out, "It holds no orders.")
		return nil
	}
	fmt.Fprintf(m.out, "Its last order is %d, taken %s; its last receipt is %d.\n", last.Order.Number, last.Order.Created.Local().Format("2006-01-02 15:04"), last.Receipt)
	return nil
}
