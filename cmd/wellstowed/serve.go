package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/ledger"
	"wellstowed/orders/minute"
	"wellstowed/orders/postgres"
	"wellstowed/orders/privacy"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/orders/witness"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
	"wellstowed/web"
)

type serveFlags struct {
	db     string
	listen string
	demo   bool
	rules  string

	procedure string

	witness string
	backup  backupFlags // its witness is the one above
	every   time.Duration
	reach   reachFlags
	watch   watchFlags
}

func (m machine) serveCommand() *cobra.Command {
	var f serveFlags
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Serve the shop's pages on this machine",
		Long: "Serves the shop's pages. Only this machine can reach them, unless it is given a name\n" +
			"with TLS and there are people to sign in. Until the first owner came in by the code it prints,\n" +
			"whoever sits at this machine is the owner; from then on everybody signs in.\n" +
			"The database is a file, or one on a PostgreSQL server that --db names by its URL; of that,\n" +
			"search_path=NAME takes one schema, made when missing, so that many shops may be on one server.\n" +
			"A password is best left out of it and given as PGPASSWORD or in a file that PGPASSFILE names.\n" +
			"With --demo it runs an invented firewood business on a database that is thrown\n" +
			"away at the end, with a switch between its people in the place of signing in.",
		Example: "  wellstowed serve --demo\n  wellstowed serve --db shop.db --listen 127.0.0.1:8128",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			if f.reach.endsTLS() && !cmd.Flags().Changed("listen") {
				f.listen = ":8443"
			}
			if f.reach.acme.on && !cmd.Flags().Changed("listen") {
				f.listen = ":443" // the authority calls there
			}
			return m.serve(cmd.Context(), f)
		},
	}
	cmd.Flags().StringVar(&f.db, "db", defaultDB, theDatabase+"; a file is made when missing")
	cmd.Flags().StringVar(&f.listen, "listen", "127.0.0.1:8128", "address to serve on; port 0 takes a free one")
	cmd.Flags().StringVar(&f.witness, "witness", "", "file outside the database, best on another disk, that each paper issued is written to")
	cmd.Flags().StringVar(&f.backup.to, "backup-to", "", "folder on another disk that backups are made to while it serves")
	cmd.Flags().DurationVar(&f.every, "backup-every", 6*time.Hour, "how often a backup is made, such as 6h; with --backup-to")
	cmd.Flags().IntVar(&f.backup.keep, "backup-keep", 14, "how many good backups stay; 0 keeps all; with --backup-to")
	f.reach.flags(cmd.Flags())
	f.watch.flags(cmd.Flags())
	rulesFlag(cmd, &f.rules)
	procedureFlag(cmd, &f.procedure)
	cmd.Flags().BoolVar(&f.demo, "demo", false, "run the demonstration on a throw-away database")
	return cmd
}

const defaultDB = "wellstowed.db"

// theDatabase is what --db names, as --help says it.
const theDatabase = "the shop's database: a file, or the URL of a PostgreSQL database, postgres://user@host/database"

func (m machine) serve(ctx context.Context, f serveFlags) error {
	if err := f.reach.check(ctx, f); err != nil {
		return err
	}
	if err := f.watch.check(ctx); err != nil {
		return err
	}
	book, err := ruleBook(f.rules)
	if err != nil {
		return err
	}
	office, err := procedureFile(f.procedure)
	if err != nil {
		return err
	}
	if office != nil {
		book = book.WithProcedure(*office)
	}
	if f.demo {
		dir, err := os.MkdirTemp("", "wellstowed-demo-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		f.db = filepath.Join(dir, "demo.db")
	}
	db, err := store.Open(ctx, f.db)
	if err != nil {
		return fmt.Errorf("database %s: %w", postgres.Shown(f.db), err)
	}
	defer db.Close()
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	painter = painter.Under(book)
	if f.demo {
		if err := seedDemo(ctx, db, painter, m.clock()); err != nil {
			return fmt.Errorf("making the demonstration: %w", err)
		}
		if err := seedPeople(ctx, orders.New(db, painter, m.clock).People); err != nil {
			return fmt.Errorf("making the demonstration: %w", err)
		}
	}
	options := []orders.Option{orders.UnderRules(book)}
	if f.witness != "" {
		options = append(options, orders.WitnessedBy(witness.At(f.witness)))
	}
	timer, err := m.backupTimer(f, db)
	if err != nil {
		return err
	}
	if timer != nil {
		options = append(options, orders.BackedUp(timer.every, timer.make))
	}
	service := orders.New(db, painter, m.clock, options...)
	if f.witness != "" {
		if err := m.startWitness(ctx, service, f); err != nil {
			return err
		}
		defer m.endWitness(ctx, service)
	}
	if timer != nil {
		defer timer.start(ctx, service)()
	}
	taking := minute.New(db.Minutes(), service, m.clock)
	defer m.numberDue(ctx, taking)()
	return m.listen(ctx, f, web.Config{
		Service: service, Minute: taking, Accounts: accounts.New(db.Accounts(), m.clock), Cases: cases.New(db.Cases(), book, painter, m.clock), Audits: audits.New(db.Audits(), book, painter, m.clock),
		Road: road.New(db.Road(), painter, m.clock), Calendar: calendar.New(db.Calendar(), m.clock), Eraser: privacy.New(db.Erasing(), book, m.clock), Blank: painter, Clock: m.clock, Demo: f.demo,
		Log: f.watch.log(m.err), LogRequests: f.watch.requests,
	})
}

// startWitness begins the witness file where there is none and brings it up to the
// database. One that is begun is told of, since a disk that is not in looks the same.
// A file that cannot be written stops nobody from serving; one that says otherwise
// than the database does, since one of the two is the wrong one.
func (m machine) startWitness(ctx context.Context, service *orders.Service, f serveFlags) error {
	begun, err := witness.At(f.witness).Begin()
	if begun {
		fmt.Fprintf(m.out, "The witness file %s was not there and is begun now. If it should have been there, stop and see whether its disk is in.\n", f.witness)
	}
	if err == nil {
		err = service.CatchUp(ctx, atTheTerminal())
	}
	if err == nil {
		return nil
	}
	trouble := words.New("en", act.Imperial).Say(ledger.Fault(err))
	if act.KindOf(err) != act.Conflict {
		fmt.Fprintln(m.err, trouble)
		return nil
	}
	return fmt.Errorf("witness file %s: %s\n"+
		"Nothing is served. All that differs is named by: wellstowed verify --db %s --witness %s\n"+
		"Where the database is an older copy, put the newest one in its place. Where the file is another shop’s, name this shop’s.\n"+
		"To go on with this database as it is, name a new file with --witness, and keep this one", f.witness, trouble, postgres.Shown(f.db), f.witness)
}

// endWitness tells the witness how far the journal goes when the program stops.
func (m machine) endWitness(ctx context.Context, service *orders.Service) {
	if err := service.CatchUp(context.WithoutCancel(ctx), atTheTerminal()); err != nil {
		fmt.Fprintln(m.err, words.New("en", act.Imperial).Say(ledger.Fault(err)))
	}
}

func (m machine) listen(ctx context.Context, f serveFlags, config web.Config) error {
	way, err := f.reach.way(ctx, config.Service.People, beside(f.db), m.clock)
	if err != nil {
		return err
	}
	listener, err := net.Listen("tcp", f.listen)
	if err != nil {
		return fmt.Errorf("cannot listen on %s: %w; give another address with --listen, port 0 takes a free one", f.listen, err)
	}
	listener, config.Base = way.over(listener)
	trust, clear, err := way.trusted(f.reach.trust)
	if err != nil {
		listener.Close()
		return err
	}
	config.Trust, config.Hosts, config.Proxies = trust, way.hosts, way.proxies
	server, err := web.New(config)
	if err != nil {
		listener.Close()
		return err
	}
	first, err := firstOwner(ctx, config.Service.People, "http://"+listener.Addr().String())
	if err != nil {
		listener.Close()
		return err
	}
	if config.Base == "" {
		fmt.Fprintf(m.out, "Wellstowed serves http://%s (this machine only). Stop it with Ctrl-C.\n", listener.Addr())
	} else {
		fmt.Fprintf(m.out, "Wellstowed serves %s at %s. Stop it with Ctrl-C.\n", config.Base, listener.Addr())
	}
	if f.demo {
		fmt.Fprintln(m.out, "This is the demonstration: an invented business, thrown away when it stops.")
	}
	fmt.Fprint(m.out, first)
	if clear != nil {
		fmt.Fprintf(m.out, "Phones learn to trust it at %s (in the clear, that page alone). Fingerprint, SHA-256:\n%s\n", trust.Base, trust.Fingerprint)
		go func() { _ = server.ServeTrust(clear) }()
	}
	metrics, err := f.watch.listen(ctx)
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	if metrics != nil {
		defer metrics.Close()
		fmt.Fprintf(m.out, "Metrics at http://%s/metrics.\n", metrics.Addr())
		go func() { _ = server.ServeMetrics(metrics) }() // until it is closed
	}
	served := make(chan error, 1)
	go func() { served <- server.Serve(listener) }()
	obtained := way.public.obtain(ctx)
	for {
		select {
		case err := <-served:
			return err
		case told := <-obtained:
			fmt.Fprintln(m.err, told)
		case <-ctx.Done():
			closing, cancel := context.WithTimeout(context.WithoutCancel(ctx), 10*time.Second)
			defer cancel()
			return errors.Join(server.Shutdown(closing), <-served)
		}
	}
}
