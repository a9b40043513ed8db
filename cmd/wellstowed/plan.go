package main

import (
	"bufio"
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/orders/act"
)

// planFlags are what every planning verb has: how the answer is given.
type planFlags struct {
	json         bool
	units, under string
}

func (f *planFlags) add(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&f.json, "json", false, "print the answer as JSON")
	cmd.Flags().StringVar(&f.units, "units", string(act.Imperial), "units of the answer for people: imperial or metric")
	cmd.Flags().StringVar(&f.under, "under", "", "code of the rules of sale that quantities are read and given under, such as massachusetts")
}

// answerer is how answers are printed, or the fault of the flags.
func (f planFlags) answerer(m machine) (answerer, error) {
	units := act.Units(f.units)
	if units != act.Imperial && units != act.Metric {
		return answerer{}, refuse("--units: read %q; accepted: imperial, metric", f.units)
	}
	set, print, err := under(f.under, units)
	if err != nil {
		return answerer{}, err
	}
	return answerer{out: bufio.NewWriter(m.out), print: print, set: set, json: f.json}, nil
}

// rules are those that what is typed is read under; nil without any.
func (a answerer) rules() storage.Rules {
	if a.set == nil {
		return nil
	}
	return a.set
}

// misput prints what was wrong with a question, its fields named by their flags.
func (a answerer) misput(err error) error {
	if a.json {
		a.line(map[string]any{"error": a.faults(flagged(err))})
		return errRefused
	}
	return refuse("the question was refused:\n%s", a.sentences(flagged(err)))
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
		switch e.Field {
		case "piece_length":
			at.Field = "--pieces"
		case "wanted":
			at.Field = "--burn-by"
		default:
			at.Field = "--" + strings.ReplaceAll(e.Field, "_", "-")
		}
		named[i] = &at
	}
	return named
}

// today is the day by the machine's clock, as a flag takes it.
func (m machine) today() string { return m.clock().Format(time.DateOnly) }

func (m machine) tripsCommand() *cobra.Command {
	var f planFlags
	var t storage.TypedHaul
	cmd := &cobra.Command{
		Use:   "trips",
		Short: "How often a vehicle goes for a quantity of wood, and whether room or weight decides",
		Long: "Goes by the vehicle's own papers, never by a guess: of a light vehicle the placard\n" +
			"at the driver's door less the people who ride along; of any other the lower of its\n" +
			"gross rating and its registered gross weight, less its weight on a scale, fuelled and\n" +
			"with its driver. The wood is taken at the most it may weigh: green, with bark and snow.\n" +
			"Exit code: 0 when it was answered; 2 when the question was refused.",
		Example: `  wellstowed trips --quantity "1 cord" --species "red oak" --bed-length "8 ft" --bed-width "5 ft" --bed-sides "20 in" --placard "1500 lb" --people "180 lb"
  wellstowed trips --quantity "2 cords" --species "red oak 60 %; sugar maple 40 %" --loaded thrown --bed-length "12 ft" --bed-width "7 ft" --bed-sides "30 in" --gross "26000 lb" --registered "24000 lb" --scale "12000 lb" --json`,
		Args: exactArgs(),
		RunE: func(*cobra.Command, []string) error { return m.trips(f, t) },
	}
	flags := cmd.Flags()
	flags.StringVar(&t.Quantity, "quantity", "", "how much wood: 1 1/2 cords, 64 cu ft")
	flags.StringVar(&t.PieceLength, "pieces", "16 in", "piece length")
	flags.StringVar(&t.Species, "species", "", "species, if known: oak, red oak, red oak 60 %; sugar maple 40 %")
	flags.StringVar(&t.Wood, "wood", "", "kind of wood, if known: heavy, light, softwood")
	flags.StringVar(&t.Loaded, "loaded", "ranked", "how it lies in the bed: ranked or thrown")
	flags.StringVar(&t.BedLength, "bed-length", "", "length of the bed, inside")
	flags.StringVar(&t.BedWidth, "bed-width", "", "width of the bed, inside")
	flags.StringVar(&t.BedSides, "bed-sides", "", "height of the sides, sideboards with them")
	flags.StringVar(&t.WellLength, "well-length", "", "length of one of two wheel wells")
	flags.StringVar(&t.WellWidth, "well-width", "", "width of one")
	flags.StringVar(&t.WellHeight, "well-height", "", "height of one")
	flags.StringVar(&t.Placard, "placard", "", "what the placard says people and load may weigh together")
	flags.StringVar(&t.People, "people", "", "weight of everybody who rides along")
	flags.StringVar(&t.Gross, "gross", "", "gross rating")
	flags.StringVar(&t.Registered, "registered", "", "registered gross weight")
	flags.StringVar(&t.Scale, "scale", "", "weight on a scale, fuelled and with its driver; a trailer: empty")
	f.add(cmd)
	return cmd
}

func (m machine) trips(f planFlags, typed storage.TypedHaul) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	h, err := typed.Read(storage.Units{Rules: a.rules()})
	var t storage.Trips
	if err == nil {
		t, err = h.Plan()
	}
	switch {
	case err != nil:
		return a.misput(err)
	case f.json:
		return a.indented(a.print.TripsData(t))
	}
	fmt.Fprintln(a.out, a.print.Trips(t))
	a.section("The figures", a.print.TripFacts(t))
	a.section("Take care", a.print.Lines(t.Cautions))
	a.section("What the figures rest on", a.print.Grounds(t.Grounds))
	return nil
}

func (m machine) winterCommand() *cobra.Command {
	var f planFlags
	var t storage.TypedWinter
	cmd := &cobra.Command{
		Use:   "winter",
		Short: "How much wood a winter takes, and by when to stack it",
		Long: "Works from what kept the house warm last winter, or roughly from its floor and\n" +
			"climate, how much ranked, seasoned wood gives that heat. With --burn-by it says by\n" +
			"when green wood must be stacked to burn well by then. Fuels: " + kinds(storage.Fuels()) + ".\n" +
			"Exit code: 0 when it was answered; 2 when the question was refused.",
		Example: `  wellstowed winter --fuel oil --amount 600 --species "red oak" --burn-by "October 2027"
  wellstowed winter --fuel house --floor "1800 sq ft" --climate cold --appliance "old stove" --json`,
		Args: exactArgs(),
		RunE: func(*cobra.Command, []string) error { return m.winter(f, t) },
	}
	flags := cmd.Flags()
	flags.StringVar(&t.Fuel, "fuel", "", "what kept it warm: "+kinds(storage.Fuels()))
	flags.StringVar(&t.Amount, "amount", "", "how much of it in a whole winter, in its unit: gallons, therms, kWh, cords, fires")
	flags.StringVar(&t.Floor, "floor", "", "heated floor, where the fuel is not known: 1800 sq ft")
	flags.StringVar(&t.Climate, "climate", string(storage.Moderate), "winters: "+kinds(storage.Climates()))
	flags.StringVar(&t.Appliance, "appliance", string(storage.NewStove), "what burns the wood: "+kinds(storage.Appliances()))
	flags.StringVar(&t.Wood, "wood", "", "kind of wood, if known: heavy, light, softwood")
	flags.StringVar(&t.Species, "species", "", "species, if known: oak, red oak, red oak and sugar maple")
	flags.StringVar(&t.Share, "share", "", "share of the heat that wood is to give, in percent (default all)")
	flags.StringVar(&t.Moisture, "moisture", "", "moisture when it is stacked, such as \"30 % dry\" (default green)")
	flags.StringVar(&t.Wanted, "burn-by", "", "month it is to burn well in: October, October 2027")
	f.add(cmd)
	return cmd
}

func (m machine) winter(f planFlags, typed storage.TypedWinter) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	w, err := typed.Read(storage.Units{Today: m.clock(), Rules: a.rules()})
	var n storage.Need
	if err == nil {
		n, err = w.Plan()
	}
	switch {
	case err != nil:
		return a.misput(err)
	case f.json:
		return a.indented(a.print.NeedData(n))
	}
	fmt.Fprintln(a.out, a.print.Need(n))
	by := a.print.StackBy(n.Burns)
	if len(by) == 0 {
		by = []string{a.print.Burns(n.Burns)}
	}
	for _, line := range by {
		fmt.Fprintln(a.out, line)
	}
	a.section("Bear in mind", a.print.Lines(n.Notes))
	a.section("What the figures rest on", a.print.Grounds(n.Grounds))
	return nil
}

// kinds names the kinds that a flag takes.
func kinds[K ~string](all []K) string {
	var names []string
	for _, k := range all {
		names = append(names, string(k))
	}
	return strings.Join(names, ", ")
}
