package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/orders/offers"
)

func (m machine) offersCommand() *cobra.Command {
	var f planFlags
	var currency string
	cmd := &cobra.Command{
		Use:   "offers OFFER ...",
		Short: "Compare offers of wood: what the wood and its heat cost, as ranges with their reasons",
		Long: "Says what each offer costs by the cord of stacked wood and by the million Btu,\n" +
			"as ranges, with what they come from and what to ask the seller. Nothing is kept.\n" +
			"Exit code: 0 when every offer was read; 2 when one was not.",
		Example: "  wellstowed offers \"1 cord oak 16 inch, $280\" \"2 m³ loose birch, €150\" \"pickup load, $90\"",
		Args:    cobra.MinimumNArgs(1),
		RunE:    func(_ *cobra.Command, args []string) error { return m.offers(f, currency, args) },
	}
	cmd.Flags().StringVar(&currency, "currency", "USD", "ISO 4217 code of the currency that a bare $ is in")
	f.add(cmd)
	return cmd
}

func (m machine) offers(f planFlags, currency string, typed []string) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	compared, err := offers.Compare(strings.Join(typed, "\n"), currency)
	if err != nil {
		return a.misput(err)
	}
	if f.json {
		return a.indented(compared)
	}
	fmt.Fprintln(a.out, a.print.OfferLead(compared)+".")
	unread := false
	for i, o := range compared {
		if o.Fault != nil {
			unread = true
			fmt.Fprintf(a.out, "%d. %s; accepted: %s\n", i+1, a.print.Say(o.Fault.Reason), a.print.Say(o.Fault.Accepts))
			continue
		}
		fmt.Fprintf(a.out, "%d. %s\n", i+1, strings.Join(said([]string{a.print.OfferPrice(o), a.print.OfferHeat(o)}), "; "))
		fmt.Fprintf(a.out, "   %s\n", a.print.OfferWood(o))
		for _, why := range append(a.print.Lines(o.Why), a.print.Lines(o.Ask)...) {
			fmt.Fprintf(a.out, "   %s\n", why)
		}
	}
	if unread {
		return errRefused
	}
	return nil
}
