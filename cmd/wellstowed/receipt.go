package main

import (
	"context"
	"fmt"
	"os"
	"strconv"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// atTheTerminal is who acts when the program is run by hand beside its database.
func atTheTerminal() orders.Actor { return orders.Actor{Person: "owner", Role: orders.Owner} }

func (m machine) receiptCommand() *cobra.Command {
	var db, out string
	cmd := &cobra.Command{
		Use:     "receipt NUMBER",
		Short:   "Write an issued receipt as PDF, the bytes stored when it was issued",
		Example: "  wellstowed receipt 1 --db shop.db -o receipt-1.pdf",
		Args:    exactArgs("NUMBER"),
		RunE: func(cmd *cobra.Command, args []string) error {
			number, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil || number < 1 {
				return refuse("receipt: read %q; accepted: the number printed on the receipt, such as 12", args[0])
			}
			return m.withShop(cmd.Context(), db, func(s *orders.Service) error {
				return m.writeReceipt(cmd.Context(), s, number, out)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, "the shop's database file")
	cmd.Flags().StringVarP(&out, "output", "o", "", "file to write; - writes to standard output")
	_ = cmd.MarkFlagRequired("output")
	return cmd
}

func (m machine) writeReceipt(ctx context.Context, s *orders.Service, number int64, out string) error {
	issued, err := s.Receipt(ctx, atTheTerminal(), number)
	if err != nil {
		return err
	}
	if out == "-" {
		_, err := m.out.Write(issued.PDF)
		return err
	}
	if err := writeNew(out, issued.PDF); err != nil {
		return err
	}
	fmt.Fprintf(m.out, "Wrote receipt %d to %s. Its seal is %s.\n", number, out, issued.Seal)
	return nil
}

// withShop opens a database that must be there.
func (m machine) withShop(ctx context.Context, path string, do func(*orders.Service) error) error {
	return withStore(ctx, path, func(db *store.DB) error {
		painter, err := receipts.New()
		if err != nil {
			return err
		}
		return do(orders.New(db, painter, m.clock))
	})
}

func withStore(ctx context.Context, path string, do func(*store.DB) error) error {
	if _, err := os.Stat(path); err != nil {
		return refuse("database %s: %w; name the shop's database with --db", path, err)
	}
	db, err := store.Open(ctx, path)
	if err != nil {
		return fmt.Errorf("database %s: %w", path, err)
	}
	defer db.Close()
	return do(db)
}
