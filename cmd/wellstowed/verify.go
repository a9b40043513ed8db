package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/receipts/words"
)

func (m machine) verifyCommand() *cobra.Command {
	var db string
	var seals []string
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Check every receipt against its bytes, its chain and printed seals",
		Long: "Walks the receipts in order and recomputes every hash. With --seal it also holds\n" +
			"the seal printed on a paper receipt against the database.\n" +
			"Exit code: 0 when all agrees, 1 when something does not, 2 when the command line\n" +
			"was not understood.",
		Example: "  wellstowed verify --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			printed, err := parseSeals(seals)
			if err != nil {
				return err
			}
			return m.withShop(cmd.Context(), db, func(s *orders.Service) error {
				return m.verify(cmd.Context(), s, printed)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, "the shop's database file")
	cmd.Flags().StringArrayVar(&seals, "seal", nil, "NUMBER:SEAL as printed on a receipt; may be given again")
	return cmd
}

func (m machine) verify(ctx context.Context, s *orders.Service, printed map[int64]string) error {
	v, err := s.Verify(ctx, atTheTerminal(), printed)
	if err != nil {
		return err
	}
	print := words.New("en", orders.Imperial)
	for _, fault := range v.Faults {
		fmt.Fprintln(m.out, print.Say(fault))
	}
	if len(v.Faults) > 0 {
		fmt.Fprintf(m.out, "%d receipts read; what does not agree is named above.\n", v.Receipts)
		return &exitError{code: exitFailed}
	}
	fmt.Fprintf(m.out, "%d receipts read; numbers, stored bytes, chain and PDFs agree.\n", v.Receipts)
	if v.Receipts > 0 {
		fmt.Fprintf(m.out, "The newest seal is %s.\n", v.Seal)
	}
	fmt.Fprintln(m.out, print.Say(v.Limit))
	return nil
}

func parseSeals(texts []string) (map[int64]string, error) {
	seals := map[int64]string{}
	for _, text := range texts {
		left, seal, found := strings.Cut(text, ":")
		number, err := strconv.ParseInt(left, 10, 64)
		if !found || err != nil || number < 1 || seal == "" {
			return nil, refuse("--seal: read %q; accepted: the receipt's number, a colon and its seal, such as 12:ABCD-EFGH-JKMN", text)
		}
		seals[number] = seal
	}
	return seals, nil
}
