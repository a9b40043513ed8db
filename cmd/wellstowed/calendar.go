package main

import (
	"bytes"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/receipts/calendar"
)

func (m machine) calendarCommand() *cobra.Command {
	var db, out string
	cmd := &cobra.Command{
		Use:   "calendar",
		Short: "Write the deliveries that have a day for a calendar program (iCalendar, RFC 5545)",
		Long: "Write the deliveries that have a day for a calendar program (iCalendar, RFC 5545): how much of\n" +
			"which wood, the address and the order's number. No name, phone number, price or note is in it.",
		Example: "  wellstowed calendar --db shop.db -o deliveries.ics",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShopToRead(cmd.Context(), db, func(s services) error { return m.calendar(cmd.Context(), s, out) })
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	cmd.Flags().StringVarP(&out, "output", "o", "-", "file to write; - writes to standard output")
	return cmd
}

func (m machine) calendar(ctx context.Context, s services, to string) error {
	feed, err := s.dates.Deliveries(ctx, atTheTerminal())
	if err != nil {
		return err
	}
	set, _ := s.Rules().Get(feed.Shop.RuleSet) // of a shop whose set is not there, the zero Set: no rules
	var content bytes.Buffer
	if err := calendar.Write(&content, feed, set, ""); err != nil {
		return err
	}
	if to == "-" {
		_, err := m.out.Write(content.Bytes())
		return err
	}
	if err := writeNew(to, content.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(m.err, "Wrote the deliveries to %s.\n", to)
	return nil
}
