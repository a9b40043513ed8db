package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/receipts/words"
)

func (m machine) stowingCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "stowing",
		Short: "How tightly people stack, by wood that was stacked again and read again",
		Long: "Lists every check in the database that says whether the wood was stacked again since the\n" +
			"check before, and from 30 that tell works out how tightly one person stacks, as a\n" +
			"standard uncertainty of the volume. It changes no result.",
		Example: "  wellstowed stowing --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.stowing(cmd.Context(), s, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print them as JSON")
	return cmd
}

func (m machine) stowing(ctx context.Context, s services, asJSON bool) error {
	e, err := s.audits.Stowing(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(e)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := words.New(shop.Language, shop.Units)
	fmt.Fprintln(m.out, print.StowingLead(e))
	for _, line := range print.StowingAbout() {
		fmt.Fprintln(m.out, line)
	}
	for _, p := range e.Pairs {
		fmt.Fprintf(m.out, "  %s\n", print.StowingPair(p, shop.Zone))
	}
	return nil
}
