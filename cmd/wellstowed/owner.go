package main

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

func (m machine) ownerCommand() *cobra.Command {
	owner := &cobra.Command{Use: "owner", Short: "Add an owner, or let one in, from this machine", Args: exactArgs(),
		Example: "  wellstowed owner add \"Rosalind Pike\" --db shop.db\n  wellstowed owner reset --db shop.db",
		RunE:    func(cmd *cobra.Command, _ []string) error { return cmd.Help() }}
	var db string
	reset := &cobra.Command{
		Use:   "reset",
		Short: "Print a one-time code by which an owner comes in, the first or one who is locked out",
		Long: "Prints a one-time code by which somebody becomes an owner, or an owner who lost\n" +
			"phone and password comes in again with a new password; that owner's other\n" +
			"sign-ins end. Whoever can read the database file can do this.",
		Example: "  wellstowed owner reset --db shop.db",
		Args:    exactArgs(),
		RunE: func(cmd *cobra.Command, _ []string) error {
			return m.withShop(cmd.Context(), db, func(s services) error {
				made, err := s.People.OwnerCode(cmd.Context())
				if err != nil {
					return err
				}
				fmt.Fprintf(m.out, "Open /pair on the pages that serve this database and enter %s with your name and a password.\n%s\n", made.Code, holds(made))
				return nil
			})
		},
	}
	reset.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	owner.AddCommand(reset, m.ownerAddCommand())
	return owner
}

func holds(made people.Invitation) string {
	return fmt.Sprintf("It works once, until %s.", made.Until.Local().Format(time.TimeOnly))
}

// firstOwner says by which code the first owner comes in, where there are no people yet.
func firstOwner(ctx context.Context, s *people.Service, base string) (line string, err error) {
	v, err := s.Visitor(ctx, "")
	if err != nil || !v.Nobody {
		return "", err
	}
	made, err := s.OwnerCode(ctx)
	if err != nil {
		return "", err
	}
	return fmt.Sprintf("Nobody signs in yet. To let others in, open %s/pair and enter %s. %s\n", base, made.Code, holds(made)), nil
}

// ownerAddCommand is for a machine without a browser: its pages are served to others only
// once there is somebody who signs in.
func (m machine) ownerAddCommand() *cobra.Command {
	var db string
	cmd := &cobra.Command{
		Use:     "add NAME",
		Short:   "Add an owner, and print the one-time code by which that owner comes in",
		Example: `  wellstowed owner add "Rosalind Pike" --db shop.db`,
		Args:    exactArgs("NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return m.withShop(cmd.Context(), db, func(s services) error {
				by := act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}
				p, err := s.People.AddPerson(cmd.Context(), by, people.PersonRequest{Name: args[0], Role: string(act.Owner)})
				if err != nil {
					return refuse("owner add: read %q: %w", args[0], err)
				}
				made, err := s.People.OwnerCode(cmd.Context())
				if err != nil {
					return err
				}
				fmt.Fprintf(m.out, "Added. Open /pair on the pages that serve this database and enter %s with the name %s and a password.\n%s\n", made.Code, p.Name, holds(made))
				return nil
			})
		},
	}
	cmd.Flags().StringVar(&db, "db", defaultDB, theDatabase)
	return cmd
}
