package main

import (
	"context"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// atTheTerminal is who acts when the program is run by hand beside its database.
func atTheTerminal() act.Actor { return act.Actor{Person: "owner", Role: act.Owner} }

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
			return m.withShopToRead(cmd.Context(), db, func(s services) error {
				return m.writeReceipt(cmd.Context(), s.Service, number, out)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
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
