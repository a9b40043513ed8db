package main

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"strings"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/receipts/words"
)

func (m machine) customersCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "customers [TEXT]",
		Short:   "List customers, or those that part of a name, a street or a telephone number finds",
		Example: "  wellstowed customers --db shop.db orchard\n  wellstowed customers import --db shop.db --dry-run testdata/customers.csv",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error {
				return m.listCustomers(cmd.Context(), s.Service, strings.Join(args, ""), asJSON)
			})
		},
	}
	cmd.PersistentFlags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.PersistentFlags().BoolVar(&asJSON, "json", false, "print them as JSON")
	cmd.AddCommand(m.customersImportCommand(&db, &asJSON))
	return cmd
}

func (m machine) listCustomers(ctx context.Context, s *orders.Service, text string, asJSON bool) error {
	found, err := s.Customers.List(ctx, atTheTerminal(), text)
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(append([]customers.Record{}, found...))
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	print := words.New(shop.Language, shop.Units)
	for _, r := range found {
		last := "no order yet"
		if r.Orders > 0 {
			last = fmt.Sprintf("%d ordered, the last on %s", r.Orders, print.Day(r.Last, shop.Zone))
		}
		fmt.Fprintln(m.out, strings.Join(said([]string{r.Name, strings.ReplaceAll(r.Address, "\n", ", "), r.Phone, last}), ", "))
	}
	if len(found) == 0 {
		fmt.Fprintln(m.out, "Nobody is found by that.")
	}
	return nil
}

func (m machine) customersImportCommand(db *string, asJSON *bool) *cobra.Command {
	return m.importCommand(db, &cobra.Command{
		Short: "Keep the customers of a CSV list that aren't kept yet",
		Long: "Keep the customers of a CSV list that aren't kept yet.\n\nIts first line names the columns: name, address (or street, town, state, zip), phone, how to get in,\n" +
			"stacking, place. With --dry-run it says what would come of it and keeps nothing. Where a line is not\nunderstood, none is kept.",
		Example: "  wellstowed customers import --db shop.db --dry-run testdata/customers.csv",
	}, func(ctx context.Context, s *orders.Service, list []byte, dryRun bool) error {
		return m.importCustomers(ctx, s, list, dryRun, *asJSON)
	})
}

// importCommand brings a CSV list into the shop of db, or says what would come of that.
func (m machine) importCommand(db *string, cmd *cobra.Command, bring func(ctx context.Context, s *orders.Service, list []byte, dryRun bool) error) *cobra.Command {
	var dryRun bool
	cmd.Use, cmd.Args = "import FILE", exactArgs("FILE")
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		list, err := os.ReadFile(args[0])
		if err != nil {
			return err
		}
		open := m.withShop
		if dryRun {
			open = m.withShopToRead
		}
		return open(cmd.Context(), *db, func(s services) error { return bring(cmd.Context(), s.Service, list, dryRun) })
	}
	cmd.Flags().BoolVar(&dryRun, "dry-run", false, "say what would come of it, and keep nothing")
	return cmd
}

func (m machine) importCustomers(ctx context.Context, s *orders.Service, list []byte, dryRun, asJSON bool) error {
	plan, err := s.Customers.DryRun(ctx, atTheTerminal(), list)
	if err == nil && !dryRun {
		by := act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}
		plan, err = s.Customers.Import(ctx, by, customers.ImportRequest{List: string(list)})
	}
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(plan)
	}
	print := words.New("en", act.Imperial)
	for _, l := range plan.Wrong {
		fmt.Fprintf(m.out, "Line %d, %s: not understood: %s\n", l.Number, l.Name, print.Say(l.Says))
	}
	for _, l := range plan.Known {
		fmt.Fprintf(m.out, "Line %d, %s: %s, left as it is\n", l.Number, l.Name, print.Say(l.Says))
	}
	if len(plan.Unused) > 0 {
		fmt.Fprintf(m.out, "Nothing is taken from these columns: %s\n", strings.Join(plan.Unused, ", "))
	}
	kept := "kept"
	if dryRun {
		kept = "would be kept; nothing is yet"
	}
	fmt.Fprintf(m.out, "%d new: %s.\n", len(plan.New), kept)
	return nil
}
