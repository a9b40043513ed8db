package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

func (m machine) boardCommand() *cobra.Command {
	var db string
	var asJSON bool
	cmd := &cobra.Command{
		Use:     "board",
		Short:   "List what there is to do: today, tomorrow, to settle, unpaid, later, no day yet",
		Example: "  wellstowed board --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.board(cmd.Context(), s.Service, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) board(ctx context.Context, s *orders.Service, asJSON bool) error {
	board, err := s.Board(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(m.out).Encode(board)
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	print := words.New(shop.Language, shop.Units).Under(set)
	spell := func(q measure.Quantity) string { return set.Spell(q, shop.Units == act.Metric) }
	if len(board.Groups) == 0 {
		fmt.Fprintln(m.out, "Nothing to do yet.")
	}
	for _, g := range board.Groups {
		sum := print.Quantities(g.Wood, spell)
		if g.Key == orders.BoardUnpaid {
			sum = print.Money(g.Due)
		}
		fmt.Fprintf(m.out, "%s: %d, %s\n", print.BoardGroup(g.Key, board.Today), len(g.Stops), sum)
		for _, stop := range g.Stops {
			much := stop.Due
			if much.Volume == 0 {
				much = stop.Order.Quantity
			}
			line := []string{spell(much), stop.Order.Customer.Name, stop.Order.Species, strings.ReplaceAll(stop.Order.Customer.Address, "\n", ", "),
				print.StopNote(stop, g.Key, board.Today), print.OrderStep(stop.Step, stop.Balance)}
			fmt.Fprintf(m.out, "  %d  %s\n", stop.Order.Number, strings.Join(said(line), ", "))
		}
	}
	return nil
}

// said are the texts that say something.
func said(texts []string) (full []string) {
	for _, text := range texts {
		if text != "" {
			full = append(full, text)
		}
	}
	return full
}
