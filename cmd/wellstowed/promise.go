package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/orders"
)

func (m machine) promiseCommand() *cobra.Command {
	var db string
	var r orders.PromiseRequest
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "promise WORDS",
		Short: "Tell whether wood can be promised, from the batches and what is promised already",
		Long: "Tell whether wood can be promised, from the batches and what is promised already.\n\n" +
			"Each order can be served from any batch of its wood that is dry by its day; wood is free as long as\nall of them still can be. When a batch is dry is a plan: then measure.",
		Example: "  wellstowed promise \"2 cords seasoned oak\" --by 2026-12-15 --db shop.db",
		Args:    exactArgs("WORDS"),
		RunE: func(cmd *cobra.Command, args []string) error {
			r.Quantity = args[0]
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.promise(cmd.Context(), s.Service, r, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVar(&r.Day, "by", "", "the last day, as in 2026-12-15 or \"Saturday\"; empty: any time")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) promise(ctx context.Context, s *orders.Service, r orders.PromiseRequest, asJSON bool) error {
	a, err := s.CanPromise(ctx, atTheTerminal(), r)
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(a)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	for _, line := range shopPrinter(s, shop).Promise(a) {
		fmt.Fprintln(m.out, line)
	}
	return nil
}
