package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
	"wellstowed/receipts/words"
)

func (m machine) pricesCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "prices",
		Short:   "Print the price list of today",
		Example: "  wellstowed prices --db shop.db\n  wellstowed prices import --db shop.db --dry-run testdata/prices.csv",
		Args:    cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.listPrices(cmd.Context(), s.Service, asJSON) })
		},
	}
	cmd.PersistentFlags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.PersistentFlags().BoolVar(&asJSON, "json", false, "print them as JSON")
	cmd.AddCommand(m.pricesImportCommand(&db, &asJSON))
	return cmd
}

func (m machine) listPrices(ctx context.Context, s *orders.Service, asJSON bool) error {
	list, err := s.Prices.List(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(list)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := shopPrinter(s, shop)
	for _, l := range list.Lines {
		fmt.Fprintf(m.out, "%s: %s\n", print.OfferedFirst(l), print.Asked(l))
	}
	for _, line := range print.ChargesBeside(shop.Charges) {
		fmt.Fprintln(m.out, line)
	}
	for _, l := range list.Coming {
		fmt.Fprintf(m.out, "From %s: %s: %s\n", print.Date(l.From), print.Offered(l), print.Asked(l))
	}
	if len(list.Lines) == 0 {
		fmt.Fprintln(m.out, "Nothing is on the price list.")
	}
	return nil
}

// shopPrinter words in the shop's units of sale.
func shopPrinter(s *orders.Service, shop orders.Shop) *words.Printer {
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	return words.New(shop.Language, shop.Units).Under(set)
}

func (m machine) pricesImportCommand(db *string, asJSON *bool) *cobra.Command {
	return m.importCommand(db, &cobra.Command{
		Short: "Put the lines of a CSV list on the price list",
		Long: "Put the lines of a CSV list on the price list.\n\nIts first line names the columns: kind (wood, delivery, stacking or least; empty is wood), wood, piece length,\n" +
			"seasoning, per (how much the price is for; empty is one unit of sale), place, price, from (a day; empty is today).\nWith --dry-run it says what would come of it and keeps nothing. Where a line is not understood, or its\n" +
			"price is far from the one now, none is kept.",
		Example: "  wellstowed prices import --db shop.db --dry-run testdata/prices.csv",
	}, func(ctx context.Context, s *orders.Service, list []byte, dryRun bool) error {
		return m.importPrices(ctx, s, list, dryRun, *asJSON)
	})
}

func (m machine) importPrices(ctx context.Context, s *orders.Service, list []byte, dryRun, asJSON bool) error {
	plan, err := s.Prices.DryRun(ctx, atTheTerminal(), list)
	if err == nil && !dryRun {
		by := act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}
		plan, err = s.Prices.Import(ctx, by, prices.ImportRequest{List: string(list)})
	}
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(plan)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := shopPrinter(s, shop)
	for _, l := range plan.Wrong {
		fmt.Fprintf(m.out, "Line %d: not understood: %s\n", l.Number, print.Say(l.Says))
	}
	for _, l := range plan.Same {
		fmt.Fprintf(m.out, "Line %d, %s: %s\n", l.Number, print.Offered(l.Line), print.Say(l.Says))
	}
	for _, l := range plan.New {
		fmt.Fprintf(m.out, "%s: %s, from %s\n", print.OfferedFirst(l), print.Asked(l), print.Date(l.From))
	}
	kept := "written down"
	if dryRun {
		kept = "would be written down; nothing is yet"
	}
	fmt.Fprintf(m.out, "%d new: %s.\n", len(plan.New), kept)
	return nil
}
