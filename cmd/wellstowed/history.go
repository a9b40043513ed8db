package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/receipts/words"
)

func (m machine) historyCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "history WHAT NUMBER",
		Short: "Say who did what to an order, an audit or a customer, newest first",
		Long: "Says who did what, and which fields were changed, from the journal that every write goes\n" +
			"into. WHAT is order, audit or customer; a customer is named by name in the place of a number.",
		Example: "  wellstowed history order 1 --db shop.db",
		Args:    exactArgs("WHAT", "NUMBER"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error {
				return m.history(cmd.Context(), s.Service, orders.Journaled(args[0]), args[1], asJSON)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) history(ctx context.Context, s *orders.Service, kind orders.Journaled, which string, asJSON bool) error {
	id, err := journaledID(ctx, s, kind, which)
	if err != nil {
		return err
	}
	lines, err := s.Journal(ctx, atTheTerminal(), kind, id)
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(lines)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := words.New(shop.Language, shop.Units)
	for _, l := range lines {
		fmt.Fprintln(m.out, print.JournalLine(l, shop.Zone))
		if changed := print.JournalFields(l); changed != "" {
			fmt.Fprintf(m.out, "  %s\n", changed)
		}
	}
	return nil
}

func journaledID(ctx context.Context, s *orders.Service, kind orders.Journaled, which string) (string, error) {
	switch kind {
	case orders.OrderJournal, orders.AuditJournal:
		number, err := strconv.ParseInt(which, 10, 64)
		if err != nil || number < 1 {
			return "", refuse("history: read %q; accepted: the number of the %s, such as 12", which, kind)
		}
		return s.JournaledID(ctx, atTheTerminal(), kind, number)
	case orders.CustomerJournal:
		found, err := s.Customers.List(ctx, atTheTerminal(), which)
		if err != nil {
			return "", err
		}
		if len(found) != 1 {
			return "", refuse("history: %d customers are found by %q; accepted: as much of a name as finds one", len(found), which)
		}
		return found[0].ID, nil
	}
	return "", refuse("history: read %q; accepted: order, audit or customer", kind)
}
