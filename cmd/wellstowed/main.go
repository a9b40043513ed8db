// Command wellstowed keeps a firewood shop's orders, measures stacks of wood, and
// prints receipts and measurement sheets.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"
	_ "time/tzdata" // zones where the machine has none

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
	"wellstowed/receipts/words/spanish"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	words.AddLanguage(spanish.Tag, spanish.Text)
	m := machine{
		in: os.Stdin, out: os.Stdout, err: os.Stderr,
		env: os.LookupEnv, clock: time.Now,
	}
	os.Exit(m.run(ctx, os.Args[1:]))
}

// A machine is what the program touches outside itself; tests give their own.
type machine struct {
	in       io.Reader
	out, err io.Writer
	env      func(string) (string, bool)
	clock    func() time.Time
}

// Exit codes.
const (
	exitDone    = 0
	exitFailed  = 1 // something went wrong, or verify found a fault
	exitRefused = 2 // the input or the command line was not understood
)

// exitError ends the program with a code; its text, if any, is printed.
type exitError struct {
	code int
	err  error
}

func (e *exitError) Error() string {
	if e.err == nil {
		return ""
	}
	return e.err.Error()
}

func (e *exitError) Unwrap() error { return e.err }

// refuse makes an error for input that was not understood.
func refuse(format string, args ...any) error {
	return &exitError{code: exitRefused, err: fmt.Errorf(format, args...)}
}

func (m machine) run(ctx context.Context, args []string) int {
	root := m.command()
	root.SetArgs(args)
	err := root.ExecuteContext(ctx)
	if err == nil {
		return exitDone
	}
	if text := err.Error(); text != "" {
		fmt.Fprintln(m.err, "wellstowed:", text)
	}
	var exit *exitError
	if errors.As(err, &exit) {
		return exit.code
	}
	var input *measure.InputError
	if act.KindOf(err) == act.Invalid || errors.As(err, &input) {
		return exitRefused
	}
	return exitFailed
}

// writeNew writes a file that is not there yet; one that is there is left alone.
func writeNew(name string, content []byte) error {
	file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if errors.Is(err, fs.ErrExist) {
		return refuse("%s is there already and is left as it is; give another name with -o", name)
	}
	if err != nil {
		return err
	}
	_, err = file.Write(content)
	return errors.Join(err, file.Close())
}

func (m machine) command() *cobra.Command {
	root := &cobra.Command{
		Use:   "wellstowed",
		Short: "How much wood is really here, and is it what was sold?",
		Long: "Wellstowed keeps a firewood shop's orders, turns readings at a stack into a\n" +
			"volume with an honest doubt, and prints receipts and measurement sheets.\n" +
			"Every flag may be set by a variable instead: --db by WELLSTOWED_DB.",
		SilenceUsage: true, SilenceErrors: true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		PersistentPreRunE: func(cmd *cobra.Command, _ []string) error { return m.flagsFromEnv(cmd.Flags()) },
	}
	root.SetIn(m.in)
	root.SetOut(m.out)
	root.SetErr(m.err)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return refuse("%w; see %s --help", err, cmd.CommandPath())
	})
	root.AddCommand(m.serveCommand(), m.measureCommand(), m.seriesCommand(), m.lotCommand(), m.stowingCommand(), m.labelsCommand(), m.receiptCommand(), m.boardCommand(), m.roadCommand(), m.calendarCommand(), m.findCommand(), m.customersCommand(), m.pricesCommand(), m.promiseCommand(), m.seasonCommand(), m.booksCommand(), m.offersCommand(), m.batchesCommand(), m.rulesCommand(), m.storageCommand(), m.tripsCommand(), m.winterCommand(), m.woodCommand(), m.moistureCommand(), m.verifyCommand(), m.ownerCommand(), m.tokenCommand())
	root.AddCommand(m.backupCommand(), m.restoreCommand(), m.copyCommand(), m.versionCommand(), m.licencesCommand(), m.historyCommand())
	root.AddCommand(m.orderCommand(), m.beginCommand())
	return root
}

// flagsFromEnv sets each flag that was not given from its WELLSTOWED_ variable.
func (m machine) flagsFromEnv(flags *pflag.FlagSet) error {
	var fault error
	flags.VisitAll(func(f *pflag.Flag) {
		name := "WELLSTOWED_" + strings.ToUpper(strings.ReplaceAll(f.Name, "-", "_"))
		text, set := m.env(name)
		if !set || f.Changed || f.Name == "help" || fault != nil {
			return
		}
		if err := flags.Set(f.Name, text); err != nil {
			fault = refuse("%s: %w", name, err)
		}
	})
	return fault
}

// exactArgs is cobra's check with our exit code and a sentence.
func exactArgs(what ...string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) == len(what) {
			return nil
		}
		return refuse("%s takes %d arguments (%s), read %d: %q; see %s --help",
			cmd.Name(), len(what), strings.Join(what, ", "), len(args), args, cmd.CommandPath())
	}
}
