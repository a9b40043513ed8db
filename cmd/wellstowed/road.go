package main

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/road"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
)

func (m machine) roadCommand() *cobra.Command {
	var db, day, pdf string
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "road",
		Short: "What goes out on a day: trips, loads, stops in order, what to collect; --pdf writes the run sheets",
		Long: "What goes out on a day, as it was put on the vehicles on the page “The road”: each trip with how\n" +
			"full and how heavy it may be, its stops in order and what to collect, and what is on no vehicle\n" +
			"yet. Distances are as the crow flies. With --pdf it writes the run sheets for the drivers.",
		Example: "  wellstowed road --db shop.db --day Saturday\n  wellstowed road --db shop.db --day Saturday --pdf run-sheets.pdf",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.road(cmd.Context(), s, day, pdf, asJSON) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVar(&day, "day", "", "which day: Saturday, 28 November, 2026-11-28 (default today)")
	cmd.Flags().StringVar(&pdf, "pdf", "", "PDF file to write the run sheets to")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print it as JSON")
	return cmd
}

func (m machine) road(ctx context.Context, s services, asked, pdf string, asJSON bool) error {
	today, err := s.roads.Today(ctx)
	if err != nil {
		return err
	}
	on, err := road.ReadDay(strings.TrimSpace(asked), today)
	if err != nil {
		return err
	}
	day, err := s.roads.Day(ctx, atTheTerminal(), on)
	if err != nil {
		return err
	}
	shop, err := s.Shop(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	switch {
	case pdf != "":
		return m.runSheets(day, shop, pdf)
	case asJSON:
		return json.NewEncoder(m.out).Encode(day)
	}
	set, _ := s.Rules().Get(shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	m.tellRoad(day, words.New(shop.Language, shop.Units).Under(set))
	return nil
}

func (m machine) runSheets(day road.Day, shop orders.Shop, to string) error {
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	content, err := painter.RunSheets(day, shop)
	if err != nil {
		return err
	}
	if err := writeNew(to, content); err != nil {
		return err
	}
	fmt.Fprintf(m.err, "Wrote the run sheets of %s to %s.\n", day.On, to)
	return nil
}

// tellRoad prints a day to be read.
func (m machine) tellRoad(day road.Day, print *words.Printer) {
	fmt.Fprintf(m.out, "The road, %s\n", print.RoadDay(day))
	if len(day.Trips) == 0 {
		fmt.Fprintln(m.out, "No trip is planned on this day.")
	} else {
		fmt.Fprintln(m.out, print.RoadOrder(day))
	}
	line := func(number string, d road.Drop, more string) {
		fmt.Fprintf(m.out, "  %s  %s\n", number, strings.Join(said([]string{print.Loaded(d), d.Order.Customer.Name,
			strings.ReplaceAll(d.Order.Customer.Address, "\n", ", "), more}), ", "))
	}
	for _, t := range day.Trips {
		fmt.Fprintf(m.out, "%s: %s\n", print.Trip(t), print.TripWood(t))
		for _, note := range append(print.TripFaults(t), print.TripLoad(t), print.TripWay(t, day.Yard != "")) {
			fmt.Fprintf(m.out, "  %s\n", note)
		}
		for i, d := range t.Drops {
			line(fmt.Sprint(i+1), d, strings.Join(said([]string{print.DropHours(d), print.DropMoney(d)}), ", "))
		}
	}
	for i, d := range day.Waiting {
		if i == 0 {
			fmt.Fprintln(m.out, "On no vehicle yet")
		}
		line("-", d, print.DropWhen(d, day.Today))
	}
	for i, d := range day.Along {
		if i == 0 {
			fmt.Fprintln(m.out, "May come on this day or later")
		}
		line("-", d, print.DropWhen(d, day.Today))
	}
	if len(day.Trips) > 0 {
		fmt.Fprintln(m.out, print.RoadCaution())
	}
}
