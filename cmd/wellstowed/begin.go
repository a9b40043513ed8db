package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/google/uuid"
	"github.com/spf13/cobra"
	"golang.org/x/text/currency"
	"golang.org/x/text/language"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/postgres"
	"wellstowed/orders/prices"
	"wellstowed/orders/store"
	"wellstowed/receipts/words"
)

func (m machine) beginCommand() *cobra.Command {
	var db string
	var r orders.BeginRequest
	cmd := &cobra.Command{
		Use:   "begin",
		Short: "Begin a shop: its name and place, the rules it sells by, the price of a cord",
		Long: "Begins a shop in a database that is made when missing. What no flag says is asked, with\n" +
			"this machine's time zone and currency proposed; an empty answer takes what is proposed.\n" +
			"Once begun, a shop is changed on its own page.",
		Example: "  wellstowed begin --db new.db --firm \"Alder Lane Firewood\" --address \"4 Alder Lane, Hartwell\" --zone America/New_York --currency USD --under vermont --price 300",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			r.Address = strings.ReplaceAll(r.Address, ", ", "\n")
			questions := bufio.NewReader(m.in)
			for _, q := range m.beginQuestions(&r) {
				if cmd.Flags().Changed(q.flag) {
					continue
				}
				if err := m.askFor(questions, q); err != nil {
					return err
				}
			}
			return m.begin(cmd.Context(), db, r)
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase+"; a file is made when missing")
	cmd.Flags().StringVar(&r.Name, "firm", "", "name of the business, as receipts print it")
	cmd.Flags().StringVar(&r.Address, "address", "", "its address, lines parted by commas")
	cmd.Flags().StringVar(&r.Zone, "zone", "", "time zone, such as America/New_York")
	cmd.Flags().StringVar(&r.Currency, "currency", "", "currency in three letters, such as USD")
	cmd.Flags().StringVar(&r.RuleSet, "under", "", "code of the rules of sale; wellstowed rules lists them")
	cmd.Flags().StringVar(&r.Price, "price", "", "price of a cord, or of the unit that the rules sell by; empty: none yet")
	return cmd
}

// A beginQuestion is one line that is asked at the terminal.
type beginQuestion struct {
	flag, text, proposed string
	to                   *string
}

func (m machine) beginQuestions(r *orders.BeginRequest) []beginQuestion {
	return []beginQuestion{
		{"firm", "Name of your business", "", &r.Name},
		{"address", "Its address, in one line", "", &r.Address},
		{"zone", "Time zone", m.ownZone(), &r.Zone},
		{"currency", "Currency", m.ownCurrency(), &r.Currency},
		{"under", "Rules of sale, by their code (wellstowed rules lists them)", "", &r.RuleSet},
		{"price", "Price of a cord, or nothing", "", &r.Price},
	}
}

// askFor asks one line; at the end of the input the answer is empty, and what is missing
// is said at the end.
func (m machine) askFor(in *bufio.Reader, q beginQuestion) error {
	fmt.Fprint(m.err, q.text)
	if q.proposed != "" {
		fmt.Fprintf(m.err, " [%s]", q.proposed)
	}
	fmt.Fprint(m.err, ": ")
	line, err := in.ReadString('\n')
	if errors.Is(err, io.EOF) {
		*q.to = strings.TrimSpace(line)
		return nil // nobody is there to take what is proposed
	}
	if *q.to = strings.TrimSpace(line); *q.to == "" {
		*q.to = q.proposed
	}
	if q.flag == "address" {
		*q.to = strings.ReplaceAll(*q.to, ", ", "\n")
	}
	return err
}

// ownZone is the time zone this machine is set to, empty where it names no place.
func (m machine) ownZone() string {
	if zone, set := m.env("TZ"); set {
		return strings.TrimPrefix(zone, ":")
	}
	target, err := os.Readlink("/etc/localtime")
	if err != nil {
		return ""
	}
	_, zone, _ := strings.Cut(target, "zoneinfo/")
	if strings.HasPrefix(zone, "Etc/") || zone == "UTC" {
		return "" // a machine's, not a place's
	}
	return zone
}

// ownCurrency is the currency of the country that this machine's language names.
func (m machine) ownCurrency() string {
	for _, name := range []string{"LC_ALL", "LC_MONETARY", "LANG"} {
		text, _ := m.env(name)
		text, _, _ = strings.Cut(text, ".")
		tag, err := language.Parse(strings.ReplaceAll(text, "_", "-"))
		if err != nil {
			continue
		}
		if region, sure := tag.Region(); sure == language.Exact {
			if unit, found := currency.FromRegion(region); found {
				return unit.String()
			}
		}
	}
	return ""
}

func (m machine) begin(ctx context.Context, path string, r orders.BeginRequest) error {
	db, err := store.Open(ctx, path)
	if err != nil {
		return fmt.Errorf("database %s: %w", postgres.Shown(path), err)
	}
	defer db.Close()
	return m.over(db, func(s services) error {
		shop, err := s.Begin(ctx, act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}, r)
		if fault := (*act.Error)(nil); errors.As(err, &fault) && len(fault.Fields) > 0 {
			print := words.New("en", act.Imperial)
			return refuse("%s", answerer{print: print}.sentences(measure.InputErrors(fault.Fields)))
		}
		if err != nil {
			return err
		}
		fmt.Fprintf(m.out, "%s sells in %s, in the time zone %s, under %s.\n", shop.Name, shop.Currency, shop.Zone, shop.RuleSet)
		list, err := s.Prices.List(ctx, atTheTerminal())
		if err != nil {
			return err
		}
		print := shopPrinter(s.Service, shop)
		for _, l := range list.Of(prices.Wood) {
			fmt.Fprintf(m.out, "On its price list: %s: %s.\n", print.OfferedFirst(l), print.Asked(l))
		}
		fmt.Fprintf(m.out, "Take orders with: wellstowed serve --db %s\n", postgres.Shown(path))
		return nil
	})
}
