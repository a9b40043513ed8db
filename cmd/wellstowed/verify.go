package main

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/orders"
	"wellstowed/orders/witness"
	"wellstowed/receipts/words"
)

func (m machine) verifyCommand() *cobra.Command {
	var db, witnessFile string
	var seals []string
	cmd := &cobra.Command{
		Use:   "verify",
		Short: "Check every receipt and sheet against its bytes, its chain, printed seals and a witness",
		Long: "Walks the receipts in order and recomputes every hash. With --seal it also holds\n" +
			"the seal printed on a paper receipt against the database, and with --witness the\n" +
			"file that serve --witness keeps outside of it.\n" +
			"Exit code: 0 when all agrees, 1 when something does not, 2 when the command line\n" +
			"was not understood.",
		Example: "  wellstowed verify --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			printed, err := parseSeals(seals)
			if err != nil {
				return err
			}
			testimony, err := readWitness(witnessFile)
			if err != nil {
				return err
			}
			return m.withShop(cmd.Context(), db, func(s *orders.Service) error {
				return m.verify(cmd.Context(), s, printed, testimony)
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, "the shop's database file")
	cmd.Flags().StringVar(&witnessFile, "witness", "", "witness file that serve --witness wrote, to hold each paper against")
	cmd.Flags().StringArrayVar(&seals, "seal", nil, "NUMBER:SEAL as printed on a receipt; may be given again")
	return cmd
}

func (m machine) verify(ctx context.Context, s *orders.Service, printed map[int64]string, testimony *orders.Testimony) error {
	v, err := s.VerifyBy(ctx, atTheTerminal(), printed, testimony)
	if err != nil {
		return err
	}
	print := words.New("en", orders.Imperial)
	for _, fault := range v.Faults {
		fmt.Fprintln(m.out, print.Say(fault))
	}
	for _, note := range v.Notes {
		fmt.Fprintln(m.out, print.Say(note))
	}
	if len(v.Faults) > 0 {
		fmt.Fprintf(m.out, "%d receipts and %d measurement sheets read; what does not agree is named above.\n", v.Receipts, v.Sheets)
		return &exitError{code: exitFailed}
	}
	fmt.Fprintf(m.out, "%d receipts read; numbers, stored bytes, chain and PDFs agree.\n", v.Receipts)
	if v.Sheets > 0 {
		fmt.Fprintf(m.out, "%d measurement sheets read; they agree as well.\n", v.Sheets)
	}
	if v.Unchained > 0 {
		fmt.Fprintf(m.out, "%d of the sheets are from before sheets were chained: what they say has no hash of its own.\n", v.Unchained)
	}
	if v.Receipts > 0 {
		fmt.Fprintf(m.out, "The newest seal is %s.\n", v.Seal)
	}
	fmt.Fprintln(m.out, print.Say(v.Limit))
	return nil
}

// readWitness reads a witness file, nil where none is named.
func readWitness(path string) (*orders.Testimony, error) {
	if path == "" {
		return nil, nil
	}
	content, err := os.ReadFile(path)
	if err != nil {
		return nil, refuse("--witness: %w", err)
	}
	lines, err := witness.Parse(content)
	if err != nil {
		return nil, refuse("--witness %s: %w", path, err)
	}
	return orders.Testify(lines), nil
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
