package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/orders/accounts"
	"wellstowed/receipts/books"
	"wellstowed/receipts/words"
)

func (m machine) seasonCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "season",
		Short:   "What was delivered by month since July, money in and unpaid, tax, and who ordered last year about now",
		Example: "  wellstowed season --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.season(cmd.Context(), s, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) season(ctx context.Context, s services, asJSON bool) error {
	season, err := s.accounts.Season(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(season)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	print := words.New(shop.Language, shop.Units).Under(set)
	all := func(list []measure.Quantity) string { return print.Quantities(list, print.Quantity) }
	fmt.Fprintf(m.out, "Since %s\n", print.Date(season.From))
	for _, month := range season.Sold {
		if len(month.Now)+len(month.Last) > 0 {
			fmt.Fprintf(m.out, "%-10s %s (the season before: %s)\n", month.Month, or(all(month.Now), "nothing"), or(all(month.Last), "nothing"))
		}
	}
	fmt.Fprintf(m.out, "Money in: %s. Unpaid: %s.\n", print.Money(season.In), print.Money(season.Due))
	fmt.Fprintf(m.out, "Measured: %d of %d loads, %d short, %d can't tell yet.\n", season.Loads.Measured, season.Loads.Loads, season.Loads.Short, season.Loads.Unresolved)
	for _, t := range season.Taxes {
		fmt.Fprintf(m.out, "Tax, quarter %d of %d: %s on %s (%s)\n", t.Quarter, t.Year, print.Money(t.Tax), print.Money(t.Taxable), or(t.Name, "none"))
	}
	for _, one := range season.Again {
		fmt.Fprintf(m.out, "Ordered last year about now: %s, %s\n", one.Order.Customer.Name, print.Quantity(one.Order.Quantity))
	}
	return nil
}

// or is a text, or another where it is empty.
func or(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

func (m machine) booksCommand() *cobra.Command {
	var db, out string
	var r accounts.BooksRequest
	cmd := &cobra.Command{
		Use:   "books",
		Short: "Write orders, loads, receipts, payments and customers as CSV, in one zip file",
		Long: "Write orders, loads, receipts, payments and customers of some days as CSV (RFC 4180, UTF-8), in one\n" +
			"zip file: for a spreadsheet or an accountant. Without --from and --to it is this year so far.",
		Example: "  wellstowed books --db shop.db --from 2026-01-01 --to 2026-12-31 -o books.zip",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.books(cmd.Context(), s.accounts, r, out) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVar(&r.From, "from", "", "first day, such as 2026-01-01")
	cmd.Flags().StringVar(&r.To, "to", "", "last day")
	cmd.Flags().StringVarP(&out, "output", "o", "", "file to write; - writes to standard output")
	_ = cmd.MarkFlagRequired("output")
	return cmd
}

func (m machine) books(ctx context.Context, s *accounts.Service, r accounts.BooksRequest, out string) error {
	b, err := s.Books(ctx, atTheTerminal(), r)
	if err != nil {
		return err
	}
	var content bytes.Buffer
	if err := books.Zip(&content, b); err != nil {
		return err
	}
	if out == "-" {
		_, err := m.out.Write(content.Bytes())
		return err
	}
	if err := writeNew(out, content.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(m.out, "Wrote the books from %s to %s: %s.\n", b.From, b.To, out)
	return nil
}
