package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

func (m machine) findCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "find TEXT",
		Short:   "Find orders by part of a name, a street, a telephone number, or a receipt's number",
		Example: "  wellstowed find --db shop.db \"mill road\"",
		Args:    exactArgs("TEXT"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.find(cmd.Context(), s.Service, args[0], asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print them as JSON")
	return cmd
}

func (m machine) find(ctx context.Context, s *orders.Service, text string, asJSON bool) error {
	list, err := s.FindOrders(ctx, atTheTerminal(), text)
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(append([]orders.Order{}, list.Orders...))
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	print := words.New(shop.Language, shop.Units).Under(set)
	for _, o := range list.Orders {
		line := []string{o.Customer.Name, strings.ReplaceAll(o.Customer.Address, "\n", ", "), o.Customer.Phone,
			print.Quantity(o.Quantity), print.Date(act.DateOf(o.Created)), print.State(o.State), print.Balance(list.Balances[o.ID])}
		fmt.Fprintf(m.out, "%d  %s\n", o.Number, strings.Join(said(line), ", "))
	}
	if len(list.Orders) == 0 {
		fmt.Fprintln(m.out, "No order is found by that.")
	}
	return nil
}
