package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/receipts"
)

func (m machine) labelsCommand() *cobra.Command {
	var db, out string
	var r orders.LabelRequest
	cmd := &cobra.Command{
		Use:   "labels",
		Short: "Write a page of labels for packages of one size, as PDF",
		Long: "A page of eight labels, all alike, to cut apart: what the wood is, its quantity in the\n" +
			"unit that the shop's rules name for packages and as high as they ask, the price and\n" +
			"the price of one unit, where it was cut, and the shop as packer. Print it at full size.",
		Example: "  wellstowed labels --identity \"Firewood, split red oak\" --quantity \"0.75 cu ft\" --price 7.50 --db shop.db -o labels.pdf",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.labels(cmd.Context(), s.Service, r, out) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVar(&r.What, "identity", "", "what the wood is")
	cmd.Flags().StringVar(&r.Quantity, "quantity", "", "of one package, with its unit")
	cmd.Flags().StringVar(&r.Price, "price", "", "of one package; none is printed without it")
	cmd.Flags().StringVar(&r.Origin, "origin", "", "county and state it was cut in, where the rules ask")
	cmd.Flags().StringVarP(&out, "output", "o", "", "file to write; - writes to standard output")
	_ = cmd.MarkFlagRequired("output")
	return cmd
}

func (m machine) labels(ctx context.Context, s *orders.Service, r orders.LabelRequest, out string) error {
	l, shop, err := s.ReadLabel(ctx, atTheTerminal(), r)
	if err != nil {
		return err
	}
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	content, err := painter.Labels(l, shop)
	if err != nil {
		return err
	}
	if out == "-" {
		_, err := m.out.Write(content)
		return err
	}
	if err := writeNew(out, content); err != nil {
		return err
	}
	fmt.Fprintf(m.out, "Wrote a page of labels to %s. Print it at full size.\n", out)
	return nil
}
