package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
)

type storageFlags struct {
	typed        storage.Typed
	braced, json bool
	out          string
	plan         int
	paper, units string
}

func (m machine) storageCommand() *cobra.Command {
	var f storageFlags
	cmd := &cobra.Command{
		Use:   "storage",
		Short: "Where a quantity of wood can stand: rows, room, gaps, weight and floor pressure",
		Long: "Looks through every number of rows, length and height that stows the wood in a\n" +
			"place, and shows the best three: the top at or below the shoulder first, then the\n" +
			"smaller footprint. With -o it writes a plan to build from as PDF. Places: " + places() + ".\n" +
			"It shows the pressure on the floor beside the 40 psf that decks are commonly\n" +
			"designed for; what a floor carries is for a qualified person to say.\n" +
			"Exit code: 0 when the question was understood, whether or not the wood fits.",
		Example: `  wellstowed storage --quantity "1 1/2 cords" --pieces "16 in" --place alcove --width "6 ft" --depth "3 ft" --height "7 ft"
  wellstowed storage --quantity "1 cord" --pieces "16 in" --place wall --width "40 ft" --depth "4 ft" --json
  wellstowed storage --quantity "1 cord" --pieces "16 in" --place shed --width "14 ft" --depth "5 ft" --height "7 ft" --species "red oak" -o plan.pdf`,
		Args: exactArgs(),
		RunE: func(*cobra.Command, []string) error { return m.storage(f) },
	}
	cmd.Flags().StringVar(&f.typed.Quantity, "quantity", "", "how much wood: 1 1/2 cords, 64 cu ft")
	cmd.Flags().StringVar(&f.typed.PieceLength, "pieces", "16 in", "piece length")
	cmd.Flags().StringVar(&f.typed.Place, "place", string(storage.Wall), "where: "+places())
	cmd.Flags().StringVar(&f.typed.Width, "width", "", "free room along the back")
	cmd.Flags().StringVar(&f.typed.Depth, "depth", "", "free room from back to front")
	cmd.Flags().StringVar(&f.typed.Height, "height", "", "clear height; left out under the open sky")
	cmd.Flags().StringVar(&f.typed.Wood, "wood", "", "kind of wood, if known: heavy, light, softwood")
	cmd.Flags().StringVar(&f.typed.Species, "species", "", "species, if known: red oak, red oak and sugar maple")
	cmd.Flags().StringVar(&f.typed.Shoulder, "shoulder", "", "shoulder height of who stacks (default 4 ft)")
	cmd.Flags().BoolVar(&f.braced, "braced", false, "ends and back are framed and fixed to hold the push of wood")
	cmd.Flags().BoolVar(&f.json, "json", false, "print the answer as JSON")
	cmd.Flags().StringVarP(&f.out, "output", "o", "", "PDF file to write a plan to")
	cmd.Flags().IntVar(&f.plan, "plan", 1, "which plan to write: 1, 2 or 3")
	cmd.Flags().StringVar(&f.paper, "paper", string(orders.Letter), "paper of the plan: letter or a4")
	cmd.Flags().StringVar(&f.units, "units", string(orders.Imperial), "units of the answer for people: imperial or metric")
	return cmd
}

func places() string {
	var names []string
	for _, k := range storage.PlaceKinds() {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}

func (m machine) storage(f storageFlags) error {
	units, paper := orders.Units(f.units), orders.Paper(f.paper)
	switch {
	case units != orders.Imperial && units != orders.Metric:
		return refuse("--units: read %q; accepted: imperial, metric", f.units)
	case paper != orders.Letter && paper != orders.A4:
		return refuse("--paper: read %q; accepted: letter, a4", f.paper)
	}
	a := answerer{out: bufio.NewWriter(m.out), print: words.New("en", units), json: f.json}
	defer a.out.Flush()
	if f.braced {
		f.typed.Braced = "yes"
	}
	r, err := f.typed.Read(storage.Units{})
	var answer storage.Answer
	if err == nil {
		answer, err = storage.Find(r)
	}
	switch {
	case err != nil && f.json:
		a.line(map[string]any{"error": a.faults(flagged(err))})
		return errRefused
	case err != nil:
		return refuse("the question was refused:\n%s", a.sentences(flagged(err)))
	}
	if f.out != "" {
		if err := m.storagePlan(answer, f, paper, units); err != nil {
			return err
		}
	}
	if f.json {
		return a.indented(a.print.Storage(answer))
	}
	a.storage(answer)
	return nil
}

// flagged names the faults by their flags.
func flagged(err error) error {
	var faults measure.InputErrors
	if !errors.As(err, &faults) {
		return err
	}
	named := make(measure.InputErrors, len(faults))
	for i, e := range faults {
		at := *e
		if at.Field = "--" + e.Field; e.Field == "piece_length" {
			at.Field = "--pieces"
		}
		named[i] = &at
	}
	return named
}

// storagePlan writes a plan to a file that is not there yet.
func (m machine) storagePlan(answer storage.Answer, f storageFlags, paper orders.Paper, units orders.Units) error {
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	pdf, err := painter.StoragePlan(answer, f.plan-1, paper, units)
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

// storage prints an answer to be read: whether it fits, the plans, what to take
// care of, and what the figures rest on.
func (a answerer) storage(answer storage.Answer) {
	fmt.Fprintln(a.out, a.print.Fits(answer))
	for _, line := range []string{a.print.Thrown(answer.Request), a.print.Say(answer.Tight)} {
		if line != "" {
			fmt.Fprintln(a.out, line)
		}
	}
	for i, l := range answer.Layouts {
		a.section(fmt.Sprintf("Plan %d: %s", i+1, a.print.Layout(l)), a.print.LayoutFacts(l))
	}
	a.section("Take care", a.print.Lines(answer.Cautions))
	a.section("What the figures rest on", a.print.Grounds(answer.Grounds))
}
