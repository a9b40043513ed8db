package main

import (
	"context"
	"encoding/json"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/receipts/words"
)

func (m machine) orderCommand() *cobra.Command {
	var db, line string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "order --try LINE",
		Short: "Say what an order's line is taken for, and what has to be asked; nothing is saved",
		Long: "Reads an order said in one line as the page of a new order does: by the shop's rules,\n" +
			"in its time zone, with the truck beds that it has taped. What isn't understood is\n" +
			"shown as the note that it becomes. Orders are taken on the page, where they are read\n" +
			"back with their price.\n" +
			"Exit code: 0 when nothing has to be asked; 2 when something has.",
		Example: "  wellstowed order --try \"2 cords seasoned oak 16 inch, stacked, before Christmas\" --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.tryOrder(cmd.Context(), s.Service, line, asJSON) })
		},
	}
	cmd.Flags().StringVar(&line, "try", "", "the order in one line, as it was said")
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) tryOrder(ctx context.Context, s *orders.Service, line string, asJSON bool) error {
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	print := words.New(shop.Language, shop.Units).Under(set)
	back, asked, err := s.Heard(ctx, atTheTerminal(), orders.OrderRequest{Quantity: line, UsualLength: "16 in"})
	if err != nil {
		return err
	}
	questions := make([]words.ErrorJSON, len(asked))
	for i, q := range asked {
		questions[i] = print.InputError(q)
	}
	if asJSON {
		err = json.NewEncoder(m.out).Encode(map[string]any{"heard": print.Heard(back), "line": back.Line, "quantity": back.Order.Quantity, "asked": questions})
	} else {
		m.printHeard(print, back, asked)
	}
	if err == nil && len(asked) > 0 {
		err = errRefused
	}
	return err
}

func (m machine) printHeard(print *words.Printer, back orders.ReadBack, asked []*measure.InputError) {
	for _, part := range print.Heard(back) {
		fmt.Fprintf(m.out, "%-10s %s\n", part.Label, part.Text)
	}
	if back.Why.Key != "" {
		fmt.Fprintln(m.out, print.Say(back.Why))
	}
	for _, q := range asked {
		fmt.Fprintf(m.out, "Asked      %s\n", print.Say(q.Reason))
		if len(q.Choices) == 0 {
			fmt.Fprintf(m.out, "           say %s\n", print.Say(q.Accepts))
		}
		for _, c := range q.Choices {
			fmt.Fprintf(m.out, "           %s: %s\n", print.Say(c.Label), c.Value)
		}
	}
}
