package main

import (
	"bufio"
	"fmt"

	"github.com/spf13/cobra"

	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

type woodFlags struct {
	planFlags
	ask wood.Ask
	air wood.AskAir // of no load: what wood comes to in that air
	// mix and counted hold stated shares against pieces counted, under rules of sale.
	mix, counted string
}

func (m machine) woodCommand() *cobra.Command {
	var f woodFlags
	cmd := &cobra.Command{
		Use:   "wood SPECIES",
		Short: "What a load weighs at a moisture, and the heat in it",
		Long: "Estimates the weight and heat of a load from its species, quantity and moisture,\n" +
			"each as a range, with what it takes for granted and its sources. A load may be of\n" +
			"several species with their shares: \"red oak 60 %; sugar maple 40 %\". Moisture is\n" +
			"a percentage on the dry basis (water over dry wood, as pin meters read) or the wet\n" +
			"basis (water over the whole), or the word green.\n" +
			"With --air and --humidity and no species, says how dry wood gets in air\n" +
			"of that temperature and relative humidity.\n" +
			"With --mix and --counted and no species, says whether stated shares of species\n" +
			"hold against the pieces counted of each, by the tolerance of the rules of sale.\n" +
			"Exit code: 0 when it was answered; 2 when the question was refused.",
		Example: "  wellstowed wood \"red oak\" --moisture 20% --basis dry --quantity \"1 cord\"\n  wellstowed wood beech --moisture green --json\n  wellstowed wood --air 70F --humidity 65%\n  wellstowed wood --mix \"60 % oak, 40 % maple\" --counted \"oak 14, maple 6\"",
		Args: func(cmd *cobra.Command, args []string) error {
			if f.air != (wood.AskAir{}) || f.mix+f.counted != "" {
				return exactArgs()(cmd, args)
			}
			return exactArgs("SPECIES")(cmd, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if f.air != (wood.AskAir{}) {
				return m.airDry(f)
			}
			if f.mix+f.counted != "" {
				return m.shares(f)
			}
			f.ask.Species = args[0]
			return m.wood(f)
		},
	}
	cmd.Flags().StringVar(&f.ask.Moisture, "moisture", "", "moisture in percent, such as 20%, or green")
	cmd.Flags().StringVar(&f.ask.Basis, "basis", "", "basis of the moisture: dry or wet")
	cmd.Flags().StringVar(&f.ask.Quantity, "quantity", "", "how much wood: 1 cord, 64 cu ft, 180 cu ft loose (default 128 cu ft stacked)")
	cmd.Flags().StringVar(&f.air.Air, "air", "", "temperature of the air, such as 70F or 21C")
	cmd.Flags().StringVar(&f.air.Humidity, "humidity", "", "relative humidity of the air, such as 65%")
	cmd.Flags().StringVar(&f.mix, "mix", "", "shares as stated, together 100 %: 60 % oak, 40 % maple")
	cmd.Flags().StringVar(&f.counted, "counted", "", "pieces counted of each species: oak 14, maple 6")
	f.add(cmd)
	return cmd
}

// airDry prints the moisture that wood comes to in air.
func (m machine) airDry(f woodFlags) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	moisture, err := f.air.Equilibrium("")
	switch {
	case err != nil:
		return a.misput(err)
	case f.json:
		return a.indented(a.print.AirAnswer(moisture))
	}
	fmt.Fprintf(a.out, "%s (Wood Handbook 2021, eq. 4-5)\n", a.print.InAir(moisture))
	return nil
}

// shares prints whether stated shares hold against pieces counted.
func (m machine) shares(f woodFlags) error {
	code := f.under
	if code == "" {
		code = "us-model"
	}
	set, print, err := under(code, act.Imperial)
	if err != nil {
		return err
	}
	a := answerer{out: bufio.NewWriter(m.out), print: print}
	defer a.out.Flush()
	stated, err := wood.ParseStated(f.mix)
	if err != nil {
		return a.refused("--mix", err, f.json)
	}
	counted, err := wood.ParseCounted(f.counted)
	if err != nil {
		return a.refused("--counted", err, f.json)
	}
	held := wood.HoldShares(stated, counted, set.ShareLimit())
	if f.json {
		return a.indented(print.SharesAnswer(held, *set))
	}
	fmt.Fprintln(a.out, print.SharesLead(held))
	for _, line := range print.Shares(held) {
		fmt.Fprintf(a.out, "  %s\n", line)
	}
	notes := print.Lines(held.Notes)
	if rule := print.SharesRule(*set); rule != "" {
		notes = append([]string{rule}, notes...)
	}
	a.section("Notes", notes)
	return nil
}

// refused says what is wrong with a flag, to people or as data.
func (a answerer) refused(flag string, err error, asJSON bool) error {
	if asJSON {
		a.line(map[string]any{"error": a.faults(err)})
		return errRefused
	}
	return refuse("%s: %s", flag, a.sentences(err))
}

func (m machine) wood(f woodFlags) error {
	a, err := f.answerer(m)
	if err != nil {
		return err
	}
	defer a.out.Flush()
	e, err := f.ask.Estimate()
	if a.set != nil {
		e, err = f.ask.EstimateUnder(a.set.ParseQuantity)
	}
	switch {
	case err != nil && f.json:
		a.line(map[string]any{"error": a.faults(err)})
		return errRefused
	case err != nil:
		return refuse("the question was refused:\n%s", a.sentences(err))
	case f.json:
		return a.indented(a.print.WoodAnswer(e))
	}
	a.load(e)
	return nil
}

// load prints an estimate for people.
func (a answerer) load(e wood.Estimate) {
	for _, fact := range a.print.Wood(e) {
		fmt.Fprintf(a.out, "%s: %s\n", fact.Label, fact.Text)
	}
	a.section("What this takes for granted", a.print.Lines(append(e.Assumptions, e.Notes...)))
	for _, part := range e.Mix {
		var lines []string
		for _, fact := range a.print.SpeciesFacts(part.Species) {
			lines = append(lines, fact.Label+": "+fact.Text)
		}
		a.section("The table on "+part.Species.Name, lines)
	}
	a.section("Sources", a.print.WoodSources())
}
