package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
)

type storageFlags struct {
	planFlags
	typed              storage.Typed
	braced, thenBraced bool
	out                string
	plan               int
	paper              string
}

func (m machine) storageCommand() *cobra.Command {
	var f storageFlags
	cmd := &cobra.Command{
		Use:   "storage",
		Short: "Where a quantity of wood can go: rows, room, gaps, weight and floor pressure",
		Long: "Looks through every number of rows, length and height that stows the wood in a\n" +
			"place, along the back or from front to back, and shows the best three: the top at or\n" +
			"below the shoulder first, then the smaller footprint, then what dries better. What finds\n" +
			"no room goes to the next place (--then-place and so on). It says what the wood weighs\n" +
			"and from about when it burns well. With -o it writes a plan to build from as PDF.\n" +
			"Places: " + kinds(storage.PlaceKinds()) + ".\n" +
			"It shows the pressure on the floor beside the 40 psf that decks are commonly\n" +
			"designed for; what a floor carries is for a qualified person to say.\n" +
			"Exit code: 0 when the question was understood, whether or not the wood fits.",
		Example: `  wellstowed storage --quantity "1 1/2 cords" --pieces "16 in" --place alcove --width "6 ft" --depth "3 ft" --height "7 ft"
  wellstowed storage --quantity "1 1/2 cords" --species oak --place alcove --width "6 ft" --depth "3 ft" --height "7 ft" --then-place porch --then-width "20 ft" --then-depth "6 ft"
  wellstowed storage --quantity "1 cord" --pieces "16 in" --place wall --width "40 ft" --depth "4 ft" --json
  wellstowed storage --quantity "1 cord" --pieces "16 in" --place shed --width "14 ft" --depth "5 ft" --height "7 ft" --species "red oak" -o plan.pdf`,
		Args: exactArgs(),
		RunE: func(*cobra.Command, []string) error { return m.storage(f) },
	}
	cmd.Flags().StringVar(&f.typed.Quantity, "quantity", "", "how much wood: 1 1/2 cords, 64 cu ft")
	cmd.Flags().StringVar(&f.typed.PieceLength, "pieces", "16 in", "piece length")
	cmd.Flags().StringVar(&f.typed.Place, "place", string(storage.Wall), "where: "+kinds(storage.PlaceKinds()))
	cmd.Flags().StringVar(&f.typed.Width, "width", "", "free room along the back")
	cmd.Flags().StringVar(&f.typed.Depth, "depth", "", "free room from back to front")
	cmd.Flags().StringVar(&f.typed.Height, "height", "", "clear height; left out under the open sky")
	cmd.Flags().StringVar(&f.typed.BackHeight, "back-height", "", "clear height at the back, where the roof slopes")
	cmd.Flags().StringVar(&f.typed.ThenPlace, "then-place", "", "the next place, for what doesn’t fit")
	cmd.Flags().StringVar(&f.typed.ThenWidth, "then-width", "", "free room along its back")
	cmd.Flags().StringVar(&f.typed.ThenDepth, "then-depth", "", "free room from its back to its front")
	cmd.Flags().StringVar(&f.typed.ThenHeight, "then-height", "", "its clear height")
	cmd.Flags().StringVar(&f.typed.ThenBackHeight, "then-back-height", "", "its clear height at the back")
	cmd.Flags().BoolVar(&f.thenBraced, "then-braced", false, "its ends and back are framed and fixed too")
	cmd.Flags().StringVar(&f.typed.Moisture, "moisture", "", "moisture as it is stacked, such as \"30 % dry\" (default green)")
	cmd.Flags().StringVar(&f.typed.Stacked, "stacked", "", "the day it is stacked, 2026-11-25 (default today)")
	cmd.Flags().StringVar(&f.typed.Wood, "wood", "", "kind of wood, if known: heavy, light, softwood")
	cmd.Flags().StringVar(&f.typed.Species, "species", "", "species, if known: oak, red oak, red oak and sugar maple")
	cmd.Flags().StringVar(&f.typed.Shoulder, "shoulder", "", "shoulder height of who stacks (default 4 ft)")
	cmd.Flags().BoolVar(&f.braced, "braced", false, "ends and back are framed and fixed to hold the push of wood")
	cmd.Flags().StringVarP(&f.out, "output", "o", "", "PDF file to write a plan to")
	cmd.Flags().IntVar(&f.plan, "plan", 1, "which plan to write, counted on from place to place")
	cmd.Flags().StringVar(&f.paper, "paper", string(orders.Letter), "paper of the plan: letter or a4")
	f.add(cmd)
	return cmd
}

func (m machine) storage(f storageFlags) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	paper := orders.Paper(f.paper)
	if paper != orders.Letter && paper != orders.A4 {
		return refuse("--paper: read %q; accepted: letter, a4", f.paper)
	}
	if f.braced {
		f.typed.Braced = "yes"
	}
	if f.thenBraced {
		f.typed.ThenBraced = "yes"
	}
	if f.typed.Stacked == "" {
		f.typed.Stacked = m.today()
	}
	r, err := f.typed.Read(storage.Units{Rules: a.rules()})
	var all []storage.Answer
	if err == nil {
		all, err = storage.FindAll(r)
	}
	if err != nil {
		return a.misput(err)
	}
	if f.out != "" {
		if err := m.storagePlan(all, f, a.print, paper); err != nil {
			return err
		}
	}
	if f.json {
		return a.indented(a.print.StorageAll(all))
	}
	a.storage(all)
	return nil
}

// storagePlan writes a plan to a file that is not there yet. Plans are counted on from
// place to place.
func (m machine) storagePlan(all []storage.Answer, f storageFlags, print *words.Printer, paper orders.Paper) error {
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	at, n := 0, f.plan-1
	for at < len(all)-1 && n >= len(all[at].Layouts) {
		n -= len(all[at].Layouts)
		at++
	}
	pdf, err := painter.StoragePlan("en", all[at], n, paper, act.Units(f.units), print.UnitOfSale())
	var in *measure.InputError
	if errors.As(err, &in) {
		return refuse("--plan: %s; accepted: %s", in.Reason, in.Accepts)
	}
	if err != nil {
		return err
	}
	if err := writeNew(f.out, pdf); err != nil {
		return err
	}
	fmt.Fprintf(m.err, "Wrote plan %d to %s.\n", f.plan, f.out)
	return nil
}

// storage prints answers to be read: whether it fits, what it weighs and when it
// burns well, the plans in each place, what to take care of, and what the figures rest
// on.
func (a answerer) storage(all []storage.Answer) {
	first := all[0]
	lines := []string{a.print.FitsAll(all), a.print.Weights(first.Request), a.print.Burns(first.Burns), a.print.Thrown(first.Request)}
	for _, line := range lines {
		if line != "" {
			fmt.Fprintln(a.out, line)
		}
	}
	plan := 0
	for i, answer := range all {
		if len(all) > 1 {
			a.section(fmt.Sprintf("Place %d, %s: %s", i+1, a.print.Say(answer.Request.Place.Kind.Name()), a.print.Fits(answer)), []string{a.print.Say(answer.Request.Place.Kind.Facts())})
		}
		if tight := a.print.Say(answer.Tight); tight != "" {
			fmt.Fprintln(a.out, tight)
		}
		for _, l := range answer.Layouts {
			plan++
			a.section(fmt.Sprintf("Plan %d: %s", plan, a.print.Layout(l)), a.print.LayoutFacts(l))
		}
	}
	a.section("Take care", a.print.Lines(storage.Cautions(all)))
	a.section("What the figures rest on", a.print.Grounds(first.Grounds))
}
