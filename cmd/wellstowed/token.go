package main

import (
	"fmt"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// tokenCommand makes a program's token from the machine that the database is on.
func (m machine) tokenCommand() *cobra.Command {
	var db string
	var r people.TokenRequest
	cmd := &cobra.Command{
		Use:   "token",
		Short: "Make a token by which another program asks the shop, and print it once",
		Long: "Makes a token by which a program asks the shop at /api/v1, as a person and with\n" +
			"what that person may do. It is printed once; only its hash is kept. It is ended on\n" +
			"the page of the people.",
		Example: `  wellstowed token --as "Rosalind Pike" --program bookkeeping --db shop.db`,
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShop(cmd.Context(), db, func(s services) error {
				p, err := s.People.PersonNamed(cmd.Context(), r.Person)
				if err != nil {
					return refuse("token: read %q: %w", r.Person, err)
				}
				r.Person = p.ID
				made, err := s.People.MakeToken(cmd.Context(), act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}, r)
				if err != nil {
					return refuse("token: read %q: %w", r.Program, err)
				}
				fmt.Fprintln(m.out, made.Secret)
				return nil
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, "the shop's database file")
	cmd.Flags().StringVar(&r.Person, "as", "", "name of the person that the program is let in as")
	cmd.Flags().StringVar(&r.Program, "program", "", "what the program is called")
	return cmd
}
