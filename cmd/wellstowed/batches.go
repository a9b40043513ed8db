package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/orders"
)

func (m machine) batchesCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "batches",
		Short:   "List the batches of wood: what is left of each and how dry it is",
		Example: "  wellstowed batches --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.batches(cmd.Context(), s.Service, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print them as JSON")
	return cmd
}

func (m machine) batches(ctx context.Context, s *orders.Service, asJSON bool) error {
	batches, err := s.Batches(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(batches)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := shopPrinter(s, shop)
	fmt.Fprintln(m.out, print.InStock(batches)+".")
	for _, b := range batches {
		fmt.Fprintf(m.out, "%s: %s. %s. %s\n", b.Name, print.Left(b), b.Species, print.BatchDry(b))
		if by := print.DryBy(b.Drying()); by != "" && !b.UsedUp {
			fmt.Fprintln(m.out, "  "+by)
		}
	}
	return nil
}
