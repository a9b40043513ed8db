package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/orders/act"
	"wellstowed/orders/postgres"
	"wellstowed/orders/store"
	"wellstowed/receipts/words"
)

func (m machine) copyCommand() *cobra.Command {
	var witness string
	cmd := &cobra.Command{
		Use:   "copy FROM TO",
		Short: "Copy a shop between a file and a PostgreSQL server, its chains and journal whole",
		Long: "Reads all of a shop as it is at one instant, changes nothing of it, and writes it to a new\n" +
			"database: a file that is not there, or a database on a PostgreSQL server (or a schema of\n" +
			"one, by search_path) in which no shop was begun. Numbers, bytes, chains and the journal\n" +
			"are the same there, and the journal goes on. All that verify checks is checked in the new\n" +
			"one. Stop serving the old one first: what is saved in it after the copy isn't in the new.\n" +
			"Exit code: 0 when all agrees, 1 when something in the new one does not, which is named,\n" +
			"2 when nothing was copied because of what was asked.",
		Example: "  wellstowed copy shop.db moved.db",
		Args:    exactArgs("FROM", "TO"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return m.copyShop(cmd.Context(), args[0], args[1], witness)
		},
	}
	cmd.Flags().StringVar(&witness, "witness", "", "witness file that serve --witness wrote, to hold the new database against")
	return cmd
}

func (m machine) copyShop(ctx context.Context, from, to, witness string) error {
	err := m.withView(ctx, from, func(v *store.View) error {
		if v.LacksLog {
			return refuse("database %s: its log is not beside it, so what was saved last may be lacking; wellstowed restore takes it", from)
		}
		return v.MoveTo(ctx, to)
	})
	if errors.Is(err, store.ErrNotEmpty) {
		return refuse("%s: %w; name a new file, an empty database, or a schema of one with search_path", postgres.Shown(to), err)
	}
	if err != nil {
		return err
	}
	faults, err := faultsOf(ctx, to, witness)
	if err != nil {
		return err
	}
	print := words.New("en", act.Imperial)
	for _, fault := range faults {
		fmt.Fprintln(m.out, print.Say(fault))
	}
	if err := m.withShopToRead(ctx, to, func(s services) error { return m.sayLast(ctx, s.Service) }); err != nil {
		return err
	}
	if len(faults) > 0 {
		fmt.Fprintf(m.out, "Copied to %s. What does not agree there is named above; most likely it doesn't in %s either.\n", postgres.Shown(to), postgres.Shown(from))
		return &exitError{code: exitFailed}
	}
	fmt.Fprintf(m.out, "Copied to %s, and all of it agrees. Serve that one from now on: wellstowed serve --db '%s'\n", postgres.Shown(to), postgres.Shown(to))
	return nil
}
